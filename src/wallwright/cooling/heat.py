"""How warm a compartment with devices gets: by leakage through its boards, by openings, by a fan, and all together.

Sources: ASHRAE Handbook Fundamentals chapter 16 (stack flow), CIBSE AM10 (one opening, from memory), ISO 6946 (surface
resistances). Areas in m², heights in m, temperatures in °C, rises in K, heat in W, flow in m³/s.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

AIR = 1.2 * 1005.0  # J/m³K: density times heat capacity
GRAVITY = 9.81
KELVIN = 273.15
# ISO 6946: surface resistance [m²K/W] for heat flowing sideways, up and down
SIDEWAYS, UP, DOWN = 0.13, 0.10, 0.17
_SECANTS, _CLOSE = 6, 1e-12


def flow_for(watts: float, rise: float) -> float:
    """The air that carries so much heat off at that rise [m³/s]."""
    return watts / (AIR * rise)


def rise_with_flow(watts: float, flow: float) -> float:
    """The rise with that air, as from a fan [K]."""
    return watts / (AIR * flow)


def stack_flow(area: float, height: float, rise: float, outside: float, discharge: float = 0.65) -> float:
    """Air through two equal openings, their middles `height` apart: the neutral level lies half way between them."""
    return discharge * area * math.sqrt(2.0 * GRAVITY * (height / 2.0) * rise / (outside + rise + KELVIN))


def single_flow(area: float, height: float, rise: float, outside: float, discharge: float = 0.61) -> float:
    """Air through one upright opening of that height, in below and out above; density by the air outside."""
    return discharge / 3.0 * area * math.sqrt(GRAVITY * height * rise / (outside + KELVIN))


def equal_area(first: float, second: float) -> float:
    """The two equal openings that pass as much as these unequal ones. 0 where one is shut."""
    if first <= 0.0 or second <= 0.0:
        return 0.0
    return math.sqrt(2.0) * first * second / math.hypot(first, second)


def board_loss(thickness: float, conductivity: float, outside: float) -> float:
    """Heat through a board per m² and K, air on both sides. thickness m, conductivity W/mK, `outside` a surface's resistance."""
    return 1.0 / (2.0 * outside + thickness / conductivity)


@dataclass(frozen=True, slots=True)
class Outer:
    """Which boards of a compartment face the room's air; the others face a bay, a shelf, a unit or the wall beside it.

    Through those nothing is counted as lost: what lies behind them may be as warm.
    """

    left: bool = True
    right: bool = True
    top: bool = True
    bottom: bool = True


ALONE = Outer()


def box_loss(  # noqa: PLR0913
    width: float, depth: float, height: float, thickness: float, conductivity: float, outer: Outer = ALONE
) -> float:  # fmt: skip
    """Heat that a closed box on a wall leaks per K [W/K]: its front and those boards that face the room; nothing through the back."""
    around = (outer.left + outer.right) * height * depth + width * height
    return (
        around * board_loss(thickness, conductivity, SIDEWAYS)
        + outer.top * width * depth * board_loss(thickness, conductivity, UP)
        + outer.bottom * width * depth * board_loss(thickness, conductivity, DOWN)
    )


def rise_closed(watts: float, loss: float) -> float:
    """The rise of a closed box [K]."""
    return watts / loss


def rise(
    watts: float,
    loss: float,
    area: float,
    height: float,
    outside: float,
    *,
    discharge: float = 0.65,
    fan: float = 0.0,
    single: bool = False,
) -> float:
    """The rise [K] at which boards, openings and fan together carry the heat off: halved down to the last digit, from near it.

    area : each of two equal openings, or the one upright opening where `single` (then `height` is its own). inf where nothing
    carries heat off.
    """
    if watts <= 0.0:
        return 0.0

    flow = single_flow if single else stack_flow

    def carried(at: float) -> float:
        return (AIR * (flow(area, height, at, outside, discharge) + fan) + loss) * at

    low, top = 0.0, 1.0
    while carried(top) < watts:
        low, top = top, top * 2.0
        if top > 1e6:
            return math.inf
    near = _near(carried, watts, top)
    if low < (below := near * (1 - _CLOSE)) and carried(below) < watts:
        low = below
    if top > (above := near * (1 + _CLOSE)) and carried(above) >= watts:
        top = above
    while low < (middle := (low + top) / 2.0) < top:
        low, top = (middle, top) if carried(middle) < watts else (low, middle)
    return (low + top) / 2.0


def _near(carried: Callable[[float], float], watts: float, top: float) -> float:
    """The rise at which so much is carried off, by secants of the two logarithms: heat goes up with about a power of the rise."""
    before, heat = top, carried(top)
    at = top * (watts / heat) ** 0.8
    for _ in range(_SECANTS):
        then = carried(at)
        if then == heat or at == before:
            break
        power = math.log(then / heat) / math.log(at / before)
        before, heat, at = at, then, at * (watts / then) ** (1.0 / power)
        if abs(at - before) < _CLOSE * at / 10:
            break
    return at


def area_needed(  # noqa: PLR0913
    watts: float,
    loss: float,
    height: float,
    allowed: float,
    outside: float,
    discharge: float = 0.65,
    *,
    single: bool = False,
) -> float:
    """Each of the two openings, or the one upright opening of that height where `single`, that keeps the rise to `allowed` [m²]; 0
    where the boards alone do.
    """
    left = watts - loss * allowed
    if left <= 0.0:
        return 0.0
    flow = single_flow if single else stack_flow
    return flow_for(left, allowed) / flow(1.0, height, allowed, outside, discharge)


def fan_needed(watts: float, loss: float, allowed: float) -> float:
    """The fan that keeps the rise to `allowed` [m³/h]; 0 where the boards alone do."""
    return max(0.0, flow_for(watts - loss * allowed, allowed)) * 3600.0
