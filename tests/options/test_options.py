"""Three sets of finishes on one geometry, and the walls proposed for one brief as options against it."""

from __future__ import annotations

import pytest

from wallwright.core.finding import edit_call
from wallwright.derive import Wall, derive
from wallwright.library import load, terms
from wallwright.options.effect import edited
from wallwright.options.finish_sets import Option, finish_options, same_geometry
from wallwright.options.schemes import scheme_options
from wallwright.rules.check import MUST


@pytest.fixture(scope="module")
def living_finishes(living: Wall) -> tuple[Option, ...]:
    return finish_options(living)


@pytest.fixture(scope="module")
def bedroom_finishes(bedroom: Wall) -> tuple[Option, ...]:
    return finish_options(bedroom)


@pytest.fixture(scope="module")
def living_schemes(living: Wall) -> tuple[Option, ...]:
    return scheme_options(living.job)


@pytest.fixture(scope="module")
def bedroom_schemes(bedroom: Wall) -> tuple[Option, ...]:
    return scheme_options(bedroom.job)


@pytest.mark.parametrize("name", ["living", "bedroom"])
def test_one_geometry_three_prices(name: str, request: pytest.FixtureRequest) -> None:
    wall: Wall = request.getfixturevalue(name)
    found: tuple[Option, ...] = request.getfixturevalue(f"{name}_finishes")
    assert [option.key for option in found] == ["saving", "balanced", "rich"]
    assert found[0].price < found[1].price < found[2].price
    for option in found:
        assert option.sound
        assert same_geometry(wall, option.wall)
        assert [unit.box for unit in option.wall.setout.units] == [unit.box for unit in wall.setout.units]
        assert {part.id for part in option.wall.carcass.parts} == {part.id for part in wall.carcass.parts}
        assert derive(edited(wall.job, option.edits)).money.total == option.price


def test_only_finishes_and_boards_are_edited(living_finishes: tuple[Option, ...]) -> None:
    allowed = {"set_finish", "set_panel_finish", "set_unit_finish", "set_unit_board"}
    for option in living_finishes:
        assert {call.edit for call in option.edits} <= allowed


def test_the_geometry_is_told_apart(living: Wall) -> None:
    wider = derive(edited(living.job, [edit_call("resize_unit", ref="C1", width=1800)]))
    moved = derive(edited(living.job, [edit_call("set_bay_front", ref="C1", bay=1, front="shutter")]))
    assert same_geometry(living, living)
    assert not same_geometry(living, wider)
    assert not same_geometry(living, moved)


def test_every_finish_of_a_set_is_in_the_library() -> None:
    for row in terms.finish_sets().values():
        assert set(row.wall + row.panel + row.fronts) <= set(load.finishes())
        assert set(row.carcass_board) <= set(load.boards())


@pytest.mark.parametrize("name", ["living", "bedroom"])
def test_three_schemes_each_sound(name: str, request: pytest.FixtureRequest) -> None:
    wall: Wall = request.getfixturevalue(name)
    found: tuple[Option, ...] = request.getfixturevalue(f"{name}_schemes")
    assert len({option.key.rpartition("_")[0] for option in found}) == 3
    for option in found:
        assert option.sound, [item.says for item in option.findings if item.severity in MUST]
        made = edited(wall.job, option.edits)
        assert made == option.wall.job
        assert derive(made, searched=True).money.total == option.price
        assert option.gain
        assert option.give_up
    assert [option.price for option in found] == sorted(option.price for option in found)


def test_a_set_says_what_it_is_of(living_finishes: tuple[Option, ...]) -> None:
    """Each board that carcasses and panels are of is named, and no text of the library names another: boards are the job's."""
    boards = load.boards()
    for option in living_finishes:
        used = {unit.board for unit in option.wall.setout.units if not unit.board_only}
        used |= {zone.board for zone in option.wall.setout.zones if zone.boarded}
        for key in used:
            assert boards[key].name in option.says
    assert len({option.says.split("carcasses of ")[1].split(";")[0] for option in living_finishes}) > 1
    words = ("ply", "mdf", "particle", "throughout")
    for row in terms.finish_sets().values():
        assert not [word for word in words if word in f"{row.gain} {row.give_up}".casefold()]


def test_options_are_priced_as_they_would_be_issued(
    living_finishes: tuple[Option, ...], living_schemes: tuple[Option, ...]
) -> None:
    for option in (*living_finishes, *living_schemes):
        assert option.wall.cuts.searched
