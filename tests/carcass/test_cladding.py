import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.carcass import plan as carcass_plan
from wallwright.carcass import setout as carcass_setout
from wallwright.carcass.cladding import batten_lengths, face_pieces, packing_box, shimmed
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Light, Panel, Unit
from wallwright.job.survey import Obstacle


def test_boards_fill_the_zone_but_for_the_joints(whole):
    zone = whole.setout.zones[0]
    boards = sorted((p for p in whole.carcass.parts if p.role == "panel"), key=lambda p: p.block.x)
    assert len(boards) == len(zone.joints) + 1
    assert boards[0].block.x == zone.box.x
    assert boards[-1].block.x + boards[-1].block.dx == pytest.approx(zone.box.right)
    for left, right, joint in zip(boards, boards[1:], zone.joints, strict=False):
        gap = right.block.x - left.block.x - left.block.dx
        assert gap == pytest.approx(2)  # 1 to 2 mm a metre (common practice)
        assert left.block.x + left.block.dx + gap / 2 == pytest.approx(joint)
    assert all(
        p.block.y == -zone.build_up and p.block.y + p.block.dy == pytest.approx(-zone.void) for p in boards
    )


def test_battens_stand_behind_and_no_further_apart_than_they_may(whole):
    zone = whole.setout.zones[0]
    battens = sorted((p for p in whole.carcass.parts if p.role == "batten"), key=lambda p: p.block.z)
    assert battens[0].block.z == zone.box.z + 10  # held back so that it is not seen (common practice)
    assert battens[-1].block.z + battens[-1].block.dz == pytest.approx(zone.box.top - 10)
    steps = [b.block.z - a.block.z for a, b in itertools.pairwise(battens)]
    assert max(steps) <= 600 and len({round(s, 6) for s in steps}) == 1
    assert all((p.block.y, p.block.dy) == (-25, 25) for p in battens)


def lit(made, *lights):
    job = replace(made.job, design=replace(made.job.design, lights=lights))
    done = replace(made, job=job, setout=carcass_setout.plan(job, made.face, made.frame, made.limits))
    zones = {zone.ref: zone for zone in done.setout.zones}
    return zones, [part for part in done.carcass.parts if part.role == "batten"]


@pytest.mark.parametrize(("kind", "pitch"), [("flat", 600), ("tile", 400)])
def test_battens_make_way_for_the_light_behind_the_panel(wall, kind, pitch):
    """60 mm setback, a profile 20 wide, 10 clear (common practice): 90 mm of void free inside both sides and the top."""
    zones, battens = lit(wall(panels=(Panel("W1", kind),)), Light("G1", "behind_panel"))
    box = zones["W1"].box
    assert min(part.block.z for part in battens) == box.z + 10  # no strip lies at the foot
    assert max(part.block.face.top for part in battens) == pytest.approx(box.top - 90)
    assert min(part.block.x for part in battens) == pytest.approx(box.x + 90)
    assert max(part.block.face.right for part in battens) == pytest.approx(box.right - 90)
    rows = sorted({round(part.block.z, 6) for part in battens})
    assert max(b - a for a, b in itertools.pairwise(rows)) <= pitch  # common practice


def test_only_the_panel_that_is_lit_makes_way_and_the_deepest_strip_counts(wall):
    two = wall(
        panels=(
            Panel("W1", x=Length(300), width=Length(1500)),
            Panel("W2", x=Length(2000), width=Length(1500)),
        )
    )
    glow = Light("G1", "behind_panel", of="W2", setback=Length(40)), Light("G2", "behind_panel", of="W2")
    zones, battens = lit(two, *glow)
    assert (zones["W1"].light_way, zones["W2"].light_way) == (0, 90)
    starts = {ref: min(part.block.x for part in battens if part.unit == ref) for ref in zones}
    assert starts == {"W1": 310, "W2": 2090}
    assert [z.light_way for z in lit(two, Light("G1", "behind_panel"))[0].values()] == [90, 0]  # the first
    assert lit(two, Light("G1", "behind_screen"))[0]["W2"].light_way == 0


