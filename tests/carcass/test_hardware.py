import pytest

from wallwright.carcass.hardware import flap_torque, hinge_count, of_fronts
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


COUNT = {"hinge": 4, "runner": 2, "leaf": 2, "lift": 2}


def test_a_push_latch_never_meets_a_damper():
    """A latch pushes the front open; a sprung hinge or soft-close runner draws it shut (common practice)."""
    pushed = {item.kind: item for item in of_fronts("C1", "push", COUNT, 350, 7.1)}
    assert "unsprung" in pushed["hinge"].name and "push-open" in pushed["runner"].name
    assert pushed["push_latch"].quantity == 2 and "handle" not in pushed  # drawers open by their runners
    handled = {item.kind: item for item in of_fronts("C1", "handle", COUNT, 350, 7.1)}
    assert "soft-close" in handled["hinge"].name and "soft-close" in handled["runner"].name
    assert handled["handle"].quantity == 4 and "push_latch" not in handled


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
