"""The price explained to the part: everything is somebody's, nothing twice, to the smallest coin."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.finding import edit_call
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.options.cost import cost_of_parts, cost_of_things
from wallwright.options.effect import edited


@pytest.mark.parametrize("name", [*demo_jobs()])
def test_parts_and_things_sum_to_the_coin(name: str) -> None:
    wall = derive(read_job(demo_jobs()[name]))
    assert sum(cost_of_parts(wall).values()) == wall.money.direct
    things = cost_of_things(wall)
    assert sum(thing.direct for thing in things) == wall.money.direct
    assert sum(thing.price for thing in things) == wall.money.total
    assert len({thing.ref for thing in things}) == len(things)


def test_every_board_and_light_bears_its_cost(living: Wall) -> None:
    cost = cost_of_parts(living)
    assert all(cost[part.id] > 0 for part in living.carcass.parts)
    assert all(cost[run.ref] > 0 for run in living.light.runs)


def test_a_board_by_its_area(living: Wall) -> None:
    """Two sides of one tower are alike; a tower's back costs more than a console's, by their cut areas."""
    cost, parts = cost_of_parts(living), {part.id: part for part in living.carcass.parts}
    assert abs(cost["T1-L"] - cost["T1-R"]) <= 0.15 * cost["T1-L"]
    cut = {
        opening.part for opening in living.cooling.openings
    }  # what lets air through costs its slot besides
    backs = [part for part in parts.values() if part.role == "back" and part.board == parts["T1-K"].board]
    each = [
        cost[part.id] / (part.cut_length * part.cut_width)
        for part in backs
        if not part.finish and part.id not in cut
    ]
    assert not each or max(each) == pytest.approx(min(each), rel=0.05)


def test_a_thing_taken_away_takes_about_its_cost(living: Wall) -> None:
    things = {thing.ref: thing for thing in cost_of_things(living)}
    without = derive(edited(living.job, [edit_call("remove_light", ref="G1")]))
    saved = living.money.total - without.money.total
    assert saved == pytest.approx(
        things["G1"].price, rel=0.35
    )  # its feed and circuit go too: they are the services'


def test_the_site_bears_what_is_nobodys(living: Wall) -> None:
    site = next(thing for thing in cost_of_things(living) if thing.ref == "site")
    assert site.direct == sum(line.amount for line in living.money.lines if line.trade == "site")


def test_a_wall_with_nothing_on_it_is_still_explained(living: Wall) -> None:
    bare = replace(living.job.design, units=(), panels=(), lights=())
    wall = derive(replace(living.job, design=bare))
    assert sum(thing.direct for thing in cost_of_things(wall)) == wall.money.direct
