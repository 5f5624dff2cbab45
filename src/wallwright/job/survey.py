"""The survey: what stands in the room. Every length carries its text, how sure it is, and its tolerance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.core.units import Length
from wallwright.job.fields import (
    STRICT,
    Clear,
    Colour,
    Count,
    Degrees,
    Layers,
    NotNegative,
    Number,
    Offset,
    Positive,
    Ref,
    Share,
    Size,
    Upward,
    Words,
)

Substrate = Literal[
    "brick",
    "solid_block",
    "hollow_block",
    "aac_block",
    "concrete",
    "metal_stud",
    "timber_stud",
    "dot_and_dab",
    "unknown",
]
ObstacleKind = Literal[
    "beam", "column", "window", "door", "ac", "socket", "switch", "data_point", "skirting", "cornice", "pipe", "cable",
    "niche", "radiator", "curtain", "other",
]  # fmt: skip
Keep = Literal["keep", "move", "remove", "new"]
CableWay = Literal["unknown", "upright", "level"]
SeatKind = Literal["sofa", "armchair", "bed", "chair", "floor", "wheelchair", "standing"]
Posture = Literal["upright", "lounging", "reclined", "standing"]
Side = Literal["opposite", "left", "right"]
LampKind = Literal["downlight", "pendant", "floor_lamp", "table_lamp", "wall_light", "strip"]
Glow = Literal["shaded", "opal", "bright", "bare"]


@dataclass(frozen=True, slots=True)
class Room:
    """The room the wall stands in."""

    __pydantic_config__ = STRICT
    name: Words = "Living room"
    """What the client calls the room."""
    kind: Literal["living", "bedroom", "studio"] = "living"
    """living, bedroom or studio."""
    depth: Size | None = None
    """From this wall to the wall opposite."""
    floor_finished: bool = False
    """True when the floor finish is laid, so that heights from FFL can be measured."""
    floor_to_come: Clear = Length(0.0)
    """Floor finish still to come above the measured floor."""
    storey: Literal["below", "ground", "upper"] = "upper"
    """Below or on the ground the damp of the soil comes up: what stands on the floor must bear humid air."""
    temperature: Number | None = None
    """Usual temperature in °C; absent = as the climate has it."""
    humidity_low: Share | None = None
    """Relative humidity in the driest weeks, 0 to 1 (heating, air conditioning); absent = as the climate has it."""
    humidity_high: Share | None = None
    """Relative humidity in the dampest weeks, 0 to 1; absent = as the climate has it."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the building stands: for the sun and for the rule set."""

    __pydantic_config__ = STRICT
    city: Words = ""
    rules: Literal["IN", "UK", "US", "EU", "none"] = "none"
    """Which country's electrical rule set applies."""
    latitude: Number | None = None
    """Degrees, north positive."""
    longitude: Number | None = None
    """Degrees, east positive."""
    bearing: Degrees | None = None
    """Compass bearing you face when you look straight at the wall, degrees from north."""
    utc_offset: Number | None = None
    """Hours the clock there is ahead of universal time, summer time left out; absent = hours are told by the sun."""
    hot_humid: bool = False
    """Hot and humid climate, for board classes and cooling."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One tape reading of the wall: a width taken at a height, or a height taken at an x."""

    __pydantic_config__ = STRICT
    at: Clear
    """Where it was taken: height from FFL for a width, x from the left corner for a height."""
    value: Size
    """What the tape said."""


@dataclass(frozen=True, slots=True)
class Backer:
    """Plywood or timber that was let into a framed wall behind its boarding."""

    __pydantic_config__ = STRICT
    x: Offset
    """Left edge from the wall's left corner."""
    z: Clear
    """Lower edge above FFL."""
    width: Size
    height: Size


@dataclass(frozen=True, slots=True)
class Relief:
    """One reading of the wall's relief: off a plumb line or a laser plane that stands parallel to the wall."""

    __pydantic_config__ = STRICT
    x: Clear
    """From the wall's left corner."""
    z: Clear
    """Above FFL."""
    out: Offset
    """How far the wall stands towards the room there (hollows negative), against any one plumb plane."""


