from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from wallwright.carcass.record import PanelZone, SetOut, UnitBox
from wallwright.core.shape import Box
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.money.record import Line
from wallwright.programme.plan import plan
from wallwright.programme.record import Programme, Task

UNIT = UnitBox("C1", "console", "centre", Box(0, 300, 1800, 300), 350, True, True, "ply18", "", frozenset())
ZONE = PanelZone("W1", "flat", Box(0, 700, 3500, 2000), "mdf18", "", 18, 30, (), 0, 0, 13, frozenset())


def line(ref: str, quantity: float, unit: str = "nr") -> Line:
    return Line(ref, "", ref, quantity, unit, 1, 1, "")


LINES = (
    line("labour_carcass", 40, "h"),
    line("labour_drawer", 8.5, "h"),
    line("labour_hanging", 100, "h"),
    line("hardware_hinge", 4),
    line("point_twin_socket", 8),
    line("point_data", 4),
    line("chase_shallow", 22, "m"),
    line("chase_deep", 3, "m"),
    line("wall_finish_paint_warm_white", 10, "m²"),
    line("led_strip", 3, "m"),
)


def programme(lines: tuple[Line, ...] = LINES, setout: SetOut | None = None, **limits: float) -> Programme:
    rules = {f"programme.{name}": value for name, value in limits.items()}
    return plan(setout or SetOut((UNIT,), (ZONE,), ()), lines, load.limits().overridden(rules))


def task(found: Programme, ref: str) -> Task:
    return next(task for task in found.tasks if task.ref == ref)


def refs(found: Programme) -> set[str]:
    return {task.ref for task in found.tasks}


def test_durations_come_from_the_quantities() -> None:
    found = programme()
    assert task(found, "workshop").days == 9  # 48.5 h of shop work at 6 h a day = 8.08
    assert task(found, "first_fix").days == 2  # 12 points at 10 a day
    assert task(found, "panels").days == 2  # 7 m² at 6 a day
    assert task(found, "paint").days == 2  # 10 m² in two coats at 12 a day
    assert task(programme(points_per_day=12), "first_fix").days == 1


def test_only_the_works_this_wall_has() -> None:
    bare = programme((), SetOut((), (), ()))
    assert not refs(bare) & {
        "workshop",
        "panels",
        "hang",
        "stone",
        "lighting",
        "chase",
        "first_fix",
        "paint",
        "order_boards",
    }
    assert {"survey", "approve", "order_screen", "screen", "test", "snag"} <= refs(bare)
    full = programme(
        (*LINES, line("finish_stone_veneer_white", 4, "m²"), line("finish_glass_smoked", 1, "m²"))
    )
    assert {"stone", "order_stone", "order_glass", "lighting", "hang", "panels", "chase", "dry"} <= refs(full)
    dry = tuple(one for one in LINES if not one.ref.startswith("chase"))
    assert not {"chase", "make_good", "dry"} & refs(
        programme(dry)
    )  # nothing is made good that the bill does not cut
    assert task(programme(chase_per_day=10), "chase").days == 3  # 22 + 3 m


def test_the_trades_order() -> None:
    found = programme((*LINES, line("finish_stone_veneer_white", 4, "m²")))
    start = {task.ref: task.early_start for task in found.tasks}
    end = {task.ref: task.early_finish for task in found.tasks}
    order = ["survey", "approve", "protect", "chase", "first_fix", "make_good", "dry", "subframe", "stone", "paint", "hang",
             "second_fix", "screen", "test", "snag"]  # fmt: skip
    assert all(start[after] >= end[before] for before, after in pairwise(order))
    assert start["workshop"] >= end["first_fix"]  # boxes checked on the wall before boards are cut
    assert start["stone"] >= end["order_stone"]
    assert start["lighting"] >= end["second_fix"]
    assert found.days == end["snag"]


