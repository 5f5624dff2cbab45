"""The runs: mains from the supply to every point, data, aerial, the picture conduit, and the leads to the lights.

Mains keeps to the prescribed zones; what carries signals keeps off the mains. Level runs keep off the rows of fixings, and all
runs go through a panel's void where they can: what must be chased costs more, what may not be chased costs most. A run that
finds no legal path says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.job.document import Job
from wallwright.job.face import Face, obstacle_box
from wallwright.job.survey import Entry, Obstacle, SurveyedWall
from wallwright.services import chase, conduit, trunking
from wallwright.services.board import MAINS
from wallwright.services.record import Run, ServicePoint
from wallwright.services.routes import (
    Grid,
    Route,
    Segment,
    Span,
    Wanted,
    grid,
    kept_apart,
    kept_off,
    priced,
    segments,
    shared,
    shortest,
    together,
)

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, SetOut, UnitBox

Laid = tuple[bool, float, bool]
"""Which grid: for mains or not, the conduit's outside diameter [mm], whether what the leaf does not bear lies on the wall."""
SOLID = frozenset({"beam", "column", "window", "door", "niche", "pipe", "ac"})
"""What a run may not cross: openings, structure, other people's pipes."""
_UNHEARD_OF = 1e9
"""A price of a millimetre that is paid only where there is no other way at all."""


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of run: the letter of its ref, what lies in the conduit, how far the link goes [mm], the least bore [mm].

    cores : sizes [mm²] of the single cores drawn in, for which cable factors are tabulated; none for made-up cable · on_wall : where
    the leaf bears no chase for it it lies on the wall in trunking, however the others are laid
    """

    letter: str
    kind: str
    cable: str
    diameters: tuple[float, ...]
    longest: float
    bore: float = 0.0
    contents: tuple[tuple[str, int], ...] = ()
    link: str = ""
    cores: tuple[float, ...] = ()
    on_wall: bool = False


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
    lay: str = "chased"
    ceiling: bool = False

    @property
    def over_ceiling(self) -> Box:
        """The line along the top of the wall on which runs lie over a false ceiling."""
        return Box(0.0, self.face.height, self.face.width, 0.0)

    def voids(self, size: float) -> tuple[Box, ...]:
        """The panelled fields with room for a conduit of that outside diameter [mm] behind them, and a false ceiling."""
        panels = voids_for(self.panels, size, self.limits)
        return (*panels, self.over_ceiling) if self.ceiling else panels

    def prices(self, size: float) -> tuple[float, float]:
        """What a level and an upright millimetre outside the voids cost, over one in a void."""
        v = self.limits.value
        level, upright = v("services.price_level"), v("services.price_upright")
        if self.lay == "surface":
            return level, level
        cut = chase.masonry_of(self.wall, self.limits)
        if cut is None:
            return (level, 1.0) if self.wall.substrate in chase.FRAMED else (level, level)
        shut = v("services.price_surface" if self.lay == "mixed" else "services.price_unlawful")
        return (
            level if cut.may_cut(size, level=True) else shut,
            upright if cut.may_cut(size, level=False) else shut,
        )

    def bears(self, size: float, path: Sequence[Point2]) -> bool:
        """Whether nothing of a path is cut deeper than the leaf bears, for a conduit of that outside diameter [mm]."""
        cut = chase.masonry_of(self.wall, self.limits)
        if cut is None or self.lay != "chased":
            return True
        pieces = chase.outside(path, self.voids(size))
        return all(cut.may_cut(size, level=a[1] == b[1]) for a, b in pieces)

    def bears_depth(self, pieces: Sequence[Segment], deep: float) -> bool:
        """Whether the leaf bears chases so deep [mm] along those pieces; a wall that is no masonry is not asked."""
        cut = chase.masonry_of(self.wall, self.limits)
        return cut is None or all(deep <= (cut.level if a[1] == b[1] else cut.upright) for a, b in pieces)

    def too_deep(self, runs: Sequence[Run]) -> bool:
        """Whether anything of those runs is cut deeper than the leaf bears."""
        cut = chase.masonry_of(self.wall, self.limits)
        return cut is not None and any(
            not cut.may_cut(run.outside_diameter, level=a[1] == b[1]) for run in runs for a, b in run.cut
        )


def voids_for(panels: Sequence[PanelZone], size: float, limits: Limits) -> tuple[Box, ...]:
    """The fields behind panels, within the battens at their edges, where a conduit of that outside diameter [mm] has room."""
    play, edge = limits.value("services.void_play"), limits.value("services.void_edge")
    return tuple(panel.box.grown(-edge) for panel in panels if panel.void >= size + play)


def lay_of(job: Job, limits: Limits) -> str:
    """How runs are laid outside the voids: as chosen; in trunking in a rented home and on concrete; mixed in a leaf that bears no
    level chase for the smallest conduit; else chased, as long as the leaf bears what comes of it.
    """
    if job.design.wiring.lay is not None:
        return job.design.wiring.lay
    if job.brief.tenure == "rent" or job.survey.wall.substrate == "concrete":
        return "surface"
    cut = chase.masonry_of(job.survey.wall, limits)
    return "chased" if cut is None or cut.may_cut(min(conduit.BORES), level=True) else "mixed"


def boxes_on_surface(job: Job) -> bool:
    """Whether outlet boxes stand on the wall, not in it: in a rented home, on structural concrete, or as chosen."""
    lay = job.design.wiring.lay or ("surface" if job.brief.tenure == "rent" else "chased")
    return lay == "surface" or job.survey.wall.substrate == "concrete"


Reason = Literal["concrete", "rented", "leaf", "chosen"]


def reason_for_trunking(job: Job) -> Reason:
    """Why what lies in trunking is not cut in: structural concrete, a rented home, a leaf too thin for the chase, or as chosen."""
    if job.survey.wall.substrate == "concrete":
        return "concrete"
    if not boxes_on_surface(job):
        return "leaf"
    return "rented" if job.brief.tenure == "rent" else "chosen"


def in_trunking(pieces: Sequence[Segment], ground: Ground, size: float) -> tuple[Segment, ...]:
    """Those pieces of a run outside the voids that lie on the wall in trunking, for a conduit of that outside diameter [mm]."""
    if ground.lay == "surface" or ground.wall.substrate == "concrete":
        return tuple(pieces)
    cut = chase.masonry_of(ground.wall, ground.limits)
    if ground.lay != "mixed" or cut is None:
        return ()
    return tuple(piece for piece in pieces if not cut.may_cut(size, piece[0][1] == piece[1][1]))


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
    screws = [x for u in units if u.tall for x in (u.box.x + side, u.box.right - side)]
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


def comes_in(given: Entry | None, usual: Point2, other: Point2, face: Face, limits: Limits) -> Point2:
    """Where cables come to the wall: as surveyed, else as is usual. usual, other : in the left and in the right corner's zone, the
    one that is taken where nobody entered it first.
    """
    if given is None:
        return usual
    left, right = sorted((usual, other))
    corner = right if given.comes == "right" else left if given.comes == "left" else usual
    x = given.x.mm if given.x is not None else corner[0]
    low = limits.value("services.wall_point_height")
    z = {"ceiling": face.height, "floor": 0.0, "wall": low}.get(given.comes, corner[1])
    z = given.z.mm if given.z is not None else z
    return min(max(x, 0.0), face.width), min(max(z, 0.0), face.height)


@dataclass(slots=True)
class Layer:
    """The two grids that runs are laid on, and the runs so far. plain : the grids by conduit, with nothing cut yet · sorts : of each run"""

    ground: Ground
    mains: Grid
    free: Grid
    laid: list[Segment] = field(default_factory=list["Segment"])
    runs: list[Run] = field(default_factory=list["Run"])
    ready: dict[Laid, Grid] = field(default_factory=dict["Laid", "Grid"])
    plain: dict[Laid, Grid] = field(default_factory=dict["Laid", "Grid"])
    sorts: list[Sort] = field(default_factory=list["Sort"])
    sizes: dict[tuple[tuple[float, ...], float], Span] = field(
        default_factory=dict["tuple[tuple[float, ...], float]", "Span"]
    )

    def find(self, sort: Sort, start: Point2, end: Point2) -> tuple[Route, bool]:
        """The cheapest way from start to end, and whether it is legal all along."""
        price = self.ground.limits.value("services.bend_price")
        size, _ = self.size_of(sort)
        route = shortest(self._lines(sort.kind == "mains", size, sort.on_wall), start, end, price)
        legal = route is not None
        if route is None:
            route = shortest(self._lines(False, size), start, end, price) or _straight(start, end)
        return route, legal

    def lay(
        self,
        sort: Sort,
        start: tuple[str, Point2],
        end: tuple[str, Point2],
        way: tuple[Route, bool] | None = None,
    ) -> float:
        """Lay a run, along the way where one was found already, and give its length [mm]."""
        route, legal = way or self.find(sort, start[1], end[1])
        if (least := self.drawn_bore(sort, route)) > sort.bore:  # a wider one may have to go another way
            sort = replace(sort, bore=least)
            route, legal = self.find(sort, start[1], end[1])
        size, bore = self.size_of(sort)
        number = 1 + sum(run.ref.startswith(sort.letter) for run in self.runs)
        self.runs.append(
            self._run(f"{sort.letter}{number}", sort, (start[0], end[0]), route, legal, (size, bore))
        )
        self.sorts.append(sort)
        if sort.kind == "mains":
            self.laid.extend(segments(route.path))
        if not self.runs[-1].in_void:
            self._share(sort.kind == "mains", route)
        return route.length

    def _share(self, mains: bool, route: Route) -> None:
        """From here on, runs of its kind lie along it for less: the chase is cut already."""
        price = self.ground.limits.value("services.price_shared")
        for key, lines in self.ready.items():
            if key[0] == mains:
                self.ready[key] = shared(lines, segments(route.path), price, self._usual)

    @property
    def _usual(self) -> float:
        """The dearest ordinary price of a millimetre: what costs more is cut deeper than the leaf bears, or lies in view, and is not
        shared.
        """
        v = self.ground.limits.value
        return max(v("services.price_level"), v("services.price_upright"))

    def settle(self, mains: bool) -> None:
        """Take up the runs of one kind, power or signals, and lay them anew beside one another: they share chases wherever that costs
        less, also with those that were laid after them. Only what is cut in is shared so: each run on the wall has a trunking of its own.
        """
        v = self.ground.limits.value
        moving = [
            i
            for i, run in enumerate(self.runs)
            if (run.kind == "mains") == mains and run.legal and not run.in_void and run.on_surface == 0
        ]
        if len(moving) < 2 or chase.masonry_of(self.ground.wall, self.ground.limits) is None:
            return
        wanted = [self._wanted(i) for i in moving]
        runs = [self.runs[i] for i in moving]
        first = [Route(run.path, run.length, run.bends, 0.0) for run in runs]
        found = together(wanted, first, v("services.price_shared"), v("services.bend_price"))
        for i, run, before, after in zip(moving, runs, first, found, strict=True):
            sort = self.sorts[i]
            if after != before and self.drawn_bore(sort, after) <= sort.bore:
                moved = self._run(run.ref, sort, (run.start, run.end), after, True, self.size_of(sort))
                self.runs[i] = moved if moved.on_surface == 0 else run
        self._settled(mains)

    def _wanted(self, i: int) -> Wanted:
        run, sort = self.runs[i], self.sorts[i]
        key = run.kind == "mains", run.outside_diameter, sort.on_wall
        if key not in self.plain:  # its way was given
            self._lines(*key)
        return Wanted(self.plain[key], self._usual, run.path[0], run.path[-1])

    def _settled(self, mains: bool) -> None:
        """What is cut for that kind now is what later runs of it may lie along, and what others keep off."""
        ours = [run for run in self.runs if (run.kind == "mains") == mains]
        if mains:
            self.laid[:] = [piece for run in ours for piece in segments(run.path)]
        cut = [piece for run in ours if not run.in_void for piece in segments(run.path)]
        price = self.ground.limits.value("services.price_shared")
        for key in self.ready:
            if key[0] == mains:
                self.ready[key] = shared(self.plain[key], cut, price, self._usual)

    def keep_apart(self, others: Sequence[Segment]) -> None:
        """From here on, runs keep off the mains laid so far, and off these, wherever they can."""
        apart = self.ground.limits.value("services.power_data_apart")
        self.free = kept_apart(self.free, [*self.laid, *others], apart)
        self.ready.clear()

    def without_way(self) -> bool:
        """Whether a signal run is cut deeper than the leaf bears, and would be on every other way too: settling cannot mend it."""
        cut, price = (
            chase.masonry_of(self.ground.wall, self.ground.limits),
            self.ground.limits.value("services.bend_price"),
        )
        if cut is None:
            return False
        for run, sort in zip(self.runs, self.sorts, strict=True):
            if run.kind == "mains" or sort.on_wall or not self.ground.too_deep((run,)):
                continue
            size = run.outside_diameter
            level, upright = (1.0 if cut.may_cut(size, level=way) else _UNHEARD_OF for way in (True, False))
            lines = priced(self.free, self.ground.voids(size), level, upright)
            way = shortest(lines, run.path[0], run.path[-1], price)
            if way is None or way.price >= _UNHEARD_OF:
                return True
        return False

    def bears(self, sort: Sort, route: Route) -> bool:
        """Whether nothing of that way is cut deeper than the leaf bears."""
        return self.ground.bears(self.size_of(sort)[0], route.path)

    def size_of(self, sort: Sort) -> tuple[float, float]:
        """Outside diameter and bore of the conduit a sort of run needs [mm]; the largest there is where none is large enough."""
        asked = sort.diameters, sort.bore
        if asked not in self.sizes:
            self.sizes[asked] = conduit_for(sort, self.ground.limits)
        return self.sizes[asked]

    def drawn_bore(self, sort: Sort, route: Route) -> float:
        """The bore [mm] that single cores can be drawn through along that way, by its bends and its length from box to box: at least
        that of the sort. Where no conduit tabulated takes them the largest there is: the rules say so.
        """
        size, _ = self.size_of(sort)
        if not sort.cores or not chase.outside(route.path, self.ground.voids(size)):
            return sort.bore
        needed = drawn_size(sort.cores, route.path, self._boxes(route)) or max(conduit.BORES)
        return max(sort.bore, conduit.BORES[needed]) if needed > size else sort.bore

    def _boxes(self, route: Route) -> tuple[Point2, ...]:
        """Where that way needs boxes to draw the cable through."""
        v = self.ground.limits.value
        return conduit.draw_boxes(route.path, round(v("services.bends_max")), v("services.pull_longest"))

    def _ground(self, on_wall: bool) -> Ground:
        """What a run is laid in: as all are, or what the leaf does not bear on the wall."""
        return replace(self.ground, lay="mixed") if on_wall and self.ground.lay == "chased" else self.ground

    def _lines(self, mains: bool, size: float, on_wall: bool = False) -> Grid:
        """The grid for conduits of that size, with its prices; made once."""
        if (mains, size, on_wall) not in self.ready:
            ground, v = self._ground(on_wall), self.ground.limits.value
            clear = v("services.drill_warn") + v("services.hole_and_conduit") + size / 2
            level, upright = ground.prices(size)
            lines = priced(self.mains if mains else self.free, ground.voids(size), level, upright)
            over = ground.face.height if ground.ceiling else float("inf")
            lines = kept_off(lines, ground.rows, clear, v("services.price_unlawful"), over)
            self.ready[mains, size, on_wall] = self.plain[mains, size, on_wall] = lines
        return self.ready[mains, size, on_wall]

    def _run(  # noqa: PLR0913
        self, ref: str, sort: Sort, ends: tuple[str, str], route: Route, legal: bool, pipe: tuple[float, float]
    ) -> Run:  # fmt: skip
        size, bore = pipe
        ground, v = self._ground(sort.on_wall), self.ground.limits.value
        cut = chase.outside(route.path, ground.voids(size))
        shown = in_trunking(cut, ground, size)
        where = "surface" if cut and len(shown) == len(cut) else chase.lies(ground.wall.substrate, not cut)
        above = ground.face.height
        over = (
            sum(abs(b[0] - a[0]) for a, b in segments(route.path) if a[1] == b[1] == above)
            if ground.ceiling
            else 0.0
        )
        # what stays in view shows where mains runs, and so does trunking; what is cut in behind hidden boxes is shown by nothing
        lid = [Box(a[0], a[1], b[0] - a[0], b[1] - a[1]) for a, b in map(sorted, shown)]
        unseen = sort.kind == "mains" and bool(chase.outside(route.path, (*ground.seen, *lid)))
        let_in = tuple(piece for piece in cut if piece not in shown)
        return Run(
            ref=ref, kind=sort.kind, start=ends[0], end=ends[1], path=route.path, length=route.length, bends=route.bends,
            cable=sort.cable, outside_diameter=size, bore=bore, fill=conduit.fill(sort.diameters, bore),
            longest=sort.longest, in_void=not cut, legal=legal, lies=where, protect=unseen,
            contents=sort.contents, outside_void=_length(cut), trunking=shown, on_surface=_length(shown), over_ceiling=over,
            order=route.length * (1 + v("services.run_slack")) + 2 * v("services.end_slack"), link=sort.link,
            draw_boxes=self._boxes(route) if cut else (),
            channel=trunking.smallest(sort.diameters, v("services.fill_other")) if shown else (0.0, 0.0),
            cut=let_in, steel=unseen and not ground.bears_depth(let_in, v("services.zone_depth") + size),
        )  # fmt: skip


def conduit_for(sort: Sort, limits: Limits) -> tuple[float, float]:
    """Outside diameter and bore of the conduit that what lies in it asks for, wherever it goes [mm]: by its fill and by the plugs that
    are drawn through; the largest there is where none is large enough.
    """
    size, bore = (
        conduit.smallest_bore(sort.diameters, fill_shares(limits), sort.bore)
        or list(conduit.BORES.items())[-1]
    )
    return float(size), bore


def fill_shares(limits: Limits) -> tuple[float, float, float]:
    """How full a conduit may be with one cable, with two, with more."""
    v = limits.value
    return v("services.fill_one"), v("services.fill_two"), v("services.fill_more")


def drawn_size(cores: Sequence[float], path: Sequence[Point2], boxes: Sequence[Point2]) -> int | None:
    """The conduit [mm] that single cores can be drawn through along a path, box to box; None where none tabulated takes them."""
    try:
        return conduit.drawn_through(cores, conduit.pulls(path, boxes))
    except ValueError:
        return None


def _length(pieces: Sequence[Segment]) -> float:
    return sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pieces)


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
    levels = [off_rows(u.box.top + over, ground) for u in setout.units if u.hung and u.kind == "console"]
    if ground.lay != "chased":  # trunking follows the skirting
        foot = max((obstacle_box(o).top for o in face.obstacles if o.kind == "skirting"), default=0.0)
        levels.append(foot + limits.value("services.skirting_run"))
    if ground.ceiling:
        levels.append(face.height)
    lines = ((inset, face.width - inset), (off_rows(face.height - inset, ground, up=False), *levels))
    power = [(p.x, p.z) for p in points if p.kind in MAINS]
    return Layer(
        ground,
        grid(face.box, [entries[0], *power], zones, blocked, lines),
        grid(face.box, [*entries, *at, *ends], (face.box,), blocked, lines),
    )


def off_rows(level: float, ground: Ground, up: bool = True) -> float:
    """A level line at that height [mm], or over (else under) the rows of holes that are nearer to it than runs may lie."""
    v = ground.limits.value
    clear = v("services.drill_warn") + v("services.hole_and_conduit") + max(conduit.BORES) / 2
    for row in sorted(ground.rows, key=lambda row: row.z if up else -row.z):
        if row.z - clear < level < row.z + clear:
            level = row.z + clear if up else row.z - clear
    return level


def box_arms(points: Sequence[ServicePoint]) -> list[Segment]:
    """The level and the upright line through each box: other runs keep off the boxes they do not serve."""
    arms: list[Segment] = []
    for point in points:
        x, z, box = point.x, point.z, point.box
        arms += [((box.x, z), (box.right, z)), ((x, box.z), (x, box.top))]
    return arms
