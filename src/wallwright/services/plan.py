"""The services of the wall: devices in their places, points, zones, runs and circuits.

A design aid throughout: to be checked, sized, installed and tested by the locally licensed electrician.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.job.face import Face, obstacle_box
from wallwright.library import load
from wallwright.services.board import MAINS
from wallwright.services.circuits import assign, plan_circuits
from wallwright.services.devices import place_devices
from wallwright.services.points import plan_points
from wallwright.services.record import Circuit, Run, ServicePoint, Services
from wallwright.services.runs import (
    Layer,
    Sort,
    blocked_boxes,
    entry,
    keep_apart,
    lay_signals,
    layer,
    spanning,
)
from wallwright.services.zones import prescribed

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut
    from wallwright.sight.record import Screen

_ACCESSORIES = frozenset({"socket", "switch", "data_point"})


def plan(job: Job, face: Face, screen: Screen, setout: SetOut, limits: Limits) -> Services:
    """The whole services stage. ValueError, naming the field, where a device kind is unknown."""
    devices, device_whys = place_devices(job.brief.devices, setout.units, limits)
    points, region, point_whys = plan_points(job, face, screen, setout, devices, limits)
    circuit_of = assign(points, devices, limits)
    points = tuple(replace(p, circuit=circuit_of.get(p.ref, "")) for p in points)
    there = [obstacle_box(thing) for thing in face.obstacles if thing.kind in _ACCESSORIES]
    zones = prescribed(face.box, [*there, *(p.box for p in points)], limits.value("services.zone_band"))
    lay, come_in = _layer(job, face, screen, setout, points, zones, limits)
    reach = _lay_mains(lay, job, points, come_in[0], limits)
    keep_apart(lay, points)
    lay_signals(lay, points, come_in[1])
    _lay_leads(lay, job, screen, setout, points)
    runs = tuple(lay.runs)
    circuits, circuit_whys = plan_circuits(job, setout, screen, devices, points, reach, limits)
    runs = _with_cables(runs, points, circuits)
    whys = (
        *device_whys,
        *point_whys,
        *(why for run in runs for why in _run_whys(run, limits)),
        *circuit_whys,
    )
    return Services(points, devices, region, zones, runs, circuits, whys)


def _layer(  # noqa: PLR0913
    job: Job,
    face: Face,
    screen: Screen,
    setout: SetOut,
    points: Sequence[ServicePoint],
    zones: Sequence[Box],
    limits: Limits,
) -> tuple[Layer, tuple[Point2, Point2]]:
    """The grids, and where mains and signals come in: mains down the corner nearer its points, signals down the other."""
    blocked = blocked_boxes(face.obstacles, screen.plate, limits)
    mains = [p.x for p in points if p.kind in MAINS]
    right = bool(mains) and sum(mains) / len(mains) > face.width / 2
    come_in = (
        entry(face, blocked, setout.units, limits, right),
        entry(face, blocked, setout.units, limits, not right),
    )
    ends = [_lead_end(light.along, light.of, screen, setout, face) for light in job.design.lights]
    return layer(face, points, come_in, zones, blocked, setout, limits, ends), come_in


def _lay_mains(
    lay: Layer, job: Job, points: Sequence[ServicePoint], come_in: Point2, limits: Limits
) -> dict[str, float]:
    """Each circuit's tree of runs from where the supply comes in; gives the cable to each circuit's furthest point [mm]."""
    share, ends = limits.value("services.run_slack"), 2 * limits.value("services.end_slack")
    library = load.cables()
    us = job.survey.place.rules == "US"
    reach: dict[str, float] = {}
    for circuit in sorted({p.circuit for p in points if p.circuit}):
        # the kind of cable is known for good when the circuit is sized; here it gives the conduit
        row = library["awg12" if us else "twin_1_5" if circuit == "Q2" else "twin_2_5"]
        sort = Sort("M", "mains", row.name, (row.diameter,), 0.0)
        members = [p for p in points if p.circuit == circuit]
        far = {-1: 0.0}
        for start, end in spanning(come_in, members):
            a = (
                ("supply", come_in)
                if start < 0
                else (members[start].ref, (members[start].x, members[start].z))
            )
            b = (members[end].ref, (members[end].x, members[end].z))
            far[end] = far[start] + lay.lay(sort, a, b) * (1 + share) + ends
        reach[circuit] = max(far.values())
    return reach


def _lay_leads(lay: Layer, job: Job, screen: Screen, setout: SetOut, points: Sequence[ServicePoint]) -> None:
    """The low-voltage lead from each feed to the nearest corner of what it lights."""
    row = load.cables()["flex_1_0"]
    sort = Sort("E", "elv", row.name, (row.diameter,), 0.0)
    for light in job.design.lights:
        feed = next((p for p in points if p.kind == "led_feed" and light.ref in p.serves), None)
        if feed is not None:
            end = _lead_end(light.along, light.of, screen, setout, lay.face)
            lay.lay(sort, (feed.ref, (feed.x, feed.z)), (light.ref, end))


def _lead_end(along: str, of: str | None, screen: Screen, setout: SetOut, face: Face) -> Point2:
    """Where a lead reaches its strip: the lower left corner of the screen or panel, or the left end of the unit's edge."""
    if along == "behind_screen":
        box = screen.frame
    else:
        things = [*setout.zones] if along == "behind_panel" else [*setout.units]
        box = next(
            (thing.box for thing in things if thing.ref == of), things[0].box if things else screen.frame
        )
    return min(max(box.x, 0.0), face.width), min(max(box.z, 0.0), face.height)


