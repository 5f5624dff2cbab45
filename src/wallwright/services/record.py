"""What the services stage hands on: points, where outlets may sit, runs, circuits and where each device stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.shape import Box, Outline, Point2
from wallwright.core.why import Whys
from wallwright.services.loads import Load

if TYPE_CHECKING:
    from wallwright.services.plugs import Plug


@dataclass(frozen=True, slots=True)
class ServicePoint:
    """One electrical or data position. (x, z) is the middle of its box, from the left corner and FFL.

    kind : twin_socket, socket, switched_spur, data, rf, conduit, switch, led_feed · zone : behind_screen, cabinet, lighting,
    tower, wall · serves : device refs · circuit : its circuit's ref or ""
    """

    ref: str
    kind: str
    x: float
    z: float
    box: Box
    box_depth: float
    zone: str
    circuit: str
    serves: tuple[str, ...]
    reason: str
    pinned: bool


@dataclass(frozen=True, slots=True)
class PlacedDevice:
    """A device and where it stands: its size and heat.

    place : screen, on_console, cabinet, tower, wall (an opening of its own), or nowhere (no unit holds it) · unit : the unit's ref
    or "" · opening : what is let into the wall, on its face · clear : that and what its maker keeps free round it
    """

    ref: str
    kind: str
    name: str
    place: str
    unit: str
    watts: float
    standby_watts: float
    control: str
    width: float
    depth: float
    height: float
    opening: Box | None = None
    clear: Box | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """A conduit or cable from one end to another along a legal path. Lengths mm.

    cable : what lies in it · bore : conduit inside diameter · fill : 0..1 · longest : limit of the link [mm] or 0 ·
    legal : False where no path within the zones was found, so that the cable needs depth or mechanical protection ·
    contents : (cable of the library, how many of it lie in the run), for what is bought · outside_void : how much of it lies in
    no void [mm] · lies : void, chase, cavity (of a framed wall), surface (in trunking: concrete is not cut), unknown ·
    protect : mains that nothing in view shows, but for what lies in trunking: 50 mm deep, or covered by steel · trunking : the pieces that lie on the
    wall in trunking, `on_surface` their length [mm] · over_ceiling : how much of it lies over a false ceiling [mm] · order : cable
    to order, each, with slack at its ends [mm] · draw_boxes : where its conduit needs boxes to draw the cable
    through · link : what `longest` holds for, in words · drop_percent : of a strip's volts, in its lead · channel : width and height of
    the trunking it lies in [mm], (0, 0) where none of it does · cut : the pieces that lie in no void and in no trunking · steel : what `protect`
    asks is done by steel only, since the leaf bears no chase so deep
    """

    ref: str
    kind: str
    start: str
    end: str
    path: tuple[Point2, ...]
    length: float
    bends: int
    cable: str
    outside_diameter: float
    bore: float
    fill: float
    longest: float
    in_void: bool
    legal: bool = True
    contents: tuple[tuple[str, int], ...] = ()
    outside_void: float = 0.0
    lies: str = "chase"
    protect: bool = False
    trunking: tuple[tuple[Point2, Point2], ...] = ()
    on_surface: float = 0.0
    over_ceiling: float = 0.0
    order: float = 0.0
    link: str = ""
    drop_percent: float = 0.0
    draw_boxes: tuple[Point2, ...] = ()
    channel: tuple[float, float] = (0.0, 0.0)
    cut: tuple[tuple[Point2, Point2], ...] = ()
    steel: bool = False

    @property
    def in_wall(self) -> float:
        """How much of it lies in no void and in no trunking [mm]: in the wall, in conduit."""
        return max(0.0, self.outside_void - self.on_surface)


@dataclass(frozen=True, slots=True)
class Circuit:
    """A circuit: what it feeds [W], the current after diversity [A], its device [A], cable [mm²] and drop [%].

    standby : what it draws asleep [W] · items : its loads · method : how its cable lies · air : round it [°C] · beside : loaded
    circuits side by side · carries : what the cable carries there [A] · longest : the furthest it may go [mm] · drop_most [%] ·
    leak_most : the share of its residual-current device that may leak [mA], 0 without one · rules : the rule set's key ·
    kind : light or power, as the rule set counts it · points : its outlets or light feeds · cable : as it is marked ("2.5 mm²",
    "12 AWG") · long_draw : the most that may be drawn for hours [A], at which the drop is reckoned · left_out : circuits beside it
    that warm nothing · board : from the distribution board to this wall [mm] · board_assumed : nobody measured that
    """

    ref: str
    name: str
    connected: float
    diversified: float
    current: float
    rating: float
    cable_mm2: float
    length: float
    drop_percent: float
    leakage_ma: float
    volts: float = 230.0
    standby: float = 0.0
    items: tuple[Load, ...] = ()
    method: str = ""
    air: float = 0.0
    beside: int = 1
    carries: float = 0.0
    longest: float = 0.0
    drop_most: float = 0.0
    leak_most: float = 0.0
    rules: str = "none"
    kind: str = "power"
    points: int = 0
    cable: str = ""
    long_draw: float = 0.0
    left_out: tuple[str, ...] = ()
    board: float = 0.0
    board_assumed: bool = False


@dataclass(frozen=True, slots=True)
class Order:
    """One line of what to buy: a cable of the library by its key, made-up cables by what they are, conduit or trunking by its size.

    pieces : (run or cable, length of the piece [mm], of what length it is bought [mm]): made-up cables by the next length they come in
    """

    key: str
    name: str
    metres: float
    pieces: tuple[tuple[str, float, float], ...]


@dataclass(frozen=True, slots=True)
class Services:
    """All of it.

    region : boxes within which the middle of a twin socket may sit behind the screen; region_polygons : the same exactly, in convex
    pieces that do not overlap; region_later : with the next larger plate · hidden : what the screen hides at every tilt and swivel,
    less the margin: a box wholly in it does not show · keep_outs : what keeps boxes out there, in words, with its box ·
    zones : where a drill may meet a cable ·
    hidden_zones : those of them that only a hidden box tells of: a cable there is 50 mm deep or covered by steel · supply, lines_in :
    where mains and where signals come to the wall; assumed : which of the two nobody entered · lay : chased, mixed or surface ·
    orders : what to buy of cable, conduit and trunking · plugs : every cable from box to box and from box to outlet
    """

    points: tuple[ServicePoint, ...]
    devices: tuple[PlacedDevice, ...]
    region: tuple[Box, ...]
    zones: tuple[Box, ...]
    runs: tuple[Run, ...]
    circuits: tuple[Circuit, ...]
    whys: Whys
    hidden_zones: tuple[Box, ...] = ()
    region_polygons: tuple[Outline, ...] = ()
    region_later: tuple[Outline, ...] = ()
    hidden: Outline = ()
    keep_outs: tuple[tuple[str, Box], ...] = ()
    supply: Point2 = (0.0, 0.0)
    lines_in: Point2 = (0.0, 0.0)
    assumed: tuple[str, ...] = ()
    lay: str = "chased"
    orders: tuple[Order, ...] = ()
    plugs: tuple[Plug, ...] = ()
