import pytest

from wallwright.carcass.fitted import by_load, crank, drawer_load, feet
from wallwright.carcass.hardware import flap_torque, hinge_count
from wallwright.carcass.holes import bore
from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit
from wallwright.library import load


@pytest.mark.parametrize(
    ("mass", "height", "width", "hinges"),
    [
        (3.55, 600, 450, 2),  # 450 × 600 × 18 fibreboard
        (12.42, 2100, 450, 5),  # 450 × 2100: weight asks for 4, height for 5
        (5.06, 900, 450, 2),  # glass 450 × 900 × 5
        (8.0, 900, 500, 3),  # 3 to 12 kg (a hinge maker's published table)
        (5.0, 850, 640, 3),  # over 600 wide one more (the same)
        (21.0, 2400, 600, 5),
    ],
)
def test_hinges_by_weight_and_height(mass, height, width, hinges):
    assert hinge_count(mass, height, width, load.limits()) == hinges


def test_door_masses_of_the_table():
    """450 × 600 and 450 × 2100 of 18 mm at 730 kg/m³; glass 2.5 kg/m² a mm."""
    assert pytest.approx(3.55, rel=0.005) == 0.45 * 0.6 * 13.14
    assert pytest.approx(12.42, rel=0.005) == 0.45 * 2.1 * 13.14
    assert pytest.approx(5.06, rel=0.005) == 0.45 * 0.9 * 12.5


def test_a_flap_of_900_by_350():
    """900 × 350 × 18 fibreboard: 4.14 kg, 7.10 N·m (arithmetic)."""
    mass = 0.9 * 0.35 * 13.14
    assert mass == pytest.approx(4.14, rel=0.005)
    assert flap_torque(mass, 350) == pytest.approx(7.10, rel=0.005)


def schedule(wall, *bays, **more):
    return wall(Unit("C1", "console", bays=bays, **more)).carcass.hardware


def test_a_push_latch_never_meets_a_damper(wall):
    """A latch pushes the front open; a sprung hinge or soft-close runner draws it shut (common practice)."""
    bays = (Bay("shutter"), Bay("drawers"), Bay("drawers"))
    pushed = {item.kind: item for item in schedule(wall, *bays, opening="push")}
    assert "unsprung" in pushed["hinge"].name and "push-open" in pushed["runner"].name
    assert pushed["push_latch"].quantity >= 1 and "handle" not in pushed  # drawers open by their runners
    handled = {item.kind: item for item in schedule(wall, *bays, opening="handle")}
    assert "soft-close" in handled["hinge"].name and "soft-close" in handled["runner"].name
    assert handled["handle"].quantity == pushed["push_latch"].quantity + 2 and "push_latch" not in handled


@pytest.mark.parametrize(
    ("lap", "key"),
    [
        (16.0, "hinge_full"),
        (15.0, "hinge_full"),
        (7.5, "hinge_half"),
        (8.0, "hinge_half"),
        (-2.0, "hinge_inset"),
    ],
)
def test_the_crank_follows_the_overlay(lap, key):
    """Full overlay on an 18 mm side 15 to 16.5, half 7 to 8, inset 2 to 3 clear (common practice)."""
    assert crank(lap).key == key


def test_doors_on_one_division_have_half_overlay_hinges_and_at_the_ends_full_ones(wall):
    names = {
        item.name
        for item in schedule(wall, *(Bay("shutter", hinged="left"),) * 3, width=Length(1500))
        if item.kind == "hinge"
    }
    assert any("full overlay" in name for name in names) and any("half overlay" in name for name in names)
    inset = {
        item.name for item in schedule(wall, *(Bay("shutter"),) * 3, fronts="inset") if item.kind == "hinge"
    }
    assert all("inset" in name for name in inset) and inset


