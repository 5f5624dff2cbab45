"""Frame, title block and scales against the published sheet standards."""

from __future__ import annotations

import pytest

from wallwright.core.drawing import Line, Text
from wallwright.core.shape import Box
from wallwright.sheets.ink import inked
from wallwright.sheets.paper import BLOCK, SCALES, Fields, Sheet, frame, scale_for, title_block
from wallwright.sheets.room import FULL, layout

FIELDS = Fields("Owner", "Client", "TVW-001", "A", "2026-03-02", "Creator", "Approver", "Preliminary")


@pytest.mark.parametrize(("size", "inside"), [((420, 297), (390, 277)), ((841, 594), (811, 574))])
def test_frames_of_a3_and_a1(size: tuple[float, float], inside: tuple[float, float]) -> None:
    """ISO 5457:1999: 20 mm at the filing edge, 10 mm elsewhere: 277 x 390 inside A3, 574 x 811 inside A1."""
    box = next(mark for mark in frame(size) if isinstance(mark, Line) and mark.closed)
    (x, z), _, (right, top), _ = box.points
    assert (x, z, right - x, top - z) == (20, 10, *inside)


def test_title_block() -> None:
    """ISO 7200:2004: not wider than 180 mm; eight mandatory fields."""
    assert BLOCK.width <= 180
    assert (BLOCK.right, BLOCK.z) == (410, 10)  # in the lower right corner of the frame
    sheet = Sheet("n", "A title", "Elevation", (), (), FIELDS, number=3, of=9)
    words = [mark.text for mark in title_block(sheet) if isinstance(mark, Text)]
    for field, value in (
        ("Legal owner (designer)", "Owner"),
        ("Number", "TVW-001-03"),
        ("Date of issue", "2026-03-02"),
        ("Sheet", "3 of 9"),
        ("Title", "A title"),
        ("Approved by", "Approver"),
        ("Created by", "Creator"),
        ("Document type", "Elevation"),
    ):
        assert field in words
        assert value in words


@pytest.mark.parametrize(
    ("width", "height", "scale"), [(4000, 2700, 20), (1800, 1200, 10), (8000, 2700, 50), (40000, 3000, 200)]
)
def test_scale_that_fits(width: float, height: float, scale: float) -> None:
    """4000 x 2700 fits A3's 390 x 277 at 1:20 and not at 1:10; 1:25 is no scale of ISO 5455."""
    assert scale_for(width, height, Box(0, 0, 390, 277)) == scale
    assert 25 not in SCALES


def test_nothing_fits() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        scale_for(1e6, 1e6, FULL)


@pytest.mark.parametrize(
    ("width", "height"), [(2400, 2400), (4200, 2750), (6300, 2700), (9000, 3600), (30000, 4000)]
)
def test_a_layout_holds_its_view_beside_its_notes(width: float, height: float) -> None:
    on = layout(width, height)
    assert width / on.scale <= on.view.width and height / on.scale <= on.view.height
    assert all(not room.meets(on.view) and not room.meets(BLOCK) and room.height > 35 for room in on.beside)
    assert layout(6300, 2700).scale == 20  # a long wall keeps 1:20: its notes go below


def test_check_line_and_scale_bar(handmade, drawings: tuple[Sheet, ...]) -> None:
    for sheet in drawings:
        check = [m for m in sheet.paper.marks if isinstance(m, Line) and m.ref == "check-100"]
        assert [line.points[1][0] - line.points[0][0] for line in check] == [100]
        words = " ".join(m.text for m in sheet.paper.marks if isinstance(m, Text))
        scales = (
            [f"1:{sheet.views[0].drawing.scale:g}"] if sheet.views and not sheet.pictured else []
        )  # a map, a picture
        for said in ("print at 100 %", "do not scale", "FFL", *scales):
            assert said in words, sheet.name


def test_sheets_are_numbered(drawings: tuple[Sheet, ...]) -> None:
    assert [sheet.number for sheet in drawings] == list(range(1, len(drawings) + 1))
    assert {sheet.of for sheet in drawings} == {len(drawings)}
    assert len({sheet.name for sheet in drawings}) == len(drawings)


def test_every_sheet_has_cautions_and_a_legend(drawings: tuple[Sheet, ...]) -> None:
    for sheet in drawings:
        assert sheet.cautions
        if not sheet.views and (sheet.kind in ("Check list", "Handover") or ", list" in sheet.title):
            continue  # words and tables alone
        assert any(isinstance(mark, Text) and mark.text == "Legend" for mark in sheet.marks), sheet.name


def test_scale_bar_is_as_long_as_it_says(drawings: tuple[Sheet, ...]) -> None:
    for sheet in drawings:
        if not sheet.views or sheet.pictured:  # what is not to scale has no bar to measure by
            assert sheet.scale == "none"
            assert not any(isinstance(m, Text) and " mm at 1:" in m.text for m in sheet.paper.marks)
            continue
        scale = sheet.views[0].drawing.scale
        said = next(m.text for m in sheet.paper.marks if isinstance(m, Text) and " mm at 1:" in m.text)
        boxes = [
            m
            for m in sheet.paper.marks
            if isinstance(m, Line) and m.closed and m.fill in ("#000", "#fff") and m.pen == "thin"
        ]
        bar = [m for m in boxes if abs(m.points[2][1] - m.points[0][1] - 2) < 1e-9]
        length = max(m.points[1][0] for m in bar) - min(m.points[0][0] for m in bar)
        assert length == pytest.approx(float(said.split()[0]) / scale)


def test_everything_inked_stays_on_the_paper(drawings: tuple[Sheet, ...]) -> None:
    for sheet in drawings:
        for view in sheet.views:
            s = view.drawing.scale
            for mark in view.drawing.marks:
                for part in inked(mark, s):
                    if isinstance(part, Line):
                        for point in part.points:
                            x, y = view.on_paper(point)
                            assert 20 <= x <= 410 and 52 <= y <= 287, (sheet.name, mark)
