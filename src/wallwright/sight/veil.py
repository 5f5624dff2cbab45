"""How much a mirrored light takes from the picture: luminances, the veiling ratio, the contrast that is left, and a word for it.

Luminances in cd/m², light on a surface in lx, angles in degrees from the normal.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wallwright.core.limit import Limits


@dataclass(frozen=True, slots=True)
class Front:
    """The screen's front: what it mirrors and scatters of the light that falls on it (0..1), and its refractive index."""

    surface: str
    mirrors: float
    scatters: float
    index: float

    def mirrors_at(self, angle: float) -> float:
        """What it mirrors of light that comes in at that angle: its own share, growing as plain glass' does."""
        return min(1.0, self.mirrors * fresnel(self.index, angle) / fresnel(self.index, 0.0))


@dataclass(frozen=True, slots=True)
class Picture:
    """What the screen shows: its mean, its white and its black, and the light of the room on it [lx]."""

    mean: float
    white: float
    black: float
    room: float


def front(surface: str | None, limits: Limits) -> Front:
    """The front of that class; an unknown one is taken as semi-gloss."""
    kind = surface or "semi_gloss"
    return Front(
        kind,
        limits.value(f"sight.mirror_{kind}"),
        limits.value(f"sight.haze_{kind}"),
        limits.value("sight.front_index"),
    )


def picture(night: bool, limits: Limits) -> Picture:
    """The picture by day, or after dark."""
    mean, room = ("picture_mean_night", "room_light_night") if night else ("picture_mean", "room_light_day")
    return Picture(
        limits.value(f"sight.{mean}"), limits.value("sight.picture_white"), limits.value("sight.picture_black"),
        limits.value(f"sight.{room}"),
    )  # fmt: skip


def fresnel(index: float, angle: float) -> float:
    """The share of unpolarised light that a clear surface mirrors at that angle of incidence: Fresnel's equations."""
    cos_in = math.cos(math.radians(angle))
    cos_on = math.sqrt(max(0.0, 1 - (math.sin(math.radians(angle)) / index) ** 2))
    across = (cos_in - index * cos_on) / (cos_in + index * cos_on)
    along = (cos_on - index * cos_in) / (cos_on + index * cos_in)
    return (across * across + along * along) / 2


def veiling(luminance: float, mirrors: float, picture_mean: float) -> float:
    """The mirrored light over the picture's own: L ρ / L_picture."""
    return luminance * mirrors / picture_mean


def scattered(light: float, scatters: float) -> float:
    """The even grey that the room's light lays over the picture: E ρ / π."""
    return light * scatters / math.pi


def contrast(white: float, black: float, added: float) -> float:
    """White over black with `added` laid over both: (L_w + L)/(L_b + L)."""
    return (white + added) / (black + added)


def overcast(horizontal: float, elevation: float) -> float:
    """The luminance of the overcast sky at an elevation, for that light on open ground [lx]: L_z (1 + 2 sin γ)/3.

    L_z = 9 E/(7 π). CIE standard overcast sky, ISO 15469.
    """
    return 9 * horizontal / (7 * math.pi) * (1 + 2 * math.sin(math.radians(elevation))) / 3


def overcast_upright(horizontal: float) -> float:
    """The light on an upright surface before an open half of the overcast sky [lx]: E_v/E_h = (3 π + 8)/(14 π) ≈ 0.396."""
    return horizontal * (3 * math.pi + 8) / (14 * math.pi)


def disability(light: float, angle: float) -> float:
    """The veil in the eye from a lamp `angle` beside the line of sight that throws `light` on the eye: 10 E/θ².

    Stiles and Holladay, for 1 to 30 degrees; nearer ones are taken as 1 degree off.
    """
    return 10 * light / max(angle, 1.0) ** 2


def veil_borne(shown: Picture, face: Front, least: float) -> float:
    """The most veil that leaves this contrast in the room's light: (L_w − c L_b)/(c − 1) less the grey; below 0: none."""
    return (shown.white - least * shown.black) / (least - 1) - scattered(shown.room, face.scatters)


def window_word(share: float, ratio: float, limits: Limits) -> str:
    """What a window in that share of the picture does, at that veiling ratio."""
    if share <= 0:
        return "not seen"
    if ratio <= limits.value("rule.veil_good"):
        return "seen, too faint to disturb"
    if share <= limits.value("rule.reflection_consider"):
        return "seen at the edge"
    bad = share > limits.value("rule.reflection_fix") and ratio > limits.value("rule.veil_bad")
    return "washes the picture out" if bad else "disturbs"


def lamp_word(share: float, ratio: float, limits: Limits) -> str:
    """What a mirrored lamp or LED line does: small, so that brightness alone counts."""
    if share <= 0:
        return "not seen"
    if ratio <= limits.value("rule.veil_good"):
        return "seen, too faint to disturb"
    return "disturbs" if ratio <= limits.value("rule.veil_bad") else "shines in the picture"


def contrast_word(value: float, limits: Limits) -> str:
    """What that contrast is good for."""
    if value < limits.value("rule.contrast_least"):
        return "nothing to be made out"
    if value < limits.value("rule.contrast_day"):
        return "too grey for any programme"
    return (
        "enough by day, grey for films" if value < limits.value("rule.contrast_film") else "enough for films"
    )
