"""How near the wall's finishes are to a palette, and how many families of hue they fall into."""

from __future__ import annotations

from collections.abc import Sequence

from wallwright.look.colour import Lab, chroma, difference, hue, lab

Faces = Sequence[tuple[float, Lab]]
"""Area and CIELAB of each."""


def distance(faces: Faces, tones: Sequence[str]) -> float:
    """The mean colour difference by area from each face to the palette's nearest tone (ΔE00); 0 where all are its own."""
    whole = sum(area for area, _ in faces)
    labs = [lab(tone) for tone in tones]
    if whole <= 0:
        return 0.0
    return sum(area * min(difference(face, tone) for tone in labs) for area, face in faces) / whole


def hue_families(faces: Faces, least_chroma: float, gap: float) -> int:
    """Into how many families the hues fall: a new one begins where neighbours on the circle stand more than `gap` apart [deg].

    Faces less colourful than `least_chroma` have no hue to speak of, and are left out.
    """
    hues = sorted(
        angle for _, face in faces if chroma(face) >= least_chroma and (angle := hue(face)) is not None
    )
    if not hues:
        return 0
    steps = [b - a for a, b in zip(hues, [*hues[1:], hues[0] + 360], strict=True)]
    return max(1, sum(step > gap for step in steps))