def _with_cables(
    runs: tuple[Run, ...], points: Sequence[ServicePoint], circuits: Sequence[Circuit]
) -> tuple[Run, ...]:
    """Mains runs named by the cable their circuit was sized to."""
    size = {c.ref: c.cable_mm2 for c in circuits}
    of = {p.ref: p.circuit for p in points}
    names = {cable.size: cable for key, cable in load.cables().items() if key.startswith(("twin", "awg"))}
    out: list[Run] = []
    for run in runs:
        circuit = of.get(run.end, "")
        cable = names.get(size.get(circuit, 0.0)) if run.kind == "mains" else None
        out.append(
            replace(run, cable=f"{cable.name}, circuit {circuit}", fill=(cable.diameter / run.bore) ** 2)
            if cable
            else run
        )
    return tuple(out)


def _run_whys(run: Run, limits: Limits) -> tuple[Why, ...]:
    """The working of a run's length and of how full its conduit is."""
    says = f"from {run.start} to {run.end}, {run.cable}: up, down and across only"
    says += (
        ", within the zones where a cable is expected"
        if run.kind == "mains"
        else ", clear of the mains where it can be"
    )
    if not run.legal:
        depth = limits.value("services.zone_depth")
        says = f"from {run.start} to {run.end}: no path within the zones is free; needs {depth:.0f} mm of depth or a steel cover"
    share, end = limits.value("services.run_slack"), limits.value("services.end_slack")
    return (
        Why(
            f"run {run.ref}.length", run.length, "mm", says, "shortest path; a bend is worth so much run",
            (Given("bends", run.bends), Given("a bend is worth", limits.value("services.bend_price"), "mm"),
             Given("cable to order", run.length * (1 + share) + 2 * end, "mm"), Given("limit of the link", run.longest, "mm")),
            "BS 7671 522.6.202" if run.kind == "mains" else "common practice",
            "published" if run.kind == "mains" else "common practice",
        ),
        Why(
            f"run {run.ref}.fill", 100.0 * run.fill, "%",
            f"{run.cable} in a {run.outside_diameter:.0f} mm conduit of {run.bore:g} mm bore; use the maker's bore",
            "sum of the cables' areas / area of the bore", (Given("bore", run.bore, "mm"),),
            "NEC chapter 9 table 1", "published",
        ),
    )  # fmt: skip
