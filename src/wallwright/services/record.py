"""What the services stage hands on: points, where outlets may sit, runs, circuits and where each device stands."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.shape import Box, Point2
from wallwright.core.why import Why


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

    place : screen, on_console, cabinet, tower, or nowhere (no unit holds it) · unit : the unit's ref or ""
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


@dataclass(frozen=True, slots=True)
class Run:
    """A conduit or cable from one end to another along a legal path. Lengths mm.

    cable : what lies in it · bore : conduit inside diameter · fill : 0..1 · longest : limit of the link [mm] or 0 ·
    legal : False where no path within the zones was found, so that the cable needs depth or mechanical protection ·
    contents : (cable of the library, how many of it lie in the run), for what is bought · outside_void : how much of it lies in
    no void [mm] · lies : void, chase, cavity (of a framed wall), surface (in trunking: concrete is not cut), unknown ·
    protect : mains that nothing in view shows: 50 mm deep, or covered by steel, all along
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


@dataclass(frozen=True, slots=True)
class Circuit:
    """A circuit: what it feeds [W], the current after diversity [A], its device [A], cable [mm²] and drop [%].

    standby : what it draws asleep [W]
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


@dataclass(frozen=True, slots=True)
class Services:
    """All of it.

    region : boxes within which an outlet's box centre may sit behind the screen · zones : where a drill may meet a cable ·
    hidden_zones : those of them that only a hidden box tells of: a cable there is 50 mm deep or covered by steel
    """

    points: tuple[ServicePoint, ...]
    devices: tuple[PlacedDevice, ...]
    region: tuple[Box, ...]
    zones: tuple[Box, ...]
    runs: tuple[Run, ...]
    circuits: tuple[Circuit, ...]
    whys: tuple[Why, ...]
    hidden_zones: tuple[Box, ...] = ()
