"""What is bought: every run with its slack, made-up cables once and as the cable map has them, trunking where nothing is cut."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from wallwright.derive import derive
from wallwright.job.demos import DEMOS, demo_jobs
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.services.order import conduit_length, orders_of


def test_the_order_adds_up_every_run_with_its_slack(make: SimpleNamespace) -> None:
    found = make.plan(make.job())
    orders = {order.key: order for order in orders_of(found.runs, found.plugs, load.limits())}
    runs = [run for run in found.runs if run.kind != "conduit"]
    for key in {key for run in runs for key, _ in run.contents}:
        # 10 % over the run and 300 mm at each end, common practice
        want = sum(
            count * (run.length * 1.1 + 600) for run in runs for name, count in run.contents if name == key
        )
        assert sum(length for _, length, _ in orders[key].pieces) == pytest.approx(want)
        assert 0 <= 1000 * orders[key].metres - want < 1000
    conduit = sum(order.metres for key, order in orders.items() if key.startswith("conduit"))
    assert conduit >= sum(run.length for run in found.runs if not run.in_void) / 1000
    assert found.orders == orders_of(found.runs, found.plugs, load.limits())


@pytest.mark.parametrize("name", DEMOS)
def test_made_up_cables_are_bought_as_the_cable_map_says(name: str) -> None:
    wall = derive(read_job(demo_jobs()[name]))
    orders = {order.key: order for order in wall.services.orders}
    for kind in ("picture", "data", "aerial"):
        want = [(plug.ref, plug.bought) for plug in wall.services.plugs if plug.kind == kind]
        assert want and [(ref, bought) for ref, _, bought in orders[f"made_{kind}"].pieces] == want
    assert "hdmi" not in orders and "usb" not in orders and "made_mains" not in orders


@pytest.mark.parametrize("name", DEMOS)
def test_a_conduit_holds_what_the_cable_map_sends_through_it(name: str) -> None:
    wall = derive(read_job(demo_jobs()[name]))
    thick = load.cables()["hdmi"].diameter
    for run in wall.services.runs:
        if run.kind != "conduit":
            continue
        through = sum(run.ref in plug.through for plug in wall.services.plugs)
        assert through and run.contents == (("hdmi", through),)
        assert run.fill == pytest.approx(through * thick**2 / run.bore**2)
        assert run.cable.startswith(f"{through} × HDMI")


def test_where_nothing_is_cut_trunking_is_bought_and_no_conduit(make: SimpleNamespace) -> None:
    job = make.job()
    found = make.plan(replace(job, brief=replace(job.brief, tenure="rent")))
    channels = [order for order in found.orders if order.key.startswith("trunking")]
    assert not [order for order in found.orders if order.key.startswith("conduit")]
    pieces = [piece for order in channels for piece in order.pieces]
    assert {ref for ref, _, _ in pieces} == {run.ref for run in found.runs}
    assert sum(length for _, length, _ in pieces) == pytest.approx(sum(run.length for run in found.runs))


def test_a_run_that_is_cut_in_upright_and_lies_in_trunking_across_brings_both(make: SimpleNamespace) -> None:
    job = make.job()
    found = make.plan(job)
    run = next(run for run in found.runs if run.length > 1000 and not run.in_void)
    part = replace(run, on_surface=400.0, channel=(16.0, 16.0), outside_void=run.length)
    orders = {order.key: order for order in orders_of((part,), (), load.limits())}
    assert orders["trunking_16x16"].pieces == ((run.ref, 400.0, 400.0),)
    assert conduit_length(part) == run.length - 400 == part.in_wall
    assert conduit_length(replace(run, in_void=True, kind="data")) == 0
