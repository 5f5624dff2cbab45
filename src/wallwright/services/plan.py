"""The services of the wall: devices in their places, points, zones, runs and circuits.

A design aid throughout: to be checked, sized, installed and tested by the locally licensed electrician.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Outline, Point2, around, shrunk
from wallwright.core.why import Given, Later, Why
from wallwright.job.document import Job
from wallwright.job.face import Face, obstacle_box
from wallwright.library import load
from wallwright.services import cables, conduit, trunking
from wallwright.services.board import MAINS
from wallwright.services.circuits import LIGHTING, assign, plan_circuits
from wallwright.services.devices import place_devices
from wallwright.services.order import orders_of
from wallwright.services.plugs import KEYS, SCREEN, Plug, drawn, plugs
from wallwright.services.points import next_plate, plan_points
from wallwright.services.record import Circuit, PlacedDevice, Run, ServicePoint, Services
from wallwright.services.region import Behind, upright
from wallwright.services.runs import (
    Ground,
    Layer,
    Sort,
    blocked_boxes,
    box_arms,
    comes_in,
    conduit_for,
    drawn_size,
    entry,
    lay_of,
    layer,
    off_rows,
)
from wallwright.services.signals import held_words, lay_signals, signal_sorts
from wallwright.services.spare import spare_whys
from wallwright.services.tree import lay_tree, reached
from wallwright.services.zones import feed_place, in_view, zones_of

if TYPE_CHECKING:
    from wallwright.carcass.bays import Cell
    from wallwright.carcass.record import SetOut
    from wallwright.light.record import LightRun
    from wallwright.sight.record import Screen

_MAINS_ACCESSORIES = frozenset({"socket", "switch"})


def plan(  # noqa: PLR0913
    job: Job, face: Face, screen: Screen, setout: SetOut, limits: Limits, *, cells: Mapping[str, Sequence[Cell]],
    strips: Sequence[LightRun], rows: Sequence[Box],
) -> Services:  # fmt: skip
    """The whole services stage. ValueError, naming the field, where a device kind is unknown.

    cells : the bays of each unit · strips : the LED strips as laid · rows : the rows of holes that will be drilled
    """
    devices, device_whys = place_devices(job.brief.devices, setout.units, limits, screen.frame)
    points, behind, region, point_whys = plan_points(
        job, face, screen, setout, devices, limits, cells, strips
    )
    circuit_of = assign(job, screen, devices, points, limits)
    points = tuple(replace(p, circuit=circuit_of.get(p.ref, "")) for p in points)
    seen, hidden = _zones(face, screen, setout, points, limits)
    ground = Ground(
        face,
        job.survey.wall,
        setout.zones,
        rows,
        seen,
        limits,
        lay_of(job, limits),
        job.survey.ceiling == "void",
    )
    rough = _rough_places(screen, setout, devices)
    units = {unit.ref: unit.box for unit in setout.units}
    spare = limits.value("services.end_slack")
    # what has no way while there are no conduits is what they are laid for
    held = [KEYS[p.kind] for p in plugs(devices, points, (), rough, spare, units) if p.bare]
    # cables are sized by how far they go, conduits by the cables, and a wider conduit may have to go another way
    sort_of = load.electrical()[job.survey.place.rules.lower()].cables
    usual = {p.circuit: _usual_size(p.circuit, sort_of) for p in points if p.circuit}
    sizes = usual
    while True:  # sizes only grow, and there are five of them
        lay, reach, ways_in = _lay_power(job, ground, screen, setout, points, hidden, strips, sizes)
        circuits, circuit_whys = plan_circuits(job, screen, devices, points, strips, reach, limits)
        sized = {c.ref: max(c.cable_mm2, sizes.get(c.ref, 0.0)) for c in circuits}
        may_turn = job.design.wiring.lay is None and ground.lay == "chased"
        if may_turn and ground.too_deep(lay.runs):
            ground = replace(
                ground, lay="mixed"
            )  # nobody chose to cut: what the leaf does not bear is not cut
            continue
        if _other_conduits(lay.runs, points, sizes, sized, sort_of, limits):
            sizes = sizes | sized
            continue
        _lay_signals(lay, job, screen, ways_in, held)
        if not (may_turn and lay.without_way()):
            lay.settle(mains=False)
            _lay_leads(lay, ways_in.points, ways_in.feeds, strips)
            if not (may_turn and ground.too_deep(lay.runs)):
                break
        ground, sizes = replace(ground, lay="mixed"), usual
    runs = tuple(lay.runs)
    runs = _with_cables(runs, points, circuits, sort_of)
    made = plugs(devices, points, runs, rough, spare, units)
    runs = _holding(runs, made, job.design.wiring.picture_cable)

    def whys() -> Iterator[Why]:
        yield from (*device_whys, *point_whys)
        for run in runs:
            yield from _run_whys(run, limits)
        yield from spare_whys(runs, ground)
        yield from _entry_whys(job, ways_in.come_in)
        yield from circuit_whys

    twin = limits.value("services.box_twin_width"), limits.value("services.box_height")
    planned = Services(
        points,
        devices,
        _fields(behind, region, twin),
        (*seen, *hidden),
        runs,
        circuits,
        Later(whys),
        hidden,
        region,
        replace(behind, plate=next_plate(screen, limits)).region(twin),
        shrunk(behind.hidden, behind.margin),
        tuple((one.what, one.box) for one in behind.kept if one.box.meets(screen.frame)),
        *ways_in.come_in,
        tuple(
            name
            for name, given in (("supply", job.survey.supply), ("lines_in", job.survey.lines_in))
            if given is None
        ),
        ground.lay,
    )
    return replace(planned, plugs=made, orders=orders_of(runs, made, limits))


def placed(  # noqa: PLR0913
    kept: Services, job: Job, face: Face, screen: Screen, setout: SetOut, limits: Limits, *,
    cells: Mapping[str, Sequence[Cell]], strips: Sequence[LightRun],
) -> Services:  # fmt: skip
    """Where devices and outlets would sit, with all else as it was in `kept`: what is seen of the services on the wall."""
    devices, _ = place_devices(job.brief.devices, setout.units, limits, screen.frame)
    points, behind, region, _ = plan_points(job, face, screen, setout, devices, limits, cells, strips)
    twin = limits.value("services.box_twin_width"), limits.value("services.box_height")
    return replace(kept, devices=devices, points=points, region=_fields(behind, region, twin))


def _fields(behind: Behind, region: Sequence[Outline], twin: tuple[float, float]) -> tuple[Box, ...]:
    """The boxes within which the middle of a twin socket may sit behind the screen."""
    return tuple(map(around, region)) if upright(behind.hidden) else behind.fields(twin)


def plugged_in(
    services: Services, places: Mapping[str, Point2], units: Mapping[str, Box], limits: Limits
) -> Services:
    """The services with the cable map, and what to buy by it. places : the middle of each box on the wall's face, and of the
    screen's under "screen" · units : each unit's box, by its ref
    """
    spare = limits.value("services.end_slack")
    made = plugs(services.devices, services.points, services.runs, places, spare, units)
    return replace(services, plugs=made, orders=orders_of(services.runs, made, limits))


def _rough_places(screen: Screen, setout: SetOut, devices: Sequence[PlacedDevice]) -> dict[str, Point2]:
    """The middle of the unit each box stands in, until its bay is known; of the screen for what hangs behind it."""
    boxes = {unit.ref: unit.box for unit in setout.units}
    rough = {d.ref: d.opening or boxes.get(d.unit, screen.frame) for d in devices}
    return {SCREEN: screen.centre, **{ref: box.centre for ref, box in rough.items()}}


def _holding(runs: tuple[Run, ...], made: Sequence[Plug], cable: str) -> tuple[Run, ...]:
    """The conduits that plugs go through, each with what the cable map sends through it. cable : passive or optical"""
    known = load.cables()
    out: list[Run] = []
    for run in runs:
        keys = drawn(made, run.ref)
        held = tuple(sorted(Counter(keys).items()))
        fill = conduit.fill((known[key].diameter for key in keys), run.bore)
        words = held_words(held, cable)
        out.append(replace(run, cable=words, fill=fill, contents=held) if run.kind == "conduit" else run)
    return tuple(out)


def _zones(
    face: Face, screen: Screen, setout: SetOut, points: Sequence[ServicePoint], limits: Limits
) -> tuple[tuple[Box, ...], tuple[Box, ...]]:
    """Where a cable may be expected: by mains accessories in view and the corners of the wall; and by hidden ones only."""
    there = [obstacle_box(thing) for thing in face.obstacles if thing.kind in _MAINS_ACCESSORIES]
    mains = [point for point in points if point.kind in MAINS]
    view = [p.box for p in mains if in_view(p, screen.frame, setout)]
    covers = (screen.frame, *(unit.box for unit in setout.units if unit.cabinet))
    there = [box for box in there if not any(cover.holds(box) for cover in covers)]
    return zones_of(
        face.box,
        (*there, *view),
        [p.box for p in mains if p.box not in view],
        limits.value("services.zone_band"),
    )


class _WaysIn(NamedTuple):
    """Where runs end: points on the wall's face, where mains and where signals come in, and where each strip is fed."""

    points: Sequence[ServicePoint]
    come_in: tuple[Point2, Point2]
    feeds: Mapping[str, Point2]


