"""The runs: mains from the supply to every point, data, aerial, the picture conduit, and the leads to the lights.

Mains keeps to the prescribed zones; what carries signals keeps off the mains. Level runs keep off the rows of fixings, and all
runs go through a panel's void where they can: what must be chased costs more, what may not be chased costs most. A run that
finds no legal path says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.job.face import Face, obstacle_box
from wallwright.job.survey import Obstacle, SurveyedWall
from wallwright.library import load
from wallwright.services import chase, conduit
from wallwright.services.board import MAINS
from wallwright.services.record import Run, ServicePoint
from wallwright.services.routes import (
    Grid,
    Route,
    Segment,
    grid,
    kept_apart,
    kept_off,
    priced,
    segments,
    shortest,
)

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, SetOut, UnitBox

SOLID = frozenset({"beam", "column", "window", "door", "niche", "pipe", "ac"})
"""What a run may not cross: openings, structure, other people's pipes."""


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of run: the letter of its ref, what lies in the conduit, how far the link goes [mm], the least bore [mm]."""

    letter: str
    kind: str
    cable: str
    diameters: tuple[float, ...]
    longest: float
    bore: float = 0.0
    contents: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Ground:
    """What runs are laid in: the face, the wall behind it, the panels before it, and the rows of holes that are to come.

    seen : where an accessory that stays in view shows that a cable may lie there
    """

    face: Face
    wall: SurveyedWall
    panels: Sequence[PanelZone]
    rows: Sequence[Box]
    seen: Sequence[Box]
    limits: Limits

    def voids(self, size: float) -> tuple[Box, ...]:
        """The panelled fields with room for a conduit of that outside diameter [mm] behind them."""
        return voids_for(self.panels, size, self.limits)

    def prices(self, size: float) -> tuple[float, float]:
        """What a level and an upright millimetre outside the voids cost, over one in a void."""
        v = self.limits.value
        level, upright = v("services.price_level"), v("services.price_upright")
        cut = chase.masonry_of(self.wall, self.limits)
        if cut is None:
            return (level, 1.0) if self.wall.substrate in chase.FRAMED else (level, level)
        shut = v("services.price_unlawful")
        return (
            level if cut.may_cut(size, level=True) else shut,
            upright if cut.may_cut(size, level=False) else shut,
        )


def voids_for(panels: Sequence[PanelZone], size: float, limits: Limits) -> tuple[Box, ...]:
    """The fields behind panels, within the battens at their edges, where a conduit of that outside diameter [mm] has room."""
    play, edge = limits.value("services.void_play"), limits.value("services.void_edge")
    return tuple(panel.box.grown(-edge) for panel in panels if panel.void >= size + play)


def blocked_boxes(obstacles: Sequence[Obstacle], plate: Box, limits: Limits) -> tuple[Box, ...]:
    """What runs go round, grown by the distance they keep: openings, structure, pipes, and the mount's plate for its fixings."""
    pipe, opening = limits.value("services.pipe_clear"), limits.value("services.opening_clear")
    there = [
        obstacle_box(thing).grown(pipe if thing.kind == "pipe" else opening)
        for thing in obstacles
        if thing.kind in SOLID
    ]
    return (*there, plate.grown(limits.value("services.plate_run_clear")))


