"""Holes of every board: inside it, clear of its edges, not through what they must not pierce, and meeting in the room."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wallwright.carcass.bored import Hole
from wallwright.carcass.holes import bore, merged
from wallwright.carcass.system_32 import rear_row
from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit

L = Length
FRONTS = ["drawers", "shutter", "slatted", "cloth", "flap", "pull_out", "open"]
SIZES = {  # width, height, depth: what the trade builds of each
    "console": ((1100, 2600), (330, 460), (350, 500)), "tower": ((350, 600), (1800, 2500), (320, 450)),
    "loft": ((900, 2400), (320, 500), (330, 450)), "open_shelves": ((500, 1600), (1200, 2400), (250, 400)),
}  # fmt: skip
FACES = ("inside", "outside", "both")


def bored(made):
    opened = {unit.ref: unit.opening or "push" for unit in made.job.design.units}
    return bore(made.setout, made.carcass, made.limits, opened)


def parts_of(made):
    return {part.id: part for part in made.carcass.parts}


def room(result, hole):
    return result.lies[hole.part].room(hole.x, hole.y)


def cylinder(result, part, hole):
    """A hole as a block of the board's own axes: the square round it, as deep as it goes."""
    long, wide, thick = result.lies[part.id].size
    r, d = hole.diameter / 2, hole.depth
    if hole.face in FACES:
        low = thick - d if hole.face == "outside" else 0.0
        return (hole.x - r, hole.x + r, hole.y - r, hole.y + r, low, low + d)
    if hole.face in ("short1", "short2"):
        x = (0.0, d) if hole.face == "short1" else (long - d, long)
        return (*x, hole.x - r, hole.x + r, hole.y - r, hole.y + r)
    y = (0.0, d) if hole.face == "long1" else (wide - d, wide)
    return (hole.x - r, hole.x + r, *y, hole.y - r, hole.y + r)


def lies_well(made):
    """The whole of what must hold of any wall's holes."""
    result, parts = bored(made), parts_of(made)
    least = made.limits.value("joinery.hole_edge")
    for hole in result.holes:
        part = parts[hole.part]
        long, wide, thick = result.lies[hole.part].size
        assert thick == pytest.approx(part.thickness, abs=0.05), part.id
        x0, x1, y0, y1, z0, z1 = cylinder(result, part, hole)
        if hole.face in FACES:
            assert x0 >= least - 0.01 and x1 <= long - least + 0.01, hole
            assert y0 >= least - 0.01 and y1 <= wide - least + 0.01, hole
            if hole.through or hole.face == "both":
                assert hole.depth == pytest.approx(thick), hole
            else:
                assert 0 < hole.depth <= thick - 2 + 0.01, hole
        else:
            assert z0 >= 1.0 and z1 <= thick - 1.0, hole  # a screw or dowel in an edge stays in the board
            assert x0 >= -0.01 and x1 <= long + 0.01 and y0 >= -0.01 and y1 <= wide + 0.01, hole
            assert hole.depth < (long if hole.face.startswith("short") else wide), hole
    for groove in result.grooves:
        long, wide, thick = result.lies[groove.part].size
        assert (
            0 <= groove.x0 < groove.x1 <= long
            and 0 < groove.y0 < groove.y1 <= wide
            and groove.depth < thick - 5
        )
    apart(result, parts)
    return result, parts


def apart(result, parts):
    """No two holes of a board run into one another, nor a hole into the groove on its face."""
    by_part = {}
    for hole in result.holes:
        by_part.setdefault(hole.part, []).append(hole)
    for ref, own in by_part.items():
        blocks = [(cylinder(result, parts[ref], hole), hole) for hole in own]
        for (a, one), (b, other) in combinations(blocks, 2):
            meets = all(min(a[2 * k + 1], b[2 * k + 1]) - max(a[2 * k], b[2 * k]) > 0.1 for k in range(3))
            assert not meets, (one, other)
        for groove in (g for g in result.grooves if g.part == ref):
            for block, hole in blocks:
                g = (groove.x0, groove.x1, groove.y0, groove.y1, 0.0, groove.depth)
                assert not all(
                    min(block[2 * k + 1], g[2 * k + 1]) - max(block[2 * k], g[2 * k]) > 0.1 for k in range(3)
                ), hole


