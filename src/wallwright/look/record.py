"""What the look stage hands on: axes, proportions and colour, as measured numbers."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Why


@dataclass(frozen=True, slots=True)
class Surface:
    """A face seen on the wall: its area [mm²], colour, CIELAB, light reflectance value (0..100) and gloss class."""

    ref: str
    name: str
    area: float
    colour: str
    lab: tuple[float, float, float]
    reflectance: float
    gloss: str


@dataclass(frozen=True, slots=True)
class Look:
    """All of it. axis_offset : screen centre from the main seat's axis [mm], axis_angle the same in degrees seen from that seat ·
    console_ratio : console width over screen width (0 = no console) · balance : 0..1, 1 = both sides carry the same ·
    weight : visual weight of this wall (mean colour difference by area, ΔE00) · behind : the surface behind the screen ·
    joint_offsets : (panel ref, x, distance to the nearest screen edge or unit edge) [mm]
    """

    surfaces: tuple[Surface, ...]
    axis_offset: float
    axis_angle: float
    console_ratio: float
    balance: float
    weight: float
    behind: Surface | None
    behind_chroma: float
    joint_offsets: tuple[tuple[str, float, float], ...]
    whys: tuple[Why, ...]
