"""What plugs into what: every cable between boxes, screen and outlets, with its two ends and its length.

Each box is plugged into the outlet that serves it; pictures go to the receiver where there is one, else to the screen; a box with a
network socket goes to the router in the same unit, else to an outlet. From one unit to another, and to the screen, a cable goes
through the conduits whose ends lie in them, or it has no way and says so. Made-up cables come in steps of length.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from wallwright.core.shape import Box, Point2
from wallwright.library import load
from wallwright.services.board import OUTLETS
from wallwright.services.record import PlacedDevice, Run, ServicePoint

SCREEN = "screen"
LETTERS = "CA"
"""What a cable's number begins with: no unit, panel, point or run has these."""
MADE_UP = (500, 1000, 1500, 2000, 3000, 5000, 7500, 10_000, 15_000, 20_000)
"""Lengths in which made-up cables are sold [mm]; common practice."""
NONE_LEFT = "no socket left"
RECEIVERS, HUBS = ("av_receiver",), ("router", "network_switch")
WORDS = {
    "mains": "mains lead", "picture": "picture cable (HDMI)", "data": "network cable", "aerial": "aerial cable", "speaker": "speaker cable",
    "line": "line cable",
}  # fmt: skip

KEYS = {"picture": "hdmi", "data": "data_6a", "speaker": "flex_1_5", "line": "coax", "aerial": "coax"}
"""The cable of the library each kind is as thick as."""
Leg = tuple[str, Point2, Point2, float]
"""A conduit on a cable's way: its ref, where the cable enters and leaves it, how long it is [mm]."""


