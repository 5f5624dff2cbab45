from __future__ import annotations

import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.read import parse_parts, parse_sheets, plan_json
from wallwright.cutting.solve import quick

HEAD = "name,material,length,width,quantity,grain\n"
SHEET_HEAD = "name,material,length,width,price,quantity\n"


def test_parts() -> None:
    text = HEAD + 'side,ply,720,300.01,2,length\n\n"top, left",ply,"28 3/8""",30 cm,1,\n'
    assert parse_parts(text) == (
        Piece("side", "ply", 7200, 3001, 2, "length"),
        Piece("top, left", "ply", 7208, 3000, 1, "none"),  # 28.375 in = 720.725 mm, up to the tenth
    )


def test_sheets() -> None:
    text = "\ufeff" + SHEET_HEAD + "8x4,ply,8 ft,4 ft,58.50,\nrest,ply,1200,600,0,3\n"
    assert parse_sheets(text) == (
        Sheet("8x4", "ply", 24384, 12192, 58.5, None),  # 8 ft = 2438.4 mm
        Sheet("rest", "ply", 12000, 6000, 0.0, 3),
    )


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("side,ply,-5,300,1,none", "line 2: length '-5'"),
        ("side,ply,0,300,1,none", "line 2: length '0': must be above zero"),
        ("side,ply,nan,300,1,none", "line 2: length 'nan'"),
        ("side,ply,720,wide,1,none", "line 2: width 'wide'"),
        ("side,ply,720,300,1.5,none", "line 2: quantity '1.5': must be a whole number from 1"),
        ("side,ply,720,300,0,none", "line 2: quantity '0'"),
        ("side,ply,720,300,,none", "line 2: quantity ''"),
        ("side,ply,720,300,1,up", "line 2: grain 'up': must be none, length or width"),
        (",ply,720,300,1,none", "line 2: name: is empty"),
        ("side,ply,,300,1,none", "line 2: length: is empty"),
        ("side,ply,720,300,1,none,7", "line 2: 7 fields where 6 belong"),
        ("side,ply,99999999,300,1,none", "line 2: part 'side': length 999999990 must be"),
        ('side,"ply,720,300,1,none', "not CSV"),
    ],
)
def test_a_bad_part_names_line_field_and_cure(row: str, said: str) -> None:
    with pytest.raises(ValueError, match=re.escape(said)):
        parse_parts(HEAD + row + "\n")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "the file is empty"),
        (
            "name,material,lenght,width,quantity,grain\n",
            "unknown column 'lenght' in parts; did you mean 'length'?",
        ),
        ("name,material,width,quantity,grain\n", "column 'length' is missing"),
        ("name,material,length,width,quantity,grain\n\n , ,\n", "no parts below the first line"),
        ("name,name,material,length,width,quantity\n", "column 'name' stands twice"),
    ],
)
def test_a_bad_head_is_explained(text: str, said: str) -> None:
    with pytest.raises(ValueError, match=re.escape(said)):
        parse_parts(text)


def test_sheets_without_one_are_refused() -> None:
    with pytest.raises(ValueError, match="no sheets below the first line"):
        parse_sheets(SHEET_HEAD)


@pytest.mark.parametrize("price", ["-1", "free", "nan", "inf", "1e12"])
def test_a_bad_price(price: str) -> None:
    with pytest.raises(ValueError, match="line 2: price"):
        parse_sheets(SHEET_HEAD + f"s,ply,2440,1220,{price},\n")


@given(st.text())
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    for parse in (parse_parts, parse_sheets):
        for given_text in (text, HEAD + text, SHEET_HEAD + text):
            try:
                parse(given_text)
            except ValueError as fault:
                assert str(fault)


def test_plan_as_json() -> None:
    problem = Problem(
        (Piece("a", "ply", 4980, 4000, 2), Piece("b", "ply", 3000, 3000)),
        (Sheet("s", "ply", 10000, 10000, 5.0),),
        Saw(40, 0),
    )
    data = json.loads(json.dumps(plan_json(quick(problem))))
    assert {"sheets", "lower_bound", "used", "seconds"} <= set(data)
    (sheet,) = data["sheets"]
    assert (sheet["sheet"], sheet["x"], data["used"], data["lower_bound"]) == ("s", 1, 1, 1)
    assert sorted(p["name"] for p in sheet["parts"]) == ["a", "a", "b"]
    assert {"name", "x", "y", "length", "width", "turned"} == set(sheet["parts"][0])
    a = next(p for p in sheet["parts"] if p["name"] == "a")
    assert {a["length"], a["width"]} == {498.0, 400.0}
    assert all({"stage", "panel", "axis", "at", "from", "to", "gives"} == set(c) for c in sheet["cuts"])
    assert sheet["offcuts"]
    assert data["no_bound"] == ""


def test_a_plan_that_leaves_parts_out_claims_no_bound() -> None:
    """Two of three parts on one sheet: fewer sheets than all three need, so that number is no bound for it."""
    problem = Problem(
        (Piece("a", "ply", 9000, 9000, 3),), (Sheet("s", "ply", 10000, 10000, 5.0, 1),), Saw(40, 0)
    )
    data = json.loads(json.dumps(plan_json(quick(problem))))
    assert data["unplaced"] == [{"name": "a", "material": "ply", "quantity": 2}]
    assert data["lower_bound"] is None
    assert data["price_bound"] is None
    assert "stock" in data["no_bound"]
    assert not data["proved"]