@pytest.mark.parametrize(("kind", "setback", "inset"), [
    ("flat", 120, 150), ("flat", 121, 10), ("tile", 70, 100), ("tile", 71, 10)])  # fmt: skip
def test_a_board_stands_out_a_quarter_of_its_span_at_most(wall, kind, setback, inset):
    """600 and 400 apart: 150 and 100 past the last batten (common practice). Where that is too little they do not move at all."""
    zones, battens = lit(
        wall(panels=(Panel("W1", kind),)), Light("G1", "behind_panel", setback=Length(setback))
    )
    assert min(part.block.x for part in battens) == pytest.approx(zones["W1"].box.x + inset)


def test_battens_of_a_narrow_panel_stay_long_enough_to_be_screwed(wall):
    for width, inset in ((280, 90), (279, 10)):  # 100 mm of batten left (common practice)
        narrow = wall(panels=(Panel("W1", width=Length(width)),))
        zones, battens = lit(narrow, Light("G1", "behind_panel"))
        assert min(part.block.x for part in battens) == pytest.approx(zones["W1"].box.x + inset)


def test_stone_gets_closer_battens_and_no_void_none(wall):
    stone = wall(panels=(Panel("W1", "stone_veneer"),)).carcass
    rows = sorted(p.block.z for p in stone.parts if p.role == "batten")
    assert max(b - a for a, b in itertools.pairwise(rows)) <= 400  # common practice
    glued = wall(panels=(Panel("W1", void=Length(0)),)).carcass
    assert not [p for p in glued.parts if p.role == "batten"]


def test_a_zone_higher_than_a_sheet_is_made_in_rows(wall):
    made = wall(panels=(Panel("W1"),))  # 2700 high
    boards = [p for p in made.carcass.parts if p.role == "panel"]
    assert len({p.block.z for p in boards}) == 2 and all(p.length <= 2420 for p in boards)
    assert sum({p.block.z: p.length for p in boards}.values()) + 2 == pytest.approx(2700)


def made_round(made, boxes, plate=None):
    return carcass_plan.plan(made.job, made.face, made.setout, made.limits, boxes=boxes, plate=plate)


spots = st.lists(st.tuples(st.floats(1000, 3000), st.floats(0, 2600)), max_size=8)


@settings(deadline=None, max_examples=100)
@given(spots, st.floats(1350, 2300), st.floats(700, 1800))
def test_no_batten_and_no_packing_touches_an_outlet_box(wall, spots, x, z):
    made = wall(panels=(Panel("W1"),))
    plate = Box(x, z, 480, 240)
    boxes = [box for box in (Box(a, b, 146, 86) for a, b in spots) if not box.grown(10).meets(plate)]
    done = made_round(made, boxes, plate)
    battens = [part.block.face for part in done.parts if part.role == "batten"]
    packing = [part.block.face for part in done.parts if part.role == "backer"]
    assert packing and all(part.holds(plate) for part in packing)
    for box in boxes:  # 10 mm clear (common practice)
        assert not any(box.grown(9.9).meets(part) for part in battens + packing)
    assert not any(part.grown(-0.01).meets(packing[0]) for part in battens)


def test_battens_run_on_beside_the_box(wall):
    made = wall(panels=(Panel("W1", z=Length(0), height=Length(1200)),))
    zone = made.setout.zones[0]
    z = zone.box.z + (zone.box.height - 50) / 2  # the middle batten of three
    box = Box(zone.box.x + 600, z - 20, 146, 86)
    runs = [
        p.block.face
        for p in made_round(made, [box]).parts
        if p.role == "batten" and p.block.z == pytest.approx(z)
    ]
    assert [(r.x, r.right) for r in runs] == [
        (zone.box.x + 10, pytest.approx(box.x - 10)), (pytest.approx(box.right + 10), zone.box.right - 10),
    ]  # fmt: skip


