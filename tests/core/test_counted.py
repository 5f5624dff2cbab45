"""One thing is said in the singular."""

from __future__ import annotations

from wallwright.core.counted import counted


def test_one_and_many() -> None:
    assert [counted(n, "run") for n in (0, 1, 2)] == ["0 runs", "1 run", "2 runs"]
    assert counted(2, "box", "boxes") == "2 boxes" and counted(1, "box", "boxes") == "1 box"
