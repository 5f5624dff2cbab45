from __future__ import annotations

import runpy
from pathlib import Path

import pytest

from wallwright.library import load
from wallwright.services import conduit

PUBLISHED = Path(__file__).parents[1] / "published"
BS = runpy.run_path(str(PUBLISHED / "bs_7671.py"))
NEC = runpy.run_path(str(PUBLISHED / "nec_ch9.py"))


def many(counts: dict[float, int]) -> list[float]:
    return [size for size, count in counts.items() for _ in range(count)]


def test_conduit_factors_are_those_of_the_guide() -> None:
    for (metres, bends), row in BS["CONDUIT"].items():  # On-Site Guide appendix E
        assert tuple(conduit.conduit_factor(size, metres, bends) for size in (16, 20, 25, 32)) == row
    assert conduit.conduit_factor(20, 4.2, 2) == 196  # between rows the longer one
    for length, bends in [(9, 1), (8, 3), (5, 4)]:
        with pytest.raises(ValueError, match="draw box"):
            conduit.conduit_factor(20, length, bends)


def test_cable_factors_are_those_of_the_guide() -> None:
    for size, factor in BS["FACTORS_LONG"].items():  # On-Site Guide appendix E
        assert conduit.cable_factor([size], 5, 2) == factor
        assert conduit.cable_factor([size], 2, 1) == factor  # short, but bent


@pytest.mark.parametrize(("counts", "metres", "bends", "factor", "size"), BS["WORKED"])
def test_worked_examples_of_the_guide(
    counts: dict[float, int], metres: float, bends: int, factor: int, size: int
) -> None:
    assert (
        conduit.cable_factor(many(counts), metres, bends) == factor
    )  # On-Site Guide appendix E, worked example
    assert conduit.smallest_conduit(many(counts), metres, bends) == size


def test_more_cables_ask_for_the_next_conduit() -> None:
    # 3 × 30 + 3 × 22 = 156 ≤ 196; with three more of 2.5 mm² 246 > 196 (On-Site Guide appendix E, by hand)
    assert conduit.cable_factor(many({2.5: 3, 1.5: 3}), 5, 2) == 156
    assert conduit.smallest_conduit(many({2.5: 3, 1.5: 3}), 5, 2) == 20
    assert conduit.smallest_conduit(many({2.5: 6, 1.5: 3}), 5, 2) == 25
    with pytest.raises(ValueError, match="more than"):
        conduit.smallest_conduit(many({10.0: 9}), 5, 2)


def test_fill_of_data_and_coax() -> None:
    cables = [6.2, 6.2, 6.2, 6.9]
    assert 100 * conduit.fill(cables, 21.4) == pytest.approx(35.6, abs=0.1)  # areas by hand; 45 % allowed
    assert 100 * conduit.fill(cables, 16.9) == pytest.approx(57.0, abs=0.1)
    assert conduit.smallest_bore(cables, 0.45) == (25, 21.4)
    assert conduit.smallest_bore([40.0], 0.45) is None


def test_us_fill_and_count() -> None:
    limits = load.limits()
    shares = [limits.value(f"services.fill_{word}") for word in ("one", "two", "more")]
    assert shares == [NEC["FILL"][count] for count in (1, 2, 3)]  # NEC chapter 9 table 1
    assert [conduit.fill_share(count, *shares) for count in (1, 2, 3, 9)] == [0.53, 0.31, 0.40, 0.40]
    for size, area in NEC["EMT"].items():  # NEC chapter 9 table 4
        assert 0.40 * area == pytest.approx(NEC["EMT_40"][size], abs=1e-3)
    for gauge, counts in NEC["FIT"].items():  # NEC annex C, from memory
        assert (
            tuple(conduit.wires_that_fit(area, NEC["THHN"][gauge]) for area in NEC["EMT"].values()) == counts
        )


def test_the_plug_is_the_gauge() -> None:
    bore = conduit.plug_bore(21, 12, 0.9)
    assert bore == pytest.approx(26.87, abs=0.01)  # diagonal 24.19 / 0.9: a 25 mm conduit (bore 21.4) fails
    assert conduit.smallest_bore([7.5], 0.53, least=bore) == (32, 27.8)


def test_draw_boxes_after_two_bends_and_ten_metres() -> None:
    stairs = (
        (0.0, 0.0),
        (1000.0, 0.0),
        (1000.0, 1000.0),
        (2000.0, 1000.0),
        (2000.0, 2000.0),
        (3000.0, 2000.0),
    )
    assert conduit.draw_boxes(stairs[:4], 2, 10_000) == ()
    assert conduit.draw_boxes(stairs, 2, 10_000) == ((2000.0, 1000.0),)  # the third bend
    assert conduit.draw_boxes(((0.0, 0.0), (25_000.0, 0.0)), 2, 10_000) == ((10_000.0, 0.0), (20_000.0, 0.0))
    assert (
        load.limits().value("services.bends_max") * 90 <= NEC["BENDS_DEGREES"]
    )  # NEC 358.26: 360° between pull points
