"""How widths are shared out: the bays of a console, and the modules of a full wall."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wallwright.job.design import Bay

OPEN, DRAWER = Bay("open"), Bay("drawers")
NARROW, WIDE, BEST = 300.0, 600.0, 500.0
LEAST_BAY, BEST_BAY, MOST_BAY = 400.0, 640.0, 860.0
"""A console's bays [mm]: a drawer that is worth having, the usual one, and the widest that a board under boxes spans."""
"""A module's least and widest [mm], and the width at which an 18 mm board carries books without a sag to see: common practice."""


@dataclass(frozen=True, slots=True)
class Modules:
    """So many modules of one width [mm] on each side of a middle [mm] for the screen."""

    count: int
    width: float
    middle: float


def modules(half: float, least_middle: float) -> tuple[Modules, ...]:
    """Every way to share half a wall out in whole modules of one width beside a middle that holds the screen, the best first.

    half : from the screen's axis to the nearer end [mm] · least_middle : what the screen needs [mm]. Modules are whole millimetres;
    what they leave goes to the middle. Best: nearest to the width that carries books, then the narrower middle.
    """
    beside = half - least_middle / 2
    found: list[Modules] = []
    for count in range(1, max(1, math.floor(beside / NARROW)) + 1):
        width = math.floor(min(beside / count, WIDE))
        if width >= NARROW:
            found.append(Modules(count, float(width), 2 * (half - count * width)))
    return tuple(
        sorted(found, key=lambda one: (one.middle - least_middle > WIDE, abs(one.width - BEST), one.middle))
    )


def bay_patterns(width: float, boxes: int) -> tuple[tuple[Bay, ...], ...]:
    """Consoles of drawers with open bays for so many boxes, alike on both sides of the middle, the first to be tried first.

    width : of the console [mm]. Every row whose bays are neither too narrow for a drawer nor so wide that their boards sag, and in
    which the boxes have at least one open bay; first that with the fewest bays in which each box of two stands apart.
    """
    counts = [n for n in range(2, 8) if LEAST_BAY <= width / n <= MOST_BAY] or [max(2, round(width / BEST))]
    if boxes == 0:
        return tuple((DRAWER,) * n for n in sorted(counts, key=lambda n: abs(width / n - BEST_BAY)))
    rows = [row for n in counts for row in _mirrored(n) if 1 <= row.count(OPEN) <= max(2, boxes)]
    if not rows:  # so narrow that all of it is for the boxes
        return ((OPEN,) * counts[0],)
    wanted = min(boxes, 2)
    return tuple(sorted(rows, key=lambda row: (abs(row.count(OPEN) - wanted), len(row), row[0] == OPEN)))


def _mirrored(count: int) -> Iterator[tuple[Bay, ...]]:
    """Every row of so many bays, open or drawers, that mirrors itself; with a drawer in it where there is room for one."""
    half = (count + 1) // 2
    for bits in range(2**half):
        left = tuple(OPEN if bits >> k & 1 else DRAWER for k in range(half))
        row = left + tuple(reversed(left[: count - half]))
        if count == 1 or DRAWER in row:
            yield row
