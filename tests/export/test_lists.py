"""XLSX read by openpyxl, CSV by the standard library, ICS by icalendar."""

from __future__ import annotations

import csv as csv_module
import io
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import icalendar
import openpyxl
import pytest

from wallwright.core.table import Column, Table
from wallwright.export.ics import programme_ics
from wallwright.export.xlsx import csv, table_csv, xlsx
from wallwright.programme.calendar import working_day

TABLE = Table(
    "t",
    "Cut list: all [1]",
    (Column("Part"), Column("Length", "mm", 1, "right"), Column("No")),
    (("C1-L", 2400.25, 2), ("=1+2", -5.0, 1), ("@x", None, 0), ("पैनल ₹", 1.0, 3)),
    ("A note",),
)


def test_xlsx_holds_numbers_as_numbers_and_words_as_words() -> None:
    book = openpyxl.load_workbook(io.BytesIO(xlsx((TABLE, TABLE), "Job", "2026-03-02")))
    assert book.sheetnames == ["Cut list  all  1", "Cut list  all  1 2"]
    sheet = book.worksheets[0]
    assert [cell.value for cell in sheet[3]] == ["Part", "Length [mm]", "No"]
    assert [cell.value for cell in sheet[4]] == ["C1-L", 2400.25, 2]
    assert sheet["A5"].value == "=1+2" and sheet["A5"].data_type == "s"  # a word, never a formula
    assert sheet["A7"].value == "पैनल ₹"
    assert sheet["B4"].number_format == "0.0"
    assert "A note" in [cell.value for cell in sheet["A"]]


def test_xlsx_holds_every_table(issued: tuple[Path, Any]) -> None:
    book = openpyxl.load_workbook(issued[0] / "schedules.xlsx")
    assert len(book.sheetnames) >= 10
    assert all(sheet.max_row >= 4 for sheet in book.worksheets)
    formulas = [
        cell.coordinate
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]
    assert formulas == []


def test_xlsx_same_bytes() -> None:
    assert xlsx((TABLE,), "Job", "2026-03-02") == xlsx((TABLE,), "Job", "2026-03-02")


def test_csv_is_rfc_4180_and_safe() -> None:
    """RFC 4180: CRLF, quotes doubled. Cells that begin like a formula get an apostrophe; negative numbers do not."""
    data = csv(("name", "says"), (("=cmd()", 'a "b", c'), ("+1", -5.5), ("-x", None), ("@y", 3)))
    assert data == b'name,says\r\n\'=cmd(),"a ""b"", c"\r\n\'+1,-5.5\r\n\'-x,\r\n\'@y,3\r\n'
    rows = list(csv_module.reader(io.StringIO(table_csv(TABLE).decode())))
    assert rows[0] == ["Part", "Length [mm]", "No"]
    assert rows[2] == ["'=1+2", "-5", "1"]


def test_cut_list_holds_every_part(issued: tuple[Path, Any], living: Any) -> None:
    rows = list(csv_module.DictReader(io.StringIO((issued[0] / "cutlist.csv").read_text("utf-8"))))
    assert {row["name"] for row in rows} == {part.id for part in living.carcass.parts}
    first = {part.id: part for part in living.carcass.parts}[rows[0]["name"]]
    assert float(rows[0]["length"]) == pytest.approx(first.cut_length, abs=0.001)
    assert float(rows[0]["finished_width"]) == pytest.approx(first.width, abs=0.001)


def test_cut_list_is_what_the_cutting_command_reads(issued: tuple[Path, Any], living: Any) -> None:
    """The first six columns are the contract of `wallwright cut`."""
    head = (issued[0] / "cutlist.csv").read_text("utf-8").splitlines()[0].split(",")
    assert head[:6] == ["name", "material", "length", "width", "quantity", "grain"]


def test_cutting_plan_lists_every_part_and_cut(issued: tuple[Path, Any], living: Any) -> None:
    rows = list(csv_module.DictReader(io.StringIO((issued[0] / "cutting_plan.csv").read_text("utf-8"))))
    placed = sorted(row["name"] for row in rows if row["what"] == "part")
    assert placed == sorted(
        p.name for _, plan in living.cuts.plans for sheet in plan.sheets for p in sheet.placed
    )
    assert sum(row["what"] == "cut" for row in rows) == sum(
        len(s.cuts) for _, plan in living.cuts.plans for s in plan.sheets
    )