@dataclass(frozen=True, slots=True)
class Plug:
    """One cable: its number, what it is, its two ends with the socket at each, how long the way is and what is bought [mm].

    through : the conduits it goes through, in that order · outlet : its far end is an outlet on the wall · bare : it leaves its unit
    and, for some of its way, no conduit takes it · unit, unit_to : where it starts and ends
    """

    ref: str
    kind: str
    start: str
    start_port: str
    end: str
    end_port: str
    way: float
    bought: float
    through: tuple[str, ...] = ()
    outlet: bool = False
    bare: bool = False
    unit: str = ""
    unit_to: str = ""

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
    units: Mapping[str, Box]
    made: list[Plug] = field(default_factory=list[Plug])
    used: dict[str, int] = field(default_factory=dict[str, int])
    stand: dict[str, str] = field(default_factory=dict[str, str])
    by_ref: dict[str, ServicePoint] = field(default_factory=dict["str", "ServicePoint"])
    fit: dict[tuple[str, ...], list[ServicePoint]] = field(
        default_factory=dict["tuple[str, ...]", "list[ServicePoint]"]
    )

    def __post_init__(self) -> None:
        for point in reversed(self.points):
            self.by_ref[point.ref] = point

    def next_port(self, end: str, port: str) -> str:
        """The next free socket of that name at a box."""
        key = f"{end} {port}"
        self.used[key] = self.used.get(key, 0) + 1
        return f"{port} {self.used[key]}"

    def where(self, ref: str) -> Point2:
        point = self.by_ref.get(ref)
        return (point.x, point.z) if point else self.places.get(ref) or self.places[SCREEN]

    def stands(self, ref: str) -> str:
        """Where an end is: the unit it stands in or on, the screen, or "" on the open wall."""
        if ref not in self.stand:
            self.stand[ref] = self._stands(ref)
        return self.stand[ref]

    def _stands(self, ref: str) -> str:
        device = next((device for device in self.devices if device.ref == ref), None)
        if device is not None:
            return SCREEN if device.place == SCREEN else device.unit
        point = self.by_ref.get(ref)
        if point is None or point.zone == "behind_screen":
            return SCREEN if ref == SCREEN or point is not None else ""
        at = Box(point.x, point.z, 0.0, 0.0)
        return next((unit for unit, box in self.units.items() if box.holds(at)), "")

    def add(self, kind: str, start: tuple[str, str], end: tuple[str, str], *, outlet: bool = False) -> None:
        """A cable from one end to the other; from unit to unit and to the screen through the conduits, where there are any."""
        a, b = self.stands(start[0]), self.stands(end[0])
        apart = a != b and "" not in (a, b) and kind != "mains"  # no mains lead goes through a wall
        chain = self.chain(a, b) if apart else ()
        bare = apart and not chain
        if bare:
            chain = self.nearest_chain(a, b, self.where(start[0])) or self.nearest_chain(
                b, a, self.where(end[0]), back=True
            )
        at, way = self.where(start[0]), 0.0
        for _, entry, leave, length in chain:
            way += _far(at, entry) + length
            at = leave
        way += _far(at, self.where(end[0])) + (self.spare if outlet else 2 * self.spare)
        step = bisect_left(MADE_UP, way)
        bought = MADE_UP[step] if step < len(MADE_UP) else way
        ref = f"{LETTERS}{len(self.made) + 1}"
        through = tuple(ref for ref, *_ in chain)
        self.made.append(Plug(ref, kind, *start, *end, way, float(bought), through, outlet, bare, a, b))

    def ways(self) -> Iterator[tuple[str, str, Leg]]:
        """Every conduit both ways round: from where, to where, and its leg; those that hold least first, so that two share."""
        held = Counter(ref for plug in self.made for ref in plug.through)
        conduits = [run for run in self.runs if run.kind == "conduit" and len(run.path) > 1]
        for run in sorted(conduits, key=lambda run: held[run.ref]):
            a, b = self.stands(run.start), self.stands(run.end)
            yield a, b, (run.ref, run.path[0], run.path[-1], run.length)
            yield b, a, (run.ref, run.path[-1], run.path[0], run.length)

    def chain(self, a: str, b: str) -> tuple[Leg, ...]:
        """The fewest conduits that lead from one place to another; none where they do not."""
        known: dict[str, tuple[Leg, ...]] = {a: ()}
        waiting = [a]
        for place in waiting:
            for start, end, leg in self.ways():
                if start == place and end not in known:
                    known[end] = (*known[place], leg)
                    waiting.append(end)
        return known.get(b, ())

    def nearest_chain(self, a: str, b: str, at: Point2, *, back: bool = False) -> tuple[Leg, ...]:
        """The conduits that lead to `b` from the place whose end is nearest to a box in `a`, that has none. back : the other way."""
        starts = sorted((_far(at, leg[1]), start) for start, _, leg in self.ways() if start not in (a, b))
        chains = (self.chain(b, start) if back else self.chain(start, b) for _, start in starts)
        return next((chain for chain in chains if chain), ())

    def outlet(self, kinds: tuple[str, ...], device: str) -> str:
        """The outlet of those kinds that serves a box and has a socket left, else the nearest of them; "" where there is none."""
        if kinds not in self.fit:
            self.fit[kinds] = [p for p in self.points if p.kind in kinds]
        at, found = self.where(device), ""
        least: tuple[bool, bool, float] | None = None
        for point in self.fit[kinds]:
            full = self.used.get(f"{point.ref} outlet", 0) >= OUTLETS.get(point.kind, 2)
            rank = full, device not in point.serves, _far(at, (point.x, point.z))
            if least is None or rank < least:
                least, found = rank, point.ref
        return found


def plugs(
    devices: Sequence[PlacedDevice], points: Sequence[ServicePoint], runs: Sequence[Run],
    places: Mapping[str, Point2], spare: float, units: Mapping[str, Box],
) -> tuple[Plug, ...]:  # fmt: skip
    """Every cable. places : the middle of each box on the wall's face, and of the screen's under "screen" · spare : cable left at
    each end [mm] · units : each unit's box on the face, by its ref
    """
    board = _Board([d for d in devices if d.place != "nowhere"], points, runs, places, spare, units)
    _pictures(board)
    _sound(board)
    _network(board)
    _aerials(board)
    _mains(board)
    return tuple(board.made)


def drawn(made: Sequence[Plug], ref: str = "") -> tuple[str, ...]:
    """The cables of the library that lie in a conduit, or in any of them."""
    return tuple(KEYS[plug.kind] for plug in made if (ref in plug.through if ref else plug.through))


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


def _to_outlet(board: _Board, kind: str, kinds: tuple[str, ...], device: str, port: str) -> None:
    to = board.outlet(kinds, device)
    if not to:
        return
    of = board.by_ref[to].kind
    full = board.used.get(f"{to} outlet", 0) >= OUTLETS.get(of, 2)
    board.add(kind, (device, port), (to, NONE_LEFT if full else board.next_port(to, "outlet")), outlet=True)


def _far(a: Point2, b: Point2) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])
