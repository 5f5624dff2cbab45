"""Trees of runs, trunks that share a chase, trunking, false ceilings, and where cables come in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from types import SimpleNamespace

import networkx as nx
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from wallwright.core.shape import Box, Point2, box_around
from wallwright.job.design import Design, Point, Wiring
from wallwright.job.face import wall_face
from wallwright.job.survey import Entry, Obstacle
from wallwright.library import load
from wallwright.services import chase
from wallwright.services.record import ServicePoint
from wallwright.services.routes import grid, segments, shared, shortest
from wallwright.services.runs import (
    Ground,
    Sort,
    comes_in,
    in_trunking,
    lay_of,
    layer,
    reason_for_trunking,
)
from wallwright.services.signals import picture_link
from wallwright.services.spare import spare_sizes
from wallwright.services.tree import lay_tree, reached

LIMITS = load.limits()
MAINS = Sort("M", "mains", "cable", (9.2,), 0.0)


def a_point(ref: str, x: float, z: float) -> ServicePoint:
    box = box_around((x, z), 86, 86)
    return ServicePoint(ref, "socket", x, z, box, 35, "wall", "Q1", (), "", False)


def tree_of(make: SimpleNamespace, points: Sequence[ServicePoint], blocked: Sequence[Box], **changes: object):
    """A tree laid on a bare wall, mains anywhere. No leg follows another's chase unless it is as short."""
    job = make.job()
    face = wall_face(job.survey)
    apart = LIMITS.overridden({"services.price_shared": LIMITS.value("services.price_level")})
    ground = Ground(face, job.survey.wall, (), (), (face.box,), apart, **changes)  # type: ignore[arg-type]
    start = (75.0, 2625.0)
    lay = layer(ground, points, (start, (3925.0, 2625.0)), (face.box,), blocked, make.setout())
    lay_tree(lay, MAINS, ("supply", start), points)
    return lay, reached(lay.runs, LIMITS)


def test_a_leg_round_an_obstacle_is_tried_from_every_other_place(make: SimpleNamespace) -> None:
    """B lies 300 from A as the crow flies, behind a wall from floor to near the ceiling, 3400 to go round; the supply is 2850 off."""
    points = [a_point("A", 1000, 1000), a_point("B", 1300, 1000), a_point("C", 2200, 1000)]
    fin = Box(1120, 0, 60, 2550)
    lay, _ = tree_of(make, points, (fin,), lay="surface")
    legs = {run.end: run.start for run in lay.runs}
    assert legs == {"A": "supply", "B": "supply", "C": "B"}
    assert [run.length for run in lay.runs] == [2550, 2850, 900]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(st.integers(2, 38).map(lambda n: 100.0 * n), st.integers(2, 24).map(lambda n: 100.0 * n)),
        min_size=2, max_size=5, unique=True,
    )
)  # fmt: skip
def test_a_tree_is_as_short_as_the_least_spanning_tree(make: SimpleNamespace, at: list[Point2]) -> None:
    """On a bare wall: networkx's least spanning tree over the distances up, down and across."""
    points = [a_point(f"P{n}", x, z) for n, (x, z) in enumerate(at)]
    lay, _ = tree_of(make, points, (), lay="surface")
    graph = nx.Graph()
    ends = [(75.0, 2625.0), *at]
    for i, a in enumerate(ends):
        for j, b in enumerate(ends[:i]):
            graph.add_edge(i, j, weight=abs(a[0] - b[0]) + abs(a[1] - b[1]))
    least = nx.minimum_spanning_tree(graph).size(weight="weight")
    assert sum(run.length for run in lay.runs) == pytest.approx(least)


def test_a_second_run_follows_the_chase_that_is_cut() -> None:
    """Two ways as long: the one along which a chase is cut already is taken, and never one that is to be kept off."""
    face = Box(0, 0, 2000, 2000)
    lines = grid(face, [(0, 0), (1000, 1000)], (face,), ())
    dear = replace(
        lines,
        across=tuple(tuple(step * 1.5 for step in row) for row in lines.across),
        up=tuple(tuple(step * 1.1 for step in row) for row in lines.up),
    )
    for corner in ((0.0, 1000.0), (1000.0, 0.0)):
        cut = segments(((0.0, 0.0), corner, (1000.0, 1000.0)))
        route = shortest(shared(dear, cut, 1.0, 1.5), (0, 0), (1000, 1000), 200)
        assert route is not None and route.path[1] == corner
        assert route.price == pytest.approx(2000 + 200)
    shut = replace(dear, up=tuple(tuple(step * 20 for step in row) for row in lines.up))
    kept = shared(shut, segments(((0.0, 0.0), (0.0, 1000.0))), 1.0, 1.5)
    assert kept.up == shut.up


