"""Whether two changes that were made at the same time can both be kept."""

from __future__ import annotations

from wallwright.change.fields import Path, Touched, said, shown, touched

__all__ = ["Path", "Touched", "clash", "said", "shown", "touched"]


def clash(mine: Touched, theirs: Touched) -> Path | None:
    """The first field that two changes from one beginning both touch, to different ends; None where both can be kept."""
    for path, (_, to) in mine.items():
        for other, (_, also) in theirs.items():
            inside = path[: len(other)] == other or other[: len(path)] == path
            if inside and not (path == other and to == also):
                return path
    return None
