"""Runs that share chases, parting at any crossing of lines: against the least tree there is (networkx, and Dreyfus and Wagner 1971)."""

from __future__ import annotations

import heapq
import random
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from types import SimpleNamespace

import networkx as nx
import pytest
from networkx.algorithms.approximation import steiner_tree

from wallwright.core.shape import Box, Point2, box_around
from wallwright.job.face import wall_face
from wallwright.library import load
from wallwright.services.record import ServicePoint
from wallwright.services.routes import (
    Grid,
    Route,
    Wanted,
    grid,
    price_along,
    priced,
    settled,
    shortest,
    together,
    whole_price,
)
from wallwright.services.runs import Ground, Sort, layer

FACE = Box(0, 0, 4000, 2700)
START = (75.0, 2625.0)


def a_wall(seed: int, ends: int, level: float, upright: float) -> tuple[Grid, list[Point2]]:
    """A wall with four obstacles and so many boxes, at random."""
    dice = random.Random(seed)
    at = [(100.0 * dice.randrange(2, 39), 100.0 * dice.randrange(2, 26)) for _ in range(ends)]
    blocked = [
        Box(30 + 100 * dice.randrange(38), 30 + 100 * dice.randrange(25), 50 + 100 * dice.randrange(5), 50 + 100 * dice.randrange(5))
        for _ in range(4)
    ]  # fmt: skip
    return priced(grid(FACE, [START, *at], (FACE,), blocked), (), level, upright), at


def graph_of(lines: Grid) -> nx.Graph:
    """The grid as a graph: what a step costs, and how long it is."""
    graph = nx.Graph()
    for j, z in enumerate(lines.zs):
        for i, x in enumerate(lines.xs):
            for to, cost in (
                ((lines.xs[i + 1], z), lines.across[j][i]) if i + 1 < len(lines.xs) else ((), 0.0),
                ((x, lines.zs[j + 1]), lines.up[i][j]) if j + 1 < len(lines.zs) else ((), 0.0),
            ):
                if to and cost < float("inf"):
                    graph.add_edge((x, z), to, weight=cost, mm=abs(to[0] - x) + abs(to[1] - z))
    return graph


def least(graph: nx.Graph, start: Point2, ends: list[Point2], price: float) -> float:
    """What the cheapest tree costs where a chase is paid once and every further run in it `price` a millimetre; bends are free.

    Over all sets of ends, the cheapest way to bring their runs together at each crossing (Dreyfus and Wagner 1971).
    """
    at = {(1 << k): {end: 0.0} for k, end in enumerate(ends)}
    for held in range(1, 1 << len(ends)):
        cost = dict(at.get(held, {}))
        part = (held - 1) & held
        while part:
            for node, one in at[part].items():
                both = one + at[held ^ part].get(node, float("inf"))
                cost[node] = min(both, cost.get(node, float("inf")))
            part = (part - 1) & held
        more = held.bit_count() - 1
        heap = [(value, node) for node, value in cost.items()]
        heapq.heapify(heap)
        while heap:
            value, node = heapq.heappop(heap)
            if value > cost[node]:
                continue
            for other, step in graph[node].items():
                further = value + step["weight"] + more * price * step["mm"]
                if further < cost.get(other, float("inf")):
                    cost[other] = further
                    heapq.heappush(heap, (further, other))
        at[held] = cost
    return at[(1 << len(ends)) - 1][start]


def laid(
    lines: Grid, ends: list[Point2], usual: float, price: float, bend: float
) -> tuple[list[Wanted], list[Route]]:
    first = [shortest(lines, START, end, bend) for end in ends]
    assert all(route is not None for route in first)
    return [Wanted(lines, usual, START, end) for end in ends], [route for route in first if route is not None]


def solvable(lines: Grid, ends: list[Point2]) -> bool:
    return all(shortest(lines, START, end, 0.0) is not None for end in ends)


@pytest.mark.parametrize(("level", "upright"), [(1.5, 1.1), (3.0, 3.0), (10.0, 10.0)])
def test_shared_chases_are_near_the_least_there_is(level: float, upright: float) -> None:
    """Never less than the least, and over thirty walls on average within 2 % of it, none more than a tenth over."""
    over: list[float] = []
    for seed in range(30):
        lines, ends = a_wall(seed, 4, level, upright)
        if not solvable(lines, ends):
            continue
        wanted, first = laid(lines, ends, max(level, upright), 1.0, 0.0)
        found = whole_price(wanted, together(wanted, first, 1.0, 0.0), 1.0, 0.0)
        best = least(graph_of(lines), START, ends, 1.0)
        over.append(found / best)
        assert best <= found + 1e-6
        alone = whole_price(wanted, first, 1.0, 0.0)
        assert found <= alone + 1e-6
    assert len(over) > 20
    assert max(over) < 1.10 and sum(over) / len(over) < 1.02


def test_two_runs_part_where_it_is_cheapest() -> None:
    """Two ends, so that one junction is all: with networkx, over every crossing, the way there together and the two ways on."""
    for seed in range(40):
        lines, ends = a_wall(seed, 2, 4.0, 4.0)
        if not solvable(lines, ends):
            continue
        graph = graph_of(lines)
        both = nx.Graph(graph)
        for a, b, step in both.edges(data=True):
            both[a][b]["weight"] = step["weight"] + step["mm"]
        trunk = nx.single_source_dijkstra_path_length(both, START)
        one, two = (nx.single_source_dijkstra_path_length(graph, end) for end in ends)
        best = min(trunk[node] + one[node] + two[node] for node in trunk if node in one and node in two)
        wanted, first = laid(lines, ends, 4.0, 1.0, 0.0)
        found = whole_price(wanted, together(wanted, first, 1.0, 0.0), 1.0, 0.0)
        assert best == pytest.approx(least(graph, START, ends, 1.0))  # the two oracles agree
        assert best - 1e-6 <= found <= 1.08 * best


