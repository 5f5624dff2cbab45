"""What is proposed for six invented briefs, with expectations worked by hand beforehand; where they differ, the test says why.

The hand's prices are in rates of its own; the demo rates are others, so budgets here are such as leave room in these.
"""

from __future__ import annotations

import pytest

from tests.options.briefs import boxes, brief, head, obstacle, sofa, things
from wallwright.job.read import read_job
from wallwright.options.propose import Options, propose
from wallwright.rules.check import MUST


def sound(found: Options) -> bool:
    return bool(found.options) and all(one.sound for one in found.options)


# --- a bedroom, watched lying back ---------------------------------------------------------------------------------------

BED = """[[survey.seats]]
ref = "A"
kind = "bed"
x = 1450
distance = 3520
seat_height = 510
posture = "reclined"
recline = 35
hours = 6
[[survey.seats]]
ref = "B"
kind = "bed"
x = 1850
distance = 3520
seat_height = 510
posture = "reclined"
recline = 15
hours = 4
"""


def test_bedroom_high_screen_under_the_air_conditioner_and_a_fluted_field() -> None:
    """By hand: centre 1500 ± 30, clear of the air conditioner at 2250, a light fluted field and a floating console.

    The demo rates are dearer than the hand's. The hand takes 55 in for its price; by angle 65 in suits (19.6 and 23.1 degrees, both
    good), and the program prices no screen.
    """
    ac = obstacle("AC", "ac", (1200, 2250, 900, 300), 200)
    job = head(3300, kind="bedroom", depth=3900, leaf=115) + ac + BED
    found = propose(
        read_job(
            job + brief(budget=1600, style=("calm", "fluted")) + boxes("set_top_box") + things(paperback=30)
        )
    )
    assert sound(found)
    assert "fluted" in {one.shape.key for one in found.options}
    for one in found.options:
        screen = one.wall.sight.screen
        assert 1470 <= screen.centre[1] <= 1530
        assert screen.frame.top < 2250
        assert all(
            zone.box.top <= 2250
            for zone in one.wall.setout.zones
            if zone.box.right > 1200 and zone.box.x < 2100
        )
        assert all(light.colour is None or light.colour <= 2700 for light in one.job.design.lights)


# --- a window opposite the screen ----------------------------------------------------------------------------------------

WINDOW = """[[survey.windows]]
ref = "W"
wall = "opposite"
along = 1500
sill = 900
width = 1800
height = 1200
"""


def test_a_window_opposite_is_tilted_away_and_oak_is_offered() -> None:
    """By hand: plain paint and an oak console; upright, 30 % of the picture mirrors the window at half its luminance; at 5 degrees of
    tilt 7 % do, at 6.5 none. The mount is tilted to the seats: 6 degrees, 3 %.
    """
    job = read_job(
        head(4200, depth=5200) + sofa(3600, 2100) + WINDOW + brief(budget=3000, style=("plain", "oak"))
        + boxes("set_top_box", "soundbar", "router") + things(paperback=60) + "[design.screen]\ndiagonal = 65\n"
    )  # fmt: skip
    found = propose(job)
    assert sound(found)
    assert "wood" in {one.direction.key for one in found.options}
    for one in found.options:
        sight = one.wall.sight
        assert 5 <= sight.screen.tilt <= 6.5
        (hit,) = sight.reflections
        assert 0 < hit.share < 0.07
        assert hit.ratio == pytest.approx(0.50, abs=0.005)


# --- a narrow wall with a column -----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def column() -> Options:
    wall = head(2850, 2750, depth=4200)
    there = (
        obstacle("CO", "column", (0, 0, 400, 2750), 250, 'substrate = "concrete"\n')
        + obstacle("BE", "beam", (0, 2450, 2850, 300), 250)
        + obstacle("PI", "pipe", (2770, 0, 80, 2750), 80)
    )
    wants = (
        brief(budget=2600, style=("light", "symmetric"))
        + boxes("set_top_box", "router")
        + things(paperback=90, file_box=6)
    )
    return propose(
        read_job(wall + there + sofa(3000, 1425, 1070) + wants + "[design.screen]\ndiagonal = 75\n")
    )


def test_the_column_is_wrapped_and_the_towers_mirror_about_the_screen(column: Options) -> None:
    """By hand: 400 over the column and a matching 400 at the right, the pipe inside it, all about 1425. A hole for that tower would
    come within 40 mm of the pipe: the program stands it beside the pipe, and the screen 50 mm to the left, one degree off the seat.
    """
    assert sound(column)
    towers = next(one for one in column.options if one.shape.key == "towers")
    left, right = (towers.wall.setout.unit(ref).box for ref in ("T1", "T2"))
    frame = towers.wall.sight.screen.frame
    assert left.x == 0
    assert left.width == right.width == 400
    assert left.top == right.top < 2450
    assert abs((frame.x - left.right) - (right.x - frame.right)) <= 1
    assert right.right <= 2770
    assert abs(frame.centre[0] - 1425) <= 60
    assert 75 in {one.wall.sight.screen.diagonal for one in column.options}