def test_the_whole_wall(whole):
    result, _ = lies_well(whole)
    assert len(result.holes) > 150 and len(result.grooves) == 4 * 5  # two towers of two boxes, and a console


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_any_unit_is_bored_well(wall, data):
    kind = data.draw(st.sampled_from(sorted(SIZES)))
    sizes = [data.draw(st.integers(*SIZES[kind][k])) for k in range(3)]
    bays = tuple(
        Bay(
            data.draw(st.sampled_from(FRONTS)),
            shelves=data.draw(st.integers(0, 2)),
            drawers=data.draw(st.integers(1, 2)),
        )
        for _ in range(data.draw(st.integers(1, 3)))
    )
    unit = Unit(
        "U1", kind, width=L(sizes[0]), height=L(sizes[1]), depth=L(sizes[2]), bays=bays,
        opening=data.draw(st.sampled_from(["push", "handle", "gap"])), fronts=data.draw(st.sampled_from(["overlay", "inset"])),
        base=data.draw(st.sampled_from(["plinth", "legs"])), hung=data.draw(st.booleans()) if kind == "console" else None,
    )  # fmt: skip
    try:
        made = wall(unit)
        made.carcass  # noqa: B018
    except ValueError:
        assume(False)
    lies_well(made)


# --- what meets in the room


def closed(wall, front, **more):
    return wall(
        Unit(
            "T1", "tower", "left", height=L(2300), bays=(Bay(front, L(700), **more), Bay("open", shelves=2))
        ),
        Unit("C1", "console"),
    )


@pytest.mark.parametrize("hand", ["left", "right"])
def test_cup_and_plate_meet_at_one_height_in_the_room(wall, hand):
    made = closed(wall, "shutter", shelves=1, hinged=hand)
    result, parts = lies_well(made)
    cups = sorted(room(result, hole)[2] for hole in result.holes if hole.what == "hinge cup")
    plates = sorted(
        (room(result, hole)[2], hole.part)
        for hole in result.holes
        if "hinge plate" in hole.what and hole.part.startswith("T1")
    )
    assert len(cups) == 2 and len(plates) == 4
    assert {part for _, part in plates} == {"T1-L" if hand == "left" else "T1-R"}
    middles = [(plates[2 * k][0] + plates[2 * k + 1][0]) / 2 for k in range(2)]
    assert middles == pytest.approx(cups)
    door = parts["T1.1-F1"].block
    for hole in (hole for hole in result.holes if hole.what == "hinge cup"):
        x = room(result, hole)[0]
        edge = x - door.x if hand == "left" else door.x + door.dx - x
        assert edge == pytest.approx(22.0)  # 17.5 and a rim of 4.5 (common practice)
        assert hole.face == "inside" and hole.depth == 13


def test_the_front_row_and_the_pitch(wall):
    """37 behind the front edge, 32 apart, Ø5, 13 deep (common practice)."""
    result, _ = lies_well(wall(Unit("T1", "tower", "left", bays=(Bay("open", shelves=2),))))
    pins = [hole for hole in result.of("T1-L") if hole.what == "shelf pin"]
    assert {(hole.diameter, hole.depth) for hole in pins} == {(5.0, 13.0)}
    rows = sorted({hole.y for hole in pins})
    assert rows[0] == 37.0 and (rows[1] - rows[0]) % 32 == pytest.approx(0.0)
    levels = sorted({hole.x for hole in pins})
    assert all(
        (b - a) % 32 == pytest.approx(0.0, abs=1e-6) or (b - a) % 32 == pytest.approx(32.0)
        for a, b in combinations(levels, 2)
    )


@pytest.mark.parametrize(("steps", "depth"), [(8, 330), (10, 394), (12, 458), (15, 554), (16, 586)])
def test_depths_with_symmetric_rows(steps, depth):
    """Depths whose rows stand alike at front and rear: 74 + 32k (common practice)."""
    assert 2 * 37 + 32 * steps == depth
    assert rear_row(37, depth, 37, 32) == depth - 37


