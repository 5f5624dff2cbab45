"""What a sample says, and does not: partly measured flats, an outlier, all alike, ends of unlike width, what no filler helps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from wallwright.library import load
from wallwright.money.show import Notation
from wallwright.tower.fit import Ends, Fit
from wallwright.tower.made import Checked, Made, Range
from wallwright.tower.run import Done
from wallwright.tower.sample import Sample, sample

LIMITS = load.limits_of("IN")
W, H = 4200.0, 2750.0
BEARS = Range("A", 5.0, 60.0)


def made(ends: Ends) -> Made:
    return Made("A", W, H, ends, (), (), (), 0, 0, Notation(), (), (), 0)


@pytest.fixture(scope="module")
def told(flat: Any, tape: Any) -> Any:
    """The sample of these flats. each : widths, height, and what stands against it; no widths and no height: nobody measured"""

    def of(each: Sequence[tuple[tuple[float, ...], float | None, str]], ends: Ends) -> Sample:
        wall = made(ends)
        flats: list[Done] = []
        for i, (widths, height, why) in enumerate(each):
            measured = tape(*widths, height=height)
            fit = Fit(not why, (why,) if why else (), (), ())
            checked = Checked("", fit, (), (), None) if measured.anything else None
            flats.append(Done(flat(f"F{i:02d}", measured=measured), wall, True, checked))
        return sample("A", flats, wall, LIMITS, BEARS)

    return of


BOTH = Ends(25.0, 25.0)
WELL = ((W,), H, "")
NOT = ((), None, "")


def test_what_was_measured_in_part_is_not_counted_as_taking_it(told: Any) -> None:
    """A height alone says nothing of the fillers. Of 10 flats 3 are known to take it: with 95 % up to 5 of the 7 others may not, by
    hand: the chance to see 0 bad of 3 is C(10-k, 3)/C(10, 3): k = 5: 10/120 = 8.3 %, k = 6: 4/120 = 3.3 %.
    """
    found = told([WELL, WELL, WELL, ((), H, ""), ((W,), None, ""), *[NOT] * 5], BOTH)
    assert (found.flats, found.measured, found.partly) == (10, 3, ("F03", "F04"))
    assert found.most_more == 5
    assert any("measured in part, so not counted: F03, F04" in says for says in found.says)
    only = told([((), H, ""), NOT], BOTH)
    assert (only.measured, only.most_more) == (0, None)
    assert only.says[0].startswith("none of 2 flats was measured")


def test_what_stands_against_a_flat_counts_though_it_was_measured_in_part(told: Any) -> None:
    found = told([WELL, ((4120.0,), None, "too narrow"), NOT], BOTH)
    assert (found.measured, found.unfit, found.partly) == (2, (("F01", "too narrow"),), ())


def test_all_alike_have_no_spread_and_still_promise_nothing(told: Any) -> None:
    """20 of 30 alike: k = 3 bad are seen as none with C(27, 20)/C(30, 20) = 3.0 %, k = 2 with 10.3 %: at most 2 more, by hand."""
    found = told([*[WELL] * 20, *[NOT] * 10], BOTH)
    width = next(one for one in found.openings if one.name == "width, narrowest")
    assert (width.mean, width.spread, width.least[0], width.most[0]) == (W, 0.0, W, W)
    assert found.most_more == 2
    assert (found.scribe.all, found.scribe.most) == (5.0, 60.0)


def test_an_outlier_moves_the_mean_but_not_what_is_promised(told: Any) -> None:
    calm, odd = (told([*[WELL] * 9, ((w,), H, ""), *[NOT] * 10], BOTH) for w in (W, W + 500.0))
    mean = [
        next(one for one in found.openings if one.name == "width, narrowest").mean for found in (calm, odd)
    ]
    assert mean[1] == pytest.approx(mean[0] + 50.0)
    assert (calm.most_more, calm.covered) == (odd.most_more, odd.covered)
    assert odd.scribe.all is None
    assert any("no one filler makes all" in says for says in odd.says)
    assert odd.scribe.not_drawn == ("F09",)


def test_of_unlike_ends_the_narrower_is_told_and_the_strip_does_for_the_wider(told: Any) -> None:
    """20 and 32 mm; a wall 10 narrower takes 5 off each: the narrower wants 10 there to keep 5; the wider wall's strip: 10 + 12 + 4 + 10."""
    found = told([((W - 10.0,), H, ""), ((W + 8.0,), H, "")], Ends(20.0, 32.0)).scribe
    assert (found.drawn, found.wider) == (20.0, 12.0)
    assert found.all == pytest.approx(10.0)
    assert found.strip == pytest.approx(10.0 + 12.0 + 4.0 + LIMITS.value("carcass.scribe_over"))
    assert "20.0 mm at the narrower end, 12.0 mm more at the other" in found.says[0]
    assert "25.0 mm at each closed end" in told([WELL], BOTH).scribe.says[0]


def test_what_no_filler_helps_is_said_and_not_promised(told: Any) -> None:
    """A ceiling too low: every width takes a filler, and one flat is still left out."""
    found = told([WELL, ((W,), 2310.0, "T1 is left 10 mm under the ceiling")], BOTH).scribe
    assert (found.not_drawn, found.besides) == ((), ("F01",))
    assert any(says.startswith("no filler helps F01") for says in found.says)
    assert not any("no filler helps" in says for says in told([WELL, WELL], BOTH).says)


def test_takes_is_not_known_of_what_was_measured_in_part(flat: Any, tape: Any) -> None:
    whole = Done(
        flat("F", measured=tape(W, height=H)),
        made(BOTH),
        True,
        Checked("", Fit(True, (), (), ()), (), (), None),
    )
    assert whole.takes is True
    assert replace(whole, flat=flat("F", measured=tape(W))).takes is None
    narrow = Checked("", Fit(False, ("too narrow",), (), ()), (), (), None)
    assert replace(whole, flat=flat("F", measured=tape(W)), checked=narrow).takes is False
