"""Copper cable: what it may carry, what it drops, which size will do and how far it goes.

A design aid: every circuit is to be checked, sized, installed and tested by the locally licensed electrician.
Sources: IEC 60364-5-52:2009 tables B.52.2 and G.52.1 and annex G, IEC 60228, BS 7671 appendix 4.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

# IEC 60364-5-52:2009 table B.52.2 [A]: copper, PVC 70 °C, two loaded conductors, 30 °C. A1 singles and A2 a cable in conduit in
# an insulated wall; B1 singles and B2 a cable in conduit on or in masonry; C a cable clipped to or buried in masonry.
RATINGS: Mapping[str, Mapping[float, float]] = {
    "A1": {1.5: 14.5, 2.5: 19.5, 4.0: 26, 6.0: 34, 10.0: 46},
    "A2": {1.5: 14, 2.5: 18.5, 4.0: 25, 6.0: 32, 10.0: 43},
    "B1": {1.5: 17.5, 2.5: 24, 4.0: 32, 6.0: 41, 10.0: 57},
    "B2": {1.5: 16.5, 2.5: 23, 4.0: 30, 6.0: 38, 10.0: 52},
    "C": {1.5: 19.5, 2.5: 27, 4.0: 36, 6.0: 46, 10.0: 63},
}
# BS 7671 appendix 4: factors for air of other than 30 °C (PVC), and for circuits bunched together.
AMBIENT: Mapping[float, float] = {25: 1.03, 30: 1.0, 35: 0.94, 40: 0.87, 45: 0.79, 50: 0.71}
GROUPED: Mapping[int, float] = {1: 1.0, 2: 0.80, 3: 0.70, 4: 0.65, 5: 0.60}
RHO_1 = 0.0225  # Ω·mm²/m: copper at its running temperature, IEC 60364-5-52 annex G
LAMBDA = 0.08  # mΩ/m: reactance of a cable, IEC 60364-5-52 annex G (from memory)


def ambient_factor(celsius: float) -> float:
    """The factor for the air's temperature: that of the next warmer tabulated step. ValueError beyond 50 °C."""
    for step, factor in AMBIENT.items():
        if celsius <= step:
            return factor
    raise ValueError(f"no rating for cable in air of {celsius:g} °C")


def grouped_factor(circuits: int) -> float:
    """The factor for so many loaded circuits side by side; beyond five, that of five is no longer enough: ValueError."""
    if circuits not in GROUPED:
        raise ValueError(f"no factor for {circuits} circuits side by side: spread them out")
    return GROUPED[circuits]


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


def carries(rating: float, celsius: float, circuits: int) -> float:
    """What a cable carries [A] where it lies: the tabulated rating with its factors."""
    return rating * ambient_factor(celsius) * grouped_factor(circuits)


def choose_size(  # noqa: PLR0913
    device_rating: float,
    metres: float,
    limit_volts: float,
    ratings: Sequence[tuple[float, float, float]],
    celsius: float,
    circuits: int,
    least: float = 0.0,
) -> float | None:
    """The smallest size [mm²] of (size, rating A, mV/A/m) that carries the device's rating and keeps the drop; or None."""
    for size, rating, drop in sorted(ratings):
        if size < least or carries(rating, celsius, circuits) < device_rating:
            continue
        if drop_volts(drop, device_rating, metres) <= limit_volts:
            return size
    return None