@settings(deadline=None, max_examples=60)
@given(st.floats(160, 1200), st.floats(150, 2400), st.floats(0.05, 1.0))
def test_battens_stay_inside_the_outline_of_an_arched_face(wall, width, height, share):
    """Every corner of every batten lies inside the panel's outline drawn in by 10 mm: plane geometry, by another library."""
    from shapely.geometry import Polygon

    rise = share * min(width / 2, height)
    made = wall(
        panels=(
            Panel("W1", width=Length(width), height=Length(height), head="segment", head_rise=Length(rise)),
        )
    )
    zone = made.setout.zones[0]
    assert zone.arch is not None
    foot = (zone.box.x, zone.box.z), (zone.box.right, zone.box.z)
    inner = Polygon((foot[0], *zone.arch.points(720), foot[1])).buffer(-9.9, quad_segs=64)
    battens = [part.block.face for part in made.carcass.parts if part.role == "batten"]
    assert battens
    for batten in battens:
        assert inner.covers(Polygon(batten.corners)), (batten, zone.arch)


def test_battens_stay_inside_a_straight_face_and_no_part_of_them_is_lost(whole):
    zone = whole.setout.zones[0]
    battens = [part.block.face for part in whole.carcass.parts if part.role == "batten"]
    assert all(zone.box.grown(-9.99).holds(batten) for batten in battens)
    assert max(batten.right for batten in battens) - min(batten.x for batten in battens) == pytest.approx(
        zone.box.width - 20
    )


def test_an_old_socket_stops_a_batten_too(wall):
    old = Obstacle("EX", "socket", Length(2000), Length(10), Length(86), Length(86))
    made = wall(panels=(Panel("W1", z=Length(0)),), obstacles=(old,))
    battens = [p.block.face for p in made.carcass.parts if p.role == "batten"]
    assert not any(part.meets(Box(2000, 10, 86, 86)) for part in battens)


def test_a_short_piece_of_batten_is_left_out():
    row = Box(0, 0, 1000, 50)
    assert batten_lengths(row, [], 100) == [(0, 1000)]
    assert batten_lengths(row, [Box(60, 0, 100, 50), Box(300, 20, 100, 200)], 100) == [
        (160, 300),
        (400, 1000),
    ]
    assert batten_lengths(row, [Box(0, 60, 500, 50)], 100) == [(0, 1000)]  # above it


def test_the_mount_bears_on_ply_that_fills_the_void(wall):
    plate = Box(1860, 1045, 480, 240)
    made = wall(panels=(Panel("W1", void=Length(50)),))
    layers = [p for p in made_round(made, [], plate).parts if p.role == "backer"]
    assert [p.board for p in layers] == ["ply25", "ply25"]
    assert sorted(p.block.y for p in layers) == [-50, -25]
    assert all(p.block.face == plate.grown(50) for p in layers)
    assert shimmed(50) == 0 and shimmed(20) == 2 and shimmed(30) == 5
    assert not [
        p
        for p in made_round(wall(panels=(Panel("W1", void=Length(0)),)), [], plate).parts
        if p.role == "backer"
    ]


def test_packing_gives_way_to_a_box_but_not_from_behind_the_plate(wall):
    made = wall(panels=(Panel("W1"),))
    plate = Box(1860, 1045, 480, 240)
    zone = made.setout.zones[0]
    beside = packing_box(zone, plate, [Box(1700, 1112, 130, 106)], made.limits)
    assert beside is not None and (beside.x, beside.right) == (1830, 2390)
    behind = packing_box(zone, plate, [Box(2000, 1100, 100, 100)], made.limits)
    assert behind == plate.grown(50)  # services.behind_plate says that the box cannot stay
    assert packing_box(zone, Box(100, 1045, 200, 100), [], made.limits) is None


def test_sprayed_edges_are_sealed_and_laminated_ones_banded(wall):
    def bands(finish):
        made = wall(Unit("C1", "console", front_finish=finish), panels=(Panel("W1", finish=finish),)).carcass
        return {part.edges for part in made.parts if part.role in ("panel", "front")}

    assert bands("sprayed_neutral") == {
        ("", "", "", "")
    }  # filled, sealed and sprayed with the face (common practice)
    assert bands("veneer_walnut") == bands("laminate_oak") == {("0.8", "0.8", "", ""), ("0.8",) * 4}


