"""How the leaves of a veneer, or slabs cut from one block, follow one another across a wall.

Slip: each face up as it came, the figure repeats. Book: every other one turned over, so that two open like a book about their
joint. Random: mixed on purpose. Common practice.
"""

from __future__ import annotations

from typing import Literal

Match = Literal["slip", "book", "random"]


def leaf_marks(count: int, match: Match) -> tuple[str, ...]:
    """What is written on the back of each piece, from the left: its number in the bundle and how it lies."""
    if match == "random":
        return tuple(f"leaf {k}, any order" for k in range(1, count + 1))
    if match == "book":
        return tuple(f"leaf {k}{', turned over' if k % 2 == 0 else ''}" for k in range(1, count + 1))
    return tuple(f"leaf {k}" for k in range(1, count + 1))