def test_the_chases_are_no_longer_than_networkx_finds() -> None:
    """Where cutting is dear, the chases alone against networkx's Steiner tree, itself at most twice the least."""
    ours, theirs = 0.0, 0.0
    for seed in range(20):
        lines, ends = a_wall(seed, 4, 50.0, 50.0)
        if not solvable(lines, ends):
            continue
        wanted, first = laid(lines, ends, 50.0, 1.0, 0.0)
        routes = together(wanted, first, 1.0, 0.0)
        cut = {step for route in routes for step in _steps(lines, route)}
        ours += sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in cut)
        theirs += steiner_tree(graph_of(lines), [START, *ends], weight="mm").size(weight="mm")
    assert ours <= 1.02 * theirs


def _steps(lines: Grid, route: Route) -> list[tuple[Point2, Point2]]:
    out: list[tuple[Point2, Point2]] = []
    for (ax, az), (bx, bz) in pairwise(route.path):
        xs = [x for x in lines.xs if min(ax, bx) <= x <= max(ax, bx)]
        zs = [z for z in lines.zs if min(az, bz) <= z <= max(az, bz)]
        nodes = [(x, az) for x in xs] if az == bz else [(ax, z) for z in zs]
        out += list(pairwise(nodes))
    return out


def test_a_run_laid_early_moves_into_the_chase_of_a_later_one() -> None:
    """By hand: A alone goes level first. B must come down at x 1000; beside it A saves its own upright, 2000 of 2100."""
    lines = priced(
        grid(FACE, [(0.0, 2500.0), (1000.0, 500.0), (1100.0, 500.0), (0.0, 500.0)], (FACE,), ()), (), 2.0, 2.0
    )
    start, a, b = (0.0, 2500.0), (1100.0, 500.0), (1000.0, 500.0)
    early = Route(((0.0, 2500.0), (0.0, 500.0), (1100.0, 500.0)), 3100, 1, 0)
    late = Route(((0.0, 2500.0), (1000.0, 2500.0), (1000.0, 500.0)), 3000, 1, 0)
    wanted = [Wanted(lines, 2.0, start, a), Wanted(lines, 2.0, start, b)]
    before = whole_price(wanted, (early, late), 1.0, 0.0)
    assert before == 2 * 3100 + 2 * 3000  # nothing in common
    after = settled(wanted, (early, late), 1.0, 0.0)
    # together down and across 3000 for 2 + 1 a millimetre, then 100 alone
    assert whole_price(wanted, after, 1.0, 0.0) == 3 * 3000 + 2 * 100
    assert price_along(lines, early.path, 200) == 2 * 3100 + 200


@pytest.mark.parametrize("lay", ["chased", "surface"])
def test_on_a_wall_chases_are_shared_and_trunkings_are_not(make: SimpleNamespace, lay: str) -> None:
    """Three signal runs from one corner, the first laid alone over a longer way round: cut in, it joins the others."""
    job = make.job()
    face = wall_face(job.survey)
    limits = load.limits().overridden({"services.price_level": 6, "services.price_upright": 6})
    wall = replace(job.survey.wall, leaf=make.mm(400))
    ground = Ground(face, wall, (), (), (face.box,), limits, lay)
    start = (3925.0, 2625.0)
    at = {"A": (1000.0, 400.0), "B": (1100.0, 400.0), "C": (1200.0, 400.0)}
    points = [
        ServicePoint(ref, "data", x, z, box_around((x, z), 86, 86), 47, "wall", "", (), "", False)
        for ref, (x, z) in at.items()
    ]
    made = layer(ground, points, ((75.0, 2625.0), start), (face.box,), (), make.setout())
    sort = Sort("N", "data", "cable", (6.2, 6.2), 0.0)
    corner = (start[0], 400.0)
    round_it = Route((start, corner, at["A"]), 2225 + 2925, 1, 0.0)
    other = (1100.0, start[1])
    made.lay(sort, ("entry", start), ("A", at["A"]), (round_it, True))
    made.lay(
        sort, ("entry", start), ("B", at["B"]), (Route((start, other, at["B"]), 2825 + 2225, 1, 0.0), True)
    )
    before = [run.path for run in made.runs]
    made.settle("entry")
    after = [run.path for run in made.runs]
    assert (after == before) is (lay == "surface")
    if lay == "chased":
        a, b = (set(_walked(path)) for path in after)
        assert len(a & b) >= 0.9 * len(b)  # in one chase but for the last 100 mm


def _walked(path: Sequence[Point2]) -> list[tuple[int, int]]:
    """The path in places 25 mm apart."""
    out: list[tuple[int, int]] = []
    for (ax, az), (bx, bz) in pairwise(path):
        steps = int((abs(bx - ax) + abs(bz - az)) // 25)
        out += [(round(ax + (bx - ax) * k / steps), round(az + (bz - az) * k / steps)) for k in range(steps)]
    return out
