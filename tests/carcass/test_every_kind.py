"""Units of every kind: set out, solid, closed to their outline, cut to size, and the same in a mirror."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wallwright.carcass.piece import band
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Bay, Finishes, Unit

L = Length
GROOVE = 7.0  # a back stands 7 mm into the boards round it
KINDS = ("console", "tower", "shelf", "loft", "open_shelves", "niche", "arched_niche", "ledge", "desk")
FRONTS = ["drawers", "shutter", "glass", "slatted", "cloth", "flap", "pull_out", "open"]
SIZES = {  # width, height, depth: what the trade builds of each
    "console": ((1100, 2600), (200, 460), (350, 500)), "tower": ((350, 600), (1800, 2500), (320, 450)),
    "shelf": ((450, 1500), (0, 0), (200, 350)), "loft": ((900, 2400), (160, 500), (330, 450)),
    "open_shelves": ((500, 1600), (1200, 2400), (250, 400)), "niche": ((350, 1800), (350, 1200), (120, 350)),
    "arched_niche": ((350, 900), (600, 1800), (120, 350)), "ledge": ((450, 1500), (0, 0), (90, 180)),
    "desk": ((700, 1200), (160, 600), (260, 400)),
}  # fmt: skip


def meets(a, b):
    shared = [
        min(p + dp, q + dq) - max(p, q)
        for p, dp, q, dq in ((a.x, a.dx, b.x, b.dx), (a.y, a.dy, b.y, b.dy), (a.z, a.dz, b.z, b.dz))
    ]
    return shared if min(shared) > 0.01 else None


def cut_away(part, other):
    """Whether what two blocks share is cut out of one of them."""
    common = meets(part.block, other.block)
    holes = [*part.cuts, *other.cuts]
    return common and any(
        (inside := meets(hole, part.block)) and min(inside) > 0 and meets(hole, other.block) for hole in holes
    )


def solid(made, refs=None):
    """No two parts in one place, but a back in its groove; every part inside its unit's outline."""
    parts = [part for part in made.carcass.parts if refs is None or part.unit in refs]
    for i, one in enumerate(parts):
        for other in parts[i + 1 :]:
            shared = meets(one.block, other.block)
            if not shared or cut_away(one, other):
                continue
            roles = {one.role, other.role}
            assert "back" in roles and roles & {"side", "top", "bottom"}, (one.id, other.id, shared)
            assert min(shared[0], shared[2]) <= GROOVE + 0.01, (one.id, other.id, shared)
    for part in parts:
        block = part.block
        assert min(block.dx, block.dy, block.dz) > 0, part.id
        assert part.mass > 0, part.id
        if part.role in ("filler", "panel", "batten", "backer"):
            continue
        unit = made.setout.unit(part.unit)
        assert unit.box.grown(0.01).holds(block.face), part.id
        assert -unit.depth - 0.01 <= block.y and block.y + block.dy <= 0.01, part.id


def closed_to_outline(made, ref):
    """The boards of a unit reach its outline on every side: left, right, bottom, top, front and wall."""
    unit = made.setout.unit(ref)
    blocks = [part.block for part in made.carcass.parts if part.unit == ref and part.role != "filler"]
    foot = unit.box.z
    if not unit.hung and unit.base == "legs":
        foot += made.limits.value("carcass.legs")
    reach = (
        min(b.x for b in blocks), max(b.x + b.dx for b in blocks), min(b.z for b in blocks), max(b.z + b.dz for b in blocks),
        min(b.y for b in blocks), max(b.y + b.dy for b in blocks),
    )  # fmt: skip
    assert reach == pytest.approx(
        (unit.box.x, unit.box.right, foot, unit.box.top, -unit.depth, 0.0), abs=0.01
    )


def sized(made):
    """Cut sizes and bands give the finished sizes, and the finished sizes are those of the block."""
    for part in made.carcass.parts:
        long1, long2, short1, short2 = part.edges
        assert part.cut_length + band(short1) + band(short2) == pytest.approx(part.length), part.id
        assert part.cut_width + band(long1) + band(long2) == pytest.approx(part.width), part.id
        if part.role in ("rail", "cleat", "filler", "lining") or part.board in ("batten",):
            continue  # bevelled, cut over for scribing, or bent
        assert sorted((part.length, part.width, part.thickness)) == pytest.approx(
            sorted((part.block.dx, part.block.dy, part.block.dz)), abs=0.01
        ), part.id


