"""Copper cable: what it may carry, what it drops, which size will do and how far it goes.

A design aid: every circuit is to be checked, sized, installed and tested by the locally licensed electrician.
Sources: IEC 60364-5-52:2009 tables B.52.2 and G.52.1 and annex G, IEC 60228, BS 7671 appendix 4.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

RHO_1 = 0.0225  # Ω·mm²/m: copper at its running temperature, IEC 60364-5-52 annex G
LAMBDA = 0.08  # mΩ/m: reactance of a cable, IEC 60364-5-52 annex G (from memory)


def ambient_factor(celsius: float, steps: Mapping[float, float]) -> float:
    """The factor for the air's temperature: that of the next warmer tabulated step. ValueError beyond the last."""
    for step, factor in sorted(steps.items()):
        if celsius <= step:
            return factor
    raise ValueError(f"no rating for cable in air of {celsius:g} °C")


def grouped_factor(circuits: int, steps: Mapping[int, float]) -> float:
    """The factor for so many loaded circuits side by side; beyond the table the last is no longer enough: ValueError."""
    if circuits not in steps:
        raise ValueError(f"no factor for {circuits} circuits side by side: spread them out")
    return steps[circuits]


def warm_factor(celsius: float = 70.0) -> float:
    """Resistance of copper at that temperature over that at 20 °C. Source: IEC 60228, copper 234.5 K."""
    return (234.5 + celsius) / (234.5 + 20.0)


def drop_per_amp_metre(ohm_per_km: float, celsius: float = 70.0) -> float:
    """Drop in both conductors [mV/A/m] from the resistance at 20 °C [Ω/km]."""
    return 2.0 * ohm_per_km * warm_factor(celsius)


def drop_volts(mv_per_amp_metre: float, amps: float, metres: float) -> float:
    """Voltage drop [V] by the tabulated mV/A/m."""
    return mv_per_amp_metre * amps * metres / 1000.0


def drop_volts_iec(size: float, amps: float, metres: float, power_factor: float = 0.8) -> float:
    """Voltage drop [V] of a single-phase run of that size [mm²]. Source: IEC 60364-5-52 annex G."""
    sine = (1.0 - power_factor**2) ** 0.5
    return 2.0 * (RHO_1 * metres / size * power_factor + LAMBDA / 1000.0 * metres * sine) * amps


def drop_volts_loop(ohm_per_km: float, amps: float, metres: float) -> float:
    """Voltage drop [V] out and back at the resistance given, as for a low-voltage LED feed."""
    return 2.0 * ohm_per_km * metres / 1000.0 * amps


def longest_run(limit_volts: float, mv_per_amp_metre: float, amps: float) -> float:
    """The longest run [m] that keeps the drop within so many volts."""
    return limit_volts * 1000.0 / (mv_per_amp_metre * amps)


def strip_drop(amps_per_m: float, loop_ohm_per_m: float, metres: float, both_ends: bool = False) -> float:
    """The largest drop [V] along an evenly loaded strip, fed at one end or at both (a quarter of it)."""
    return loop_ohm_per_m * amps_per_m * metres * metres / (8.0 if both_ends else 2.0)


def carries(rating: float, ambient: float, grouped: float) -> float:
    """What a cable carries [A] where it lies: the tabulated rating with its factors for the air and for its neighbours."""
    return rating * ambient * grouped


def choose_size(
    device_rating: float,
    metres: float,
    limit_volts: float,
    ratings: Sequence[tuple[float, float, float]],
    least: float = 0.0,
) -> float | None:
    """The smallest size [mm²] of (size, what it carries A, mV/A/m) that carries the device's rating and keeps the drop; or None."""
    for size, rating, drop in sorted(ratings):
        if size < least or rating < device_rating:
            continue
        if drop_volts(drop, device_rating, metres) <= limit_volts:
            return size
    return None
