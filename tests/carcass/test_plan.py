from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.carcass import plan as carcass_plan
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Person
from wallwright.job.design import Bay, Panel, Unit
from wallwright.job.survey import Obstacle
from wallwright.library import load


def test_ids_are_unique_and_every_part_belongs(whole):
    carcass = whole.carcass
    ids = [part.id for part in carcass.parts]
    assert len(ids) == len(set(ids))
    assert {part.unit for part in carcass.parts} == {"C1", "T1", "T2", "S1", "W1"}


def test_every_board_is_in_the_library_but_what_is_bought_otherwise(wall):
    fronts = ("drawers", "shutter", "glass", "cloth", "flap")
    parts = wall(Unit("C1", "console", bays=tuple(Bay(front) for front in fronts))).carcass.parts
    assert {part.board for part in parts} - set(load.boards()) == {"glass"}
    assert {part.finish for part in parts} - {""} <= set(load.finishes())


def test_a_sheet_gives_every_part_of_an_automatic_wall(whole):
    for part in whole.carcass.parts:
        if part.board in load.boards():
            long, short = load.boards()[part.board].sheets[0]
            assert part.cut_length <= long - 20 and part.cut_width <= short - 20, part.id


def test_unit_masses_are_the_sum_of_their_parts(whole):
    carcass = whole.carcass
    for ref, mass in carcass.unit_mass:
        assert mass == pytest.approx(sum(part.mass for part in carcass.parts if part.unit == ref))
    assert carcass.mass_of("C1") > 40 and carcass.mass_of("nothing") == 0


def test_bays_are_the_clear_insides(whole):
    carcass = whole.carcass
    for bay in carcass.bays:
        for part in carcass.parts:
            if part.unit != bay.unit or part.role not in ("side", "top", "bottom", "division"):
                continue
            shared = part.block.face.shared(bay.box.grown(-0.01))
            assert shared is None, (bay.ref, part.id)
        assert whole.setout.unit(bay.unit).box.holds(bay.box)
        assert 0 < bay.depth < whole.setout.unit(bay.unit).depth


def test_hardware_is_counted(wall):
    made = wall(
        Unit(
            "C1",
            "console",
            width=Length(1700),
            bays=(Bay("drawers", drawers=2), Bay("shutter", shelves=1), Bay("flap")),
        )
    )
    count = Counter[str]()
    for item in made.carcass.hardware:
        count[item.kind] += item.quantity
    assert count["runner"] == 2 and count["lift"] == 2 and count["shelf_pin"] == 4
    assert count["hinge"] == 2 + 2  # a light door, a light flap
    assert "foot" not in count


def test_pinned_load_reaches_the_shelves(wall):
    made = wall(Unit("T1", "tower", "left", load=45.0), Unit("T2", "tower", "right"))
    loads = {shelf.unit: shelf.load_kg_per_m for shelf in made.carcass.shelves}
    assert loads == {"T1": 45.0, "T2": 30.0}  # books 20 lb a running foot (published trade figure)


def test_a_drawer_bay_has_no_bottom_to_sag_and_an_open_one_has(wall):
    made = wall(Unit("C1", "console", bays=(Bay("drawers"), Bay("open", shelves=1))))
    assert {shelf.ref for shelf in made.carcass.shelves} == {"C1.1-top", "C1.2-bottom", "C1.2-top", "C1.2-S1"}


def test_the_same_job_gives_the_same_wall(whole):
    assert whole.carcass == whole.carcass


def test_a_limit_of_your_own_is_obeyed(wall):
    made = wall(Unit("C1", "console"), rules={"carcass.console_ratio": 1.5, "carcass.bay_clear": 400})
    assert made.setout.unit("C1").box.width == 2175
    assert max(bay.box.width for bay in made.carcass.bays) <= 400


KINDS = ["console", "tower", "shelf", "loft", "open_shelves", "niche", "arched_niche", "ledge", "desk"]
size = st.one_of(st.none(), st.floats(250, 900).map(Length), st.floats(1, 5000).map(Length))
bay = st.builds(
    Bay,
    st.sampled_from(["drawers", "shutter", "glass", "slatted", "cloth", "flap", "pull_out", "open"]),
    size,
    st.integers(0, 9),
    st.integers(0, 9),
)
unit = st.builds(
    Unit, st.just("U1"), st.sampled_from(KINDS), st.sampled_from(["left", "right", "centre"]),
    size, size, size, size, size, st.sampled_from([None, True, False]), st.lists(bay, max_size=3).map(tuple),
    opening=st.sampled_from([None, "handle", "gap"]), base=st.sampled_from([None, "legs"]),
    fronts=st.sampled_from([None, "inset"]), shelf_build=st.sampled_from([None, "lipped", "doubled", "torsion_box"]), lip=size,
    arch_rise=size, bend=st.sampled_from([None, "kerf"]), back=st.sampled_from([None, True, False]),
    skirting=st.sampled_from([None, "notch"]),
)  # fmt: skip
panel = st.builds(
    Panel,
    st.just("W1"),
    st.sampled_from(["flat", "fluted", "stone_veneer"]),
    size,
    size,
    size,
    size,
    void=size,
    flute_pitch=size,
)