@pytest.mark.parametrize(
    "kind", ["flat", "fluted", "framed", "moulding", "stone_veneer", "slab", "tile", "mirror", "glass"]
)
def test_the_order_of_works_of_a_panelled_wall(kind: str) -> None:
    """Common practice: first fix, measured and photographed, before anything is closed; what is behind before the panels, panels and
    stone before paint, paint before what hangs on it, plates and screen last. Cutting waits for the boxes as they are found.
    """
    job = apply(read_job(demo_jobs()["living"]), "set_panel_kind", {"ref": "W1", "kind": kind})
    wall = derive(job)
    at = {one.ref: one for one in wall.programme.tasks}
    face = [ref for ref in ("panels", "stone") if ref in at]
    assert face, "no work lays the panels of this wall"
    order = [
        "first_fix",
        "dry_fit",
        "subframe",
        face[0],
        "paint",
        "hang",
        "second_fix",
        "screen",
        "test",
        "snag",
    ]
    for before, after in pairwise([ref for ref in order if ref in at]):
        assert at[after].early_start >= at[before].early_finish, (before, after)
    assert set(order) - set(at) <= {"paint"}
    assert at["workshop"].early_start >= at["dry_fit"].early_finish
    assert at["first_fix"].hold.startswith("H1") and at["subframe"].hold.startswith("H2")
    if {"panels", "stone"} <= set(at):
        assert at["stone"].early_start >= at["panels"].early_finish


def test_the_four_holds_stand_before_what_they_guard() -> None:
    found = programme()
    held = {task.hold[:2]: task.ref for task in found.tasks if task.hold.startswith("H")}
    assert held == {"H1": "first_fix", "H2": "subframe", "H3": "hang", "H4": "test"}


def test_drying_longer_moves_the_end_once_it_is_critical() -> None:
    base = programme()
    slack = task(base, "dry").slack
    assert programme(dry_days=7 + slack).days == base.days
    assert programme(dry_days=7 + slack + 3).days == base.days + 3


def test_every_task_explains_itself() -> None:
    found = programme()
    whys = {why.name: why for why in found.whys}
    assert all(whys[f"programme.{task.ref}.days"].value == task.days for task in found.tasks)
    assert whys["programme.days"].value == found.days
    assert "snag" in found.critical


def test_an_output_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="never ends"):
        programme(points_per_day=0)


def test_a_wet_hold_only_where_plaster_dries() -> None:
    unit = replace(UNIT, ref="C2")
    found = programme(setout=SetOut((UNIT, unit), (), ()))
    assert task(found, "dry").hold == "moisture check passed"
    assert "panels" not in refs(found)
    assert task(found, "hang").after == ("paint", "workshop")  # the subframe is before the paint already


def test_gates_stand_in_their_order_and_release_what_follows() -> None:
    """G2 releases the first fix, G3 the cutting: neither begins before its gate."""
    found = programme()
    gates = {gate.ref: gate for gate in found.gates}
    assert list(gates) == [f"G{i}" for i in range(7)]
    days = [gates[f"G{i}"].day for i in (0, 1, 2, 3, 5, 6)]
    assert days == sorted(days)
    assert task(found, "first_fix").early_start >= gates["G2"].day
    assert task(found, "workshop").early_start >= gates["G3"].day
    assert task(found, "screen").early_start >= gates["G4"].day
    assert gates["G6"].day == found.days
    assert all(gate.day == task(found, gate.task).early_finish for gate in found.gates if gate.task)


def test_the_template_is_held_up_before_anything_is_closed() -> None:
    found = programme()
    fit = task(found, "dry_fit")
    assert fit.early_start >= task(found, "first_fix").early_finish
    assert "template" in fit.hold
    assert (
        min(task(found, ref).early_start for ref in ("make_good", "subframe", "workshop")) >= fit.early_finish
    )
    bare = programme((), SetOut((), (), ()))
    assert task(bare, "dry_fit").after == ("protect",)
