"""Every list is a well-formed table, says what it must, and is left out when empty."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from wallwright.carcass.record import Carcass
from wallwright.core.finding import Finding
from wallwright.core.table import Table
from wallwright.light.record import Light
from wallwright.storage.record import Storage
from wallwright.tables import all_tables
from wallwright.tables.points import DESIGN_AID

ELECTRICAL = {"points", "loads", "circuits", "runs", "no_drill", "cable_map", "lights"}
NAMES = [
    "screens", "screens_ranked", "screens_by_seats", "later_screen", "seats", "points", "loads", "circuits", "runs",
    "no_drill", "cable_map", "storage", "cut_list",
    "sheets", "boards", "edge_bands", "hardware", "hardware_order", "shelves", "fixings", "lights",
    "items", "quote", "cost_split", "price_range", "scope", "stages", "programme",
]  # fmt: skip


def cell(table: Table, row: int, column: str) -> Any:
    return table.rows[row][[c.name for c in table.columns].index(column)]


def by_name(wall: Any, findings: tuple[Finding, ...] = ()) -> dict[str, Table]:
    return {table.name: table for table in all_tables(wall, findings)}


def test_every_row_fills_every_column_and_numbers_stand_right(wall: Any) -> None:
    for table in all_tables(wall):
        assert len({column.name for column in table.columns}) == len(table.columns)
        for row in table.rows:
            assert len(row) == len(table.columns), table.name
            for column, value in zip(table.columns, row, strict=True):
                assert value is None or isinstance(value, (str, int, float))
                if isinstance(value, (int, float)):
                    assert column.align == "right", (table.name, column.name)


def test_the_order_of_the_lists(wall: Any) -> None:
    assert [table.name for table in all_tables(wall)] == NAMES


def test_a_list_with_nothing_in_it_is_left_out(wall: Any) -> None:
    empty = {
        "light": Light((), ()),
        "storage": Storage((), (), (), 0, 0, "little", ()),
        "carcass": Carcass((), (), (), (), (), (), ()),
    }
    bare = SimpleNamespace(**{**vars(wall), **empty})
    assert not {"lights", "storage", "cut_list", "hardware"} & set(by_name(bare))


def test_cautions_stand_under_the_lists_they_belong_to(wall: Any) -> None:
    tables = by_name(wall)
    for name, table in tables.items():
        assert (DESIGN_AID in table.notes) == (name in ELECTRICAL), name
    assert any("pull test" in note for note in tables["fixings"].notes)
    assert any("Unknown wall: stop" in note for note in tables["fixings"].notes)
    assert any("invented" in note for note in tables["quote"].notes)


def test_the_cut_list_holds_every_part_once(wall: Any) -> None:
    table = by_name(wall)["cut_list"]
    ids = [ident for i in range(len(table.rows)) for ident in cell(table, i, "Part").split(", ")]
    assert sorted(ids) == sorted(part.id for part in wall.carcass.parts)
    assert sum(cell(table, i, "Quantity") for i in range(len(table.rows))) == len(wall.carcass.parts)
    assert cell(table, 0, "Part") == "C1-L, C1-R"  # alike in all; C1-D has other edges
    area = sum(
        cell(table, i, "Length") * cell(table, i, "Width") * cell(table, i, "Quantity")
        for i in range(len(table.rows))
    )
    assert area == sum(part.length * part.width for part in wall.carcass.parts)
    assert (cell(table, 0, "Cut length"), cell(table, 0, "Cut width")) == (398, 349)
    assert any(note.startswith("C1-X: ") for note in table.notes)  # 2598 long: no sheet gives it


def test_hardware_adds_up_by_unit(wall: Any) -> None:
    table = by_name(wall)["hardware"]
    assert [(row[2], row[3]) for row in table.rows] == [("C1", 6), ("T1", 3)]


def test_points_are_given_to_their_centres(wall: Any) -> None:
    table = by_name(wall)["points"]
    assert (cell(table, 0, "x to centre"), cell(table, 0, "Height to centre")) == (1250, 1380)
    assert (cell(table, 0, "Kind"), cell(table, 0, "Serves")) == ("twin socket", "tv, bar")
    assert [cell(table, i, "Decided") for i in (0, 1)] == ["automatic", "by the designer"]


def test_units_are_turned_once(wall: Any) -> None:
    tables = by_name(wall)
    assert cell(tables["runs"], 0, "Length") == 2.5
    assert cell(tables["runs"], 0, "Fill") == 25
    assert cell(tables["runs"], 0, "Longest allowed") == 10
    assert cell(tables["runs"], 1, "Longest allowed") is None
    assert cell(tables["circuits"], 0, "Length") == 12
    assert cell(tables["circuits"], 0, "Points") == "P1"
    assert cell(tables["storage"], 0, "Shelf run") == 1.8
    assert cell(tables["lights"], 0, "Driver loaded") == 80
    assert cell(tables["lights"], 0, "Dim to") is None


def test_the_quote_sums_on_paper(wall: Any) -> None:
    table = by_name(wall)["quote"]
    lines = [row for row in table.rows if "." in row[0]]
    trades = [row for row in table.rows if row[0] and "." not in row[0]]
    chain = [row[8] for row in table.rows if not row[0]]
    assert [row[0] for row in table.rows[:6]] == ["1.01", "1.02", "1", "2.01", "2.02", "2"]
    assert [round(row[8] * 100) for row in trades] == [4700, 2503]
    assert trades[0][2] == "Electrical in all"
    for trade in trades:
        assert round(sum(row[8] for row in lines if row[1] == trade[1]) * 100) == round(trade[8] * 100)
    assert sum(round(row[8] * 100) for row in trades) == round(chain[0] * 100) == 7203
    assert round(sum(a * 100 for a in chain[:-1])) == round(chain[-1] * 100)
    notes = " ".join(table.notes)
    assert "¤\u00a01,00,000.00" in notes  # the job stands where people count in lakh
    assert "¤\u00a01,00,000.00 left" in notes
    assert "not priced: Odd fitting" in notes


def test_the_programme_counts_days_from_one(wall: Any) -> None:
    table = by_name(wall)["programme"]
    rows = [tuple(row[:6]) for row in table.rows]
    assert rows == [
        ("First", "site", 3, 1, 3, 0),
        ("Second", "joinery", 2, 4, 5, 1),
        ("Nothing", "site", 0, 7, 7, 0),
    ]
    assert cell(table, 1, "After") == "First"


def test_what_does_not_fit_is_said(wall: Any) -> None:
    table = by_name(wall)["storage"]
    assert (cell(table, 0, "Lives in"), cell(table, 0, "No place for")) == ("T1.1 (50)", 10)
    screens = by_name(wall)["screens"]
    assert [(cell(screens, i, "Chosen"), cell(screens, i, "Fits the wall")) for i in (0, 1)] == [
        ("", "yes"),
        ("yes", "no"),
    ]


def test_shelves_and_fixings(wall: Any) -> None:
    tables = by_name(wall)
    assert round(cell(tables["shelves"], 0, "Span over sag")) == 778  # 700 / 0.9
    assert cell(tables["fixings"], 0, "Holes at x, height") == "100, 500; 300, 500"
    assert cell(tables["fixings"], 0, "Used") == 80
    assert cell(tables["fixings"], 1, "Allowed pull each") is None  # no number stands for an unknown wall
    assert any("T1: tips at 65 N" in note and "NOT ANCHORED" in note for note in tables["fixings"].notes)


def test_findings_come_worst_first(wall: Any) -> None:
    def found(severity: Any, rule: str) -> Finding:
        return Finding(rule, severity, "C1", "says", 1, 2, "mm", "common practice", "common practice", "cure")

    findings = (
        found("note", "a"),
        found("danger", "services.hot_bay"),
        found("note", "c"),
        found("fix", "d"),
    )
    table = all_tables(wall, findings)[0]
    assert table.name == "findings"
    assert [cell(table, i, "About") for i in range(4)] == ["services: hot bay", "d", "a", "c"]
    assert table.notes == ("1 danger, 1 fix, 0 consider, 2 note.",)


def test_findings_show_as_many_figures_as_a_value_needs(wall: Any) -> None:
    values = ((0.031, 0.1), (1080.0, 1200.0), (33.5, 40.0), ("shop page", 30.0), (12.345, 1234567.0))
    findings = tuple(
        Finding("r", "fix", "C1", "says", measured, limit, "", "common practice", "common practice", "cure")
        for measured, limit in values
    )
    table = all_tables(wall, findings)[0]
    told = [(cell(table, i, "Measured"), cell(table, i, "Limit")) for i in range(len(values))]
    assert told == [
        ("0.031", "0.1"),
        ("1080", "1200"),
        ("33.5", "40"),
        ("shop page", "30"),
        ("12.345", "1234567"),
    ]


def test_sheets_to_buy(wall: Any) -> None:
    table = by_name(wall)["sheets"]
    # three 398 x 349 and one 1798 x 349 from one sheet 2440 x 1220
    assert tuple(table.rows[0][:1] + table.rows[0][2:5]) == ("ply18", "2440 x 1220", 1, 1)
    assert cell(table, 0, "Parts") == 4
