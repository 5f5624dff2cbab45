"""One frame for both of the client's pictures: the room as the eye finds it, light on it made one way or another, developed as PNG."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from wallwright.export.picture_scene import Stage, stage
from wallwright.export.tone import developed, png

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.export.picture_scene import When

Progress = Callable[[float, str], object]
Lit = Callable[[Stage, tuple[int, int], Progress], Any]
"""Makes the linear light of every pixel (rows, columns, 3) of a scene, told as it comes."""


def taken(  # noqa: PLR0913
    wall: Wall, when: When, seat: str, size: tuple[int, int], progress: Progress | None, lit: Lit
) -> bytes:  # fmt: skip
    """The wall from a seat as PNG bytes. Raises ValueError where there is no such seat."""
    tell = progress or (lambda share, words: None)
    light = lit(stage(wall, when, seat, size[0] / size[1]), size, tell)
    tell(0.99, "developing")
    out = png(developed(light, when))
    tell(1.0, "done")
    return out
