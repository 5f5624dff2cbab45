import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass import flutes
from wallwright.carcass.flutes import (
    field_width,
    flutes_within,
    groove_middle,
    nearest_groove,
    pitch_for,
    rest,
)


def test_width_is_whole_pitches_and_a_rib():
    """width = n·pitch + rib (common practice)."""
    assert field_width(67, 30, 15) == 2025
    assert flutes_within(2050, 30, 15) == 67
    assert flutes_within(2025, 30, 15) == 67  # exactly closing
    assert flutes_within(2024.9, 30, 15) == 66
    assert flutes_within(10, 30, 15) == 0


@given(st.floats(200, 4000), st.floats(12, 40), st.floats(0.3, 0.7))
def test_a_pitch_made_for_a_width_closes(width, near, share):
    count, pitch = pitch_for(width, near, share)
    assert field_width(count, pitch, pitch * share) == pytest.approx(width, abs=1e-6)
    assert rest(width, count, pitch, pitch * share) == pytest.approx(0, abs=1e-6)
    assert abs(pitch - near) <= near / (2 * count)  # no nearer whole number of flutes


@given(st.floats(0, 3000), st.integers(5, 90), st.floats(12, 40))
def test_the_nearest_groove_is_a_groove_and_the_nearest(at, count, pitch):
    rib = pitch / 2
    found = nearest_groove(at, count, pitch, rib)
    grooves = [groove_middle(k, pitch, rib) for k in range(count)]
    assert min(abs(found - groove) for groove in grooves) < 1e-9
    assert abs(found - at) <= min(abs(groove - at) for groove in grooves) + 1e-6


def test_a_groove_lies_between_two_ribs():
    assert groove_middle(0, 30, 15) == 22.5  # rib 0–15, groove 15–30
    assert groove_middle(66, 30, 15) == field_width(67, 30, 15) - 22.5


def test_an_odd_number_puts_a_groove_on_the_middle():
    for count in range(1, 12):
        pitch, rib = 30.0, 15.0
        middle = flutes.field_width(count, pitch, rib) / 2
        grooves = [flutes.groove_middle(k, pitch, rib) for k in range(count)]
        on_groove = any(abs(middle - at) < 1e-9 for at in grooves)
        assert (flutes.on_middle(count) == "groove") is on_groove


def test_running_marks_do_not_add_up_an_error_that_steps_would():
    # 67 flutes at 30.37 stepped off by a machine set to 30.4 stray 67 × 0.03 = 2.0 mm; the last running mark is right to 0.05
    assert flutes.machine_error(67, 30.37, 0.1) == pytest.approx(67 * 0.03)
    assert flutes.marks(67, 30.37)[-1] == pytest.approx(67 * 30.37, abs=0.05)


@given(st.floats(0, 1800), st.floats(60, 160), st.integers(60, 80), st.floats(20, 40))
def test_a_flat_patch_holds_the_box_and_ends_on_whole_ribs(left, wide, count, pitch):
    rib = pitch / 2
    right = min(left + wide, flutes.field_width(count, pitch, rib) - rib)
    if right <= left:
        return
    low, high = flutes.patch(left, right, count, pitch, rib)
    assert low <= left + 1e-6 and high >= right - 1e-6
    assert (
        abs(low / pitch - round(low / pitch)) < 1e-6
        and abs((high - rib) / pitch - round((high - rib) / pitch)) < 1e-6
    )
    assert high - low < right - left + 2 * pitch + 1e-6