def entry(
    face: Face, blocked: Sequence[Box], units: Sequence[UnitBox], limits: Limits, right: bool
) -> Point2:
    """Where a supply comes down: in the corner zone, clear of a tower's screws, under the ceiling or the beam there is."""
    inset, band = limits.value("services.entry_from_corner"), limits.value("services.zone_band")
    side = limits.value("services.unit_screw_side")
    screws = [x for u in units if u.kind == "tower" for x in (u.box.x + side, u.box.right - side)]
    clear = limits.value("services.drill_warn") + limits.value("services.hole_and_conduit")
    far, near = limits.value("services.entry_far"), limits.value("services.entry_near")
    offs = [min(off, face.width / 2) for off in (inset, far * band, near * band)]
    places = [face.width - off if right else off for off in offs]
    free = [min((abs(x - screw) for screw in screws), default=clear) for x in places]
    x = next(
        (p for p, room in zip(places, free, strict=True) if room >= clear), places[free.index(max(free))]
    )
    z = face.height - inset
    for box in sorted(blocked, key=lambda item: -item.top):
        if box.x < x < box.right and box.z <= z <= box.top:
            z = box.z
    return x, max(0.0, z)


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
    """The two grids that runs are laid on, the runs so far, and what later ones keep apart from."""

    ground: Ground
    mains: Grid
    free: Grid
    apart: list[Segment] = field(default_factory=list["Segment"])
    laid: list[Segment] = field(default_factory=list["Segment"])
    runs: list[Run] = field(default_factory=list["Run"])
    ready: dict[tuple[bool, float], Grid] = field(default_factory=dict["tuple[bool, float]", "Grid"])

    def lay(self, sort: Sort, start: tuple[str, Point2], end: tuple[str, Point2]) -> float:
        """Lay a run and give its length [mm]."""
        price = self.ground.limits.value("services.bend_price")
        size, bore = self.size_of(sort)
        route = shortest(self._lines(sort.kind == "mains", size), start[1], end[1], price)
        legal = route is not None
        if route is None:
            route = shortest(self._lines(False, size), start[1], end[1], price) or _straight(start[1], end[1])
        number = 1 + sum(run.ref.startswith(sort.letter) for run in self.runs)
        self.runs.append(
            self._run(f"{sort.letter}{number}", sort, (start[0], end[0]), route, legal, (size, bore))
        )
        if sort.kind == "mains":
            self.laid.extend(segments(route.path))
        return route.length

    def keep_apart(self, others: Sequence[Segment]) -> None:
        """From here on, runs keep off the mains laid so far, and off these, wherever they can."""
        self.apart = [*self.laid, *others]
        self.ready.clear()

    def size_of(self, sort: Sort) -> tuple[float, float]:
        """Outside diameter and bore of the conduit a sort of run needs [mm]; the largest there is where none is large enough."""
        v = self.ground.limits.value
        share = conduit.fill_share(
            len(sort.diameters), v("services.fill_one"), v("services.fill_two"), v("services.fill_more")
        )
        size, bore = (
            conduit.smallest_bore(sort.diameters, share, sort.bore) or list(conduit.BORES.items())[-1]
        )
        return float(size), bore

    def _lines(self, mains: bool, size: float) -> Grid:
        """The grid for conduits of that size, with its prices; made once."""
        if (mains, size) not in self.ready:
            ground, v = self.ground, self.ground.limits.value
            clear = v("services.drill_warn") + v("services.hole_and_conduit") + size / 2
            level, upright = ground.prices(size)
            lines = priced(self.mains if mains else self.free, ground.voids(size), level, upright)
            lines = kept_off(lines, ground.rows, clear, v("services.price_unlawful"))
            if not mains and self.apart:
                lines = kept_apart(lines, self.apart, v("services.power_data_apart"))
            self.ready[(mains, size)] = lines
        return self.ready[(mains, size)]

    def _run(  # noqa: PLR0913
        self, ref: str, sort: Sort, ends: tuple[str, str], route: Route, legal: bool, pipe: tuple[float, float]
    ) -> Run:  # fmt: skip
        size, bore = pipe
        ground = self.ground
        cut = chase.outside(route.path, ground.voids(size))
        # what stays in view shows where mains runs; what is hidden does not
        unseen = sort.kind == "mains" and bool(chase.outside(route.path, ground.seen))
        return Run(
            ref=ref, kind=sort.kind, start=ends[0], end=ends[1], path=route.path, length=route.length, bends=route.bends,
            cable=sort.cable, outside_diameter=size, bore=bore, fill=conduit.fill(sort.diameters, bore),
            longest=sort.longest, in_void=not cut, legal=legal, lies=chase.lies(ground.wall.substrate, not cut), protect=unseen,
            contents=sort.contents, outside_void=sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in cut),
        )  # fmt: skip


def _straight(start: Point2, end: Point2) -> Route:
    """Down, then across: what is drawn where no path is free at all."""
    corner = (start[0], end[1])
    path = tuple(dict.fromkeys((start, corner, end)))
    return Route(path, abs(start[0] - end[0]) + abs(start[1] - end[1]), max(0, len(path) - 2), 0.0)


def layer(  # noqa: PLR0913
    ground: Ground, points: Sequence[ServicePoint], entries: tuple[Point2, Point2], zones: Sequence[Box],
    blocked: Sequence[Box], setout: SetOut, ends: Sequence[Point2] = (),
) -> Layer:  # fmt: skip
    """The grids: mains within the zones; signals anywhere clear of what is in the way."""
    face, limits = ground.face, ground.limits
    at = [(p.x, p.z) for p in points]
    inset = limits.value("services.entry_from_corner")
    over = limits.value("services.over_console")
    levels = [u.box.top + over for u in setout.units if u.hung and u.kind == "console"]
    lines = ((inset, face.width - inset), (face.height - inset, *levels))
    power = [(p.x, p.z) for p in points if p.kind in MAINS]
    return Layer(
        ground,
        grid(face.box, [entries[0], *power], zones, blocked, lines),
        grid(face.box, [*entries, *at, *ends], (face.box,), blocked, lines),
    )


def box_arms(points: Sequence[ServicePoint]) -> list[Segment]:
    """The level and the upright line through each box: other runs keep off the boxes they do not serve."""
    arms: list[Segment] = []
    for point in points:
        x, z, box = point.x, point.z, point.box
        arms += [((box.x, z), (box.right, z)), ((x, box.z), (x, box.top))]
    return arms


def signal_sorts(limits: Limits) -> dict[str, Sort]:
    """The sorts of signal run by the kind of point they join."""
    cables = load.cables()
    v = limits.value
    data, coax, hdmi, usb = (cables[key].diameter for key in ("data_6a", "coax", "hdmi", "usb"))
    return {
        "data": Sort("N", "data", "2 × data cable 6A", (data, data), v("services.ethernet_longest"), 0.0, (("data_6a", 2),)),
        "rf": Sort("A", "rf", "coaxial cable 75 Ω", (coax,), 0.0, 0.0, (("coax", 1),)),
        "conduit": Sort(
            "H", "conduit", "2 × HDMI, USB; draw cord left in", (hdmi, hdmi, usb), v("services.hdmi_longest"),
            max(
                v("services.trunk_bore"),
                conduit.plug_bore(v("services.plug_width"), v("services.plug_height"), v("services.plug_share")),
            ),
            (("hdmi", 2), ("usb", 1)),
        ),
    }  # fmt: skip


def lay_signals(lay: Layer, points: Sequence[ServicePoint], come_in: Point2) -> None:
    """From each signal point behind the screen to its like in the cabinet; from there to where the lines come in."""
    sorts = signal_sorts(lay.ground.limits)
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