def test_cutting_plan_can_be_followed_at_the_saw(issued: tuple[Path, Any], living: Any) -> None:
    """From the file alone: saw the sheets of it, panel by panel, and find every part as the panel that its row names."""
    rows = list(csv_module.DictReader(io.StringIO((issued[0] / "cutting_plan.csv").read_text("utf-8"))))
    kerf = living.job.design.saw.kerf.mm
    sizes = {
        (board, str(i)): (s.sheet.length / 10, s.sheet.width / 10)
        for board, plan in living.cuts.plans
        for i, s in enumerate(plan.sheets, 1)
    }
    for key, (length, width) in sizes.items():
        own = [row for row in rows if (row["board"], row["sheet"]) == key]
        bench = {"1": (0.0, 0.0, length, width)}
        last = {"1": "0"}
        for row in (row for row in own if row["what"] == "cut"):
            x0, y0, x1, y1 = bench.pop(row["panel"])
            at = float(row["cut_at"])
            upright = row["cut_axis"] == "x"
            run = (y0, y1) if upright else (x0, x1)
            assert (float(row["from"]), float(row["to"])) == pytest.approx(run, abs=0.001)
            below = (x0, y0, at, y1) if upright else (x0, y0, x1, at)
            above = (at + kerf, y0, x1, y1) if upright else (x0, at + kerf, x1, y1)
            for number, panel in ((row["gives_1"], below), (row["gives_2"], above)):
                if number:
                    bench[number] = panel
                    last[number] = row["name"]
        kept = [row for row in own if row["what"] != "cut"]
        assert kept and len({row["panel"] for row in kept}) == len(kept)
        for row in kept:
            x, y = float(row["x"]), float(row["y"])
            box = (x, y, x + float(row["length"]), y + float(row["width"]))
            assert bench[row["panel"]] == pytest.approx(box, abs=0.001), row
            assert row["freed_by"] == last[row["panel"]]


def test_calendar_holds_every_task(issued: tuple[Path, Any], living: Any) -> None:
    raw = (issued[0] / "programme.ics").read_bytes()
    events = list(icalendar.Calendar.from_ical(raw).walk("VEVENT"))
    gates = [event for event in events if event["categories"].cats == ["gate"]]
    events = [event for event in events if event not in gates]
    assert [str(gate["summary"])[:2] for gate in gates] == [f"G{i}" for i in range(7)]
    assert len({str(event["uid"]) for event in (*events, *gates)}) == len(events) + len(gates)
    assert len(events) == len(living.programme.tasks)
    assert max(len(line) for line in raw.split(b"\r\n")) <= 75  # RFC 5545, 3.1: lines of at most 75 octets
    start = date.fromisoformat(living.job.date)
    for event, task in zip(events, living.programme.tasks, strict=True):
        first, after = event["dtstart"].dt, event["dtend"].dt
        assert first == working_day(start, task.early_start)
        days = [first + timedelta(days=i) for i in range((after - first).days)]
        assert sum(day.weekday() < 5 for day in days) == max(
            1, task.days
        )  # DTEND is exclusive (RFC 5545, 3.6.1)


def test_the_calendar_is_valid_by_another_library(issued: tuple[Path, Any]) -> None:
    """RFC 5545, 3.6 and 3.6.1: VERSION and PRODID; each VEVENT with UID, DTSTAMP, DTSTART; CRLF at every line's end."""
    raw = (issued[0] / "programme.ics").read_bytes()
    calendar = icalendar.Calendar.from_ical(raw)
    assert calendar["version"] == "2.0" and calendar["prodid"]
    assert calendar.errors == [] and all(event.errors == [] for event in calendar.walk("VEVENT"))
    for event in calendar.walk("VEVENT"):
        assert {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"} <= set(event)
        assert event["dtend"].dt > event["dtstart"].dt
    assert raw.endswith(b"END:VCALENDAR\r\n") and b"\n" not in raw.replace(b"\r\n", b"")


def test_working_days_skip_the_weekend() -> None:
    friday = date(2026, 3, 6)
    assert friday.weekday() == 4
    assert working_day(friday, 0) == friday
    assert working_day(friday, 1) == date(2026, 3, 9)
    assert working_day(date(2026, 3, 7), 0) == date(2026, 3, 9)  # a Saturday: the work begins on Monday
    assert working_day(friday, 5) == date(2026, 3, 13)


def test_calendar_same_bytes(living: Any) -> None:
    assert programme_ics(living) == programme_ics(living)
