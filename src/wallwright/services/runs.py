"""The runs: mains from the supply to every point, data, aerial, the picture conduit, and the leads to the lights.

Mains keeps to the prescribed zones; what carries signals keeps off the mains. A run that finds no legal path says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.job.face import Face, obstacle_box
from wallwright.job.survey import Obstacle
from wallwright.library import load
from wallwright.services import conduit
from wallwright.services.board import MAINS
from wallwright.services.record import Run, ServicePoint
from wallwright.services.routes import Grid, Route, Segment, grid, kept_apart, segments, shortest

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, SetOut, UnitBox

# what a run may not cross: openings, structure, other people's pipes
_SOLID = frozenset({"beam", "column", "window", "door", "niche", "pipe", "ac"})


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of run: the letter of its ref, what lies in the conduit, how far the link goes [mm], the least bore [mm]."""

    letter: str
    kind: str
    cable: str
    diameters: tuple[float, ...]
    longest: float
    bore: float = 0.0


def blocked_boxes(obstacles: Sequence[Obstacle], plate: Box, limits: Limits) -> tuple[Box, ...]:
    """What runs go round, grown by the distance they keep: openings, structure, pipes, and the mount's plate for its fixings."""
    pipe, opening = limits.value("services.pipe_clear"), limits.value("services.opening_clear")
    there = [
        obstacle_box(thing).grown(pipe if thing.kind == "pipe" else opening)
        for thing in obstacles
        if thing.kind in _SOLID
    ]
    return (*there, plate.grown(limits.value("services.plate_run_clear")))


def entry(
    face: Face, blocked: Sequence[Box], units: Sequence[UnitBox], limits: Limits, right: bool
) -> Point2:
    """Where a supply comes down: in the corner zone, clear of a tower's screws, under the ceiling or the beam there is."""
    inset, band = limits.value("services.entry_from_corner"), limits.value("services.zone_band")
    side = limits.value("services.unit_screw_side")
    screws = [x for u in units if u.kind == "tower" for x in (u.box.x + side, u.box.right - side)]
    clear = limits.value("services.drill_warn") + 20.0  # and half a conduit and half a hole
    places = [face.width - off if right else off for off in (inset, 0.8 * band, 0.2 * band)]
    free = [min((abs(x - screw) for screw in screws), default=clear) for x in places]
    x = next(
        (p for p, room in zip(places, free, strict=True) if room >= clear), places[free.index(max(free))]
    )
    z = face.height - inset
    for box in sorted(blocked, key=lambda item: -item.top):
        if box.x < x < box.right and box.z <= z <= box.top:
            z = box.z
    return x, max(0.0, z)


def rail_lines(units: Sequence[UnitBox], limits: Limits) -> list[Segment]:
    """Lines along the hanging rail and the wall cleat of each hung console: nothing should run along them, they are screwed."""
    high = limits.value("carcass.cleat_height")
    return [
        ((u.box.x, z), (u.box.right, z))
        for u in units
        if u.hung and u.kind == "console"
        for z in (u.box.top - high * 0.5 - 20.0, u.box.top - high * 1.5 - 20.0)
    ]


def spanning(start: Point2, points: Sequence[ServicePoint]) -> tuple[tuple[int, int], ...]:
    """The legs (from, to) of a short tree from a start (-1) over the points: always the nearest point next (Prim 1957)."""
    at = {-1: start} | {i: (p.x, p.z) for i, p in enumerate(points)}
    legs: list[tuple[int, int]] = []
    joined, waiting = [-1], set(range(len(points)))
    while waiting:
        _, a, b = min(
            (abs(at[a][0] - at[b][0]) + abs(at[a][1] - at[b][1]), a, b) for a in joined for b in waiting
        )
        legs.append((a, b))
        joined.append(b)
        waiting.remove(b)
    return tuple(legs)


