"""Moisture of wood, its growth and bow, against published figures and an integral done by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.moisture import PRESSED, bow, bow_curvature, emc, growth, moisture, pressed_moisture


@pytest.mark.parametrize(
    ("humidity", "printed"),
    [
        (0.30, 6.2),
        (0.50, 9.2),
        (0.65, 12.0),
        (0.80, 16.0),
    ],  # Wood Handbook table 4-2 at 21.1 °C (70 °F), from memory
)
def test_emc_as_the_table_prints_it(humidity: float, printed: float) -> None:
    assert emc(21.1, humidity) == pytest.approx(printed, abs=0.06)


@pytest.mark.parametrize(
    ("humidity", "whole"),
    [
        (0.30, 6),
        (0.50, 9),
        (0.65, 12),
        (0.80, 16),
    ],  # FDMC magazine, "RH equivalent": 30 % is 6, 50 is 9, 65 is 12, 80 is 16
)
def test_emc_as_the_trade_says_it(humidity: float, whole: int) -> None:
    assert round(emc(21.1, humidity)) == whole


@pytest.mark.parametrize(
    ("temperature", "humidity", "content"),
    [(30.0, 0.80, 15.55), (20.0, 0.50, 9.27)],  # worked from the formula of FPL-RN-0268 outside this program
)
def test_emc_at_other_temperatures(temperature: float, humidity: float, content: float) -> None:
    assert emc(temperature, humidity) == pytest.approx(content, abs=0.05)


@given(st.floats(0, 45), st.floats(0.05, 0.9), st.floats(0.01, 0.09))
def test_damper_air_makes_damper_wood(temperature: float, humidity: float, more: float) -> None:
    assert emc(temperature, humidity + more) > emc(temperature, humidity)


@pytest.mark.parametrize("humidity", [-0.1, 1.01, 45])
def test_a_humidity_is_a_share(humidity: float) -> None:
    with pytest.raises(ValueError, match="share from 0 to 1"):
        emc(20, humidity)


@pytest.mark.parametrize(
    ("rh", "low", "high"),
    [
        (30, 6, 8),
        (45, 7, 9),
        (65, 9, 11),
        (75, 10, 12),
        (90, 15, 16),
    ],  # Facts about Particleboard and MDF, p. 17
)
def test_pressed_board_lies_in_the_printed_range(rh: int, low: float, high: float) -> None:
    assert low <= pressed_moisture(rh / 100) <= high


def test_between_the_printed_points_it_is_straight() -> None:
    assert pressed_moisture(0.55) == pytest.approx(9.0)
    assert pressed_moisture(0.20) == pytest.approx(7 - 10 / 15)
    assert pressed_moisture(0.95) == pytest.approx(15.5 + 5 * 4.5 / 15)
    assert len(PRESSED) == 5


def test_each_board_takes_moisture_up_in_its_own_way() -> None:
    assert moisture("wood", 21.1, 0.5) == emc(21.1, 0.5)
    assert moisture("panel", 21.1, 0.5) == pressed_moisture(0.5)


@pytest.mark.parametrize(
    ("per_cent", "grows"),
    [
        (0.369, 7.34),  # Wood Handbook (FPL-GTR-190) table 13-5: commercial red oak, tangential 0.00369
        (0.186, 3.70),  # Wood Handbook, teak tangential 0.00186, as two flooring tables reprint it
        (0.158, 3.14),  # Wood Handbook (FPL-GTR-190) table 13-5: commercial red oak, radial 0.00158
    ],
)
def test_solid_wood_from_dry_to_rainy_months(per_cent: float, grows: float) -> None:
    swing = emc(25, 0.75) - emc(25, 0.40)
    assert growth(300, per_cent, swing) == pytest.approx(grows, rel=0.005)


def test_a_published_example_of_movement() -> None:
    # A flooring maker's worked example after the Wood Handbook: mesquite 0.00129, 5 in wide, 6 to 9 %: 0.019 in
    assert growth(5, 0.129, 3) == pytest.approx(0.019, abs=0.0005)


def test_a_run_of_fibreboard() -> None:
    # Facts about Particleboard and MDF p. 37: about 1 mm in a metre from 9 to 12 %: 3 m grow 3 mm
    assert growth(3000, 0.0333, 3) == pytest.approx(3.0, abs=0.3)


def test_bow_of_a_board_faced_on_one_side() -> None:
    curved = bow_curvature(
        0.8, 9000, 18, 2500, 0.0005
    )  # 0.8 mm laminate on 18 mm fibreboard, worked from Timoshenko's formula
    assert curved == pytest.approx(1.6539e-5, rel=0.005)
    assert bow(curved, 1000) == pytest.approx(2.07, rel=0.005)
    assert bow(curved, 2400) == pytest.approx(11.9, rel=0.005)


def test_bow_by_adding_up_forces_instead() -> None:
    """Two layers cut apart grow by different amounts; forced together their plane section balances force and moment."""
    import numpy as np

    t1, e1, t2, e2, strain = 2.0, 6000.0, 16.0, 2300.0, 0.0007
    z = (np.arange(200_000) + 0.5) / 200_000 * (t1 + t2)
    modulus = np.where(z < t2, e2, e1)
    free = np.where(z < t2, strain, 0.0)
    a = np.array([[modulus.sum(), (modulus * z).sum()], [(modulus * z).sum(), (modulus * z * z).sum()]])
    b = np.array([(modulus * free).sum(), (modulus * z * free).sum()])
    _, curvature = np.linalg.solve(a, b)
    assert bow_curvature(t1, e1, t2, e2, strain) == pytest.approx(abs(curvature), rel=1e-4)
