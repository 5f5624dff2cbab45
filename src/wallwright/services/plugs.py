"""What plugs into what: every cable between boxes, screen and outlets, with its two ends and its length.

Each box is plugged into the outlet that serves it; pictures go to the receiver where there is one, else to the screen; a box with a
network socket goes to the router in the same unit, else to an outlet. Made-up cables come in steps of length.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from wallwright.core.shape import Point2
from wallwright.library import load
from wallwright.services.board import OUTLETS
from wallwright.services.record import PlacedDevice, Run, ServicePoint

SCREEN = "screen"
MADE_UP = (500, 1000, 1500, 2000, 3000, 5000, 7500, 10_000, 15_000, 20_000)
"""Lengths in which made-up cables are sold [mm]; common practice."""
NONE_LEFT = "no socket left"
RECEIVERS, HUBS = ("av_receiver",), ("router", "network_switch")
WORDS = {
    "mains": "mains lead", "picture": "picture cable (HDMI)", "data": "network cable", "aerial": "aerial cable", "speaker": "speaker cable",
    "line": "line cable",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Plug:
    """One cable: its number, what it is, its two ends with the socket at each, how long the way is and what is bought [mm].

    through : the conduit it goes through, or "" · outlet : its far end is an outlet on the wall
    """

    ref: str
    kind: str
    start: str
    start_port: str
    end: str
    end_port: str
    way: float
    bought: float
    through: str = ""
    outlet: bool = False

    @property
    def words(self) -> str:
        """What it is, in words."""
        return WORDS[self.kind]


@dataclass(slots=True)
class _Board:
    """The cables so far, and what is taken at each socket."""

    devices: Sequence[PlacedDevice]
    points: Sequence[ServicePoint]
    runs: Sequence[Run]
    places: Mapping[str, Point2]
    spare: float
    made: list[Plug] = field(default_factory=list[Plug])
    used: dict[str, int] = field(default_factory=dict[str, int])

    def next_port(self, end: str, port: str) -> str:
        """The next free socket of that name at a box."""
        key = f"{end} {port}"
        self.used[key] = self.used.get(key, 0) + 1
        return f"{port} {self.used[key]}"

    def where(self, ref: str) -> Point2:
        point = next((point for point in self.points if point.ref == ref), None)
        return (point.x, point.z) if point else self.places.get(ref, self.places[SCREEN])

    def add(self, kind: str, start: tuple[str, str], end: tuple[str, str], *, outlet: bool = False) -> None:
        """A cable from one end to the other; between cabinet and screen through the conduit, where there is one."""
        a, b = self.where(start[0]), self.where(end[0])
        way, through = _far(a, b), ""
        trunk = next((run for run in self.runs if run.kind == "conduit" and len(run.path) > 1), None)
        if trunk and not outlet and SCREEN in (start[0], end[0]) and self._in_cabinet(start[0], end[0]):
            ends = (trunk.path[0], trunk.path[-1])
            low, high = sorted(ends, key=lambda place: place[1])
            box, screen = (a, b) if end[0] == SCREEN else (b, a)
            way, through = _far(box, low) + trunk.length + _far(high, screen), trunk.ref
        way += self.spare if outlet else 2 * self.spare
        bought = next((length for length in MADE_UP if length >= way), way)
        ref = f"W{len(self.made) + 1}"
        self.made.append(Plug(ref, kind, *start, *end, way, float(bought), through, outlet))

    def _in_cabinet(self, *ends: str) -> bool:
        return any(d.ref in ends and d.place in ("cabinet", "tower") for d in self.devices)

    def outlet(self, kinds: Sequence[str], device: str) -> str:
        """The outlet of those kinds that serves a box and has a socket left, else the nearest of them; "" where there is none."""
        fit = [p for p in self.points if p.kind in kinds]
        at = self.where(device)

        def rank(point: ServicePoint) -> tuple[bool, bool, float]:
            full = self.used.get(f"{point.ref} outlet", 0) >= OUTLETS.get(point.kind, 2)
            return full, device not in point.serves, _far(at, (point.x, point.z))

        return min(fit, key=rank).ref if fit else ""


def plugs(
    devices: Sequence[PlacedDevice], points: Sequence[ServicePoint], runs: Sequence[Run],
    places: Mapping[str, Point2], spare: float,
) -> tuple[Plug, ...]:  # fmt: skip
    """Every cable. places : the middle of each box on the wall's face, and of the screen's under "screen" · spare : cable left at
    each end [mm]
    """
    board = _Board([d for d in devices if d.place != "nowhere"], points, runs, places, spare)
    _pictures(board)
    _sound(board)
    _network(board)
    _aerials(board)
    _mains(board)
    return tuple(board.made)


def _of(board: _Board, kinds: Sequence[str]) -> PlacedDevice | None:
    return next((device for device in board.devices if device.kind in kinds), None)


def _pictures(board: _Board) -> None:
    """Players to the receiver, else to the screen; receiver or soundbar to the screen's return channel."""
    receiver, bar = _of(board, RECEIVERS), _of(board, ("soundbar",))
    last = receiver or bar
    if last is not None:
        board.next_port(SCREEN, "HDMI")
        board.add("picture", (last.ref, "HDMI out"), (SCREEN, "HDMI 1, return channel"))
    kinds = load.devices()
    for device in board.devices:
        if device is last or device.kind == "soundbar" or not kinds[device.kind].hdmi:
            continue
        to = receiver.ref if receiver and device is not receiver and device.place != "screen" else SCREEN
        port = board.next_port(to, "HDMI in" if to != SCREEN else "HDMI")
        board.add("picture", (device.ref, "HDMI out"), (to, port))