def _lay_power(  # noqa: PLR0913
    job: Job, ground: Ground, screen: Screen, setout: SetOut, points: Sequence[ServicePoint], hidden: Sequence[Box],
    strips: Sequence[LightRun], sizes: Mapping[str, float],
) -> tuple[Layer, dict[str, float], _WaysIn]:  # fmt: skip
    """The mains laid; the cable to each circuit's furthest point [mm]; where all runs end.

    A point off the wall's face gets no run. sizes : of each circuit's cable [mm²]
    """
    face, limits = ground.face, ground.limits
    points = [p for p in points if face.box.holds(Box(p.x, p.z, 0.0, 0.0))]
    blocked = blocked_boxes(face.obstacles, screen.plate, limits)
    mains = [p.x for p in points if p.kind in MAINS]
    # mains down the corner nearer its points, signals down the other
    right = bool(mains) and sum(mains) / len(mains) > face.width / 2
    corners = (entry(face, blocked, setout.units, limits, side) for side in (right, not right))
    near, far = ((x, max(0.0, off_rows(z, ground, up=False))) for x, z in corners)
    come_in = (
        comes_in(job.survey.supply, near, far, face, limits),
        comes_in(job.survey.lines_in, far, near, face, limits),
    )
    feeds = {strip.ref: feed_place(strip.path, strip.feed, face.box) for strip in strips}
    lay = layer(ground, points, come_in, (*ground.seen, *hidden), blocked, setout, tuple(feeds.values()))
    reach = _lay_mains(lay, job, points, come_in[0], sizes)
    return lay, reach, _WaysIn(points, come_in, feeds)


