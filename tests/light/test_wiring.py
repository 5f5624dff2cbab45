"""Volts lost and drivers: IEC 60228, a published kind of example, and the differential equation of a strip."""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from wallwright.light import wiring

IEC: dict[str, Any] = runpy.run_path(str(Path(__file__).parents[1] / "published" / "iec_60228.py"))


def test_the_published_resistances() -> None:
    assert IEC["CLASS_5"] == wiring.CLASS_5  # IEC 60228:2004 table 3
    for (
        size,
        ohms,
    ) in wiring.CLASS_5.items():  # above that of solid copper of the named size, by at most a fifth
        assert 1.0 < ohms / (1000 * IEC["COPPER"] / size) < 1.2


def test_feed() -> None:
    """3 A over 5 m: 0.780 V in 0.75 mm² (3.25 % of 24 V), 0.399 V in 1.5 mm²: 2 I R′ L with IEC 60228 class 5."""
    assert wiring.feed_drop(3, 0.75, 5) == pytest.approx(0.780, abs=1e-3)
    assert wiring.feed_drop(3, 1.5, 5) == pytest.approx(0.399, abs=1e-3)
    assert wiring.feed_size(3, 24, 5, 0.03) == 1.0  # 0.585 V = 2.4 %
    assert wiring.feed_size(30, 12, 20, 0.01) == 2.5
    with pytest.raises(ValueError, match=r"1\.5"):
        wiring.feed_drop(3, 1.2, 5)


def test_strip() -> None:
    """r 0.09852 Ω/m, 0.6 A/m: 5 m 0.739 V, 10 m 2.956 V, from both ends 0.739 V (r i L²/2 and /8 by hand)."""
    assert wiring.strip_drop(0.09852, 0.6, 5, "one_end") == pytest.approx(0.739, abs=2e-3)
    assert wiring.strip_drop(0.09852, 0.6, 10, "one_end") == pytest.approx(2.956, abs=2e-3)
    assert wiring.strip_drop(0.09852, 0.6, 10, "both_ends") == pytest.approx(0.739, abs=2e-3)
    # 7 m of 14.4 W/m at 24 V, 0.1 Ω/m: 1.47 V = 6.1 %; fed in the middle 1.5 % (½ I R by hand)
    assert wiring.strip_drop(0.1, 14.4 / 24, 7, "one_end") / 24 == pytest.approx(0.061, abs=5e-4)
    assert wiring.strip_drop(0.1, 14.4 / 24, 7, "centre") / 24 == pytest.approx(0.015, abs=5e-4)


@pytest.mark.parametrize(
    ("metres", "volts"), [(5, 23.280), (10, 21.320)]
)  # V₀/cosh(L/λ), r 0.09852, 0.6 A/m at 24 V
def test_resistor_strip(metres: float, volts: float) -> None:
    """Against V″ = r (i/V₀) V solved along the strip, no current leaving its end."""
    assert wiring.resistor_strip_end(24, 0.09852, 0.6, metres) == pytest.approx(volts, abs=2e-3)
    far = solve_ivp(lambda _, y: (y[1], 0.09852 * 0.6 / 24 * y[0]), (0, metres), (1.0, 0.0), rtol=1e-10).y[0][
        -1
    ]
    assert wiring.resistor_strip_end(24, 0.09852, 0.6, metres) == pytest.approx(24 / far, rel=1e-6)


@given(st.floats(0.01, 0.3), st.floats(0.1, 1.2), st.floats(0.3, 15))
def test_feeds_compared(loop: float, amps: float, metres: float) -> None:
    one = wiring.strip_drop(loop, amps, metres, "one_end")
    assert one == pytest.approx(4 * wiring.strip_drop(loop, amps, metres, "centre"))
    # ladder of 400 pieces, each drawing its share
    ladder = sum(loop * metres / 400 * amps * metres * (1 - (i + 0.5) / 400) for i in range(400))
    assert one == pytest.approx(ladder, rel=1e-6)
    # where the current falls with the volts the loss is smaller: ours stays on the safe side
    assert 24 - wiring.resistor_strip_end(24, loop, amps, metres) <= one + 1e-9


def test_driver() -> None:
    assert wiring.driver(72, 0.8) == (100, 1)  # 14.4 W/m × 5 m ÷ 0.8 = 90 W, next size sold (common practice)
    assert wiring.driver(60, 0.8) == (75, 1)  # exactly full at 80 %
    assert wiring.driver(1, 0.8) == (12, 1)
    each, count = wiring.driver(600, 0.8)
    assert count == 3 and each * count * 0.8 >= 600


@given(st.floats(0.1, 3000), st.floats(0.5, 1))
def test_driver_is_never_overloaded_and_no_larger_than_needed(watts: float, load: float) -> None:
    each, count = wiring.driver(watts, load)
    assert watts / (each * count) <= load + 1e-6
    smaller = [size for size in wiring.DRIVERS if size < each]
    assert count > 1 or not smaller or watts / max(smaller) > load