@pytest.mark.parametrize(("load", "carries"), [(20, 25), (25, 25), (26, 35), (40, 45), (90, 45)])
def test_runners_by_load(load, carries):
    """Classes of 25, 35 and 45 kg a pair (common practice); beyond the strongest it is said."""
    assert by_load("runner", load).carries == carries


def test_what_a_drawer_carries():
    """500 × 400 × 150 inside is 30 litres; at 0.25 kg/l 7.5 kg, and 4 kg of its own boards (arithmetic)."""
    assert drawer_load(500, 400, 150, 4.0, 0.25) == pytest.approx(11.5)


def test_a_wide_deep_drawer_gets_a_stronger_runner_and_says_so(wall):
    small, large = (
        next(
            item
            for item in schedule(wall, *(Bay("drawers"),) * bays, width=Length(2000), depth=Length(deep))
            if item.kind == "runner"
        )
        for bays, deep in ((4, 380), (2, 500))
    )
    assert "25 kg" in small.name and "25 kg" not in large.name
    assert "kg full" in small.note and "its own boards" in large.note


@pytest.mark.parametrize(
    ("torque", "key"),
    [(4.0, "stay_light"), (7.1, "stay_middle"), (20.0, "stay_strong"), (90.0, "stay_strong")],
)
def test_stays_by_torque(torque, key):
    """Torque of the flap lying level, m·g·H/2, within the pair's band (bands: common practice)."""
    row = by_load("stay", torque)
    assert row.key == key and row.least < torque and (torque <= row.most or torque > 30)
    assert by_load("desk_stay", torque).key == "stay_desk"  # a locking stay is for desks only


def test_a_flap_says_its_torque_and_the_hand_it_would_ask(wall):
    made = wall(Unit("C1", "console", bays=(Bay("flap"),) * 3))
    stay = next(item for item in made.carcass.hardware if item.kind == "lift")
    flap = next(part for part in made.carcass.parts if part.role == "front")
    torque = flap.mass * 9.80665 * flap.block.dz / 2 / 1000
    assert (
        f"{torque:.1f} N·m" in stay.note and f"{torque / flap.block.dz * 1000:.0f} N at its edge" in stay.note
    )
    assert stay.quantity == 6


@pytest.mark.parametrize(("load", "count"), [(100, 4), (200, 4), (201, 6), (320, 8)])
def test_feet_by_load(load, count):
    """50 kg a foot, in pairs, four at least (common practice)."""
    assert feet(load, 4, 50.0) == count


def test_the_schedule_buys_what_is_bored(whole):
    """Hinges, case screws, dowels, pins, latches: as many as the boards have holes for."""
    opened = {unit.ref: unit.opening or "push" for unit in whole.job.design.units}
    result = bore(whole.setout, whole.carcass, whole.limits, opened)
    bought = {
        kind: sum(i.quantity for i in whole.carcass.hardware if i.kind == kind)
        for kind in ("hinge", "confirmat", "dowel", "push_latch")
    }
    flat = [hole for hole in result.holes if hole.face in ("inside", "outside", "both")]
    assert bought["hinge"] == sum(hole.what == "hinge cup" for hole in flat)
    assert bought["confirmat"] == sum(hole.what == "case screw" for hole in flat)
    assert bought["dowel"] == sum(hole.what == "dowel" for hole in flat)
    assert 2 * bought["push_latch"] == sum(hole.what == "push latch" for hole in flat)


def test_the_opening_of_a_unit_decides_its_fittings(wall):
    kinds = {
        opening: {item.kind for item in wall(Unit("C1", "console", opening=opening)).carcass.hardware}
        for opening in (None, "push", "handle")
    }
    assert (
        kinds[None] == kinds["push"] and "handle" in kinds["handle"] and "push_latch" not in kinds["handle"]
    )
    made = wall(Unit("C1", "console", bays=(Bay("shutter"), Bay("drawers")))).carcass
    named = " ".join(item.name for item in made.hardware if item.kind in ("hinge", "runner"))
    assert "unsprung" in named and "push-open" in named and "soft-close" not in named