bay = st.builds(Bay, st.sampled_from(FRONTS), st.none(), st.integers(1, 2), st.integers(0, 2))


@st.composite
def units(draw, kind=None):
    kind = kind or draw(st.sampled_from(KINDS))
    width, height, depth = (draw(st.floats(*span)) if span[1] else None for span in SIZES[kind])
    hung = draw(st.booleans()) if kind in ("console", "open_shelves") else None
    foot = 120 if hung is False or kind in ("tower", "open_shelves") else 0
    bays = draw(st.lists(bay, max_size=3)) if kind in ("console", "tower", "loft", "open_shelves") else []
    if kind == "desk":
        bays = [Bay("flap", shelves=draw(st.integers(0, 2)))]
    return Unit(
        "U1", kind, draw(st.sampled_from(["left", "right", "centre"])), width=L(width),
        height=L(height + (foot if kind == "console" else 0)) if height else None, depth=L(depth), hung=hung, bays=tuple(bays),
        board=draw(st.sampled_from(["ply18", "mdf18", "ply25"])), opening=draw(st.sampled_from(["push", "handle", "gap"])),
        base=draw(st.sampled_from([None, "plinth", "legs"])), fronts=draw(st.sampled_from([None, "overlay", "inset"])),
        shelf_build=draw(st.sampled_from([None, "plain", "lipped", "doubled", "torsion_box"])),
        bend=draw(st.sampled_from([None, "kerf", "flexible"])),
        back=draw(st.sampled_from([None, True, False])) if kind in ("open_shelves", "niche") else None,
    )  # fmt: skip


FINISH = st.sampled_from(["laminate_oak", "sprayed_neutral", "veneer_walnut"])


def built(wall, unit, finish="laminate_oak"):
    """The unit alone on a wide high wall; no example where the bays asked for do not go in."""
    made = wall(
        unit, width=7000, height=3000, frame=Box(2775, 900, 1450, 830), finishes=Finishes(fronts=finish)
    )
    try:
        made.carcass  # noqa: B018
    except ValueError as problem:
        assert str(problem).startswith("design.units.U1"), problem
        assert unit.bays or unit.shelf_build, problem  # what is automatic can be built
        assume(False)
    return made


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_by_itself_is_set_out_and_says_why(wall, kind):
    made = wall(Unit("U1", kind), width=6000)
    unit = made.setout.unit("U1")
    assert Box(0, 0, 6000, 2700).holds(unit.box)
    assert unit.kind != "niche" or unit.box.holds(made.frame)
    names = {why.name for why in made.setout.whys}
    assert {f"{kind} U1.{name}" for name in ("x", "z", "width", "height", "depth")} <= names
    assert all(why.source for why in made.setout.whys)
    assert made.carcass.mass_of("U1") > 1
    solid(made)
    closed_to_outline(made, "U1")
    sized(made)


@settings(max_examples=250, deadline=None)
@given(units(), FINISH)
def test_any_unit_of_any_kind_is_solid_closed_and_sized(wall, unit, finish):
    made = built(wall, unit, finish)
    solid(made)
    closed_to_outline(made, "U1")
    sized(made)


@settings(max_examples=120, deadline=None)
@given(units())
def test_a_mirrored_unit_has_mirrored_parts(wall, unit):
    """Set at the mirrored x with its bays (where they lie side by side) in the other order, every part is mirrored."""
    first = built(wall, unit)
    box = first.setout.unit("U1").box
    boxes = sum(
        part.id.endswith("-B") for part in first.carcass.parts
    )  # an odd bay more in the second box has no mirror
    assume(unit.kind == "tower" or boxes < 2 or len(unit.bays) % boxes == 0)
    bays = unit.bays if unit.kind == "tower" else unit.bays[::-1]
    other = {"left": "right", "right": "left"}.get(unit.side, "centre")
    one = built(wall, replace(unit, x=L(box.x), z=L(box.z)))
    mirrored = built(wall, replace(unit, x=L(7000 - box.right), z=L(box.z), bays=bays, side=other))

    def key(part, mirror):
        block = part.block
        x = 7000 - block.x - block.dx if mirror else block.x
        place = tuple(round(v, 3) for v in (x, block.y, block.z, block.dx, block.dy, block.dz))
        return part.role, round(part.length, 3), round(part.width, 3), part.edges, place

    assert len(one.setout.unit("U1").box.corners) == 4
    assert sorted(key(p, False) for p in one.carcass.parts) == sorted(
        key(p, True) for p in mirrored.carcass.parts
    )