def _lay_signals(lay: Layer, job: Job, screen: Screen, ways_in: _WaysIn, held: Sequence[str]) -> None:
    """What carries signals, off the mains that are laid. held : the cables that go from box to box through conduits"""
    lay.keep_apart(box_arms(ways_in.points))
    sorts = signal_sorts(lay.ground.limits, screen.lines, job.design.wiring.picture_cable, held)
    lay_signals(lay, ways_in.points, ways_in.come_in[1], sorts)


def _lay_mains(
    lay: Layer, job: Job, points: Sequence[ServicePoint], come_in: Point2, sizes: Mapping[str, float]
) -> dict[str, float]:
    """Each circuit's tree of runs from where the supply comes in; gives the cable to each circuit's furthest point [mm]."""
    sort_of, limits = load.electrical()[job.survey.place.rules.lower()].cables, lay.ground.limits
    circuits = sorted({p.circuit for p in points if p.circuit})
    for circuit in circuits:
        sort = _mains_sort(sort_of, sizes[circuit])
        members = [p for p in points if p.circuit == circuit]
        lay_tree(lay, sort, ("supply", come_in), members)
    lay.settle(mains=True)
    far = reached(lay.runs, limits)
    return {c: max(far[p.ref] for p in points if p.circuit == c) for c in circuits}


