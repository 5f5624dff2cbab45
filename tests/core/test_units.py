"""Lengths as people write them. The inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.units import Length, read_exact, read_length, show_feet, show_level, show_mm

IN = Fraction(254, 10)


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("9'-4 3/8\"", IN * (9 * 12 + 4 + Fraction(3, 8))),
        ("13'-9 3/8\"", Fraction("4200.525")),
        ("9' 4 3/8\"", IN * (112 + Fraction(3, 8))),
        ("9′-4⅜″", IN * (112 + Fraction(3, 8))),
        ("9’ 4 3/8”", IN * (112 + Fraction(3, 8))),
        ("9 ft 4 3/8 in", IN * (112 + Fraction(3, 8))),
        ("9'4", IN * 112),
        ('72⅜"', IN * (72 + Fraction(3, 8))),
        ('72 3/8"', IN * (72 + Fraction(3, 8))),
        ("72 3/8''", IN * (72 + Fraction(3, 8))),
        ('3/4"', IN * Fraction(3, 4)),
        ('½"', IN / 2),
        ("4 ft 6", IN * 54),
        ("4ft 6in", IN * 54),
        ("4 feet 6 inches", IN * 54),
        ("5'", IN * 60),
        ("2853", Fraction(2853)),
        ("2853 mm", Fraction(2853)),
        ("2853.5", Fraction("2853.5")),
        ("285.3 cm", Fraction(2853)),
        ("285.3cm", Fraction(2853)),
        ("1.2 m", Fraction(1200)),
        ("1 m 20 cm", Fraction(1200)),
        (".5 m", Fraction(500)),
        ("  1200  ", Fraction(1200)),
        ("1 METRE", Fraction(1000)),
        ("-12", Fraction(-12)),
        ('−1/2"', -IN / 2),
        (2853, Fraction(2853)),
        (0.1, Fraction(1, 10)),
    ],
)
def test_every_spelling_is_read_exactly(written: str | float, mm: Fraction) -> None:
    assert read_exact(written) == mm
    assert read_length(written) == float(mm)


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("285 kg", "'kg'"),
        ("12 volts", "not a unit"),
        ("six feet", "'six'"),
        ("4 6", "two numbers"),
        ("1 m 200", "two numbers"),
        ("6 in 4 ft", "larger unit first"),
        ("1 m 1 m", "larger unit first"),
        ("ft", "no number"),
        ('1/0"', "over 0"),
        ("1,200", "cannot read"),
        ("1.2.3", "cannot read|two numbers"),
        ("--5", "cannot read"),
        ("5-4", "cannot read"),
        ("nan", "not a unit"),
        ("1e3", "not a unit|cannot read"),
        ("9" * 61, "too long"),
        (math.nan, "nan"),
        (math.inf, "inf"),
        (True, "true"),
        ("Ω", "cannot read"),
    ],
)
def test_what_is_no_length_is_refused_with_a_reason(written: str | float, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read_exact(written)


sixty_fourths = st.tuples(st.integers(0, 30), st.integers(0, 11), st.integers(0, 63))


@given(
    sixty_fourths,
    st.sampled_from(
        ["{f}'-{i} {n}\"", "{f}' {i} {n}\"", "{f} ft {i} {n} in", "{f}′{i} {n}″", "{f} feet {i} {n}"]
    ),
)
def test_feet_inches_and_fractions_are_exact(parts: tuple[int, int, int], spelling: str) -> None:
    feet, inches, n = parts
    text = spelling.format(f=feet, i=inches, n=f"{n}/64")
    assert read_exact(text) == Fraction(254, 10) * (12 * feet + inches + Fraction(n, 64))


@given(st.integers(0, 99_999), st.integers(0, 9))
def test_metric_spellings_agree(whole: int, tenth: int) -> None:
    mm = Fraction(f"{whole}.{tenth}")
    assert read_exact(f"{whole}.{tenth}") == read_exact(f"{whole}.{tenth} mm") == mm
    assert read_exact(f"{whole}.{tenth} cm") == 10 * mm
    assert read_exact(f"{whole}.{tenth} m") == 1000 * mm


@given(sixty_fourths)
def test_what_is_shown_in_feet_reads_back_exactly(parts: tuple[int, int, int]) -> None:
    mm = Fraction(254, 10) * (12 * parts[0] + parts[1] + Fraction(parts[2], 64))
    assert read_exact(show_feet(float(mm), 64)) == mm


@given(st.floats(-20_000, 20_000, allow_nan=False))
def test_shown_to_an_eighth_is_at_most_a_sixteenth_off(mm: float) -> None:
    assert abs(read_length(show_feet(mm)) - mm) <= 25.4 / 16 + 1e-9


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        assert isinstance(read_exact(text), Fraction)
    except ValueError as problem:
        assert str(problem)


@pytest.mark.parametrize(
    ("mm", "decimals", "text"),
    [(1480.0, 0, "1480"), (12.54, 1, "12.5"), (-0.2, 0, "0"), (-0.04, 1, "0"), (1e5, 0, "100000")],
)
def test_millimetres_for_print(mm: float, decimals: int, text: str) -> None:
    assert show_mm(mm, decimals) == text


@pytest.mark.parametrize(
    ("mm", "text"), [(1150, "+1.150"), (-20, "-0.020"), (0.3, "±0.000"), (2750.4, "+2.750")]
)
def test_levels_from_the_floor(mm: float, text: str) -> None:
    assert show_level(mm) == text


@pytest.mark.parametrize(
    ("mm", "text"),
    [(2854.325, "9'-4 3/8\""), (304.8, "1'-0\""), (12.7, '0 1/2"'), (0, '0"'), (-304.8, "-1'-0\"")],
)
def test_feet_for_print(mm: float, text: str) -> None:
    assert show_feet(mm) == text


def test_a_length_is_its_millimetres() -> None:
    assert float(Length(1200.0, "1.2 m", "measured", 3)) == 1200.0