def test_runs_of_one_kind_share_their_chase(make: SimpleNamespace) -> None:
    """Data and aerial from the same corner: what is cut together is shorter than what they are long."""
    found = make.plan(make.job())
    lines = [run for run in found.runs if run.start == "entry"]
    assert len(lines) >= 2
    pieces = {piece for run in lines for piece in _unit_steps(run.path)}
    assert len(pieces) < 0.75 * sum(len(list(_unit_steps(run.path))) for run in lines)


def _unit_steps(path: Sequence[Point2]):
    """The path in pieces of 10 mm, to count what lies on one another."""
    for (ax, az), (bx, bz) in pairwise(path):
        if az == bz:
            yield from (
                (round(x / 10), round(az), "level") for x in range(int(min(ax, bx)), int(max(ax, bx)), 10)
            )
        else:
            yield from (
                (round(z / 10), round(ax), "up") for z in range(int(min(az, bz)), int(max(az, bz)), 10)
            )


# --- trunking -------------------------------------------------------------------------------------------------------


def walled(make: SimpleNamespace, leaf: float, **wiring: str):
    job = make.job()
    job = replace(job, design=replace(job.design, wiring=Wiring(**wiring)))  # type: ignore[arg-type]
    return replace(job, survey=replace(job.survey, wall=replace(job.survey.wall, leaf=make.mm(leaf))))


def test_a_rented_home_and_concrete_are_not_cut(make: SimpleNamespace) -> None:
    job = make.job()
    assert lay_of(job, LIMITS) == "chased"
    assert lay_of(replace(job, brief=replace(job.brief, tenure="rent")), LIMITS) == "surface"
    concrete = replace(job, survey=replace(job.survey, wall=replace(job.survey.wall, substrate="concrete")))
    assert lay_of(concrete, LIMITS) == "surface"
    assert lay_of(walled(make, 115, lay="mixed"), LIMITS) == "mixed"
    assert lay_of(walled(make, 115), LIMITS) == "mixed"  # a sixth of it is 19 mm, a 16 mm conduit needs 28
    assert lay_of(walled(make, 115, lay="chased"), LIMITS) == "chased"
    rented = make.plan(replace(job, brief=replace(job.brief, tenure="rent")))
    assert {run.lies for run in rented.runs} == {"surface"} and rented.lay == "surface"
    assert all(run.on_surface == pytest.approx(run.outside_void) for run in rented.runs)


@pytest.mark.parametrize("leaf", [100, 140, 170, 185, 215, 330])
def test_what_nobody_chose_to_cut_is_not_cut_deeper_than_the_leaf_bears(
    make: SimpleNamespace, leaf: float
) -> None:
    laid = make.plan(walled(make, leaf))
    for run in laid.runs:
        for (ax, az), (bx, bz) in run.cut:
            most = leaf / 6 if az == bz else leaf / 3
            assert run.outside_diameter + 12 <= most, (run.ref, ax, az, bx, bz)
        length = sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in run.cut)
        assert length == pytest.approx(run.in_wall)
    assert any(run.cut for run in laid.runs)
    if (
        leaf < 192
    ):  # some of it must lie on the wall; where somebody chose to cut, it is cut all the same and told
        assert laid.lay == "mixed" and any(run.on_surface > 0 for run in laid.runs)
        asked = make.plan(walled(make, leaf, lay="chased"))
        assert asked.lay == "chased" and any(
            run.outside_diameter + 12 > leaf / 6 for run in asked.runs for a, b in run.cut if a[1] == b[1]
        )


def test_why_it_is_trunking(make: SimpleNamespace) -> None:
    job = make.job()
    concrete = replace(job, survey=replace(job.survey, wall=replace(job.survey.wall, substrate="concrete")))
    assert reason_for_trunking(concrete) == "concrete"
    assert reason_for_trunking(replace(job, brief=replace(job.brief, tenure="rent"))) == "rented"
    assert reason_for_trunking(walled(make, 115, lay="mixed")) == "leaf"
    assert reason_for_trunking(walled(make, 115)) == "leaf"  # the empty conduit alone
    assert reason_for_trunking(walled(make, 230, lay="surface")) == "chosen"