@dataclass(frozen=True, slots=True)
class SurveyedWall:
    """The wall itself."""

    __pydantic_config__ = STRICT
    widths: tuple[Reading, ...]
    """Widths at several heights (skirting, 1 m, 2.2 m)."""
    heights: tuple[Reading, ...]
    """Heights from FFL to the ceiling at several places (left, middle, right)."""
    diagonals: tuple[Size, ...] = ()
    """Both diagonals, bottom left to top right first."""
    out_of_plumb: Offset = Length(0.0)
    """How far the top stands behind the bottom (positive: leans away from the room)."""
    substrate: Substrate = "unknown"
    """What the wall is made of; unknown stops every fixing."""
    leaf: Size | None = None
    """Thickness of the masonry leaf or of the partition."""
    finish: Literal["plaster", "skim", "plasterboard", "bare", "tile"] = "plaster"
    """What lies on the wall now."""
    stud_spacing: Size | None = None
    """Stud centres of a framed wall."""
    studs: tuple[Clear, ...] = ()
    """x of each stud found."""
    outside: bool = False
    """True for an outside wall."""
    damp: Literal["dry", "damp", "wet", "unknown"] = "unknown"
    """Damp-meter class."""
    backers: tuple[Backer, ...] = ()
    """Backers that are in a framed wall: fixings may go into them."""
    wet_room_behind: bool = False
    """True where a bathroom, kitchen sink or wash place is on the other side."""
    relief: tuple[Relief, ...] = ()
    """Readings of how far it stands out, on a grid: what panels are packed out by."""
    boarding_layers: Layers | None = None
    """Layers of boarding on a stud wall's near side; taken as one where nobody looked."""
    adjusted: bool = False
    """True: the wall is drawn by the most likely outline of all its measures; false: by the smallest width and height read."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something on the wall: a keep-out with its own clearance."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: ObstacleKind
    x: Offset
    """Left edge from the wall's left corner."""
    z: Clear
    """Lower edge from FFL."""
    width: Size
    height: Size
    projection: Clear = Length(0.0)
    """How far it stands into the room."""
    state: Keep = "keep"
    note: Words = ""
    dead: bool = False
    """True when the electrician has traced its cable (a pipe: the plumber) and made it dead: until then no hole near it."""
    substrate: Substrate = "unknown"
    """What a column or beam is made of, where somebody has made sure: then fixings may go into it."""
    cable: CableWay = "unknown"
    """Which way a socket's, switch's or data point's cable was traced to run; until then both ways are kept free."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A place to watch from."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: SeatKind
    x: Offset
    """Middle of the seat from the wall's left corner."""
    distance: Size
    """From the wall to the eyes of the person sitting upright."""
    seat_height: Clear = Length(420.0)
    """Top of the seat under load, or of the mattress."""
    posture: Posture = "upright"
    recline: Degrees | None = None
    """Back angle from vertical; absent = the posture's usual angle."""
    hours: NotNegative = 7.0
    """Hours of viewing a week: the weight of this seat."""
    person: Ref | None = None
    """Who sits here; absent = a mean adult."""
    eye_height: Size | None = None
    """Measured eye height above FFL; overrides the computed one."""
    back_height: Size | None = None
    """Top of the seat's back above FFL; a seat behind must see over it."""
    foot_height: Size | None = None
    """Top of the bed's foot above FFL with blanket and feet; absent = mattress plus a usual blanket."""


@dataclass(frozen=True, slots=True)
class Window:
    """A window in one of the other walls."""

    __pydantic_config__ = STRICT
    ref: Ref
    wall: Side
    along: Offset
    """Left or near edge: x from the TV wall's left corner (opposite wall), or distance from the TV wall (side walls)."""
    sill: Clear
    width: Size
    height: Size
    blind: Share = 1.0
    """Light that the blind lets through when drawn; 1 = no blind."""
    reveal: Clear = Length(0.0)
    """From the room's face of the opening to the outside face of its wall: a deep reveal shades."""
    overhang: Clear = Length(0.0)
    """How far a balcony or eave stands out over the head of the opening, outside."""
    horizon: Upward = 0.0
    """Elevation in degrees below which trees or houses hide the sun from it."""


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp of the room that may be mirrored in the screen."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: LampKind
    x: Offset
    """Middle of its bright part from the wall's left corner."""
    distance: Clear
    """Middle of its bright part from the wall."""
    z: Size
    """Middle of its bright part above FFL; of a downlight, the ceiling it sits in."""
    diameter: Size | None = None
    """Across its bright part, where that is round; absent = usual for its kind."""
    width: Size | None = None
    """Across its bright part, where that is not round; of a strip, its length."""
    height: Size | None = None
    """Upright size of its bright part."""
    runs: Literal["across", "away"] = "across"
    """A strip runs along this wall, or away from it."""
    glow: Glow | None = None
    """How bright it looks: shaded, opal, bright, bare; absent = usual for its kind."""
    luminance: Positive | None = None
    """Its luminance in cd/m², where known: overrides glow."""
    cut_off: Upward | None = None
    """Of a downlight: angle from straight down beyond which its bright parts are hidden; absent = bare."""
    on_at_night: bool = True
    """Lit while the screen is watched after dark."""


