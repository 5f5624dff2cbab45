"""Volts lost along a strip and its feed, and the driver that carries it."""

from __future__ import annotations

import math
from typing import Literal

Feed = Literal["one_end", "both_ends", "centre"]

# IEC 60228:2004 table 3: flexible copper (class 5, plain), largest resistance at 20 °C [Ω/km] by size [mm²].
CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98}

# Constant-voltage LED drivers as sold by many makers [W]: common practice.
DRIVERS = (12.0, 20.0, 30.0, 40.0, 60.0, 75.0, 100.0, 150.0, 200.0, 240.0, 320.0)

_SLACK = 1e-9


def strip_drop(loop: float, amps_per_m: float, metres: float, feed: Feed) -> float:
    """Volts lost at the worst place of a strip. loop : both tracks together [Ω/m].

    The strip draws its current evenly along its length, so fed from one end it loses r i L²/2: half of full current times full
    resistance. Fed from both ends, or in the middle, each half carries half the length: r i L²/8. The current is
    taken as constant, which strips with current regulators keep; resistor strips draw less as they drop, so this
    is the safe side.
    """
    return loop * amps_per_m * metres**2 / (2.0 if feed == "one_end" else 8.0)


def resistor_strip_end(volts: float, loop: float, amps_per_m: float, metres: float) -> float:
    """Volts left at the far end of a strip whose current falls with its volts: V₀ / cosh(L/λ), λ = √((V₀/i)/r)."""
    reach = math.sqrt(volts / amps_per_m / loop)
    return volts / math.cosh(metres / reach)


def feed_drop(amps: float, size: float, metres: float) -> float:
    """Volts lost in the feed, there and back: 2 I R′ L. size : conductor [mm²], one of CLASS_5. ValueError names the sizes."""
    if size not in CLASS_5:
        raise ValueError(
            f"no flexible conductor of {size:g} mm²; there are {', '.join(f'{s:g}' for s in CLASS_5)}"
        )
    return 2 * amps * CLASS_5[size] / 1000 * metres


def feed_size(amps: float, volts: float, metres: float, most: float) -> float:
    """The smallest conductor [mm²] that loses at most `most` (share of the volts) in the feed; the largest where none does."""
    for size in sorted(CLASS_5):
        if feed_drop(amps, size, metres) <= most * volts + _SLACK:
            return size
    return max(CLASS_5)


def driver(watts: float, load: float) -> tuple[float, int]:
    """The next standard driver [W] for a strip of `watts` at no more than `load` (0..1), and how many of them share it."""
    needed = watts / load
    count = max(1, math.ceil(needed / DRIVERS[-1] - _SLACK))
    each = needed / count
    return next(size for size in DRIVERS if size >= each - _SLACK), count


def heat_rise(heat: float, film: float, perimeter: float) -> float:
    """How much warmer than the air a strip gets [K]. heat : W/m · film : W/m²K · perimeter : open to the air [mm]."""
    return heat / (film * perimeter / 1000)


def watts_that_hold(loop: float, volts: float, metres: float, feed: Feed, percent: float) -> float:
    """The most power a metre [W/m] at which the strip drops no more than that many percent of its volts."""
    return percent / 100 * volts * volts / strip_drop(loop, 1.0, metres, feed)