def test_pins_of_left_and_right_are_level_and_under_their_shelf(wall):
    made = closed(wall, "shutter", shelves=1)
    result, parts = lies_well(made)
    left, right = (
        {
            (round(room(result, h)[1], 2), round(room(result, h)[2], 2))
            for h in result.of(ref)
            if h.what == "shelf pin"
        }
        for ref in ("T1-L", "T1-R")
    )
    assert left == right and left
    for ref in ("T1.1-S1", "T1.2-S1", "T1.2-S2"):
        shelf = parts[ref].block
        under = min(abs(shelf.z - 2.5 - z) for _, z in left)
        assert under <= 16.01, ref  # never farther from where it is drawn than half a step
        assert all(shelf.y + 5 < y < shelf.y + shelf.dy - 5 for y, _ in left)


def test_runners_of_both_sides_are_level_and_meet_the_drawer(wall):
    result, parts = lies_well(wall(Unit("C1", "console", bays=(Bay("drawers", drawers=2),) * 2)))
    holes = [hole for hole in result.holes if "runner" in hole.what]
    on_boards = {
        (round(room(result, h)[1], 2), round(room(result, h)[2], 2)) for h in holes if "-D" not in h.part
    }
    on_drawers = {
        (round(room(result, h)[1], 2), round(room(result, h)[2], 2)) for h in holes if "-D" in h.part
    }
    assert (
        on_boards == on_drawers
        and len({z for _, z in on_boards}) == 2
        and len({y for y, _ in on_boards}) == 3
    )
    assert {h.face for h in holes if "-D" in h.part} == {"outside"}
    middle = next(h for h in holes if h.part == "C1-V1")
    assert (
        middle.through and middle.face == "both"
    )  # two drawers' runners share one hole through the division
    for ref in ("C1.1-D1L", "C1.1-D1R"):
        own = [h for h in holes if h.part == ref]
        assert [h.x for h in own] == sorted(h.x for h in own) and own[0].x == 37.0
        assert abs(room(result, own[0])[2] - (parts[ref].block.z + parts[ref].block.dz / 2)) <= 16.01


def test_every_joint_meets(whole):
    """A screw through one board goes into the end of another, at the same place in the room."""
    result, _ = lies_well(whole)
    for what in ("case screw", "dowel", "front screw"):
        own = [hole for hole in result.holes if hole.what == what]
        flat = {tuple(round(v, 1) for v in _axis(result, hole)) for hole in own if hole.face in FACES}
        edge = {tuple(round(v, 1) for v in _axis(result, hole)) for hole in own if hole.face not in FACES}
        if what == "front screw":
            continue
        assert flat and flat == edge, what


def _axis(result, hole):
    """The line of a hole in the room: its two coordinates across it, and the axis along which it is bored."""
    own = result.lies[hole.part]
    long, wide, _ = own.size
    if hole.face in FACES:
        at, axis = own.room(hole.x, hole.y), own.through
    elif hole.face.startswith("short"):
        at, axis = own.room(0.0 if hole.face == "short1" else long, hole.x, hole.y), own.along
    else:
        at, axis = own.room(hole.x, 0.0 if hole.face == "long1" else wide, hole.y), own.across
    return [value for name, value in zip("xyz", at, strict=True) if name != axis] + ["xyz".index(axis)]


def test_the_screws_of_a_drawer_front_meet(wall):
    result, _ = lies_well(wall(Unit("C1", "console", bays=(Bay("drawers"),) * 2)))
    for number in (1, 2):
        front, end = (
            {
                (round(room(result, h)[0], 2), round(room(result, h)[2], 2))
                for h in result.of(ref)
                if h.what == "front screw"
            }
            for ref in (f"C1.{number}-F1", f"C1.{number}-D1F")
        )
        assert front == end and len(front) == 4


def test_a_mirrored_wall_has_mirrored_holes(wall):
    """Two towers, one each side: every hole of one stands in the other's mirror image, its sides handed."""
    made = wall(
        Unit("T1", "tower", "left", height=L(2300)), Unit("T2", "tower", "right", height=L(2300)), width=4200
    )
    result, _ = lies_well(made)

    def spots(unit, flip):
        return sorted(
            (round(4200 - x if flip else x, 2), round(y, 2), round(z, 2), hole.diameter, hole.what)
            for hole in result.holes
            if hole.part.startswith(unit) and hole.face in ("inside", "outside")
            for x, y, z in [
                result.lies[hole.part].room(
                    hole.x, hole.y, 0.0 if hole.face == "inside" else result.lies[hole.part].size[2]
                )
            ]
        )

    one, other = spots("T1", flip=False), spots("T2", flip=True)
    assert len(one) > 40
    assert one == other
    assert result.lies["T1-L"].as_drawn != result.lies["T1-R"].as_drawn


