"""Fields between strips and frames of moulding: how many side by side, and where each lies. Common practice.

The field behind the screen is made wider than the screen, so that no strip shows half covered at its edge.
"""

from __future__ import annotations

import math
from itertools import pairwise

from wallwright.core.shape import Box


def columns_for(width: float, height: float, ratio: float, least: float) -> int:
    """The odd number of equal fields whose width over height comes nearest to the ratio; odd, so that one is in the middle."""
    able = [n for n in range(1, 14, 2) if n == 1 or width / n >= least]
    return min(able, key=lambda n: abs(math.log(width / n / height / ratio)))


def stretches(
    width: float, count: int, between: float, wide: float | None = None
) -> tuple[tuple[float, float], ...]:
    """Fields (start, width) side by side with `between` at their sides and at both ends [mm].

    wide : what the middle one must be at least, of an odd number; the others share the rest equally.
    """
    clear = width - (count + 1) * between
    each = clear / count
    widths = [each] * count
    if wide is not None and count % 2 and count > 1 and wide > each:
        side = (clear - wide) / (count - 1)
        widths = [side] * count
        widths[count // 2] = wide
    out: list[tuple[float, float]] = []
    at = between
    for one in widths:
        out.append((at, one))
        at += one + between
    return tuple(out)


def fields(box: Box, count: int, rows: int, between: float, wide: float | None = None) -> tuple[Box, ...]:
    """The fields of a zone, row by row from the foot. between : strip's width, or the bare margin round a frame [mm]."""
    across = stretches(box.width, count, between, wide)
    up = stretches(box.height, rows, between)
    return tuple(Box(box.x + x, box.z + z, w, h) for z, h in up for x, w in across)


def automatic(  # noqa: PLR0913
    box: Box, screen: Box, between: float, margin: float, ratio: float, least: float
) -> tuple[int, float | None]:
    """How many fields, and how wide the middle one must be for the screen with its margin; one field where that leaves slots.

    A zone that does not hold the screen gets equal fields.
    """
    count = columns_for(box.width - between, box.height, ratio, least + between)
    if not box.meets(screen):
        return count, None
    wide = screen.width + 2 * margin
    while count > 1:
        clear = box.width - (count + 1) * between
        if (clear - wide) / (count - 1) >= least or clear / count >= wide:
            return count, wide
        count -= 2
    return 1, None


def strips(box: Box, made: tuple[Box, ...], columns: int) -> tuple[Box, ...]:
    """The strips between and round the fields: uprights the whole height, level ones between them."""
    lowest = made[:columns]
    edges = [box.x, *(e for field in lowest for e in (field.x, field.right)), box.right]
    uprights = [(edges[k], edges[k + 1]) for k in range(0, len(edges), 2)]
    out = [Box(a, box.z, b - a, box.height) for a, b in uprights]
    rows = [made[k] for k in range(0, len(made), columns)]
    levels = [box.z, *(e for field in rows for e in (field.z, field.top)), box.top]
    for foot, head in [(levels[k], levels[k + 1]) for k in range(0, len(levels), 2)]:
        out += [Box(a[1], foot, b[0] - a[1], head - foot) for a, b in pairwise(uprights)]
    return tuple(out)