def _usual_size(circuit: str, sort_of: str) -> float:
    """The cable [mm²] a circuit has as a rule: what its run is laid for before it is sized."""
    known = load.cables()
    size = "12" if sort_of == "awg" else "_1_5" if circuit == LIGHTING else "_2_5"
    return known[f"{sort_of}{size}"].size


def _mains_sort(sort_of: str, size: float) -> Sort:
    """A run of the cable of that kind and size [mm²]. Three single cores are drawn in one by one: bends and length tell on them."""
    row = next(
        cable for key, cable in load.cables().items() if key.startswith(sort_of) and cable.size == size
    )
    cores = (size,) * 3 if sort_of == "single" else ()
    return Sort("M", "mains", row.name, (row.diameter,), 0.0, 0.0, ((row.key, 1),), cores=cores)


def _other_conduits(  # noqa: PLR0913
    runs: Sequence[Run], points: Sequence[ServicePoint], laid: Mapping[str, float], sized: Mapping[str, float],
    sort_of: str, limits: Limits,
) -> bool:  # fmt: skip
    """Whether a circuit's cable, as sized, asks for another conduit than its runs were laid for: by fill, or drawn round the bends."""
    changed = {ref for ref, size in sized.items() if ref in laid and size != laid[ref]}
    of = {p.ref: p.circuit for p in points}
    for run in runs if changed else ():
        circuit = of.get(run.end, "")
        if run.kind == "mains" and circuit in changed:
            sort = _mains_sort(sort_of, sized[circuit])
            drawn = drawn_size(sort.cores, run.path, run.draw_boxes) if sort.cores and not run.in_void else 0
            if max(conduit_for(sort, limits)[0], float(drawn or 0)) != run.outside_diameter:
                return True
    return False


def _lay_leads(
    lay: Layer, points: Sequence[ServicePoint], ends: Mapping[str, Point2], strips: Sequence[LightRun]
) -> None:
    """The low-voltage lead from each feed to where its strip is fed, thick enough for the drop along it as it lies."""
    limits, size_of = lay.ground.limits, {strip.ref: strip for strip in strips}
    flexes = sorted(
        (row for key, row in load.cables().items() if key.startswith("flex")), key=lambda row: row.size
    )
    for light, end in ends.items():
        feed = next((p for p in points if p.kind == "led_feed" and light in p.serves), None)
        if feed is None:
            continue
        strip = size_of[light]
        way = lay.find(_lead(flexes[0]), (feed.x, feed.z), end)
        share, slack = limits.value("services.run_slack"), 2 * limits.value("services.end_slack")
        metres = (way[0].length * (1 + share) + slack) / 1000.0
        drops = [
            100.0 * cables.drop_volts_loop(row.ohm_per_km, strip.amps, metres) / strip.volts for row in flexes
        ]
        least = max(strip.feed_size, limits.value("services.lead_least"))
        fit = [
            i
            for i, row in enumerate(flexes)
            if row.size >= least and drops[i] <= limits.value("services.drop_elv")
        ]
        which = fit[0] if fit else len(flexes) - 1
        lead = _lead(flexes[which])
        same = lay.size_of(lead) == lay.size_of(
            _lead(flexes[0])
        )  # else a wider conduit may have to go another way
        lay.lay(lead, (feed.ref, (feed.x, feed.z)), (light, end), way if same else None)
        lay.runs[-1] = replace(lay.runs[-1], drop_percent=drops[which])


