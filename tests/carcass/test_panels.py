import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.carcass.bays import Body, Cell
from wallwright.carcass.panels import box_parts, depths
from wallwright.carcass.record import UnitBox
from wallwright.carcass.stock import stock
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Bay, Finishes, Unit
from wallwright.library import load

L = Length
GROOVE = 7.0  # the back stands 7 mm into the boards round it
OUTSIDE = ("filler",)  # closes the gap between the unit and wall or ceiling


def test_the_worked_carcass():
    """1200 × 350 × 400 of 18 mm: 2 sides 350 × 400, top and bottom 1164 × 400, one division 314 × 380: 1.3305 m² of
    board, 3.342 m of front edge, back 1178 × 328 in a groove of 8 (arithmetic on common practice)."""
    unit = UnitBox(
        "C1",
        "console",
        "centre",
        Box(0, 0, 1200, 350),
        400,
        False,
        True,
        "particleboard18",
        "laminate_oak",
        frozenset(),
    )
    cells = tuple(Cell(k, Box(x, 18, 573, 314), "open", 0, 0) for k, x in ((1, 18.0), (2, 18.0 + 573 + 18)))
    limits = load.limits()
    parts = list(
        box_parts(
            unit, Body("C1", unit.box, cells), stock("particleboard18"), depths(unit, 0, 0, limits), limits
        )
    )
    sizes = {(part.role, round(part.length, 6), round(part.width, 6)) for part in parts}
    assert sizes == {
        ("side", 350, 400),
        ("top", 1164, 400),
        ("bottom", 1164, 400),
        ("division", 314, 380),
        ("back", 1178, 328),
    }
    boards = [part for part in parts if part.role != "back"]
    assert sum(part.length * part.width for part in boards) / 1e6 == pytest.approx(1.3305, abs=0.0005)
    assert sum(part.length for part in boards if part.edges[0]) / 1000 == pytest.approx(3.342)


def pairs_that_meet(parts):
    """Pairs that share more than 0.01 mm in every direction."""
    for i, one in enumerate(parts):
        for other in parts[i + 1 :]:
            a, b = one.block, other.block
            shared = [
                min(p + dp, q + dq) - max(p, q)
                for p, dp, q, dq in ((a.x, a.dx, b.x, b.dx), (a.y, a.dy, b.y, b.dy), (a.z, a.dz, b.z, b.dz))
            ]
            if min(shared) > 0.01:
                yield one, other, shared


def check_solid(made):
    """No two parts in one place but the back in its groove; every part inside its unit."""
    carcass = made.carcass
    for one, other, shared in pairs_that_meet(carcass.parts):
        roles = {one.role, other.role}
        assert "back" in roles and roles & {"side", "top", "bottom"}, (one.id, other.id, shared)
        assert min(shared[0], shared[2]) <= GROOVE + 0.01, (one.id, other.id, shared)
    for part in carcass.parts:
        block = part.block
        assert min(block.dx, block.dy, block.dz) > 0, part.id
        if part.unit.startswith("W") or part.role in OUTSIDE:
            continue
        unit = made.setout.unit(part.unit)
        assert unit.box.grown(0.01).holds(block.face), part.id
        assert -unit.depth - 0.01 <= block.y and block.y + block.dy <= 0.01, part.id


def test_the_whole_wall_is_solid(whole):
    check_solid(whole)


FRONTS = ["drawers", "shutter", "glass", "cloth", "flap", "open"]
bay = st.builds(Bay, st.sampled_from(FRONTS), st.none(), st.integers(1, 2), st.integers(0, 2))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(bay, min_size=0, max_size=4), st.lists(bay, min_size=0, max_size=3), st.floats(1100, 3400), st.floats(330, 460),
    st.floats(350, 500), st.sampled_from(["ply18", "mdf18", "particleboard18", "ply25"]), st.booleans(),
    st.sampled_from(["laminate_oak", "sprayed_neutral", "veneer_walnut"]),
)  # fmt: skip
def test_any_unit_is_solid(wall, bays, tower_bays, width, height, depth, board, hung, finish):
    high = height + (0 if hung else 80)
    made = wall(
        Unit("C1", "console", width=L(width), height=L(high), depth=L(depth), hung=hung, bays=tuple(bays), board=board),
        Unit("T1", "tower", "left", bays=tuple(tower_bays)), Unit("T2", "tower", "right"),
        width=6400, finishes=Finishes(fronts=finish),
    )  # fmt: skip
    check_solid(made)


def test_a_hung_unit_has_a_rail_and_a_cleat_behind_its_back(whole):
    parts = {part.id: part for part in whole.carcass.parts if part.unit == "C1"}
    rail, cleat, back = parts["C1-H"], parts["C1-W"], parts["C1-K"]
    assert rail.width == cleat.width == 80 and rail.thickness == 18  # ≥ 18 thick, ≥ 80 high (common practice)
    assert back.block.y + back.block.dy <= rail.block.y
    assert cleat.block.y + cleat.block.dy == 0  # on the wall
    assert cleat.block.z + cleat.block.dz == pytest.approx(rail.block.z)  # they hook at mid-bevel


