"""What the look stage hands on: axes, proportions and colour, as measured numbers."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Whys


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
class Terms:
    """What is measured of a wall: colour difference from its own ground (mean by area, ΔE00), edges that one sees [m/m²],
    mean luminance over the room's in the evening, and entropy of the area shares of its finishes [bit].
    """

    difference: float
    edges: float
    lit: float
    entropy: float

    @property
    def each(self) -> tuple[float, float, float, float]:
        """The four, in order."""
        return self.difference, self.edges, self.lit, self.entropy


@dataclass(frozen=True, slots=True)
class TwoWalls:
    """This wall against the one behind the seats. off, on : this wall with the screen off and on · other : the other wall ·
    measured : from its parts, else from the one word that is known of it · dominance_off, dominance_on : this wall's share of
    each term · star_off, star_on : "this", "other", or "" where neither leads
    """

    off: Terms
    on: Terms
    other: Terms
    measured: bool
    dominance_off: tuple[float, ...]
    dominance_on: tuple[float, ...]
    star_off: str
    star_on: str


@dataclass(frozen=True, slots=True)
class Guide:
    """A line to compose by: upright at x, or level at z, from low to high [mm].

    kind : axis, seats, edge (of the screen), third, console (its usual widths), mirror (where a tower's twin would stand)
    """

    kind: str
    upright: bool
    at: float
    low: float
    high: float
    says: str


@dataclass(frozen=True, slots=True)
class Alignment:
    """What stands by which of the screen's uprights: its x, and how far right of that line it is [mm]."""

    ref: str
    what: str
    x: float
    to: str
    gap: float


@dataclass(frozen=True, slots=True)
class NearLine:
    """A line beside the screen, upright at x or level at z, and its clear distance from the frame [mm]."""

    ref: str
    upright: bool
    at: float
    gap: float


@dataclass(frozen=True, slots=True)
class Cleaning:
    """A face to dust: times larger than flat, area and area out of reach [m²], and an estimate of minutes a month."""

    ref: str
    factor: float
    area: float
    high: float
    minutes: float


@dataclass(frozen=True, slots=True)
class Look:
    """All of it. axis_offset : screen centre from the main seat's axis [mm], axis_angle the same in degrees seen from that seat ·
    console_ratio : console width over screen width (0 = no console) · balance : 0..1, 1 = both sides carry the same ·
    weight : visual weight of this wall (mean colour difference by area, ΔE00) · behind : the surface that takes most of the
    screen's outline · faces_behind : all that take a share of it (0..1) worth speaking of, the largest first · faces_beside : those
    in the band of light round the screen, behind_chroma : how colourful they are together ·
    joint_offsets : (panel ref, x, distance to the nearest screen edge or unit edge) [mm]

    two_walls : this wall against the one behind the seats · guides, alignments : for the drawing · symmetry : towers from
    mirroring one another [mm] (None: not on both sides) · near_lines : lines beside the screen, nearest first · palettes :
    (palette, mean ΔE00 to it), nearest first · hue_families : of all finishes · cleaning : by face
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
    whys: Whys
    two_walls: TwoWalls | None = None
    guides: tuple[Guide, ...] = ()
    alignments: tuple[Alignment, ...] = ()
    symmetry: float | None = None
    near_lines: tuple[NearLine, ...] = ()
    palettes: tuple[tuple[str, float], ...] = ()
    hue_families: int = 0
    cleaning: tuple[Cleaning, ...] = ()
    faces_behind: tuple[tuple[Surface, float], ...] = ()
    faces_beside: tuple[tuple[Surface, float], ...] = ()

    @property
    def dusting(self) -> float:
        """Minutes a month for the whole wall, an estimate."""
        return sum(face.minutes for face in self.cleaning)
