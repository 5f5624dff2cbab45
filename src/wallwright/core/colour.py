"""From a colour as written (#RRGGBB, sRGB) to light: linear components, CIE XYZ, and the share of light a face throws back."""

from __future__ import annotations

Xyz = tuple[float, float, float]

# IEC 61966-2-1: sRGB primaries and D65 white to CIE 1931 XYZ.
_TO_XYZ = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))


def linear(colour: str) -> tuple[float, float, float]:
    """The linear components (0..1) of a colour #RRGGBB (IEC 61966-2-1). ValueError for anything else."""
    digits = colour.removeprefix("#")
    if len(digits) != 6 or len(colour) != 7:
        raise ValueError(f"{colour!r} is not a colour; write #RRGGBB")
    red, green, blue = (_open(int(digits[i : i + 2], 16) / 255) for i in (0, 2, 4))
    return red, green, blue


def xyz(colour: str) -> Xyz:
    """CIE 1931 XYZ of a colour, white = 100."""
    parts = linear(colour)
    x, y, z = (100 * sum(k * part for k, part in zip(row, parts, strict=True)) for row in _TO_XYZ)
    return x, y, z


def reflectance(colour: str) -> float:
    """The light reflectance value 0..100 that a face of this colour would have.

    An estimate: a paint's own value is CIE Y for the 10° observer, measured; from a screen colour one gets the 2°
    one, within a point or two.
    """
    return xyz(colour)[1]


def _open(value: float) -> float:
    """Undo the sRGB transfer curve."""
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
