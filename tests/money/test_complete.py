"""The bill of the demo walls: everything on the wall is priced exactly once, or the bill says that it is not priced."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.money.record import Line


@pytest.fixture(params=[*demo_jobs()])
def wall(request: pytest.FixtureRequest) -> Wall:
    return derive(read_job(demo_jobs()[request.param]))


def once(lines: list[Line]) -> Counter[str]:
    return Counter(ref for line in lines for ref in line.of)


def of_kind(wall: Wall, *prefixes: str) -> list[Line]:
    return [line for line in wall.money.lines if line.ref.startswith(prefixes)]


def test_every_line_has_a_price_or_says_that_it_has_none(wall: Wall) -> None:
    for line in wall.money.lines:
        assert line.quantity > 0, line
        assert (line.rate > 0) != line.measured.endswith("not priced"), line


def test_every_point_once(wall: Wall) -> None:
    assert once(of_kind(wall, "point_")) == Counter(point.ref for point in wall.services.points)
    assert once(of_kind(wall, "circuit")) == Counter(circuit.ref for circuit in wall.services.circuits)


def test_every_run_has_its_conduit_its_cables_and_its_chase_once(wall: Wall) -> None:
    runs = wall.services.runs
    shown = {run.ref for run in runs if run.on_surface > 0}
    assert once(of_kind(wall, "conduit")) == Counter(
        run.ref for run in runs if (run.kind == "conduit" or not run.in_void) and run.length > run.on_surface
    )
    assert once(of_kind(wall, "trunking")) == Counter(shown)
    pictures = [plug for plug in wall.services.plugs if plug.kind == "picture"]
    assert (
        once(of_kind(wall, "cable"))
        == Counter(
            {run.ref: len(run.contents) or 1 for run in runs if run.kind not in ("spare", "conduit")}
            | {plug.ref: 1 for plug in pictures}
        )
    )  # a run with two sorts of cable stands in two lines; what goes through a conduit is bought by the cable map
    slack, ends = wall.limits.value("services.run_slack"), 2 * wall.limits.value("services.end_slack")
    metres = sum(
        count * (run.length * (1 + slack) + ends) / 1000
        for run in runs
        if run.kind != "conduit"
        for _, count in run.contents
    ) + sum(plug.bought / 1000 for plug in pictures)
    assert sum(line.quantity for line in of_kind(wall, "cable_")) == pytest.approx(metres, abs=0.1)
    cut = {run.ref for run in runs if run.outside_void > 0}
    chased = once(of_kind(wall, "chase_"))
    assert set(chased) <= cut
    assert set(chased.values()) <= {1}
    if wall.job.survey.wall.substrate == "brick":
        assert set(chased) == cut
        priced = [line for line in of_kind(wall, "chase_") if line.rate]
        # runs that lie along one line share a chase: joined into one by a program of its own
        from shapely import LineString, unary_union

        lines = [LineString(piece) for run in runs for piece in run.cut]
        assert sum(line.length for line in lines) == pytest.approx(sum(run.in_wall for run in runs), abs=1)
        joined = unary_union(lines).length / 1000
        # what is wider than for one run counts more: half of it where it is cut, all of it where it is filled
        more = sum(
            float(found[1])
            for line in priced
            if (found := re.search(r"([\d.]+) m counted more", line.measured))
        )
        assert sum(line.quantity for line in priced) - more == pytest.approx(joined, abs=0.03)
        filled = of_kind(wall, "make_good")[0].quantity
        assert filled == pytest.approx(joined + 2 * more, abs=0.03)
        widths = sum(LineString(piece).length * run.outside_diameter for run in runs for piece in run.cut)
        assert joined < filled <= widths / min(run.outside_diameter for run in runs if run.cut) / 1000 + 0.02


def test_every_part_is_bought_once(wall: Wall) -> None:
    leaves = Counter(part.id for part in wall.carcass.parts if part.board == "glass")  # bought by its finish
    bought = once(of_kind(wall, "board", "batten"))
    assert bought + leaves == Counter(part.id for part in wall.carcass.parts)
    assert once(of_kind(wall, "finish_")) == Counter(part.id for part in wall.carcass.parts if part.finish)


def test_every_piece_of_hardware_once(wall: Wall) -> None:
    counted: Counter[str] = Counter()
    for item in wall.carcass.hardware:
        counted[item.kind] += item.quantity
    billed: Counter[str] = Counter()
    for line in of_kind(wall, "hardware_"):
        kind = max((k for k in counted if line.ref.startswith(f"hardware_{k}")), key=len)
        billed[kind] += int(line.quantity)
    assert billed == +counted


def test_every_light_and_fixing_once(wall: Wall) -> None:
    assert once(of_kind(wall, "led_strip")) == Counter(run.ref for run in wall.light.runs)
    assert sum(line.quantity for line in of_kind(wall, "led_driver")) == sum(
        run.drivers for run in wall.light.runs if run.driver_watts
    )
    assert once(of_kind(wall, "anchor")) == Counter(check.ref for check in wall.structure.fixings)
    assert sum(line.quantity for line in of_kind(wall, "anchor") if line.rate) == sum(
        check.count for check in wall.structure.fixings
    )


def test_the_programme_makes_good_only_what_the_bill_cuts(wall: Wall) -> None:
    tasks = {task.ref for task in wall.programme.tasks}
    cut = bool([line for line in of_kind(wall, "chase_") if line.rate])
    assert ("make_good" in tasks) == ("dry" in tasks) == ("chase" in tasks) == cut
    assert bool(of_kind(wall, "make_good")) == cut


def test_a_wall_nobody_knows_has_its_chases_and_fixings_without_a_price() -> None:
    job = read_job(demo_jobs()["living"])
    survey = replace(job.survey, wall=replace(job.survey.wall, substrate="unknown"))
    lines = {line.ref: line for line in derive(replace(job, survey=survey)).money.lines}
    assert lines["chase_unknown"].rate == lines["anchor_unknown"].rate == 0
    assert not {"chase_shallow", "chase_deep", "make_good", "anchor"} & set(lines)
