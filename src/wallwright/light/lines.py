"""Light of an LED strip on the wall beside it, in closed form.

The strip is a straight line of F lumen a metre that radiates like a matt face (Lambert), s from the wall, h along
the wall from its foot, both mm; the place lit is opposite a point of the strip with `ends` mm of strip to either
side (None: endless). Result in lux.

With d² = s² + h² and γ the half angle that the strip fills, E = F/(π d) cosφ cosβ (γ + sinγ cosγ), φ at the strip, β at the wall;
endless E = F cosφ cosβ / 2d. Derived by integrating the inverse-square law along the line.
"""

from __future__ import annotations

import math

Ends = tuple[float, float] | None


def facing(lumens: float, s: float, h: float, ends: Ends = None) -> float:
    """A strip that looks straight at the wall (a halo): cosφ = cosβ = s/d. All of its light lands on the wall."""
    d = math.hypot(s, h)
    return _line(lumens, d, (s / d) ** 2, ends)


def grazing(lumens: float, s: float, h: float, ends: Ends = None) -> float:
    """A strip that looks along the wall: cosφ = h/d, cosβ = s/d. Half of its light lands on the wall; brightest at h = s/√2."""
    d = math.hypot(s, h)
    return _line(lumens, d, (h / d) * (s / d), ends)


def bare(lumens: float, s: float, h: float) -> float:
    """An endless bare tube that radiates alike all round: E = F cosβ / (2 π d)."""
    d = math.hypot(s, h)
    return lumens * (s / d) / (2 * math.pi * d / 1000)


def _line(lumens: float, d: float, cosines: float, ends: Ends) -> float:
    if ends is None:
        filled = math.pi / 2
    else:
        filled = sum(_filled(end / d) for end in ends) / 2
    return lumens / (math.pi * d / 1000) * cosines * filled


def _filled(tangent: float) -> float:
    """γ + sinγ cosγ of one side's angle, from its tangent."""
    return math.atan(tangent) + tangent / (1 + tangent * tangent)


def lux_for(luminance: float, reflectance: float) -> float:
    """The light [lux] that makes a matt face of that reflectance (0..1) as bright as `luminance` [cd/m²]: E = π L / ρ."""
    return math.pi * luminance / reflectance


def halo_area(width: float, height: float, reach: float) -> float:
    """The wall [m²] within `reach` of a screen's outline, the screen itself left out; corners square."""
    return ((width + 2 * reach) * (height + 2 * reach) - width * height) / 1e6


def bias_lumens(
    luminance: float, reflectance: float, width: float, height: float, reach: float, used: float
) -> float:
    """Lumen a metre of perimeter for a halo of that brightness. used : share of the light that lands in the halo."""
    flux = lux_for(luminance, reflectance) * halo_area(width, height, reach)
    return flux / (2 * (width + height) / 1000) / used
