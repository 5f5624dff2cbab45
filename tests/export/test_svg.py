"""SVG: well-formed, to scale, with references for the page, and every text escaped."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree

import pytest

from wallwright.core.drawing import PEN_WIDTH, Dim, Drawing, Hatch, Line, Text
from wallwright.core.shape import Box
from wallwright.export.svg import drawing_svg, sheet_svg, view_box
from wallwright.sheets import elevation
from wallwright.sheets.drawing_set import drawing_set

SVG = "{http://www.w3.org/2000/svg}"


def test_every_sheet_is_well_formed_and_has_its_paper_size(any_wall: Any) -> None:
    for sheet in drawing_set(any_wall):
        root = ElementTree.fromstring(sheet_svg(sheet))
        assert (root.get("width"), root.get("height")) == ("420mm", "297mm")
        assert root.get("viewBox") == "0 0 420 297"


def test_a_drawing_is_in_real_millimetres(living: Any) -> None:
    drawing = elevation.drawing(living, 20)
    root = ElementTree.fromstring(drawing_svg(drawing))
    x, y, width, height = map(float, root.get("viewBox", "").split())
    assert root.get("data-scale") == "20"
    assert float(root.get("width", "").removesuffix("mm")) == pytest.approx(width / 20, abs=0.01)
    box = view_box(drawing)
    assert (x, y, width, height) == pytest.approx((box.x, -box.top, box.width, box.height), abs=0.01)
    screen = living.sight.screen.frame
    paths = [e.get("d") for e in root.iter(f"{SVG}path") if e.get("data-ref") == "screen"]
    assert any(d and d.startswith(f"M{screen.x:g} {-screen.z:g}L") for d in paths)


def test_the_page_finds_every_unit_and_level(living: Any) -> None:
    refs = set(re.findall(r'data-ref="([^"]+)"', drawing_svg(elevation.drawing(living, 20))))
    assert {u.ref for u in living.setout.units} <= refs
    assert {b.ref for b in living.carcass.bays} <= refs
    assert {"screen", "datum", "ffl", "overall"} <= refs


def test_widths_and_letters_are_paper_millimetres() -> None:
    """A wide line is 0.5 mm and a small letter's capital 2.5 mm on paper at any scale (ISO 128-20, ISO 3098)."""
    for scale in (1, 10, 20):
        svg = drawing_svg(Drawing("d", "d", scale, (Line(((0, 0), (100, 0)), "wide"), Text((0, 0), "H"))))
        assert f'stroke-width="{PEN_WIDTH["wide"] * scale:g}"' in svg
        size = float(re.search(r'font-size="([\d.]+)"', svg).group(1))  # type: ignore[union-attr]
        assert size * 0.714 / scale == pytest.approx(2.5, abs=0.001)


def test_texts_are_escaped(living: Any) -> None:
    evil = replace(living.job, title='<script>alert("x")</script>&')
    svg = sheet_svg(drawing_set(replace(living, job=evil))[0])
    assert "<script" not in svg
    ElementTree.fromstring(svg)


def test_texts_lie_on_top_of_lines() -> None:
    svg = drawing_svg(Drawing("d", "d", 1, (Text((0, 0), "first"), Line(((0, 0), (9, 9))))))
    assert svg.index("<path") < svg.index("<text")


def test_dimension_shows_what_it_measures() -> None:
    svg = drawing_svg(
        Drawing("d", "d", 20, (Dim((0, 0), (709.3333, 0), "x", 0, -8), Dim((0, 0), (0, 1480.0), "z", 0, -8)))
    )
    assert ">709<" in svg
    assert ">1480<" in svg
    assert "rotate(-90" in svg


def test_hatches_are_patterns_of_their_own_angle() -> None:
    svg = drawing_svg(
        Drawing(
            "d",
            "d",
            20,
            (
                Hatch(Box(0, 0, 100, 100).corners, "no_drill"),
                Hatch(Box(0, 0, 9, 9).corners, "allowed"),
                Hatch(Box(0, 0, 9, 9).corners, "assumed"),
            ),
        )
    )
    assert 'patternTransform="rotate(-45)"' in svg
    assert 'patternTransform="rotate(-135)"' in svg
    for name in re.findall(r"url\(#([^)]+)\)", svg):
        assert f'id="{name}"' in svg
