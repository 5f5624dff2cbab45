"""The centre height over several seats: hand values, another solver, and what must always hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from wallwright.sight.heights import (
    Watcher,
    curve,
    good_for_all,
    least_squares,
    penalty,
    recommended,
    set_out,
    smallest_worst,
    wanted_up,
)

BED = (Watcher(1116, 3520, 10, 0.6), Watcher(1225, 3520, 0, 0.4))
watchers = st.lists(
    st.builds(Watcher, st.floats(500, 1700), st.floats(1000, 6000), st.floats(0, 30), st.floats(0.01, 1)),
    min_size=1,
    max_size=6,
)


@pytest.mark.parametrize(
    ("recline", "flexion", "wanted"),
    [
        (35, 10, 10),
        (15, 10, 0),
        (0, 0, 0),
        (20, 20, 0),
        (45, 10, 20),
    ],  # recline − pillow 10 − gaze 15, common practice
)
def test_wanted_by_posture(recline: float, flexion: float, wanted: float) -> None:
    assert wanted_up(recline, flexion, 15) == wanted


def test_two_in_bed() -> None:
    """Eyes 1116 and 1225 at 3520, wanting +10° and 0° (by hand): 1737 and 1225 alone; 1479 regrets both alike, 4.1°; 0.6 and
    0.4 of the hours give 1532 as squares of heights. We weigh angles: looking up 10° a degree is worth 3 % more
    height than at eye level, so the squares of angles come out 3 mm lower."""
    assert [watcher.best for watcher in BED] == pytest.approx([1736.7, 1225.0], abs=0.5)
    fair = smallest_worst(BED)
    assert fair == pytest.approx(1479, abs=2)
    assert [abs(watcher.off(fair)) for watcher in BED] == pytest.approx([4.1, 4.1], abs=0.05)
    assert sum(watcher.share * watcher.best for watcher in BED) == pytest.approx(1532, abs=0.5)
    assert least_squares(BED) == pytest.approx(1529, abs=0.5)


def test_one_seat_gets_what_it_wants() -> None:
    alone = (Watcher(1080, 3600, 0, 1.0),)
    assert least_squares(alone) == pytest.approx(1080)
    assert smallest_worst(alone) == pytest.approx(1080)
    assert good_for_all(alone, 5) == pytest.approx((1080 - 314.96, 1080 + 314.96), abs=0.01)  # 3600 tan 5°


def test_no_height_good_for_all() -> None:
    assert good_for_all((Watcher(1000, 2000, 0, 0.5), Watcher(1000, 2000, 25, 0.5)), 5) is None


def test_the_recommended_height_stays_where_all_are_good() -> None:
    assert recommended(1526, (1443, 1500)) == 1500
    assert recommended(1400, (1443, 1500)) == 1443
    assert recommended(1470, (1443, 1500)) == 1470
    assert recommended(1526, None) == 1526


def test_setting_out_does_not_leave_the_band() -> None:
    assert set_out(1526.4, 5, None) == 1525
    assert set_out(1503.9, 5, (1443, 1503.9)) == 1500  # 1505 is nearer, and out of it
    assert set_out(1441.2, 5, (1441.2, 1503.9)) == 1445
    assert set_out(1501.5, 5, (1501, 1502)) == 1501.5  # no whole step in it


@given(watchers, st.floats(1, 10))
def test_what_is_recommended_is_good_for_all_where_anything_is(
    seats: list[Watcher], tolerance: float
) -> None:
    band = good_for_all(seats, tolerance)
    height = set_out(recommended(least_squares(seats), band), 5, band)
    if band is not None:
        assert max(abs(seat.off(height)) for seat in seats) <= tolerance + 1e-6
    else:
        assert abs(height - least_squares(seats)) <= 2.5 + 1e-6


def test_no_seat() -> None:
    with pytest.raises(ValueError, match="seat"):
        least_squares(())


@given(watchers)
def test_against_another_solver(seats: list[Watcher]) -> None:
    def cost(height: float) -> float:
        return sum(seat.share * seat.off(height) ** 2 for seat in seats)

    bests = [seat.best for seat in seats]
    ours = least_squares(seats)
    assert min(bests) - 1e-6 <= ours <= max(bests) + 1e-6
    grid = min((min(bests) + (max(bests) - min(bests)) * i / 200 for i in range(201)), key=cost)
    other = minimize_scalar(cost, bounds=(grid - 30, grid + 30), method="bounded", options={"xatol": 1e-7})
    assert cost(ours) <= other.fun * (1 + 1e-6) + 1e-9


@given(watchers, st.floats(1, 300))
def test_height_follows_the_eyes(seats: list[Watcher], rise: float) -> None:
    raised = [Watcher(seat.eye + rise, seat.run, seat.wanted, seat.share) for seat in seats]
    assert least_squares(raised) == pytest.approx(least_squares(seats) + rise, abs=1e-3)
    assert smallest_worst(raised) == pytest.approx(smallest_worst(seats) + rise, abs=1e-3)


@given(watchers)
def test_the_fair_height_is_least_bad(seats: list[Watcher]) -> None:
    def worst(height: float) -> float:
        return max(abs(seat.off(height)) for seat in seats)

    fair = smallest_worst(seats)
    assert all(worst(fair) <= worst(fair + step) + 1e-6 for step in (-200, -20, -1, 1, 20, 200))


def test_penalty_at_any_height() -> None:
    """At 1500: A is 10° − atan(384/3520) = 10 − 6.23 = 3.77° too low, B atan(275/3520) = 4.47° too high (by hand)."""
    cost = penalty(BED, 1500)
    assert cost.offs == pytest.approx((-3.774, 4.467), abs=0.002)
    assert cost.worst == pytest.approx(4.467, abs=0.002)
    assert cost.regret == pytest.approx(0.6 * 3.774**2 + 0.4 * 4.467**2, abs=0.01)
    unsaid = [Watcher(1116, 3520, 10, 0.0), Watcher(1225, 3520, 0, 0.0)]
    assert penalty(unsaid, 1500).regret == pytest.approx((3.774**2 + 4.467**2) / 2, abs=0.01)
    with pytest.raises(ValueError, match="seat"):
        penalty((), 1500)


def test_the_curve_has_its_least_at_the_best_height() -> None:
    samples = curve(BED, 1100, 1900, 20)
    assert [samples[0].height, samples[-1].height, len(samples)] == [1100, 1900, 41]
    lowest = min(samples, key=lambda cost: cost.regret)
    assert abs(lowest.height - least_squares(BED)) <= 10
    fairest = min(samples, key=lambda cost: cost.worst)
    assert abs(fairest.height - smallest_worst(BED)) <= 10
