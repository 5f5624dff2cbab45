from __future__ import annotations

from types import SimpleNamespace

import pytest

from wallwright.library import load
from wallwright.services.order import MADE_UP, bought, orders_of


def test_a_made_up_cable_comes_in_the_next_length_there_is() -> None:
    assert bought("hdmi", 2100) == 3000 and bought("hdmi", 3000) == 3000
    assert bought("hdmi", 99_000) == MADE_UP[-1]
    assert bought("twin_2_5", 2100) == 2100


def test_the_order_adds_up_every_run_with_its_slack(make: SimpleNamespace) -> None:
    found = make.plan(make.job())
    orders = {order.key: order for order in orders_of(found.runs, load.limits())}
    for key in {key for run in found.runs for key, _ in run.contents}:
        # 10 % over the run and 300 mm at each end, common practice
        want = sum(
            count * (run.length * 1.1 + 600)
            for run in found.runs
            for name, count in run.contents
            if name == key
        )
        assert sum(length for _, length, _ in orders[key].pieces) == pytest.approx(want)
        assert 0 <= 1000 * orders[key].metres - want < 1000
    assert all(made in MADE_UP and made >= length for _, length, made in orders["hdmi"].pieces)
    conduit = sum(order.metres for key, order in orders.items() if key.startswith("conduit"))
    assert conduit >= sum(run.length for run in found.runs if not run.in_void) / 1000
    assert found.orders == orders_of(found.runs, load.limits())
