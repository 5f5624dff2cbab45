"""Quantities worked by hand from the hand-made wall."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from wallwright.money import quantities
from wallwright.money.quantities import Measured


def by_key(found: Iterable[Measured]) -> dict[str, Measured]:
    got = list(found)
    assert len({item.key for item in got}) == len(got)
    return {item.key: item for item in got}


def test_boards_are_the_sheets_bought(made: Any) -> None:
    got = by_key(quantities.boards((("ply18", 3, 0.71), ("mdf18", 1, 0.5)), {"mdf18": 5.796}))
    assert got["board_ply18"].quantity == pytest.approx(8.93)  # 3 x 2.44 x 1.22 = 8.9304
    assert got["board_mdf18"].quantity == pytest.approx(5.80)  # one 2.8 x 2.07
    assert got["board_ply18"].how == "3 sheets bought, 71% used"


def test_finishes_on_both_faces_but_panels_on_one(made: Any) -> None:
    got = by_key(quantities.finishes(made.job, made.setout, made.carcass.parts, made.limits))
    assert got["finish_laminate_oak"].quantity == pytest.approx(
        2.65
    )  # 2 parts x 1.8 x 0.35 x 2 faces = 2.52, + 5 %: no cutting plan was handed on
    # a front 0.9 x 0.3 on both faces and a panel 2.0 x 1.0 on one = 2.54, + 5 % = 2.667
    assert got["finish_sprayed_neutral"].quantity == pytest.approx(2.67)
    assert got["wall_finish_paint_warm_white"].quantity == pytest.approx(
        9.68
    )  # 4.0 x 2.7 less 2.0 = 8.8, + 10 %


def test_two_panels_in_one_place_leave_the_same_bare_wall_as_one(made: Any) -> None:
    def bare(*zones: Any) -> float:
        setout = replace(made.setout, zones=zones)
        got = by_key(quantities.finishes(made.job, setout, (), made.limits))
        return got["wall_finish_paint_warm_white"].quantity

    (zone,) = made.setout.zones  # 2.0 x 1.0 of a wall of 4.0 x 2.7
    half = replace(zone, ref="W8", box=replace(zone.box, x=zone.box.x + zone.box.width / 2))
    assert bare(zone, replace(zone, ref="W9")) == bare(zone) == pytest.approx(9.68)
    assert bare(zone, half) == pytest.approx((10.8 - 3.0) * 1.1)  # 1.0 of the second lies beside the first
    off = replace(zone, ref="W7", box=replace(zone.box, x=4000.0))
    assert bare(off) == pytest.approx(10.8 * 1.1)  # nothing of it lies on the wall


def test_a_laminate_panel_is_balanced_on_its_back(made: Any) -> None:
    panel = replace(made.carcass.parts[3], finish="laminate_off_white")
    got = by_key(quantities.finishes(made.job, made.setout, (panel,), made.limits))
    assert got["finish_laminate_off_white"].quantity == pytest.approx(
        4.2
    )  # 2 m² on both faces, + 5 %: no plan


def test_edges_by_their_own_side(made: Any) -> None:
    got = by_key(quantities.edges(made.carcass.parts, made.limits))
    # top: one long 1.8, two short 0.35; bottom: one long 1.8; front: two 0.9, two 0.3 = 6.7 in eight edges, 30 mm over at each of their ends
    assert got["edge_1.0"].quantity == pytest.approx(6.7 + 8 * 2 * 0.03)


def test_hardware_of_one_kind_and_name_is_one_line(made: Any) -> None:
    assert by_key(quantities.hardware(made.carcass))["hardware_runner"].quantity == 3
    longer = replace(made.carcass.hardware[1], name="Drawer runners 450")
    carcass = replace(made.carcass, hardware=(made.carcass.hardware[0], longer))
    got = by_key(quantities.hardware(carcass))
    assert {item.name: item.quantity for item in got.values()} == {
        "Drawer runners 350": 2,
        "Drawer runners 450": 1,
    }
    assert all(item.rates == ("hardware_runner",) for item in got.values())


def test_hours_of_work(made: Any) -> None:
    got = by_key(quantities.labour(made.setout, made.carcass, made.limits))
    assert got["labour_carcass"].quantity == pytest.approx(1.73)  # 1.8 x 0.3 = 0.54 m² at 3.2 h
    assert got["labour_drawer"].quantity == pytest.approx(2.5)  # 2 at 1.25 h
    assert got["labour_panel"].quantity == pytest.approx(2.0)  # 2 m² at 1 h
    assert got["labour_hanging"].quantity == pytest.approx(2.0)  # one hung unit
    assert "labour_door" not in got
    flap = replace(made.carcass.movers[0], kind="flap")
    got = by_key(quantities.labour(made.setout, replace(made.carcass, movers=(flap,)), made.limits))
    assert got["labour_door"].quantity == pytest.approx(0.65)
    assert "labour_drawer" not in got


def test_anchors_are_counted_and_those_of_an_unknown_wall_are_said(made: Any) -> None:
    assert by_key(quantities.hanging("tilt", made.structure))["anchor"].quantity == 6
    none = replace(made.structure.fixings[0], ref="C2", count=0)
    structure = replace(made.structure, fixings=(made.structure.fixings[0], none))
    got = by_key(quantities.hanging("tilt", structure))
    assert (got["anchor"].quantity, got["anchor"].of) == (6, ("C1",))
    assert (got["anchor_unknown"].of, got["anchor_unknown"].rates) == (("C2",), ())


def test_parts_that_no_sheet_gives_are_said(made: Any) -> None:
    got = by_key(quantities.boards(made.sheets, {}, made.carcass.parts, ("C1-B",)))
    assert got["board_ply18"].of == ("C1-T",)
    assert got["board_mdf18"].of == ("C1-F1", "W1-P1")
    assert (got["board"].of, got["board"].rates) == (("C1-B",), ())
    batten = replace(made.carcass.parts[0], id="W1-B1", role="batten", board="batten", finish="")
    assert "board" not in by_key(quantities.boards(made.sheets, {}, (batten,)))
    assert by_key(quantities.panels(made.setout, (batten,), made.limits))["batten"].of == ("W1-B1",)


def test_waste_is_the_users_to_set(made: Any) -> None:
    none = made.limits.overridden({"money.edge_over": 0})
    assert by_key(quantities.edges(made.carcass.parts, none))["edge_1.0"].quantity == pytest.approx(6.7)
