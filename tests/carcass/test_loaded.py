"""Runners by what storage puts into a drawer, else by its volume."""

import pytest

from wallwright.carcass.fitted import by_load, runner
from wallwright.carcass.loaded import loaded
from wallwright.carcass.record import OnRunners
from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Bay, Unit
from wallwright.job.edits import apply
from wallwright.job.read import read_job

DRAWER = OnRunners("C1.1-D1", "C1", "runner", 400, "soft-close", 6.0, 18.0)


@pytest.mark.parametrize(
    ("kept", "carries", "said"),
    [
        (None, "25 kg", "18 kg full"),
        (19.0, "25 kg", "25 kg with the 19 kg"),
        (19.1, "35 kg", "25 kg with"),
        (60.0, "45 kg", "more than"),
    ],
)
def test_runners_by_its_own_boards_and_what_is_kept(kept, carries, said):
    """6 kg of its own and 19 kg in it is 25 kg: the class of 25 just does (arithmetic)."""
    fit = runner(DRAWER, kept)
    assert carries in fit.name and said in fit.why


@pytest.mark.parametrize(("length", "carries"), [(500, 25), (550, 35), (200, 25)])
def test_a_long_runner_is_not_made_in_the_lightest_class(length, carries):
    assert by_load("runner", 10, length).carries == carries


def drawers(wall):
    unit = Unit(
        "C1", "console", bays=(Bay("drawers", drawers=2), Bay("drawers", drawers=1)), width=Length(1600)
    )
    return wall(unit).carcass


def test_only_the_drawer_that_keeps_things_is_chosen_anew(wall):
    plain = drawers(wall)
    assert [one.ref for one in plain.on_runners] == ["C1.1-D1", "C1.1-D2", "C1.2-D1"]
    heavy = loaded(plain, {"C1.1-D2": 40.0})
    lines = {item.name: item for item in heavy.hardware if item.kind == "runner"}
    (strong,) = [item for name, item in lines.items() if "45 kg" in name]
    assert strong.quantity == 1 and "40 kg that it is to keep" in strong.note
    assert sum(item.quantity for item in lines.values()) == 3
    others = [item for item in heavy.hardware if item.kind != "runner"]
    assert others == [item for item in plain.hardware if item.kind != "runner"]
    why = {item.name: item for item in heavy.whys}
    own = next(one.own for one in plain.on_runners if one.ref == "C1.1-D2")
    assert why["drawer C1.1-D2.load"].value == round(own + 40, 1)
    assert "nothing was told" in why["drawer C1.1-D1.load"].says


def test_nothing_allotted_leaves_the_schedule_as_it_was(wall):
    plain = drawers(wall)
    assert loaded(plain, {}).hardware == plain.hardware


def test_a_whole_wall_s_drawers_carry_what_is_allotted_to_them():
    job = read_job(demo_jobs()["living"])
    job = apply(job, "set_unit_bays", {"ref": "C1", "bays": [{"front": "drawers", "drawers": 1}] * 2})
    wall = derive(job)
    kept = wall.storage.in_drawers
    assert kept and set(kept) <= {one.ref for one in wall.carcass.on_runners}
    assert sum(kept.values()) == pytest.approx(
        sum(wall.storage.mass_on(level) for level in wall.storage.levels if level.drawer)
    )
    said = {why.name: why for why in wall.carcass.whys}
    for one in wall.carcass.on_runners:
        load = one.own + kept[one.ref] if one.ref in kept else one.full
        assert said[f"drawer {one.ref}.load"].value == round(load, 1)