def test_left_and_right_side_have_the_same_figures_and_differ_in_hand(wall):
    result, _ = lies_well(wall(Unit("U", "open_shelves", bays=(Bay("open", shelves=3),))))
    left, right = (
        sorted((h.face, h.x, h.y, h.diameter, h.depth) for h in result.of(f"U-{hand}")) for hand in "LR"
    )
    assert left == right and left
    assert {result.lies["U-L"].as_drawn, result.lies["U-R"].as_drawn} == {True, False}
    assert result.lies["U-L"].corner == result.lies["U-R"].corner == "front lower corner"


def test_the_groove_of_the_back(whole):
    """8 deep, the back 9 thick in it, its rear edge as far from the rear of the sides as the void behind it."""
    result, parts = lies_well(whole)
    for ref, back in (("T1a-L", "T1a-K"), ("T1a-R", "T1a-K"), ("T2b-L", "T2b-K")):
        (groove,) = [g for g in result.grooves if g.part == ref]
        assert groove.depth == 8 and groove.y1 - groove.y0 == pytest.approx(9)
        assert parts[ref].block.dy - groove.y1 == pytest.approx(whole.limits.value("carcass.back_void"))
        behind = parts[back].block
        assert result.lies[ref].room(groove.x0, 0)[2] == pytest.approx(behind.z - 1)
        assert result.lies[ref].room(groove.x1, 0)[2] == pytest.approx(behind.z + behind.dz + 1)


def test_handles_go_through_the_front_and_the_drawer(wall):
    result, parts = lies_well(
        wall(Unit("C1", "console", opening="handle", bays=(Bay("drawers"), Bay("shutter", hinged="left"))))
    )
    own = [h for h in result.holes if h.what == "handle"]
    assert {h.part for h in own} >= {"C1.1-F1", "C1.1-D1F"} and all(
        h.through and h.diameter == 5 for h in own
    )
    pair = sorted(room(result, h)[0] for h in own if h.part == "C1.1-F1")
    assert pair[1] - pair[0] == pytest.approx(128)  # 4 × 32 (common practice)
    assert sum(pair) / 2 == pytest.approx(parts["C1.1-F1"].block.face.centre[0])


def test_two_holes_from_both_faces_are_one_through():
    a = Hole("V", "inside", 100, 37, 5, 13, "shelf pin")
    (one,) = merged([a, replace(a, face="outside")], {"V": 18.0})
    assert one.through and one.face == "both" and one.depth == 18 and one.what == "shelf pin"
    assert len(merged([a, replace(a, face="outside", y=69)], {"V": 18.0})) == 2


def test_the_cup_stands_a_rim_of_3_to_8_from_the_edge(wall):
    """Rim 3 to 8 mm: middle 20.5 to 25.5 from the edge; screws 45 apart, 9.5 behind it (a hinge maker's published boring table)."""
    result, _ = lies_well(wall(Unit("C1", "console", bays=(Bay("shutter"),) * 3)))
    door = result.of("C1.1-F1")
    cups = [hole for hole in door if hole.what == "hinge cup"]
    across = {min(h.x, result.lies[h.part].size[0] - h.x) for h in cups}
    assert {hole.diameter for hole in cups} == {35.0} and len(across) == 1 and 20.5 <= across.pop() <= 25.5
    for cup in cups:
        near = [h for h in door if h.what == "cup screw" and abs(h.y - cup.y) < 30]
        assert [abs(h.y - cup.y) for h in near] == pytest.approx([22.5, 22.5])
        assert [abs(h.x - cup.x) for h in near] == pytest.approx([9.5, 9.5])


def test_a_bevelled_rail_is_measured_from_its_square_edge(wall):
    result, _ = lies_well(wall(Unit("C1", "console")))
    rail = result.lies["C1-H"]
    assert rail.corner.startswith("upper") and rail.ways[1] == -1
    assert result.lies["C1-W"].corner.startswith("lower")