def test_strips_close_a_framed_zone_round_its_fields(wall):
    made = wall(panels=(Panel("W1", "framed"),))
    zone = made.setout.zones[0]
    strips = [p for p in made.carcass.parts if p.role == "strip"]
    area = sum(p.block.face.area for p in strips) + sum(field.area for field in zone.fields)
    assert strips and area == pytest.approx(zone.box.area)
    assert not [p for p in made.carcass.parts if p.role == "panel"]  # planted on the wall itself
    board = wall(panels=(Panel("W1", "framed", void=Length(25)),))
    behind = [p for p in board.carcass.parts if p.role == "panel"]
    in_front = [p for p in board.carcass.parts if p.role == "strip"]
    assert behind and max(p.block.y + p.block.dy for p in in_front) == pytest.approx(
        min(p.block.y for p in behind)
    )


def test_mouldings_are_four_mitred_lengths_a_frame(wall):
    made = wall(panels=(Panel("W1", "moulding", columns=3, rows=2, x=Length(100), width=Length(4000)),))
    zone = made.setout.zones[0]
    lengths = [p for p in made.carcass.parts if p.role == "moulding"]
    assert len(zone.fields) == 6 and len(lengths) == 24
    run = sum(p.length for p in lengths)
    assert run == pytest.approx(
        sum(2 * (f.width + f.height) for f in zone.fields)
    )  # long points of the mitres
    assert sum(p.mass for p in lengths) == pytest.approx(zone.mass_per_m2 * zone.box.area / 1e6)


def test_tiles_and_panes_close_on_the_zone_with_their_joints(wall):
    for kind in ("tile", "slab", "mirror", "glass"):
        zone = wall(panels=(Panel("W1", kind),)).setout.zones[0]
        pieces = face_pieces(zone)
        assert len(pieces) == (len(zone.joints) + 1) * (len(zone.levels) + 1)
        assert min(p.x for p in pieces) == pytest.approx(zone.box.x)
        assert max(p.right for p in pieces) == pytest.approx(zone.box.right)
        assert min(p.z for p in pieces) == pytest.approx(zone.box.z) and max(
            p.top for p in pieces
        ) == pytest.approx(zone.box.top)
        for a, b in itertools.combinations(pieces, 2):
            assert a.gap(b) >= zone.joint - 1e-6


def test_panes_are_ordered_to_size_and_lie_on_a_board(wall):
    made = wall(panels=(Panel("W1", "mirror"),))
    panes = [p for p in made.carcass.parts if p.board == "glass"]
    boards = [p for p in made.carcass.parts if p.role == "panel"]
    assert (
        panes
        and boards
        and all(p.finish == "mirror_bronze" for p in panes)
        and all(not p.finish for p in boards)
    )
    assert max(p.block.y + p.block.dy for p in panes) < min(
        p.block.y for p in boards
    )  # with the adhesive between


def test_an_arched_head_gets_its_edge_bent_round(wall):
    made = wall(panels=(Panel("W1", head="segment", head_rise=Length(300)),))
    zone = made.setout.zones[0]
    edge = next(p for p in made.carcass.parts if p.role == "lining")
    assert edge.length == pytest.approx(zone.arch.length) and edge.width == pytest.approx(zone.build_up)
    assert any("head cut to the arch" in p.name for p in made.carcass.parts)


def test_veneer_leaves_are_numbered_from_the_left(wall):
    made = wall(
        panels=(Panel("W1", finish="veneer_walnut", match="book", x=Length(450), width=Length(3300)),)
    )
    row = sorted((p for p in made.carcass.parts if p.role == "panel"), key=lambda p: (p.block.z, p.block.x))
    assert "leaf 1" in row[0].name and "leaf 2, turned over" in row[1].name
