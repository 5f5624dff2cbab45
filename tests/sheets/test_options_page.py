"""Options side by side: one picture each as large as the next, names in one height, the same headings level."""

from __future__ import annotations

import pytest

from tests.options.briefs import plain_brief
from wallwright.core.drawing import Line, Text
from wallwright.derive import derive
from wallwright.options.propose import Options, propose
from wallwright.options.schemes import scheme_options
from wallwright.sheets.lettering import text_width
from wallwright.sheets.options_page import HEADINGS, options_sheet, picture_of, schemes_sheet
from wallwright.sheets.paper import BLOCK, FOOT


@pytest.fixture(scope="module")
def found() -> Options:
    return propose(plain_brief(), 4)


def test_three_on_a_sheet_on_equal_terms(found: Options) -> None:
    sheets = options_sheet(found)
    assert [len(sheet.views) for sheet in sheets] == [3, 1]
    first = sheets[0]
    assert len({view.drawing.scale for view in first.views}) == 1
    assert len({round(view.y, 3) for view in first.views}) == 1
    texts = [mark for mark in first.marks if isinstance(mark, Text)]
    names = [mark for mark in texts if mark.text in {one.name for one in found.options}]
    assert len(names) == 3
    assert len({(mark.height, mark.at[1]) for mark in names}) == 1
    for heading in HEADINGS:
        level = {mark.at[1] for mark in texts if mark.text == heading}
        assert len(level) == 1


def test_words_stay_in_their_columns_and_over_the_title_block(found: Options) -> None:
    for sheet in options_sheet(found):
        lefts = sorted({mark.at[0] for mark in sheet.marks if isinstance(mark, Text)})
        for mark in sheet.marks:
            assert isinstance(mark, Text)
            after = [left for left in lefts if left > mark.at[0]]
            right = mark.at[0] + text_width(mark.text, mark.height, mark.bold)
            assert right <= (after[0] if after else 410)
            assert mark.at[1] > max(BLOCK.top, FOOT.top)


def test_each_price_and_what_is_given_up_stands_there(found: Options) -> None:
    said = " ".join(
        mark.text for sheet in options_sheet(found) for mark in sheet.marks if isinstance(mark, Text)
    )
    for one in found.options:
        assert one.wall.money.shown(one.price).split()[-1] in said
        assert one.give_up.split(".")[0].split(" ")[0] in said


def test_the_picture_is_in_the_walls_own_colours(found: Options) -> None:
    for one in found.options:
        marks = picture_of(one.wall, 50).marks
        fills = {mark.fill for mark in marks if isinstance(mark, Line)}
        assert {
            surface.colour for surface in one.wall.look.surfaces if surface.ref in ("wall", "W1")
        } <= fills
        assert {mark.ref for mark in marks if isinstance(mark, Line)} >= {
            unit.ref for unit in one.wall.setout.units
        }


def test_nothing_to_show_is_no_sheet() -> None:
    assert options_sheet(propose(plain_brief(200))) == ()


def test_schemes_are_priced_against_the_wall_that_is_issued() -> None:
    wall = derive(plain_brief())
    schemes = scheme_options(wall.job)
    (sheet,) = schemes_sheet(wall, schemes)
    said = " ".join(mark.text for mark in sheet.marks if isinstance(mark, Text))
    for scheme in schemes:
        assert scheme.name in said
        assert wall.money.shown(scheme.price) in said
        assert wall.money.notation.change(scheme.price - wall.money.total) in said
    assert sheet.counted == "O1"  # beside the drawings' own numbers, none of which it takes
    assert len({one.price for one in schemes}) > 1
    invented = any("invented" in words for words in sheet.cautions)
    assert invented == any(one.wall.money.invented for one in schemes)
