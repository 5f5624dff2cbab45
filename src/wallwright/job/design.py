"""The design: what was decided. A value that is absent is automatic: it is derived, and says so; a value given is pinned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.core.units import Length
from wallwright.job.fields import (
    STRICT,
    BoardName,
    Clear,
    Colour,
    Count,
    Degrees,
    FinishName,
    NotNegative,
    Offset,
    Positive,
    Ref,
    Share,
    Size,
    Words,
)

PanelClass = Literal["va", "va_wide", "ips", "self_emitting", "unknown"]
UnitKind = Literal[
    "console", "tower", "shelf", "loft", "open_shelves", "niche", "arched_niche", "ledge", "desk"
]
"""A loft is a cabinet under the ceiling; a ledge a shelf with a lip for pictures; a desk a cabinet whose flap is written on."""
Surface = Literal["glossy_ar", "glossy", "semi_gloss", "matte"]
Opening = Literal["push", "handle", "gap"]
FrontKind = Literal["drawers", "shutter", "glass", "slatted", "cloth", "flap", "pull_out", "open"]
PanelKind = Literal["flat", "fluted", "framed", "moulding", "stone_veneer", "slab", "tile", "mirror", "glass"]
"""framed is a field of wallpaper or texture between strips; moulding is profiles planted on the wall."""


@dataclass(frozen=True, slots=True)
class Patch:
    """A rectangle on the screen's front or back, measured from the middle of the screen as seen from the room."""

    __pydantic_config__ = STRICT
    ref: Ref
    x: Offset
    """Left edge right of the middle of the screen (left of it: negative)."""
    z: Offset
    """Lower edge above the middle of the screen (below it: negative)."""
    width: Size
    height: Size


@dataclass(frozen=True, slots=True)
class Port:
    """A field of sockets on the screen's back, and which way its plugs go in."""

    __pydantic_config__ = STRICT
    ref: Ref
    x: Offset
    """Left edge right of the middle of the screen, as seen from the room."""
    z: Offset
    """Lower edge above the middle of the screen."""
    width: Size
    height: Size
    faces: Literal["wall", "down", "side"] = "side"
    """Where its plugs point: straight at the wall, down, or to the side."""


@dataclass(frozen=True, slots=True)
class SecondSource:
    """The same sizes once more, from elsewhere: two sources that agree are as good as a drawing."""

    __pydantic_config__ = STRICT
    source: Literal["shop_page", "maker_drawing", "measured"]
    frame_width: Size | None = None
    frame_height: Size | None = None
    hole_width: Size | None = None
    hole_height: Size | None = None
    hole_offset: Offset | None = None


@dataclass(frozen=True, slots=True)
class Screen:
    """The screen."""

    __pydantic_config__ = STRICT
    diagonal: Positive | None = None
    """Named size in inches."""
    panel: PanelClass = "unknown"
    """How the picture holds from the side."""
    surface: Surface | None = None
    """How the front mirrors: glossy_ar is glossy with an anti-reflection coat; absent = taken as semi-gloss."""
    lines: Literal[1080, 2160, 4320] = 2160
    centre_height: Size | None = None
    """Middle of the screen above FFL."""
    centre_x: Offset | None = None
    """Middle of the screen from the wall's left corner."""
    frame_width: Size | None = None
    frame_height: Size | None = None
    frame_depth: Size | None = None
    mass: Positive | None = None
    """kg without stand."""
    watts: Positive | None = None
    hole_width: Size | None = None
    """Fixing hole group on the back, across."""
    hole_height: Size | None = None
    hole_offset: Offset | None = None
    """Middle of the hole group above (positive) or below the middle of the screen; absent = not known: drawn at 0, no drilling."""
    source: Literal["typical", "shop_page", "maker_drawing", "measured"] = "typical"
    """Where the frame sizes come from."""
    second: SecondSource | None = None
    """The same sizes from a second source."""
    box_width: Size | None = None
    """The carton it comes in, across."""
    box_height: Size | None = None
    box_depth: Size | None = None
    ports: tuple[Port, ...] = ()
    """Sockets on its back."""
    vents: tuple[Patch, ...] = ()
    """Air openings in its back."""
    ir_eye: Patch | None = None
    """The infrared eye on its front."""
    niche_width: Size | None = None
    """Clear width of the niche built round the screen; absent = no niche."""
    niche_height: Size | None = None
    niche_depth: Size | None = None


