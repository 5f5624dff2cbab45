"""Marks that are no picture of the wall are said so, in words that tell what to do; and a wrong tape measure is found."""

from __future__ import annotations

import numpy as np
import pytest

from tests.photo.eye import AT_35, FRONTAL, SIZE, Eye, at_angle, bent
from wallwright.job.problem import JobError
from wallwright.library.load import limits
from wallwright.photo.checked import checked
from wallwright.photo.file import read_photo
from wallwright.photo.fit import Doubt, Marked, fitted, place, sure_at
from wallwright.photo.suspect import left_out, suspects
from wallwright.photo.taken import taken

CORNERS = {"A": (0, 0), "B": (2400, 0), "C": (2400, 1500), "D": (0, 1500)}
EIGHT = CORNERS | {"E": (1200, 0), "F": (2400, 750), "G": (1200, 1500), "H": (0, 750)}
DOUBT = Doubt(1.0, 0.0, SIZE)


def marks(
    points: dict[str, tuple[float, float]], eye: Eye = AT_35, noise: float = 0.0, seed: int = 1
) -> list[Marked]:
    rng = np.random.default_rng(seed)
    px = eye.on_wall(list(points.values())) + rng.normal(0, noise or 1e-12, (len(points), 2))
    return [
        Marked(ref, (float(u), float(v)), at, 1.0)
        for (ref, at), (u, v) in zip(points.items(), px, strict=True)
    ]


def said(given: list[Marked]) -> str:
    with pytest.raises(JobError) as caught:
        checked(given, SIZE, "wall.toml")
    return str(caught.value)


@pytest.mark.parametrize("eye", [FRONTAL, AT_35, at_angle(-60.0), at_angle(30.0, up=200.0)])
@pytest.mark.parametrize("points", [CORNERS, EIGHT], ids=["four", "eight"])
def test_good_marks_are_let_be(eye: Eye, points: dict[str, tuple[float, float]]) -> None:
    checked(marks(points, eye, 1.0), SIZE, "wall.toml")


def test_too_few_and_too_many() -> None:
    assert "3 measured points" in said(marks(CORNERS)[:3])
    many = {f"P{i}": (100.0 * (i % 6), 100.0 * (i // 6)) for i in range(25)}
    assert "24 are more than enough" in said(marks(many))


def test_points_on_one_line() -> None:
    assert "span an area" in said(marks({"A": (0, 0), "B": (800, 0), "C": (1600, 0), "D": (2400, 0)}))
    assert "span an area" in said(
        marks({"A": (0, 0), "B": (1200, 4), "C": (2400, 0), "D": (0, 1500)})
    )  # three of the four


def test_two_marks_swapped_are_named() -> None:
    for points in (CORNERS, EIGHT):
        given = marks(points)
        swapped = [Marked(m.ref, given[{0: 1, 1: 0}.get(i, i)].px, m.at) for i, m in enumerate(given)]
        assert "A and B" in said(swapped)


def test_mirrored_and_lying_photos() -> None:
    given = marks(EIGHT)
    assert "left and right" in said([Marked(m.ref, (4000 - m.px[0], m.px[1]), m.at) for m in given])
    assert "on its side or its head" in said(
        [Marked(m.ref, (4000 - m.px[0], 3000 - m.px[1]), m.at) for m in given]
    )
    turned = [Marked(m.ref, (m.px[1], 3900 - m.px[0]), m.at) for m in given]
    with pytest.raises(JobError, match="on its side"):
        checked(turned, (3000, 4000), "wall.toml")


def test_marks_beside_the_picture_twins_and_names() -> None:
    given = marks(CORNERS)
    assert "outside the picture of 4000 × 3000" in said([Marked("A", (-5, 10), (0, 0)), *given[1:]])
    assert "stands on A" in said([*given, Marked("Z", given[0].px, (10.0, 700.0))])
    assert "is there twice" in said([*given, Marked("A", (2000.0, 1500.0), (1200.0, 750.0))])


@pytest.mark.parametrize("wrong", ["A", "C", "F"])
def test_the_wrong_tape_measure_is_found(wrong: str) -> None:
    """One of eight points taped 40 mm wrong among marks 1 px and tape 1 mm off: it is named, and by about how much."""
    x, z = EIGHT[wrong]
    given = [
        m if m.ref != wrong else Marked(m.ref, m.px, (x + 40.0, z), 1.0)
        for m in marks(EIGHT, noise=1.0, seed=5)
    ]
    found = suspects(left_out(given, DOUBT))
    assert [one.ref for one in found] == [wrong]
    assert found[0].off[0] == pytest.approx(-40.0, abs=8)


def test_of_five_points_any_may_be_the_wrong_one() -> None:
    five = CORNERS | {"E": (1200, 700)}
    given = [m if m.ref != "E" else Marked("E", m.px, (1240.0, 700.0), 1.0) for m in marks(five, noise=0.5)]
    assert len(suspects(left_out(given, DOUBT))) == 5
    assert left_out(marks(CORNERS), DOUBT) == ()


def test_good_points_are_seldom_suspected() -> None:
    """Of 16 photos with the error that was said, at 0.1 % a point, hardly any has a suspect."""
    bad = 0
    for seed in range(16):
        rng = np.random.default_rng(seed + 100)
        given = [
            Marked(m.ref, m.px, (m.at[0] + rng.normal(), m.at[1] + rng.normal()), 1.0)
            for m in marks(EIGHT, noise=1.0, seed=seed)
        ]
        bad += bool(suspects(left_out(given, DOUBT)))
    assert bad <= 2


def test_the_point_left_out_is_read_by_the_others() -> None:
    given = marks(EIGHT, noise=1.0, seed=7)
    one = left_out(given, DOUBT)[2]
    by_hand = place(fitted([m for m in given if m.ref != "C"], DOUBT), np.array(given[2].px))[0] - np.array(
        given[2].at
    )
    assert one.ref == "C" and one.off == pytest.approx(tuple(by_hand))


def by_wide_lens(wrong: str = "") -> str:
    """A photo file whose points a wide lens bent: OpenCV's first radial term -0.15."""
    rng = np.random.default_rng(11)
    px = bent(AT_35.on_wall(list(EIGHT.values())), -0.15, AT_35) + rng.normal(0, 0.5, (8, 2))
    lines = ["wallwright-photo = 1", 'picture = "w.jpg"', "pick = 0.5"]
    for (ref, (x, z)), (u, v) in zip(EIGHT.items(), px, strict=True):
        taped = x + (40 if ref == wrong else 0)
        lines += ["[[points]]", f'ref = "{ref}"', f"px = [{u:.2f}, {v:.2f}]", f"x = {taped}", f"z = {z}"]
    return "\n".join(lines)


def test_a_lens_that_bends_is_no_wrong_tape() -> None:
    """Eight good tapes by a wide camera: the points tell the lens, none is suspected, a mark is read to the mm; a wrong one still is."""
    photo = read_photo(by_wide_lens())
    strict = left_out(photo.flat(limits()), photo.doubt(SIZE, limits()))
    assert suspects(strict)  # by a main camera's lens one of them could not be right
    made = taken(photo, SIZE, None, limits())
    assert made.suspects == () and made.fit.k > 0.05
    seen = place(made.fit, bent(AT_35.on_wall([(800.0, 400.0)]), -0.15, AT_35))[0]
    off = float(np.hypot(*(seen - (800.0, 400.0))))
    assert off < sure_at(made.fit, (800.0, 400.0)) < 5.0
    assert [one.ref for one in taken(read_photo(by_wide_lens("C")), SIZE, None, limits()).suspects] == ["C"]