@pytest.mark.parametrize("kind", KINDS)
def test_pinned_sizes_stay(wall, kind):
    width, height, depth = (max(span[0], 100) + 20 for span in SIZES[kind])
    unit = Unit("U1", kind, x=L(3300), z=L(300), width=L(width), height=L(height), depth=L(depth))
    made = wall(unit, width=6000)
    at = made.setout.unit("U1")
    assert at.box == Box(3300, 300, width, height) and at.depth == depth
    assert at.pinned >= {"x", "z", "width", "height", "depth"}


def test_a_loft_spans_between_the_towers_under_the_ceiling(wall):
    made = wall(Unit("T1", "tower", "left"), Unit("T2", "tower", "right"), Unit("U1", "loft"))
    loft, left, right = (made.setout.unit(ref) for ref in ("U1", "T1", "T2"))
    assert loft.box.x == left.box.right + 10 and loft.box.right == pytest.approx(right.box.x - 10, abs=1)
    assert loft.box.top == left.box.top and loft.depth == left.depth and loft.hung
    assert loft.box.z - made.frame.top >= 200  # clear height over the screen
    assert {bay.front for bay in made.carcass.bays if bay.unit == "U1"} == {"shutter"}
    closing = [
        part for part in made.carcass.parts if part.id.startswith("U1-XT")
    ]  # up to the ceiling, in lengths of a sheet
    assert sum(part.block.dx for part in closing) == pytest.approx(loft.box.width) and len(closing) == 2
    low = (
        Unit("T1", "tower", "left", height=Length(1900.0)),
        Unit("T2", "tower", "right", height=Length(1900.0)),
    )
    over = wall(
        *low, Unit("U1", "loft", x=Length(0.0), width=Length(4000.0), height=Length(300.0))
    )  # from wall to wall: it lies on the towers
    assert over.setout.unit("U1").box.z >= over.setout.unit("T1").box.top
    alone = wall(Unit("C1", "console"), Unit("U1", "loft"))
    assert (alone.setout.unit("U1").box.x, alone.setout.unit("U1").box.width) == (
        alone.setout.unit("C1").box.x,
        alone.setout.unit("C1").box.width,
    )


def test_a_niche_round_the_screen_is_clear_by_a_hand(wall):
    """60 mm all round between the boards (common practice), boards outside it."""
    made = wall(Unit("U1", "niche"))
    box, t = made.setout.unit("U1").box, 19.6
    assert box.width == pytest.approx(1450 + 2 * 60 + 2 * t) and box.height == pytest.approx(
        830 + 2 * 60 + 2 * t
    )
    assert box.centre == pytest.approx(made.frame.centre)
    whys = {why.name: why.value for why in made.carcass.whys}
    assert whys["niche U1.clear_width"] == pytest.approx(1570)
    roles = sorted(part.role for part in made.carcass.parts)
    assert roles == ["bottom", "cleat", "side", "side", "top"]  # no back: the wall shows
    assert not made.carcass.bays  # the screen stands in it


def test_an_arched_niche_has_its_arch(wall):
    """A half round over 600 clear: radius 300, 942.5 round the inside; the face loses π·300²/2 and the straight part."""
    t, lining = 19.6, 12 + 2 * 0.8
    unit = Unit("U1", "arched_niche", width=L(600 + 2 * (t + lining)), height=L(1500), bend="kerf")
    made = wall(unit, width=6000)
    parts = {part.id: part for part in made.carcass.parts}
    face, arch = parts["U1-A"], parts["U1-Y"]
    assert arch.length == pytest.approx(math.pi * (300 + lining), abs=1) and arch.board == "mdf12"
    clear = next(bay.box for bay in made.carcass.bays)
    opening = 600 * (clear.height - 300) + math.pi * 300**2 / 2
    per_m2 = face.mass / ((face.length * face.width - opening) / 1e6)
    assert per_m2 == pytest.approx(
        18 * 600 / 1000 + 2 * 0.8 * 1.4, rel=0.05
    )  # ply 18 at 600 kg/m³ and two laminates
    assert arch.grain == "none"  # a fibreboard has no direction; bending plywood bends one way only
    bent = wall(replace(unit, bend="flexible"), width=6000).carcass.parts
    assert next(part for part in bent if part.id == "U1-Y").grain == "length"
    note = next(item.note for item in made.carcass.hardware if item.kind == "bending")
    assert "radius 300 mm" in note and "saw cuts" in note
    with pytest.raises(ValueError, match=r"design\.units\.U1\.arch_rise"):
        _ = wall(replace(unit, arch_rise=L(400)), width=6000).carcass