def _lead(row: load.Cable) -> Sort:
    return Sort("E", "elv", row.name, (row.diameter,), 0.0, 0.0, ((row.key, 1),))


def _with_cables(
    runs: tuple[Run, ...], points: Sequence[ServicePoint], circuits: Sequence[Circuit], sort_of: str
) -> tuple[Run, ...]:
    """Mains runs named by the cable their circuit was sized to."""
    size = {c.ref: c.cable_mm2 for c in circuits}
    of = {p.ref: p.circuit for p in points}
    names = {cable.size: cable for key, cable in load.cables().items() if key.startswith(sort_of)}
    out: list[Run] = []
    for run in runs:
        circuit = of.get(run.end, "")
        cable = names.get(size.get(circuit, 0.0)) if run.kind == "mains" else None
        out.append(
            replace(
                run,
                cable=f"{cable.name}, circuit {circuit}",
                fill=(cable.diameter / run.bore) ** 2,
                contents=((cable.key, 1),),
            )
            if cable
            else run
        )
    return tuple(out)


def _entry_whys(job: Job, come_in: tuple[Point2, Point2]) -> Iterator[Why]:
    """Where mains and signals come to the wall, and whether anybody entered it."""
    for name, says, given, at in (
        ("supply", "the mains supply", job.survey.supply, come_in[0]),
        ("lines_in", "network, fibre and aerial", job.survey.lines_in, come_in[1]),
    ):
        where = f"{says} come{'s' if name == 'supply' else ''} in here: " + (
            "assumed, nobody entered it" if given is None else f"as surveyed, {given.comes}"
        )
        for axis, value in zip("xz", at, strict=True):
            yield Why(
                f"services.{name}_{axis}", value, "mm", where, "", (), "assumed" if given is None else "survey",
                "common practice" if given is None else "derived", given is not None,
            )  # fmt: skip


def _run_whys(run: Run, limits: Limits) -> tuple[Why, ...]:
    """The working of a run's length and of how full its conduit is."""
    says = f"from {run.start} to {run.end}, {run.cable}: up, down and across only"
    says += (
        ", within the zones where a cable is expected"
        if run.kind == "mains"
        else ", clear of the mains where it can be"
    )
    depth = limits.value("services.zone_depth")
    if not run.legal:
        says = f"from {run.start} to {run.end}: no path within the zones is free; needs {depth:.0f} mm of depth or a steel cover"
    elif run.protect:
        says += "; part of it is shown by hidden boxes only: "
        says += (
            f"a steel cover there, the leaf bears no chase {depth:.0f} mm behind the surface"
            if run.steel
            else f"{depth:.0f} mm deep there, or a steel cover"
        )
    if run.on_surface > 0:
        says += (
            f"; in trunking {trunking.words(run.channel)} on the wall for {run.on_surface / 1000:.1f} m of it"
        )
    return (
        Why(
            f"run {run.ref}.length", run.length, "mm", says, "shortest path; a bend and a chase cost as so much run",
            (Given("bends", run.bends), Given("a bend is worth", limits.value("services.bend_price"), "mm"),
             Given("it lies in", run.lies),
             Given("on the wall in trunking", run.on_surface, "mm"), Given("over the ceiling", run.over_ceiling, "mm"),
             Given("cable to order", run.order, "mm"), Given("limit of the link", run.longest, "mm"),
             *((Given("drop in the lead", run.drop_percent, "%"),) if run.drop_percent else ())),
            "BS 7671 522.6.202" if run.kind == "mains" else "shortest path on the lines a run may follow",
            "published" if run.kind == "mains" else "computed",
        ),
        Why(
            f"run {run.ref}.fill", 100.0 * run.fill, "%",
            f"{run.cable} in a {run.outside_diameter:.0f} mm conduit of {run.bore:g} mm bore; use the maker's bore",
            "sum of the cables' areas / area of the bore", (Given("bore", run.bore, "mm"),),
            "plane geometry; cable diameters of the library", "computed",
        ),
    )  # fmt: skip
