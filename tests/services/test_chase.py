from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box as polygon
from shapely.geometry import LineString
from shapely.ops import unary_union

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.survey import Reading, SurveyedWall
from wallwright.library import load
from wallwright.services.chase import deepest, lies, masonry_of, needed, outside

LIMITS = load.limits()


def wall(substrate: str, leaf: float | None) -> SurveyedWall:
    reading = (Reading(Length(0.0), Length(2700.0)),)
    return SurveyedWall(reading, reading, substrate=substrate, leaf=Length(leaf) if leaf else None)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("leaf", "upright", "level"),
    [
        (100, 33.3, 16.7),
        (102.5, 34.2, 17.1),
        (115, 38.33, 19.17),
        (230, 76.7, 38.3),
    ],  # guidance on Approved Document A: a third and a sixth
)
def test_deepest(leaf: float, upright: float, level: float) -> None:
    assert deepest(leaf, level=False) == pytest.approx(upright, abs=0.05)
    assert deepest(leaf, level=True) == pytest.approx(level, abs=0.05)


def test_what_a_leaf_bears() -> None:
    nine_inch, half_brick = masonry_of(wall("brick", 230), LIMITS), masonry_of(wall("brick", 50), LIMITS)
    assert nine_inch is not None and half_brick is not None
    assert needed(20, nine_inch.cover) == 32  # 12 mm of plaster over it, common practice
    assert nine_inch.may_cut(20, level=True) and not nine_inch.may_cut(40, level=True)  # 32 <= 38.3 < 52
    assert nine_inch.may_cut(40, level=False)  # 52 <= 76.7
    assert not half_brick.may_cut(20, level=False)  # 50 / 3 = 16.7


def test_an_unknown_leaf_is_the_usual_one_and_is_said() -> None:
    guess = masonry_of(wall("brick", None), LIMITS)
    assert guess is not None and guess.assumed and guess.leaf == LIMITS.value("services.leaf_brick")
    known = masonry_of(wall("brick", 230), LIMITS)
    assert known is not None and not known.assumed


def test_what_is_not_masonry_is_not_chased() -> None:
    assert all(
        masonry_of(wall(kind, 100), LIMITS) is None
        for kind in ("concrete", "metal_stud", "timber_stud", "unknown")
    )
    assert [lies(kind, False) for kind in ("brick", "metal_stud", "concrete", "unknown")] == [
        "chase", "cavity", "surface", "unknown",
    ]  # fmt: skip
    assert lies("concrete", True) == "void"


whole = st.integers(0, 40).map(lambda n: n * 50.0)


@given(
    st.lists(st.tuples(whole, whole), min_size=2, max_size=5),
    st.lists(st.tuples(whole, whole, st.integers(1, 12), st.integers(1, 12)), max_size=5),
)
def test_what_is_outside_against_shapely(
    corners: list[tuple[float, float]], boxes: list[tuple[float, float, int, int]]
) -> None:
    path = [corners[0]]
    for x, z in corners[1:]:
        path += [(x, path[-1][1]), (x, z)]
    covers = [Box(x - 25, z - 25, 50.0 * w, 50.0 * h) for x, z, w, h in boxes]
    field = unary_union([polygon(b.x, b.z, b.right, b.top) for b in covers]) if covers else None
    expected = sum(
        (LineString([a, b]).difference(field) if field else LineString([a, b])).length
        for a, b in pairwise(path)
        if a != b
    )
    pieces = outside(path, covers)
    assert sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pieces) == pytest.approx(expected)