def test_in_front_of_a_panel_a_unit_is_less_deep(wall):
    from wallwright.job.design import Panel

    panel = Panel("W1", z=L(200), height=L(2000))
    made = wall(Unit("C1", "console", x=L(1200), width=L(1800)), panels=(panel,))
    rear = max(part.block.y + part.block.dy for part in made.carcass.parts if part.unit == "C1")
    assert rear == pytest.approx(-made.setout.zones[0].build_up)


def test_mirrored_towers_have_mirrored_parts(whole):
    wall_width = whole.face.width

    def key(part, mirror):
        block = part.block
        x = wall_width - block.x - block.dx if mirror else block.x
        place = tuple(round(v, 4) for v in (x, block.y, block.z, block.dx, block.dy, block.dz))
        return part.role, round(part.length, 4), round(part.width, 4), part.edges, place

    left = sorted(key(part, False) for part in whole.carcass.parts if part.unit == "T1")
    right = sorted(key(part, True) for part in whole.carcass.parts if part.unit == "T2")
    assert left == right


def test_fillers_close_the_gap_to_wall_and_ceiling(whole):
    side, top = (next(p for p in whole.carcass.parts if p.id == ref) for ref in ("T1-XL1", "T1-XT"))
    tower = whole.setout.unit("T1").box
    assert (side.block.x, side.block.dx) == (0, tower.x)
    assert side.width == tower.x + 10  # cut over, planed on site (common practice)
    assert top.block.z == tower.top and top.block.z + top.block.dz == whole.face.height


@pytest.mark.parametrize(
    ("unit", "says"),
    [
        (
            Unit("C1", "console", bays=(Bay("open", shelves=12),)),
            r"design\.units\.C1\.bays\.0\.shelves: 12 shelves",
        ),
        (Unit("C1", "console", depth=L(80)), r"design\.units\.C1\.depth: 80 mm leaves .* make it at least"),
    ],
)
def test_what_cannot_be_built_names_the_field(wall, unit, says):
    with pytest.raises(ValueError, match=says):
        _ = wall(unit).carcass


def test_the_depth_asked_for_is_enough(wall):
    with pytest.raises(ValueError, match="make it at least") as caught:
        _ = wall(Unit("C1", "console", depth=L(70), bays=(Bay("open"),) * 2)).carcass
    least = float(str(caught.value).split("at least ")[1].split(" ")[0])
    assert wall(Unit("C1", "console", depth=L(least), bays=(Bay("open"),) * 2)).carcass.parts


def test_the_free_wall_behind_a_unit_meets_no_board(wall):
    for height in (250, 400):
        made = wall(Unit("C1", "console", z=L(300), height=L(height)), Unit("T1", "tower", "left"))
        for unit in made.setout.units:
            assert unit.rear is not None and unit.rear.height >= 86  # a twin socket finds room
            for part in made.carcass.parts:
                on_wall = part.block.y + part.block.dy > -20 and part.role not in ("division", "back")
                if part.unit == unit.ref and on_wall and part.id not in ("T1a-T", "T1b-B"):
                    if part.role in ("filler", "plinth"):
                        continue
                    assert part.block.face.shared(unit.rear.grown(-0.01)) is None, part.id


@pytest.mark.parametrize(("board", "least"), [("ply18", 142), ("ply25", 156)])
@pytest.mark.parametrize("kind", ["console", "loft", "desk"])
def test_what_hangs_has_room_for_its_rail_and_cleat_between_its_boards(wall, kind, board, least):
    """By hand: a rail and a cleat of 60, each drawn 9 lower for its bevel, between two boards: 2·51 + 2·(18 + 1.6 of facing)."""
    size = {"x": Length(100), "z": Length(900), "width": Length(800), "depth": Length(350), "board": board}
    front = "flap" if kind == "desk" else "open"
    low = wall(Unit("U1", kind, height=Length(least - 1), bays=(Bay(front),), **size))
    with pytest.raises(
        ValueError, match=rf"design.units.U1.height: {least - 1} mm .* make it at least {least} mm"
    ):
        low.carcass  # noqa: B018
    made = wall(Unit("U1", kind, height=Length(least), bays=(Bay(front),), **size)).carcass
    blocks = {part.role: part.block for part in made.parts if part.role in ("rail", "cleat", "bottom", "top")}
    assert blocks["bottom"].z + blocks["bottom"].dz <= blocks["cleat"].z + 0.01
    assert blocks["cleat"].z + blocks["cleat"].dz <= blocks["rail"].z + 0.01
    assert blocks["rail"].z + blocks["rail"].dz <= blocks["top"].z + 0.01


def test_a_shallow_plinth_has_no_sliver_for_a_cross_piece(wall):
    """Its cross pieces are as long as its depth less the recess of 50 and two boards; under 40 mm the front stands alone."""
    for depth in (110, 120, 130, 160):
        unit = Unit("C1", "console", hung=False, x=Length(100), depth=Length(depth), bays=(Bay("open"),))
        plinths = [part for part in wall(unit).carcass.parts if part.role == "plinth"]
        cross = depth - 50 - 2 * (18 + 1.6)
        assert len(plinths) == (4 if cross >= 40 else 1), depth
        assert all(min(part.length, part.width) >= 40 for part in plinths)
