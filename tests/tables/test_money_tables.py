"""The bill, the items, the scope matrix, the stages and the split of the price, of the demo walls."""

from __future__ import annotations

from typing import Any

import pytest

from wallwright.core.table import Table
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.library import terms
from wallwright.tables.budget import cost_split, price_range
from wallwright.tables.items import bill, items, sentence
from wallwright.tables.quote import quote
from wallwright.tables.scope import scope
from wallwright.tables.stages import payments, stages

JOB = read_job(demo_jobs()["living"])


@pytest.fixture(scope="module")
def living() -> Wall:
    return derive(JOB)


def column(table: Table, name: str) -> list[Any]:
    return [row[[c.name for c in table.columns].index(name)] for row in table.rows]


def test_items_are_measured_and_sum_to_the_price(living: Wall) -> None:
    found = {item.ref: item for item in items(living)}
    assert sum(item.price for item in found.values()) == living.money.total
    console, box = found["C1"], living.setout.unit("C1").box
    area = round(
        round(box.width / 1000, 2) * round(box.height / 1000, 2), 2
    )  # lengths to 0.01 m, areas to 0.01 m²
    assert f"{box.width:.0f} × {box.height:.0f} × {living.setout.unit('C1').depth:.0f} mm" in console.says
    assert f"front {area:.2f} m²" in console.says
    assert console.heading == "Wall-hung console"
    said = sentence(console)
    assert "incl." in said
    assert "excl. electrical work" in said
    assert found["W1"].unit == "m²"
    zone = living.setout.zones[0].box
    assert found["W1"].quantity == pytest.approx(zone.area / 1e6, abs=0.02)


def test_two_towers_of_one_size_and_two_prices_say_what_differs(living: Wall) -> None:
    """The router's tower has slots and a grille, the other a shelf more: without them the client asks why one is dearer."""
    found = {item.ref: item for item in items(living)}
    one, two = found["T1"], found["T2"]
    assert one.price != two.price
    assert "3 shelves" in one.says and "4 shelves" in two.says
    assert "air grille" in one.includes and "2 nr air slot" in one.includes
    assert "air " not in two.includes
    for ref in ("T1", "T2"):
        own = [part for part in living.carcass.parts if part.unit == ref and part.role == "shelf"]
        assert f"{len(own)} shelves" in found[ref].says


def test_rates_are_hidden_where_the_terms_say_so() -> None:
    wall = derive(apply(JOB, "set_terms", {"rates_shown": False}))
    assert not {"Rate", "Supply", "Fixing"} & {c.name for c in quote(wall).columns}
    amounts = [cell for cell in column(quote(wall), "Amount") if cell is not None]
    assert amounts == [wall.money.major(wall.money.total)]
    assert [cell for cell in column(bill(wall), "Price") if cell is not None] == amounts
    assert cost_split(wall).rows == price_range(wall).rows == ()


def test_the_bill_in_feet_keeps_its_amounts(living: Wall) -> None:
    feet = quote(derive(apply(JOB, "set_terms", {"measure": "feet"})))
    metric = quote(living)
    assert column(feet, "Amount") == column(metric, "Amount")
    assert not {"m", "m²", "m³"} & set(column(feet, "Unit"))
    for quantity, rate, amount, unit in zip(
        *(column(feet, name) for name in ("Quantity", "Rate", "Amount", "Unit")), strict=True
    ):
        if unit in ("sq ft", "rft", "cu ft"):
            assert quantity * rate == pytest.approx(amount, abs=0.006 * rate + 0.006)


def test_supply_and_fixing_sum_in_every_line(living: Wall) -> None:
    for supply, fixing, amount in zip(
        *(column(quote(living), name) for name in ("Supply", "Fixing", "Amount")), strict=True
    ):
        if supply is not None:
            assert supply + fixing == pytest.approx(amount, abs=1e-6)


def test_demo_rates_are_said_to_be_invented(living: Wall) -> None:
    assert any("invented" in note and f"{len(living.money.lines)} of" in note for note in quote(living).notes)
    own = JOB
    for line in living.money.lines:
        own = apply(own, "set_rate", {"key": line.ref, "amount": 1}) if line.ref in _book() else own
    left = {line.ref for line in derive(own).money.invented}
    assert left < {line.ref for line in living.money.lines}
    assert not left & set(own.rates)


def _book() -> set[str]:
    from wallwright.library import load

    return set(load.rates())


def test_every_line_of_the_bill_is_somebodys(living: Wall) -> None:
    assert "?" not in column(scope(living), "Supplies")
    starts = tuple(start for row in terms.scope().values() for start in row.lines)
    assert all(line.ref.startswith(starts) for line in living.money.lines)
    assert {"Screen", "Permits, structural works, other rooms"} <= set(column(scope(living), "Thing"))
    assert "Stone, tiles and slabs" not in column(scope(living), "Thing")  # there is none on this wall


def test_scope_names_only_parties_there_are() -> None:
    for row in terms.scope().values():
        assert {row.supply, row.fix, row.connect} <= set(terms.PARTIES)


def test_the_scope_follows_the_terms() -> None:
    table = scope(derive(apply(JOB, "set_scope", {"thing": "tv_bracket", "supply": "client"})))
    row = next(row for row in table.rows if row[0] == "Screen bracket")
    assert (row[1], row[2], row[4]) == ("client", "screen fitter", "fixing only")


@pytest.mark.parametrize("shares", [(33.33, 33.33, 33.34), (12.5, 87.5), (100,), (0.01, 99.99)])
def test_stages_make_the_price_to_the_coin(shares: tuple[float, ...]) -> None:
    job = apply(
        JOB, "set_stages", {"stages": [{"name": f"S{i}", "share": share} for i, share in enumerate(shares)]}
    )
    wall = derive(job)
    assert sum(each.amount for each in payments(wall)) == wall.money.total
    for each, share in zip(payments(wall), shares, strict=True):
        assert each.amount == pytest.approx(wall.money.total * share / 100, abs=1)


@pytest.mark.parametrize(
    ("shares", "says"),
    [((33.33, 33.33, 33.33), "99.99 %, not 100.00 %: 0.01 % missing"), ((60, 60), "20.00 % too much"), ((0, 100), "more than 0"),
     ((33.333, 66.667), "at most two decimals")],
)  # fmt: skip
def test_stages_that_do_not_make_the_whole_are_refused(shares: tuple[float, ...], says: str) -> None:
    with pytest.raises(JobError, match=says):
        apply(
            JOB,
            "set_stages",
            {"stages": [{"name": f"S{i}", "share": share} for i, share in enumerate(shares)]},
        )


def test_the_usual_stages_fall_due_in_the_order_of_the_works(living: Wall) -> None:
    days = [each.day for each in payments(living)]
    assert days == sorted(days)
    assert days[-1] == living.programme.days
    assert column(stages(living), "Paid by then")[-1] == living.money.major(living.money.total)


def test_the_split_sums_twice(living: Wall) -> None:
    table, money = cost_split(living), living.money
    things = [row for row in table.rows if row[0] not in ("trade", "wall") or row[1] == "Wall face"]
    trades = [row for row in table.rows if row[0] == "trade"]
    for rows in (things, trades):
        assert sum(round(float(row[3] or 0) * 100) for row in rows) == money.total
        assert sum(round(float(row[2] or 0) * 100) for row in rows) == money.direct


def test_the_range_is_in_order(living: Wall) -> None:
    base, low, likely, high, *_ = column(price_range(living), "Amount")
    assert base < low < likely < high
