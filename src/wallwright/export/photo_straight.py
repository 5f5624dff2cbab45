"""The straightened photo as a picture to scale: a grid every half metre, rules at its edges, how sure it is, and what it is not for."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import Any

import numpy as np

from wallwright.core.shape import Box
from wallwright.photo.fit import Fit
from wallwright.photo.opencv import opencv
from wallwright.photo.straight import Sure, maps, step_for, sure_over

GRID, TICK = 500, 100
"""Lines of the grid and ticks of the rules [mm]."""
INK, PAPER, LINE = (30, 30, 30), (255, 255, 255), (255, 255, 255)
NOT_FOR_CUTTING = "A photo: it shows, a tape measures. Not for cutting."


@dataclass(frozen=True, slots=True)
class Straightened:
    """pixels : rows of blue, green, red · step : millimetres a pixel · sure : ± over the wall"""

    pixels: Any
    step: float
    sure: tuple[Sure, ...]


def straightened(
    fit: Fit, pixels: Any, area: Box, shown: float, title: str, step: float | None = None
) -> Straightened:
    """The area of the wall as a picture to scale. shown : ± from which on it is greyed [mm] · step : mm a pixel, left out as fine
    as the photo is
    """
    cv = opencv()
    step = step or step_for(area, fit)
    across, down = maps(fit, area, step)
    flat = cv.remap(
        pixels, across, down, cv.INTER_LINEAR, borderMode=cv.BORDER_CONSTANT, borderValue=(200, 200, 200)
    )
    sure = sure_over(fit, area)
    greyed = _greyed(cv, flat, sure, shown)
    return Straightened(_framed(cv, greyed, area, step, sure, title), step, sure)


def _greyed(cv: Any, flat: Any, sure: tuple[Sure, ...], shown: float) -> Any:
    """Where it is less sure than is shown, without colour and paler."""
    wide = len({one.x for one in sure})
    grid = np.array([one.sure for one in sure], np.float32).reshape(-1, wide)[::-1]
    over = cv.resize(grid, (flat.shape[1], flat.shape[0]), interpolation=cv.INTER_LINEAR) > shown
    grey = cv.cvtColor(cv.cvtColor(flat, cv.COLOR_BGR2GRAY), cv.COLOR_GRAY2BGR) // 2 + 110
    return np.where(over[..., None], grey, flat)


def _framed(cv: Any, flat: Any, area: Box, step: float, sure: tuple[Sure, ...], title: str) -> Any:
    high, wide = flat.shape[:2]
    size = max(0.4, min(wide, high) / 1600)
    pad, foot = round(70 * size), round(120 * size)
    out = np.full((high + pad + foot, wide + 2 * pad, 3), 255, np.uint8)
    _grid(cv, flat, area, step, size)
    out[pad : pad + high, pad : pad + wide] = flat

    def px(x: float, z: float) -> tuple[int, int]:
        return pad + round((x - area.x) / step), pad + round((area.top - z) / step)

    def word(text: str, at: tuple[int, int], scale: float = 0.5) -> None:
        cv.putText(out, text, at, cv.FONT_HERSHEY_SIMPLEX, scale * size, INK, max(1, round(size)), cv.LINE_AA)

    _rules(cv, out, area, px, size, word)
    for one in sure:
        at = px(one.x, one.z)
        _over(cv, out, f"+/-{one.sure:.0f}", (at[0] + round(4 * size), at[1] - round(5 * size)), 0.4 * size)
    inside = [one.sure for one in sure]
    below = pad + high + round(60 * size)
    bar = round(1000 / step)
    word(f"{title}: {NOT_FOR_CUTTING}", (pad, below + round(24 * size)), 0.55)
    says = f"1 px = {step:g} mm; +/- (95 %) {min(inside):.0f} to {max(inside):.0f} mm over the wall, a mark included; the wall's plane only"
    word(says, (pad, below + round(48 * size)), 0.5)
    if bar < wide:
        start, z = pad + wide - bar, below + round(40 * size)
        cv.line(out, (start, z), (start + bar, z), INK, max(2, round(3 * size)))
        word("1000 mm", (start, z - round(8 * size)))
    return out


def _grid(cv: Any, flat: Any, area: Box, step: float, size: float) -> None:
    thick = max(1, round(size))
    for x in range(GRID * ceil(area.x / GRID), floor(area.right) + 1, GRID):
        at = round((x - area.x) / step)
        for ink, off in (((0, 0, 0), 0), (LINE, thick)):
            cv.line(flat, (at + off, 0), (at + off, flat.shape[0]), ink, thick)
    for z in range(GRID * ceil(area.z / GRID), floor(area.top) + 1, GRID):
        at = round((area.top - z) / step)
        for ink, off in (((0, 0, 0), 0), (LINE, thick)):
            cv.line(flat, (0, at + off), (flat.shape[1], at + off), ink, thick)


def _rules(cv: Any, out: Any, area: Box, px: Any, size: float, word: Any) -> None:
    """A tick every 100 mm along the foot and the left side, numbers at the grid's lines."""
    for x in range(TICK * ceil(area.x / TICK), floor(area.right) + 1, TICK):
        at = px(x, area.z)
        long = round((14 if x % GRID == 0 else 7) * size)
        cv.line(out, at, (at[0], at[1] + long), INK, max(1, round(size)))
        if x % GRID == 0:
            word(str(x), (at[0] - round(16 * size), at[1] + round(34 * size)))
    for z in range(TICK * ceil(area.z / TICK), floor(area.top) + 1, TICK):
        at = px(area.x, z)
        long = round((14 if z % GRID == 0 else 7) * size)
        cv.line(out, at, (at[0] - long, at[1]), INK, max(1, round(size)))
        if z % GRID == 0:
            word(str(z), (max(2, at[0] - round(62 * size)), at[1] + round(5 * size)))


def _over(cv: Any, out: Any, text: str, at: tuple[int, int], scale: float) -> None:
    """Words that are read on light and on dark."""
    for ink, thick in ((PAPER, max(2, round(4 * scale))), (INK, max(1, round(1.5 * scale)))):
        cv.putText(out, text, at, cv.FONT_HERSHEY_SIMPLEX, scale, ink, thick, cv.LINE_AA)