@dataclass(frozen=True, slots=True)
class Mount:
    """How the screen hangs."""

    __pydantic_config__ = STRICT
    kind: Literal["fixed", "tilt", "arm"] = "tilt"
    tilt: Degrees | None = None
    """Degrees forward (picture faces down)."""
    stand_off: Size | None = None
    """Wall face to the back of the screen."""
    plate_width: Size | None = None
    plate_height: Size | None = None
    reach: Clear | None = None
    """Furthest pull-out of an arm."""
    swivel: Degrees | None = None
    """Degrees the screen is turned on its arm: positive turns the picture towards larger x."""
    swivel_most: Degrees | None = None
    """Furthest the arm turns to either side."""
    head: Clear | None = None
    """From the upright axis on which an arm's head turns to the back of the screen."""
    pivot_x: Offset | None = None
    """That axis right of the middle of the screen."""
    hook_drop: Offset | None = None
    """How far the middle of the hole group hangs below the middle of the wall plate."""
    carries: Positive | None = None
    """kg the mount is rated for."""


@dataclass(frozen=True, slots=True)
class Bay:
    """One bay of a unit: its front and what divides it inside."""

    __pydantic_config__ = STRICT
    front: FrontKind = "drawers"
    width: Size | None = None
    """Clear width (of a tower's bay, which lie one above the other: clear height); absent = an equal share of what is left."""
    drawers: Count = 1
    """Drawers one above the other, where the front is drawers."""
    shelves: Count = 0
    """Loose shelves inside, where the front is not drawers."""
    hinged: Literal["left", "right"] | None = None
    """On which side a single door turns; absent = away from the unit's middle, in a pair of towers at the wall's ends."""
    vents: bool | None = None
    """Air openings cut low and high; absent = where the boxes in it would get too warm, false = never."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A piece of joinery: a cabinet, a shelf, a niche or a desk."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: UnitKind
    side: Literal["centre", "left", "right"] = "centre"
    """Where it stands when x is automatic: below the screen, or at that end of the wall."""
    x: Offset | None = None
    z: Clear | None = None
    """Underside above FFL."""
    width: Size | None = None
    height: Size | None = None
    depth: Size | None = None
    hung: bool | None = None
    """Hung on the wall; absent = a console and a shelf hang, a tower stands."""
    bays: tuple[Bay, ...] = ()
    board: BoardName | None = None
    """A board of the library for the carcass."""
    front_finish: FinishName | None = None
    """A finish of the library for the fronts."""
    load: NotNegative | None = None
    """Expected load in kg per metre of shelf."""
    anchored: bool = True
    """Fixed to the wall near its top."""
    opening: Opening | None = None
    """How its fronts open: push (latch, nothing on the front), handle, or a gap for the fingers above the front; absent = push."""
    base: Literal["plinth", "legs"] | None = None
    """What a standing unit stands on; absent = a plinth."""
    fronts: Literal["overlay", "inset"] | None = None
    """Fronts over the carcass's edges or between them; absent = over."""
    shelf_build: Literal["plain", "lipped", "doubled", "torsion_box"] | None = None
    """What its shelves are made of; absent = one plain board."""
    lip: Clear | None = None
    """Height of the lip under a lipped shelf's front edge, or of the strip that holds pictures on a ledge."""
    arch_rise: Size | None = None
    """Rise of an arched niche from its springing; absent = half its width, a half round."""
    bend: Literal["kerf", "flexible"] | None = None
    """How the edge of an arched niche is bent: kerfed board or flexible ply; absent = flexible."""
    back: bool | None = None
    """Closed behind; absent = closed, but for a niche round the screen."""
    skirting: Literal["cut", "notch"] | None = None
    """Where a standing unit meets the skirting, the skirting is cut out or the unit's sides are notched over it; absent = cut, in
    a rented home notched."""


@dataclass(frozen=True, slots=True)
class Panel:
    """A panelled zone of the wall."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: PanelKind = "flat"
    x: Offset | None = None
    z: Clear | None = None
    width: Size | None = None
    height: Size | None = None
    board: BoardName | None = None
    finish: FinishName | None = None
    void: Clear | None = None
    """Depth of the void behind (battens)."""
    flute_pitch: Size | None = None
    flute_centre: Literal["groove", "rib"] | None = None
    """What stands on the middle of the field; absent = whichever closes it."""
    columns: Count | None = None
    """Fields side by side, of a framed zone or of mouldings; absent = by proportion."""
    rows: Count | None = None
    strip: Size | None = None
    """Width of the strips of a framed zone, or of the moulding's profile."""
    tile_width: Size | None = None
    tile_height: Size | None = None
    joint: Clear | None = None
    """Width of the joints between tiles, slabs, mirrors or panes."""
    match: Literal["slip", "book", "random"] | None = None
    """How the leaves of a veneer, or the slabs, follow one another; absent = slip."""
    head: Literal["straight", "round", "segment"] | None = None
    """The form of the zone's top; absent = straight."""
    head_rise: Size | None = None
    """Rise of a segment head."""
    bend: Literal["kerf", "flexible"] | None = None
    """How the edge of an arch is bent: kerfed board or flexible ply; absent = flexible."""