def test_what_lies_in_trunking_is_not_to_be_laid_deep(make: SimpleNamespace) -> None:
    """The lid shows where the cable is; 50 mm of depth or steel is asked for what is cut in and only hidden boxes tell of."""
    cut = make.plan(make.job())
    hidden = {run.ref for run in cut.runs if run.protect}
    assert hidden
    job = make.job()
    rented = make.plan(replace(job, brief=replace(job.brief, tenure="rent")))
    assert not [run.ref for run in rented.runs if run.protect]
    mixed = make.plan(walled(make, 115, lay="mixed"))
    for run in mixed.runs:
        if run.protect:
            assert run.in_wall > 0
    assert any(
        run.protect and run.on_surface > 0 for run in mixed.runs
    )  # the upright leg is cut in, the level one is not
    assert all(run.channel != (0, 0) and run.channel[1] >= 16 for run in rented.runs)
    assert all(run.channel == (0, 0) for run in cut.runs if run.kind != "spare")


def test_half_a_brick_takes_upright_chases_and_trunking_across(make: SimpleNamespace) -> None:
    """115 / 6 = 19.2 for a 20 mm conduit and 12 mm of cover, level; 115 / 3 = 38.3 upright (guidance on Approved Document A)."""
    found = make.plan(walled(make, 115, lay="mixed"))
    narrow = [run for run in found.runs if run.outside_diameter == 20]
    assert any(run.on_surface > 0 for run in narrow)
    for run in narrow:
        level = [piece for piece in chase.outside(run.path, ()) if piece[0][1] == piece[1][1]]
        assert run.on_surface == pytest.approx(sum(abs(a[0] - b[0]) for a, b in level))
        assert all(a[1] == b[1] for a, b in run.trunking)
    trunk = next(run for run in found.runs if run.kind == "conduit")
    assert trunk.lies == "surface"  # 40 + 12 = 52: no chase in half a brick takes it, up or across
    ground = Ground(wall_face(make.job().survey), walled(make, 115).survey.wall, (), (), (), LIMITS, "mixed")
    both = (((0.0, 0.0), (0.0, 500.0)), ((0.0, 500.0), (900.0, 500.0)))
    assert in_trunking(both, ground, 20) == both[1:] and in_trunking(both, ground, 40) == both
    assert in_trunking(both, replace(ground, lay="chased"), 40) == ()


def test_a_false_ceiling_takes_level_runs_so_that_half_a_brick_is_cut_upright_only(
    make: SimpleNamespace,
) -> None:
    """With room over the ceiling no mains runs level in a half-brick wall where it can come down from above."""
    job = make.job(
        devices=(), lights=(), design=Design(points=(Point("P9", "socket", make.mm(2500), make.mm(300)),))
    )
    job = replace(job, survey=replace(job.survey, supply=Entry("left")))
    half = replace(job.survey.wall, leaf=make.mm(115))
    job = replace(
        job, survey=replace(job.survey, wall=half), design=replace(job.design, wiring=Wiring("chased"))
    )
    below = make.plan(job)
    above = make.plan(replace(job, survey=replace(job.survey, ceiling="void")))

    def level(run) -> float:
        return sum(abs(a[0] - b[0]) for a, b in pairwise(run.path) if a[1] == b[1] < 2700)

    def to(services, ref: str):
        return next(run for run in services.runs if run.kind == "mains" and ref in (run.start, run.end))

    assert level(to(below, "P9")) > 300
    run = to(above, "P9")
    assert run.over_ceiling > 300 and level(run) < level(to(below, "P9"))


# --- where cables come in -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("entry", "place"),
    [
        (None, (75, 2625)),
        (Entry("left"), (75, 2625)),
        (Entry("right"), (3925, 2625)),
        (Entry("ceiling"), (75, 2700)),
        (Entry("floor"), (75, 0)),
    ],
)
def test_cables_come_in_as_surveyed(make: SimpleNamespace, entry: Entry | None, place: Point2) -> None:
    face = wall_face(make.job().survey)
    assert comes_in(entry, (75.0, 2625.0), (3925.0, 2625.0), face, LIMITS) == place


def test_cables_come_through_the_wall_where_it_was_measured(make: SimpleNamespace) -> None:
    face = wall_face(make.job().survey)
    through = Entry("wall", make.mm(1200), make.mm(400))
    assert comes_in(through, (75.0, 2625.0), (3925.0, 2625.0), face, LIMITS) == (1200, 400)
    beyond = Entry("wall", make.mm(9000), make.mm(9000))
    assert comes_in(beyond, (75.0, 2625.0), (3925.0, 2625.0), face, LIMITS) == (4000, 2700)
    job = make.job()
    found = make.plan(replace(job, survey=replace(job.survey, supply=Entry("right"), lines_in=through)))
    assert found.assumed == () and found.lines_in == (1200, 400) and found.supply[0] == 3925
    assert {run.path[0] for run in found.runs if run.start == "entry"} == {(1200, 400)}
    assert make.plan(job).assumed == ("supply", "lines_in")
    why = next(why for why in make.plan(job).whys if why.name == "services.supply_x")
    assert why.source == "assumed" and "assumed" in why.says