def test_a_desk_is_written_on_at_its_height(wall):
    """Writing tops 700 to 750 mm above the floor, 610 to 650 of knee room (common practice)."""
    made = wall(Unit("U1", "desk", "right"), width=6000)
    whys = {why.name: why.value for why in made.carcass.whys}
    assert whys["desk U1.writing_height"] == 730
    assert whys["desk U1.knee_room"] > 610
    (flap,) = made.carcass.movers
    assert flap.kind == "flap" and flap.open == 90  # held level by its stays
    assert flap.swept.dy == flap.box.height and flap.swept.face == flap.box
    stay = next(item for item in made.carcass.hardware if item.kind == "desk_stay")
    mass = next(part.mass for part in made.carcass.parts if part.role == "front")
    torque = mass * 9.80665 * flap.box.height / 2000 + 200 * flap.box.height / 1000
    assert stay.quantity == 2 and f"{torque:.0f} N·m" in stay.note


def test_a_ledge_holds_pictures_behind_a_strip(wall):
    made = wall(Unit("U1", "ledge", lip=L(40)), width=6000)
    unit = made.setout.unit("U1")
    board, strip = made.carcass.parts
    assert unit.box.height == pytest.approx(26.6 + 40) and unit.depth == 110
    assert strip.block.y == -110 and strip.block.z + strip.block.dz == unit.box.top
    assert board.block.z + board.block.dz == pytest.approx(unit.box.top - 40)


def test_shelves_are_built_as_asked(wall):
    def shelf(made_of, **more):
        made = wall(Unit("U1", "shelf", depth=L(300), shelf_build=made_of, **more), width=6000)
        return made.setout.unit("U1").box.height, made.carcass

    assert shelf("plain")[0] == pytest.approx(26.6)
    high, lipped = shelf("lipped", lip=L(30))
    assert high == pytest.approx(56.6)
    (carries,) = lipped.shelves
    board, strip = lipped.parts
    assert strip.role == "lip" and board.block.z + board.block.dz == pytest.approx(
        strip.block.z + strip.block.dz
    )  # tops flush
    assert (carries.build, carries.lip, carries.lip_thick, carries.thickness) == (
        "lipped",
        pytest.approx(56.6),
        26.6,
        25,
    )
    high, doubled = shelf("doubled")
    assert high == pytest.approx(53.2) and len(doubled.parts) == 2
    high, hollow = shelf("torsion_box")
    assert high == 50
    assert [part.role for part in hollow.parts].count(
        "rib"
    ) == 3  # 282 between the outer ribs' middles, at most 150 apart
    assert hollow.mass_of("U1") < doubled.mass_of("U1")


def test_an_open_bookcase_without_a_back_is_stiffened(wall):
    open_behind = wall(Unit("U1", "open_shelves", back=False), width=6000).carcass
    assert not [part for part in open_behind.parts if part.role == "back"]
    assert len([part for part in open_behind.parts if "stretcher" in part.name]) == 2
    closed = wall(Unit("U1", "open_shelves"), width=6000).carcass
    assert [part.role for part in closed.parts].count("back") == 1
    assert not closed.movers and all(bay.front == "open" for bay in closed.bays)
    assert {item.kind for item in closed.hardware} >= {"anti_tip", "shelf_pin"}


def test_a_floor_console_on_legs_stands_clear_of_the_floor(wall):
    made = wall(Unit("U1", "console", hung=False, base="legs"), frame=Box(1375, 1000, 1450, 830))
    legs = next(item for item in made.carcass.hardware if item.kind == "leg")
    assert legs.quantity == 6  # 1885 − 120 between the outer pairs, at most 900 apart: two spaces
    assert not [part for part in made.carcass.parts if part.role == "plinth"]
    assert min(part.block.z for part in made.carcass.parts) == 120
    closed_to_outline(made, "U1")


def test_a_pull_out_comes_out_by_its_runner(wall):
    made = wall(Unit("U1", "tower", bays=(Bay("pull_out", shelves=3), Bay("open"))), width=6000)
    (mover,) = made.carcass.movers
    assert (
        mover.kind == "pull_out" and mover.open == 0 and mover.swept.dy == 250
    )  # 350 deep: 309 inside, less 10
    trays = [part for part in made.carcass.parts if part.role == "frame"]
    assert len(trays) == 2 + 4  # two uprights, a bottom and three trays
    assert {item.kind for item in made.carcass.hardware} >= {"pull_out", "push_latch"} - {"push_latch"}
    with pytest.raises(ValueError, match=r"design\.units\.U1\.bays\.0\.shelves: 30 trays"):
        _ = wall(Unit("U1", "tower", bays=(Bay("pull_out", shelves=30), Bay("open")))).carcass