def _sound(board: _Board) -> None:
    """Speakers to what drives them."""
    receiver, amp = _of(board, RECEIVERS), _of(board, ("stereo_amplifier",))
    drives = receiver or amp or _of(board, ("soundbar",))
    for device in board.devices:
        if device.kind == "centre_speaker" and (receiver or amp):
            board.add("speaker", ((receiver or amp or device).ref, "centre"), (device.ref, "in"))
        elif device.kind == "subwoofer" and drives:
            board.add("line", (drives.ref, "subwoofer out"), (device.ref, "in"))
        elif device.kind == "record_player" and (receiver or amp):
            board.add("line", (device.ref, "out"), ((receiver or amp or device).ref, "phono in"))


def _network(board: _Board) -> None:
    """Boxes to the router in their own unit, else to an outlet; the router to the fibre terminal, else to an outlet."""
    hub, kinds = _of(board, HUBS), load.devices()
    line = _of(board, ("fibre_terminal",))
    for device in board.devices:
        if not kinds[device.kind].data:
            continue
        if hub is not None and device is hub:
            if line is not None:
                board.add("data", (line.ref, "LAN"), (hub.ref, "WAN"))
            else:
                _to_outlet(board, "data", ("data",), device.ref, "WAN")
        elif device is not line and hub is not None and device.unit == hub.unit and device.unit:
            board.add("data", (device.ref, "LAN"), (hub.ref, board.next_port(hub.ref, "LAN")))
        elif device is not line:
            _to_outlet(board, "data", ("data",), device.ref, "LAN")
    _to_outlet(board, "data", ("data",), SCREEN, "LAN")


def _aerials(board: _Board) -> None:
    kinds = load.devices()
    for device in board.devices:
        for _ in range(kinds[device.kind].rf):
            _to_outlet(board, "aerial", ("rf",), device.ref, "aerial")
    _to_outlet(board, "aerial", ("rf",), SCREEN, "aerial")


def _mains(board: _Board) -> None:
    """Every plug into an outlet of its own."""
    kinds = load.devices()
    _to_outlet(board, "mains", ("twin_socket", "socket"), SCREEN, "mains")
    for device in board.devices:
        own = any(p.kind == "switched_spur" and device.ref in p.serves for p in board.points)
        for _ in range(kinds[device.kind].sockets):
            _to_outlet(
                board, "mains", ("switched_spur",) if own else ("twin_socket", "socket"), device.ref, "mains"
            )


def _to_outlet(board: _Board, kind: str, kinds: Sequence[str], device: str, port: str) -> None:
    to = board.outlet(kinds, device)
    if not to:
        return
    of = next(point.kind for point in board.points if point.ref == to)
    full = board.used.get(f"{to} outlet", 0) >= OUTLETS.get(of, 2)
    board.add(kind, (device, port), (to, NONE_LEFT if full else board.next_port(to, "outlet")), outlet=True)


def _far(a: Point2, b: Point2) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])
