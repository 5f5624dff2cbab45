"""The critical path method: against networkx's longest path, by property, and on small cases by hand."""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.programme.network import Activity, in_order, schedule, three_point


@st.composite
def networks(draw: st.DrawFn) -> list[Activity]:
    count = draw(st.integers(1, 12))
    made: list[Activity] = []
    for i in range(count):
        after = draw(st.sets(st.integers(0, i - 1), max_size=3)) if i else set()
        made.append(Activity(f"a{i}", draw(st.integers(0, 9)), tuple(f"a{j}" for j in sorted(after))))
    return draw(st.permutations(made))


@given(networks())
def test_the_length_is_the_longest_path(network: list[Activity]) -> None:
    graph = nx.DiGraph()
    for item in network:
        graph.add_edge(f"{item.ref}<", f"{item.ref}>", weight=item.days)
        graph.add_edges_from((f"{ref}>", f"{item.ref}<", {"weight": 0}) for ref in item.after)
    assert schedule(network).days == nx.dag_longest_path_length(graph, weight="weight")


@given(networks())
def test_times_hold_together(network: list[Activity]) -> None:
    result = schedule(network)
    for item in network:
        time = result.times[item.ref]
        assert time.early_finish - time.early_start == time.late_finish - time.late_start == item.days
        assert time.slack >= 0
        assert time.late_finish <= result.days
        for ref in item.after:
            assert time.early_start >= result.times[ref].early_finish
            assert time.late_start >= result.times[ref].late_finish
    assert all(result.times[ref].slack == 0 for ref in result.critical)
    assert max(result.times[ref].early_finish for ref in result.critical) == result.days


@given(networks(), st.integers(0, 11), st.integers(1, 20))
def test_a_slip_moves_the_end_by_what_exceeds_its_slack(
    network: list[Activity], which: int, slip: int
) -> None:
    late = network[which % len(network)]
    before = schedule(network)
    longer = [Activity(a.ref, a.days + slip, a.after) if a is late else a for a in network]
    assert schedule(longer).days == before.days + max(0, slip - before.times[late.ref].slack)


def test_order_keeps_what_is_given_where_it_may() -> None:
    order = in_order([Activity("b", 1, ("a",)), Activity("a", 1), Activity("c", 1)])
    assert [item.ref for item in order] == ["a", "c", "b"]


@pytest.mark.parametrize(
    ("network", "says"),
    [
        ([Activity("a", 1, ("b",)), Activity("b", 1, ("a",)), Activity("c", 1)], "a, b wait"),
        ([Activity("a", 1, ("z",))], "z, which is not there"),
        ([Activity("a", 1), Activity("a", 2)], "'a' is there twice"),
        ([Activity("a", -1)], "-1 days"),
    ],
)
def test_a_network_that_cannot_be_worked(network: list[Activity], says: str) -> None:
    with pytest.raises(ValueError, match=says.replace("a, b wait", "wait for each other: a, b")):
        schedule(network)


def test_nothing_takes_no_time() -> None:
    assert schedule([]).days == 0


def test_three_point_estimate() -> None:
    # (3 + 4 x 5 + 13) / 6 = 6; (10 / 6)² = 2.7778 (by hand)
    assert three_point(3, 5, 13) == (6.0, pytest.approx(2.7778, abs=1e-4))
