import pytest

from wallwright.carcass.hardware import flap_torque, hinge_count


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
    assert hinge_count(mass, height, width) == hinges


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
