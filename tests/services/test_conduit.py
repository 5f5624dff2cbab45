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
    assert conduit.conduit_factor(20, 4.7, 2) == 196  # between rows the longer one
    for metres, bends in [
        (9, 0),
        (8, 1),
        (7, 2),
        (10, 1),
        (10, 0),
    ]:  # twice as long is a bend more, as in all of the table's rows
        assert conduit.conduit_factor(25, metres, bends) == conduit.conduit_factor(25, metres / 2, bends + 1)
    for length, bends in [(11, 1), (8, 3), (5, 4)]:
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
    assert conduit.smallest_bore(cables, (0.45, 0.45, 0.45)) == (25, 21.4)
    assert conduit.smallest_bore([40.0], (0.45, 0.45, 0.45)) is None


def test_cables_are_drawn_in_one_after_another() -> None:
    """The thickest alone 53 %, the two thickest 31 %, all 40 % (NEC chapter 9 table 1), by hand in a bore of 20: 400."""
    shares = (0.53, 0.31, 0.40)
    assert conduit.fits([14.5], 20, shares) and not conduit.fits([14.6], 20, shares)  # 212 of 400
    assert conduit.fits([7.8, 7.8], 20, shares) and not conduit.fits([7.9, 7.9], 20, shares)  # 124 of 400
    assert conduit.fits([7.3, 7.3, 7.3], 20, shares) and not conduit.fits([7.4] * 3, 20, shares)  # 160 of 400
    # three fill 148 of 400, less than 40 %, but the two thick ones alone 136, more than 31 %
    assert not conduit.fits([2.0, 8.25, 8.25], 20, shares) and conduit.fits([], 20, shares)


def test_stretches_between_draw_boxes() -> None:
    path = ((0.0, 2600.0), (3000.0, 2600.0), (3000.0, 1000.0), (5000.0, 1000.0), (5000.0, 400.0))
    assert conduit.pulls(path, ()) == ((7.2, 3),)
    assert conduit.pulls(path, ((5000.0, 1000.0),)) == ((6.6, 2), (0.6, 0))
    assert conduit.pulls(path, ((1000.0, 2600.0), (5000.0, 1000.0))) == ((1.0, 0), (5.6, 2), (0.6, 0))
    boxes = conduit.draw_boxes(path, 2, 4000)
    assert sum(bends for _, bends in conduit.pulls(path, boxes)) + len(boxes) >= 3
    assert all(metres <= 4.0001 and bends <= 2 for metres, bends in conduit.pulls(path, boxes))


def test_single_cores_want_a_wider_conduit_for_more_bends() -> None:
    # 3 × 4 mm² is 129, 3 × 6 mm² 174; what a 20 mm conduit holds stands beside (On-Site Guide appendix E)
    assert conduit.drawn_through((4.0,) * 3, [(4.0, 1)]) == 20  # 256
    assert conduit.drawn_through((4.0,) * 3, [(6.0, 2)]) == 20  # 182
    assert conduit.drawn_through((4.0,) * 3, [(1.0, 0), (9.0, 2)]) == 20  # 149
    assert conduit.drawn_through((6.0,) * 3, [(1.0, 0), (9.0, 2)]) == 25  # 174 > 149


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
    assert conduit.plug_bore(21, 12, 0.9, 7.5) == pytest.approx(
        35.2, abs=0.05
    )  # (24.19 + 7.5) / 0.9: a cable lies there already
    bore = conduit.plug_bore(21, 12, 0.9)
    assert bore == pytest.approx(26.87, abs=0.01)  # diagonal 24.19 / 0.9: a 25 mm conduit (bore 21.4) fails
    assert conduit.smallest_bore([7.5], (0.53, 0.31, 0.40), least=bore) == (32, 27.8)


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