def test_inset_fronts_stand_between_the_boards(wall):
    """2 to 3 mm all round (common practice); the boards then show at the face."""
    made = wall(Unit("U1", "console", fronts="inset", bays=(Bay("shutter"), Bay("drawers", drawers=2))))
    unit = made.setout.unit("U1")
    doors = [part.block for part in made.carcass.parts if part.role == "front"]
    bays = {bay.ref: bay for bay in made.carcass.bays}
    side = next(part.block for part in made.carcass.parts if part.id == "U1-L")
    assert side.y == -unit.depth and all(door.y == -unit.depth for door in doors)
    clear = bays["U1.1"].box
    assert min(door.x for door in doors) == pytest.approx(clear.x + 2.5)
    assert min(door.z for door in doors) == pytest.approx(clear.z + 2.5)
    over = wall(Unit("U1", "console", bays=(Bay("shutter"), Bay("drawers", drawers=2)))).carcass
    assert bays["U1.1"].depth == next(bay.depth for bay in over.bays if bay.ref == "U1.1")


def test_a_finger_gap_makes_each_front_lower_and_puts_a_rail_behind(wall):
    """18 to 25 mm for the fingers (common practice)."""
    bays = (Bay("drawers", drawers=2), Bay("shutter"))
    made = wall(Unit("U1", "console", height=L(420), opening="gap", bays=bays))
    plain = wall(Unit("U1", "console", height=L(420), bays=bays))
    fronts = {part.id: part.block for part in made.carcass.parts if part.role == "front"}
    clear = next(bay.box for bay in made.carcass.bays if bay.ref == "U1.1")
    rails = [part for part in made.carcass.parts if part.role == "gap_rail"]
    assert [rail.id for rail in rails] == ["U1.1-J1", "U1.1-J2", "U1.2-J1"]
    low, high = fronts["U1.1-F1"], fronts["U1.1-F2"]
    assert high.z - (low.z + low.dz) == pytest.approx(20)
    assert clear.top - (high.z + high.dz) == pytest.approx(20)
    for rail in rails:
        assert rail.block.y - (high.y + high.dy) >= 25  # the fingers go in behind the front
    height = {part.id: part.block.dz for part in plain.carcass.parts if part.role == "front"}
    assert all(fronts[ref].dz < height[ref] for ref in fronts)
    kinds = {item.kind for item in made.carcass.hardware}
    assert not kinds & {"handle", "push_latch"}
    assert any("soft-close" in item.name for item in made.carcass.hardware)


def test_a_loft_is_pulled_at_the_foot_of_its_doors(wall):
    made = wall(Unit("U1", "loft", opening="gap"))
    bay = made.carcass.bays[0]
    door = next(part.block for part in made.carcass.parts if part.role == "front")
    assert door.z - bay.box.z == pytest.approx(20) and door.z + door.dz > bay.box.top


def test_a_handle_takes_room_when_a_drawer_comes_out(wall):
    def sweep(opening):
        made = wall(Unit("U1", "console", opening=opening, bays=(Bay("drawers"), Bay("shutter"))))
        return {mover.kind: mover.swept.dy for mover in made.carcass.movers}

    bare, handled = sweep("push"), sweep("handle")
    assert handled["drawer"] == bare["drawer"] + 35
    assert handled["door"] == pytest.approx(math.hypot(bare["door"], 35))


def test_a_slatted_door_is_lighter_and_passes_infrared_in_part(wall):
    made = wall(Unit("U1", "console", width=L(1200), bays=(Bay("slatted"), Bay("shutter"), Bay("cloth"))))
    slatted, board = (next(p for p in made.carcass.parts if p.id == f"U1.{k}-F1") for k in (1, 2))
    field = (board.length - 120) * (board.width - 120) / (board.length * board.width)
    assert slatted.mass == pytest.approx(board.mass * (1 - 0.4 * field))
    assert [bay.ir_open for bay in made.carcass.bays] == [True, False, True]
    assert {mover.kind for mover in made.carcass.movers} == {"door"}