def test_the_supply_is_asked_for_from_the_side_without_a_column(column: Options) -> None:
    for one in column.options:
        assert "has to come to this wall from the right" in one.give_up


# --- stone on a partition ------------------------------------------------------------------------------------------------


def test_stone_wished_on_a_partition_becomes_a_thin_facing_and_a_standing_console() -> None:
    """By hand: stacked stone is 2.95 times too heavy for the skim; thin facing 6 to 18 kg/m² goes; no hung bench: it stands."""
    stud = (
        head(3000, substrate="metal_stud", leaf=100)
        + 'finish = "skim"\nstud_spacing = 600\nstuds = [300, 900, 1500, 2100, 2700]\n'
    )
    wants = brief(budget=3000, style=("stone",), extra='storage = "little"\n') + boxes(
        "set_top_box", "router", "soundbar"
    )
    found = propose(read_job(stud + sofa(3000, 1500) + wants))
    assert sound(found)
    assert found.options[0].shape.key == "stone"
    wall = found.options[0].wall
    assert all(zone.mass_per_m2 <= 20 for zone in wall.setout.zones)
    assert all(not unit.hung for unit in wall.setout.units if unit.kind == "console")


# --- a family with very many things --------------------------------------------------------------------------------------

FAMILY = '[[brief.people]]\nref = "a"\nage = 38\n[[brief.people]]\nref = "b"\nage = 3\n[[brief.people]]\nref = "c"\nage = 7\n'


def test_a_family_gets_the_full_wall_and_hears_what_does_not_fit() -> None:
    """By hand: a middle of 1600 and 2 × 500 on each side; the vacuum cleaner goes elsewhere, said plainly; nothing open low."""
    wants = brief(budget=4000) + FAMILY + boxes("set_top_box")
    kept = things(picture_book=220, paperback=140, large_book=60, board_game=24, vacuum=1)
    found = propose(read_job(head(3600, depth=4200) + sofa(2800, 1800, 1050) + wants + kept))
    assert sound(found)
    full = max(found.options, key=lambda one: one.wall.storage.capacity)
    assert full.shape.key == "full_wall"
    towers = [unit for unit in full.wall.setout.units if unit.kind == "tower"]
    assert len(towers) == 4
    assert all(480 <= unit.box.width <= 500 for unit in towers)
    assert all(unit.anchored for unit in towers)
    assert full.wall.storage.capacity >= 9000
    assert "1 vacuum cleaner" in full.give_up
    open_low = [
        bay for bay in full.wall.carcass.bays if bay.front == "open" and bay.unit != "C1" and bay.box.z < 500
    ]
    assert not open_low
    assert found.conflict is not None
    assert [wish.key for wish in found.conflict.wishes] == ["thing:vacuum"]


# --- another screen, late ------------------------------------------------------------------------------------------------


def test_a_screen_that_is_given_is_held_and_a_larger_one_later_finds_its_walls_too() -> None:
    """By hand: 55 in at 1100; for 75 in the centre goes to 1200, clear of the sound bar, 2.4 degrees up."""
    text = head(3600) + sofa(2900, 1800) + brief(budget=2600) + boxes("soundbar", "set_top_box")
    first = propose(read_job(text + "[design.screen]\ndiagonal = 55\ncentre_height = 1100\n"))
    assert sound(first)
    assert {(one.wall.sight.screen.diagonal, one.wall.sight.screen.centre[1]) for one in first.options} == {
        (55, 1100)
    }
    later = propose(read_job(text + "[design.screen]\ndiagonal = 75\n"))
    assert sound(later)
    for one in later.options:
        assert one.wall.sight.screen.diagonal == 75
        console = next(unit.box for unit in one.wall.setout.units if unit.kind == "console")
        assert one.wall.sight.screen.frame.z - console.top >= 120  # a bar of 90 on feet, and 30 clear
        assert max(seat.centre_up for seat in one.wall.sight.seats) <= 5


def test_open_findings_are_those_of_any_wall() -> None:
    """A typical frame size is nothing to drill by: said with every wall, a fault of none."""
    found = propose(
        read_job(
            head()
            + sofa(3000)
            + brief(budget=2500)
            + boxes("set_top_box")
            + "[design.screen]\ndiagonal = 55\n"
        )
    )
    for one in found.options:
        assert {item.rule for item in one.findings if item.severity in MUST} == {"screen.bracket_unverified"}
        assert [item.rule for item in one.still] == ["screen.bracket_unverified"]