@dataclass(frozen=True, slots=True)
class Point:
    """An electrical or data position that the designer places."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: Literal["twin_socket", "socket", "switched_spur", "data", "rf", "conduit", "switch"]
    x: Offset
    """Middle of the box from the left corner."""
    z: Clear
    """Middle of the box above FFL."""
    note: Words = ""


@dataclass(frozen=True, slots=True)
class Light:
    """A run of LED strip."""

    __pydantic_config__ = STRICT
    ref: Ref
    along: Literal["behind_panel", "behind_screen", "under_console", "under_shelf", "tower_side"]
    of: Ref | None = None
    """The unit or panel it belongs to; absent = the first that fits."""
    watts_per_m: Positive | None = None
    volts: Literal[12, 24] = 24
    colour: Positive | None = None
    """Correlated colour temperature in kelvin."""
    feed: Literal["one_end", "both_ends", "centre"] | None = None
    lumens_per_m: Positive | None = None
    pitch: Size | None = None
    """Diode pitch; absent = the library's."""
    depth: Clear | None = None
    """From the diodes to the diffuser or to the lit face."""
    dimmable: bool = True
    driver_place: Literal["cabinet", "ceiling", "behind_panel"] = "cabinet"
    setback: Clear | None = None
    """From the edge that hides the strip back to it."""
    lip: Clear | None = None
    """How far a lip stands down or out at that edge, over the strip."""
    profile: bool | None = None
    """In an aluminium profile that carries its heat off; absent = where its power asks for one."""
    dim_low: Share | None = None
    """Lowest share of full output that its driver holds steady, from the data sheet; absent = as needed, to be ordered so."""
    flicker_hz: Positive | None = None
    """Frequency at which its driver flickers when dimmed, from the data sheet."""
    flicker_depth: Share = 1.0
    """How deep that flicker is: (highest − lowest)/(highest + lowest); 1 = on and off."""
    circuit: Ref | None = None
    """The circuit it is switched and dimmed with; absent = bias light and mood light apart."""
    round_curve: Literal["pieces", "bendable"] | None = None
    """How it goes round a curve edge on: straight pieces, joined, or a strip that bends so; absent = not settled."""


Backing = Literal["noggings", "boards", "face"]
"""Timber between the studs, plywood between the studs behind the boarding, or plywood on the boarding, screwed to the studs."""


@dataclass(frozen=True, slots=True)
class Wiring:
    """How runs are laid where no panel's void takes them."""

    __pydantic_config__ = STRICT
    lay: Literal["chased", "mixed", "surface"] | None = None
    """chased: cut into the wall · mixed: cut where the wall may be cut so deep, else in trunking on it · surface: in trunking, no
    wall is cut; absent = in trunking in a rented home and on concrete, else chased, or mixed where the leaf does not bear that."""
    picture_cable: Literal["passive", "optical"] = "passive"
    """Copper, or active optical (it has a direction, and is drawn so that it can be replaced)."""


@dataclass(frozen=True, slots=True)
class Finishes:
    """What the wall and the boards are finished in: keys of the finish library."""

    __pydantic_config__ = STRICT
    wall: FinishName | None = None
    fronts: FinishName | None = None
    carcass_board: BoardName | None = None
    panel: FinishName | None = None
    wall_colour: Colour | None = None
    front_colour: Colour | None = None
    panel_colour: Colour | None = None
    emission: Literal["e1", "e05", "tsca", "naf"] | None = None
    """Formaldehyde class the boards are ordered in; absent = the least strict that law and room ask for."""


@dataclass(frozen=True, slots=True)
class SawSetting:
    """The workshop's saw."""

    __pydantic_config__ = STRICT
    kerf: Clear = Length(3.2)
    trim: Clear = Length(10.0)
    stages: Literal["any", "2", "3"] = "any"


@dataclass(frozen=True, slots=True)
class StockSheet:
    """Sheets that the workshop has, or an offcut that an earlier job left: cut before any are bought."""

    __pydantic_config__ = STRICT
    ref: Ref
    """What is written on it, or on the rack it stands in."""
    board: BoardName
    """The board of the library that it is of."""
    length: Size
    """Along its grain."""
    width: Size
    count: Count = 1
    offcut: bool = False
    """Paid for by an earlier job, its edges sawn already: it costs nothing and is not trimmed. A sheet is charged like one bought."""


@dataclass(frozen=True, slots=True)
class Design:
    """All that was decided; the rest is derived."""

    __pydantic_config__ = STRICT
    screen: Screen = Screen()
    mount: Mount = Mount()
    units: tuple[Unit, ...] = ()
    panels: tuple[Panel, ...] = ()
    points: tuple[Point, ...] = ()
    lights: tuple[Light, ...] = ()
    wiring: Wiring = Wiring()
    backing: Backing | None = None
    """What backs fixings that miss the studs of a framed wall; absent = noggings in timber, boards between metal studs."""
    finishes: Finishes = Finishes()
    saw: SawSetting = SawSetting()
    stock: tuple[StockSheet, ...] = ()
    """Sheets and offcuts in the workshop's rack."""
    rates: Ref = "demo"
    """Which rates book prices the wall."""