@dataclass(frozen=True, slots=True)
class WallPart:
    """What stands or hangs on another wall: a bookcase, a picture, a curtain, a papered field."""

    __pydantic_config__ = STRICT
    name: Words
    colour: Colour
    """Its main colour."""
    width: Size
    height: Size
    count: Count = 1
    """How many alike."""
    lines: NotNegative = 0.0
    """Lines inside it that one sees from the seats: metres of edge per square metre (books, pattern, panes)."""


@dataclass(frozen=True, slots=True)
class OtherWall:
    """Another wall of the room, for reflections and for the look."""

    __pydantic_config__ = STRICT
    side: Side
    finish: Words = ""
    weight: Literal["plain", "some", "heavy"] = "plain"
    """How much it asks to be looked at, in a word: counts where its parts are not given."""
    colour: Colour | None = None
    """Its ground."""
    width: Size | None = None
    """Absent = as this wall (opposite) or as deep as the room (sides)."""
    height: Size | None = None
    """Absent = as this wall."""
    lux: NotNegative | None = None
    """Light on it in the evening, by a meter; absent = as on the rest of the room."""
    parts: tuple[WallPart, ...] = ()
    """What stands or hangs on it."""


@dataclass(frozen=True, slots=True)
class Between:
    """Furniture that stands between the seats and the screen."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: Literal["table", "stool", "plant", "lamp", "other"]
    x: Offset
    """Left edge from the wall's left corner."""
    distance: Clear
    """From the wall to its near edge."""
    width: Size
    depth: Size
    height: Size
    """Its top above FFL."""


@dataclass(frozen=True, slots=True)
class Access:
    """The way in for long parts and the screen's box."""

    __pydantic_config__ = STRICT
    door_width: Size | None = None
    door_height: Size | None = None
    lift_width: Size | None = None
    lift_depth: Size | None = None
    lift_height: Size | None = None
    lift_door_width: Size | None = None
    """Clear width of the lift's own door; absent = as wide as the car."""
    lift_door_height: Size | None = None
    stair_width: Size | None = None
    """Clear width of the stair, between wall and handrail."""
    stair_headroom: Size | None = None
    """Least height above the stair's going."""
    landing_width: Size | None = None
    """Clear width of the flight or landing after the turn; absent = as the stair."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Where cables come to this wall from the rest of the house."""

    __pydantic_config__ = STRICT
    comes: Literal["left", "right", "ceiling", "floor", "wall"]
    """Round the left or the right corner, down from the ceiling, up from the floor, or through the wall at a place on it."""
    x: Offset | None = None
    """From the wall's left corner; absent = in the corner's cable zone."""
    z: Clear | None = None
    """Above FFL; absent = under the ceiling, from the floor at the skirting."""


@dataclass(frozen=True, slots=True)
class Survey:
    """All that was surveyed."""

    __pydantic_config__ = STRICT
    room: Room
    wall: SurveyedWall
    place: Place = Place()
    date: Words = ""
    """Date of the survey, YYYY-MM-DD."""
    finish_complete: bool = False
    """True when nothing more will be added to wall, floor or ceiling."""
    obstacles: tuple[Obstacle, ...] = ()
    seats: tuple[Seat, ...] = ()
    windows: tuple[Window, ...] = ()
    other_walls: tuple[OtherWall, ...] = ()
    access: Access = Access()
    between: tuple[Between, ...] = ()
    lamps: tuple[Lamp, ...] = ()
    supply: Entry | None = None
    """Where the mains supply comes to the wall; absent = assumed."""
    lines_in: Entry | None = None
    """Where network, fibre and aerial come to the wall; absent = assumed."""
    board_distance: Size | None = None
    """Cable from the distribution board to where the mains supply comes to this wall, along its way; absent = assumed."""
    ceiling: Literal["solid", "void", "unknown"] = "unknown"
    """void: a false ceiling with room for conduits over it."""