@dataclass(slots=True)
class Layer:
    """The two grids that runs are laid on, and the mains laid so far."""

    face: Face
    limits: Limits
    panels: Sequence[PanelZone]
    units: Sequence[UnitBox]
    mains: Grid
    free: Grid
    laid: list[Segment]
    runs: list[Run]

    def lay(self, sort: Sort, start: tuple[str, Point2], end: tuple[str, Point2]) -> float:
        """Lay a run and give its length [mm]."""
        price = self.limits.value("services.bend_price")
        route = shortest(self.mains if sort.kind == "mains" else self.free, start[1], end[1], price)
        legal = route is not None
        if route is None:
            route = shortest(self.free, start[1], end[1], price) or _straight(start[1], end[1])
        number = 1 + sum(run.ref.startswith(sort.letter) for run in self.runs)
        self.runs.append(self._run(f"{sort.letter}{number}", sort, start[0], end[0], route, legal))
        if sort.kind == "mains":
            self.laid.extend(segments(route.path))
        return route.length

    def _run(self, ref: str, sort: Sort, start: str, end: str, route: Route, legal: bool) -> Run:  # noqa: PLR0913
        v = self.limits.value
        share = conduit.fill_share(
            len(sort.diameters), v("services.fill_one"), v("services.fill_two"), v("services.fill_more")
        )
        size, bore = conduit.smallest_bore(sort.diameters, share, sort.bore) or (40, conduit.BORES[40])
        return Run(
            ref=ref, kind=sort.kind, start=start, end=end, path=route.path, length=route.length, bends=route.bends,
            cable=sort.cable, outside_diameter=float(size), bore=bore, fill=conduit.fill(sort.diameters, bore),
            longest=sort.longest, in_void=self._in_void(route.path, size), legal=legal,
        )  # fmt: skip

    def _in_void(self, path: Sequence[Point2], size: float) -> bool:
        """Whether one panelled field with room for the conduit covers the whole path, so that nothing is chased."""
        return any(
            panel.void >= size + 5.0 and all(panel.box.holds(Box(x, z, 0.0, 0.0)) for x, z in path)
            for panel in self.panels
        )


def _straight(start: Point2, end: Point2) -> Route:
    """Down, then across: what is drawn where no path is free at all."""
    corner = (start[0], end[1])
    path = tuple(dict.fromkeys((start, corner, end)))
    return Route(path, abs(start[0] - end[0]) + abs(start[1] - end[1]), max(0, len(path) - 2), 0.0)


def layer(  # noqa: PLR0913
    face: Face, points: Sequence[ServicePoint], entries: tuple[Point2, Point2], zones: Sequence[Box], blocked: Sequence[Box],
    setout: SetOut, limits: Limits, ends: Sequence[Point2] = (),
) -> Layer:  # fmt: skip
    """The grids: mains within the zones; signals anywhere clear of what is in the way."""
    at = [(p.x, p.z) for p in points]
    inset = limits.value("services.entry_from_corner")
    over = [u.box.top + 50.0 for u in setout.units if u.hung and u.kind == "console"]
    lines = ((inset, face.width - inset), (face.height - inset, *over))
    power = [(p.x, p.z) for p in points if p.kind in MAINS]
    return Layer(
        face, limits, setout.zones, setout.units,
        grid(face.box, [entries[0], *power], zones, blocked, lines),
        grid(face.box, [*entries, *at, *ends], (face.box,), blocked, lines),
        [], [],
    )  # fmt: skip


def keep_apart(lay: Layer, points: Sequence[ServicePoint]) -> None:
    """From here on, runs keep off the mains laid so far, and off other boxes, wherever they can."""
    boxes = rail_lines(lay.units, lay.limits)
    for point in points:
        x, z, box = point.x, point.z, point.box
        boxes += [((box.x, z), (box.right, z)), ((x, box.z), (x, box.top))]
    lay.free = kept_apart(lay.free, [*lay.laid, *boxes], lay.limits.value("services.power_data_apart"))


def signal_sorts(limits: Limits) -> dict[str, Sort]:
    """The sorts of signal run by the kind of point they join."""
    cables = load.cables()
    v = limits.value
    data, coax, hdmi, usb = (cables[key].diameter for key in ("data_6a", "coax", "hdmi", "usb"))
    return {
        "data": Sort("N", "data", "2 × data cable 6A", (data, data), v("services.ethernet_longest")),
        "rf": Sort("A", "rf", "coaxial cable 75 Ω", (coax,), 0.0),
        "conduit": Sort(
            "H", "conduit", "2 × HDMI, USB; draw cord left in", (hdmi, hdmi, usb), v("services.hdmi_longest"),
            max(
                v("services.trunk_bore"),
                conduit.plug_bore(v("services.plug_width"), v("services.plug_height"), v("services.plug_share")),
            ),
        ),
    }  # fmt: skip


def lay_signals(lay: Layer, points: Sequence[ServicePoint], come_in: Point2) -> None:
    """From each signal point behind the screen to its like in the cabinet; from there to where the lines come in."""
    sorts = signal_sorts(lay.limits)
    for kind, sort in sorts.items():
        screen = [p for p in points if p.kind == kind and p.zone == "behind_screen"]
        below = [p for p in points if p.kind == kind and p.zone != "behind_screen"]
        for point in screen:
            if below:
                near = min(below, key=lambda other: abs(other.x - point.x) + abs(other.z - point.z))
                lay.lay(sort, (point.ref, (point.x, point.z)), (near.ref, (near.x, near.z)))
            elif kind != "conduit":
                lay.lay(sort, ("entry", come_in), (point.ref, (point.x, point.z)))
        for point in below if kind != "conduit" else ():
            lay.lay(sort, ("entry", come_in), (point.ref, (point.x, point.z)))