thing = st.builds(
    lambda kind, x, z, w, h, out: Obstacle("O1", kind, Length(x), Length(z), Length(w), Length(h), Length(out)),
    st.sampled_from(["column", "pipe", "beam", "skirting", "socket", "ac"]), st.floats(0, 4000), st.floats(0, 2500),
    st.floats(1, 1500), st.floats(1, 2700), st.floats(0, 500),
)  # fmt: skip


@settings(deadline=None, max_examples=500)
@given(unit, panel, st.floats(300, 8000), st.floats(300, 4000), st.lists(thing, max_size=2).map(tuple))
def test_whatever_is_asked_is_built_or_the_field_is_named(wall, unit, panel, width, height, things):
    frame = Box(width / 2 - 500, 700, 1000, 600)
    try:
        carcass = wall(
            unit, panels=(panel,), width=width, height=height, frame=frame, obstacles=things
        ).carcass
    except ValueError as problem:
        assert str(problem).startswith(("design.units.U1", "design.panels.0")), problem
        return
    for part in carcass.parts:
        assert part.mass > 0 and part.cut_length > 0 and part.cut_width > 0, part.id
        assert min(part.block.dx, part.block.dy, part.block.dz) > 0, part.id


def test_backers_are_parts_of_the_wall_and_weigh_on_no_unit(whole):
    boxes = (Box(300, 1000, 3000, 300), Box(300, 400, 1200, 150))
    backed = carcass_plan.backed(whole.carcass, boxes, whole.job, whole.limits)
    added = [part for part in backed.parts if part.role == "backer"]
    assert [part.id for part in added] == ["BK1", "BK2", "BK3"]  # 3000 is longer than a sheet: two of 1500
    assert [part.length for part in added] == [1500, 1500, 1200]
    assert all(part.board == "ply18" and part.block.y == 12.5 for part in added)  # behind one plasterboard
    assert backed.unit_mass == whole.carcass.unit_mass
    bought = {item.kind: item.quantity for item in backed.hardware if item.unit == "wall"}
    assert bought["backer"] == 3
    assert bought["screw"] == 24 + 24 + 18  # round the edge every 150 mm: 3600, 3600 and 2700 mm
    assert carcass_plan.backed(whole.carcass, (), whole.job, whole.limits) == whole.carcass


def test_the_skirting_is_cut_out_where_a_standing_unit_goes_to_the_wall(wall):
    skirting = Obstacle("SK", "skirting", Length(0), Length(0), Length(4200), Length(100), Length(18))
    made = wall(Unit("C1", "console"), Unit("T1", "tower", "left"), obstacles=(skirting,))
    cuts = [item for item in made.carcass.hardware if item.kind == "skirting_cut"]
    assert [item.unit for item in cuts] == ["T1"]  # the console hangs above it
    tower = made.setout.unit("T1").box
    assert f"from x {tower.x:.0f} to {tower.right:.0f}" in cuts[0].note


def test_where_a_small_child_lives_the_first_open_shelf_is_out_of_reach(wall):
    """Open shelves up to 600 mm are a ladder for a child under 6 (common practice)."""

    def open_from(age):
        made = wall(
            Unit("C1", "console"),
            Unit("T1", "tower", "left"),
            brief=Brief(people=(Person("child", Length(1000), age),)),
        ).carcass
        assert all(bay.drawers <= (1 if age < 6 else 2) for bay in made.bays)
        return min(bay.box.z for bay in made.bays if bay.front == "open" and bay.unit == "T1")

    assert open_from(4) > 600
    assert open_from(4) >= open_from(9)


def test_a_size_that_nobody_builds_names_its_field(wall):
    with pytest.raises(ValueError, match=r"design\.units\.C1\.width: 50000 mm .* at most 12000"):
        wall(Unit("C1", "console", width=Length(50000)))
    with pytest.raises(ValueError, match=r"design\.panels\.0\.height: 90000 mm"):
        wall(panels=(Panel("W1", height=Length(90000)),))