def test_the_lead_of_a_strip_is_as_thick_as_its_drop_asks(make: SimpleNamespace) -> None:
    found = make.plan(make.job())
    strips = [run for run in found.runs if run.kind == "elv"]
    assert strips
    for run in strips:
        assert 0 < run.drop_percent <= 3  # of the strip's volts, common practice
        ((key, _),) = run.contents
        assert load.cables()[key].size >= 1.0


@pytest.mark.parametrize(
    ("lines", "cable", "longest"),
    [(1080, "passive", 15_000), (2160, "passive", 5000), (4320, "passive", 5000), (2160, "optical", 30_000)],
)  # an equipment maker's table; about 5 m for a passive 48 Gb/s cable, no length in the specification
def test_how_far_a_picture_cable_goes(lines: int, cable: str, longest: float) -> None:
    assert picture_link(lines, cable, LIMITS)[0] == longest


def test_an_empty_conduit_is_left_for_what_is_to_come(make: SimpleNamespace) -> None:
    found = make.plan(walled(make, 115))
    (spare,) = [run for run in found.runs if run.kind == "spare"]
    assert spare.start == "entry" and spare.path[0] == found.lines_in
    assert spare.outside_diameter == 25 and spare.fill == 0 and spare.contents == ()
    assert "trunking" in _why_spare(found) and spare.on_surface > 0  # level in half a brick: 37 > 19.2
    none = make.plan(make.job(), limits=LIMITS.overridden({"services.spare_conduits": 0}))
    assert not [run for run in none.runs if run.kind == "spare"]


def _why_spare(services) -> str:
    (why,) = [why for why in services.whys if why.name.endswith(".conduit")]
    return why.says


@pytest.mark.parametrize(
    ("leaf", "size", "on_wall"),
    [
        (100, 20, True),  # upright 33.3 takes 20 + 12 and not 25 + 12; level 16.7 takes neither
        (140, 25, True),  # 46.7 and 23.3
        (200, 20, False),  # level 33.3: 32 goes in, 37 does not
        (215, 20, False),  # 35.8
        (221, 20, False),  # 36.8
        (300, 25, False),  # 50
    ],
)  # guidance on Approved Document A (England): a third of the leaf upright, a sixth level; 12 mm of cover, common practice
def test_the_empty_conduit_is_as_wide_as_the_leaf_bears(
    make: SimpleNamespace, leaf: float, size: float, on_wall: bool
) -> None:
    found = make.plan(walled(make, leaf))
    (spare,) = [run for run in found.runs if run.kind == "spare"]
    assert spare.outside_diameter == size
    assert (spare.on_surface > 0) is on_wall and (spare.channel != (0, 0)) is on_wall
    cut = chase.masonry_of(walled(make, leaf).survey.wall, LIMITS)
    assert cut is not None
    pieces = [piece for piece in chase.outside(spare.path, ()) if piece not in spare.trunking]
    assert all(cut.may_cut(size, level=a[1] == b[1]) for a, b in pieces)
    says = _why_spare(found)
    assert f"{leaf} mm leaf" in says and ("trunking" in says) is on_wall
    assert ("a 25 mm one needs 37 mm" in says) is (leaf in (200, 215, 221))


def test_the_empty_conduit_in_a_void_needs_no_chase(make: SimpleNamespace) -> None:
    """All of it behind a panel with a deep void: as wide as wanted, though the leaf bears no chase for it."""
    job = walled(make, 100)
    job = replace(job, survey=replace(job.survey, lines_in=Entry("ceiling", make.mm(2000), make.mm(2500))))
    (spare,) = [run for run in make.plan(job, setout=make.setout(60)).runs if run.kind == "spare"]
    assert spare.in_void and spare.outside_diameter == 25 and spare.on_surface == 0


def test_the_empty_conduits_sizes_are_as_sold() -> None:
    assert spare_sizes(LIMITS) == [25, 20]
    assert spare_sizes(LIMITS.overridden({"services.spare_size": 32})) == [32, 25, 20]
    assert spare_sizes(LIMITS.overridden({"services.spare_size_least": 25})) == [25]


def test_six_runs_round_twenty_obstacles_find_their_way(make: SimpleNamespace) -> None:
    obstacles = tuple(
        Obstacle(
            f"N{n}",
            "niche",
            make.mm(250 + 640 * (n % 6)),
            make.mm(250 + 560 * (n // 6)),
            make.mm(120),
            make.mm(120),
        )
        for n in range(20)
    )
    found = make.plan(make.job(obstacles=obstacles))
    assert all(run.legal for run in found.runs if run.kind not in ("mains", "elv")) and len(found.runs) >= 6
