"""How far each sort of link goes: what a cable map and an order list must not go beyond."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.limit import Certainty, Limits
from wallwright.library import load

SPEAKERS = ((8.0, "flex_1_5"), (8.0, "flex_2_5"), (4.0, "flex_1_5"), (4.0, "flex_2_5"))
"""Impedance [Ω] and cable of the speaker links that are listed."""


@dataclass(frozen=True, slots=True)
class Link:
    """One sort of link and how long its cable may be [mm], with where that comes from."""

    name: str
    longest: float
    source: str
    certainty: Certainty


_NAMED = (
    ("picture, passive, 48 Gb/s", "services.hdmi_longest"),
    ("picture, passive, 1080 lines", "services.hdmi_1080_longest"),
    ("picture, active optical", "services.hdmi_optical_longest"),
    ("USB 2", "services.usb2_longest"),
    ("USB 3, 5 Gb/s", "services.usb3_longest"),
    ("network, without its cords", "services.ethernet_longest"),
    ("optical audio", "services.optical_longest"),
)


def links(limits: Limits) -> tuple[Link, ...]:
    """Every sort of link, picture first, speakers last."""
    rows = [Link(name, limits.value(key), limits[key].source, limits[key].certainty) for name, key in _NAMED]
    share = limits.value("services.speaker_share")
    for ohms, key in SPEAKERS:
        cable = load.cables()[key]
        name = f"speaker of {ohms:g} Ω on {cable.size:g} mm²"
        source = f"loop resistance at most {100 * share:g} % of the impedance; {cable.source}"
        rows.append(Link(name, speaker_longest(ohms, cable.ohm_per_km, share), source, "computed"))
    return tuple(rows)


def speaker_longest(ohms: float, ohm_per_km: float, share: float) -> float:
    """The longest speaker cable [mm] whose loop resistance is at most that share of the impedance. ohm_per_km : of one core."""
    return 1e6 * share * ohms / (2.0 * ohm_per_km)
