"""The tower's set: whole or not at all, same files same bytes, whoever did the work; what failed is named; a page a flat."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
import shutil
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pypdf
import pytest

from wallwright.derive import derive
from wallwright.export import tower_work
from wallwright.export.tower_files import accept, read_tower_file
from wallwright.export.tower_set import _floors, _labels, issue
from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules.check import check
from wallwright.tower.batch import pool
from wallwright.tower.demo import demo_files
from wallwright.tower.lists import totals
from wallwright.tower.made import Range
from wallwright.tower.pooled import pooled
from wallwright.tower.record import Delivery
from wallwright.tower.run import run
from wallwright.tower.sample import samples


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small tower on disk: two floors of three, one flat that fails and one that does not take its unit."""
    at = tmp_path_factory.mktemp("tower")
    files = demo_files(floors=2, on_a_floor=3)
    files["tower.toml"] = (
        files["tower.toml"]
        .replace('state = "built"\n', "")
        .replace('state = "set"\n', "")
        .replace(
            'id = "0202"\n',
            'id = "0202"\nexceptions = [{ edit = "move_unit", values = { ref = "Z", x = 1 } }]\n',
        )
        .replace(
            'id = "0201"\n',
            'id = "0201"\nexceptions = [{ edit = "set_unit_load", values = { ref = "S1", load = 12 } }]\n',
        )
    )
    for name, text in files.items():
        (at / name).parent.mkdir(exist_ok=True)
        (at / name).write_text(text, "utf-8")
    return at


@pytest.fixture(scope="module")
def worked(folder: Path) -> Any:
    with pytest.MonkeyPatch.context() as patch:  # what fillers a series bears is not asked here
        patch.setattr("wallwright.tower.made._range", lambda key, job: Range(key, 5.0, 60.0))
        whole = run(read_tower_file(folder))
    return whole, samples(whole, load.limits_of("IN")), pooled(whole, steps=0)


@pytest.fixture(scope="module")
def out(worked: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    at = tmp_path_factory.mktemp("set") / "out"
    issue(*worked, at)
    return at


def words(path: Path, pages: int) -> list[str]:
    """The text of the first pages."""
    return [page.extract_text() for page in pypdf.PdfReader(path).pages[:pages]]


def test_the_manifest_names_every_file_and_what_failed(out: Path) -> None:
    told = json.loads((out / "manifest.json").read_text("utf-8"))
    assert {one["name"] for one in told["files"]} | {"manifest.json"} == {path.name for path in out.iterdir()}
    for one in told["files"]:
        assert hashlib.sha256((out / one["name"]).read_bytes()).hexdigest() == one["sha256"]
    assert len(told["left_out"]) == 1
    assert told["left_out"][0].startswith("flat 0202: exceptions[0] move_unit: ref = 'Z'")


def test_same_tower_same_bytes_by_a_pool_too(worked: Any, out: Path, tmp_path: Path) -> None:
    with pool(2) as send:
        issue(*worked, tmp_path / "again", send=send)
    assert {path.name: path.read_bytes() for path in out.iterdir()} == {
        path.name: path.read_bytes() for path in (tmp_path / "again").iterdir()
    }


def test_a_floor_has_its_check_sheet_and_a_page_a_flat(out: Path) -> None:
    pages = words(out / "floor_2.pdf", 3)
    assert "Floor 2: check sheet" in pages[0]
    flats = ["0201", "0203"]  # 0202 failed
    assert all(ident in pages[0] for ident in flats)
    assert "0202" not in pages[0]
    assert "Flat 0201" in pages[1]
    assert "LEFT HAND" in pages[1]
    assert "Flat 0203" in pages[2]
    sizes = [
        (float(page.mediabox.width), float(page.mediabox.height))
        for page in pypdf.PdfReader(out / "floor_2.pdf").pages
    ]
    a4 = (210 / 25.4 * 72, 297 / 25.4 * 72)
    assert len(sizes) == 1 + len(flats)
    assert sizes[0] == pytest.approx(a4[::-1], abs=0.5)
    assert all(size == pytest.approx(a4, abs=0.5) for size in sizes[1:])


def test_every_board_that_is_placed_is_on_the_cutting_plan_and_has_a_label(worked: Any, out: Path) -> None:
    whole, _, cut = worked
    placed = [placed.name for one in cut.boards for sheet in one.plan.sheets for placed in sheet.placed]
    assert placed
    with (out / "cutting_DEL1.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert sorted(row["name"] for row in rows if row["what"] == "part") == sorted(placed)
    parts = sum(len(done.parts) for done in whole.flats)
    assert len(pypdf.PdfReader(out / "labels_DEL1.pdf").pages) == -(-parts // 21)
    (first,) = words(out / "labels_DEL1.pdf", 1)
    assert sum(name in first for name in placed) >= 21


def test_the_bulk_bill_is_the_sum_of_the_flats_bills(worked: Any, out: Path) -> None:
    whole, _, cut = worked
    direct = sum(done.made.direct for done in whole.flats if done.made)
    book = openpyxl.load_workbook(out / "lists.xlsx")
    rows = [[cell.value for cell in row] for row in book["Bulk bill"].iter_rows(min_row=4)]
    head = [cell.value for cell in book["Bulk bill"][3]]
    amount = head.index("Amount")
    named = {row[1]: row for row in rows if row[1]}
    lines = [row[amount] for row in rows if row[0]]
    money = whole.types["A"].notation
    assert round(sum(one for one in lines if isinstance(one, (int, float))), 2) == pytest.approx(
        money.major(direct)
    )
    assert named["Direct cost, flat by flat"][amount] == pytest.approx(money.major(direct))
    saved = round(cut.alone_price - cut.price, 2)
    assert saved > 0
    assert named["Boards cut together by delivery"][amount] == pytest.approx(-saved)
    totals = {
        (row[0].value, str(row[1].value)): row
        for row in book["Totals by type, floor, delivery"].iter_rows(min_row=4)
        if row[0].value
    }
    by_type = sum(row[5].value for (what, _), row in totals.items() if what == "type")
    by_floor = sum(row[5].value for (what, _), row in totals.items() if what == "floor")
    assert by_type == pytest.approx(by_floor) == pytest.approx(money.major(direct))


def test_orders_are_the_sheets_of_the_plans(worked: Any, out: Path) -> None:
    _, _, cut = worked
    rows = list(csv.DictReader(io.StringIO((out / "orders.csv").read_text("utf-8"))))
    sheets = sum(float(row["Quantity"]) for row in rows if row["What"] == "sheets")
    assert sheets == cut.used
    assert not any(row["Ref"].startswith(("board_", "labour_")) for row in rows)
    whole = worked[0]
    wanted = Counter[str]()
    for done in whole.flats:
        for line in done.made.lines if done.made else ():
            if line.ref in ("hardware_shelf_pin", "anchor"):
                wanted[line.ref] += line.quantity
    told = {row["Ref"]: float(row["Quantity"]) for row in rows}
    assert len(wanted) == 2
    assert {ref: told[ref] for ref in wanted} == pytest.approx(wanted)
    bill = {
        row["Item"]: row for row in csv.DictReader(io.StringIO((out / "bulk_bill.csv").read_text("utf-8")))
    }
    anchors = sum(
        line.quantity for done in whole.flats if done.made for line in done.made.lines if line.ref == "anchor"
    )
    assert float(bill["Wall anchors"]["Quantity"]) == pytest.approx(anchors)


def test_totals_go_by_the_lift_the_deliveries_as_called_for_and_the_states_as_work_goes_on(
    worked: Any,
) -> None:
    """Not by letter: floor 10 is over floor 2, DEL10 comes after DEL2, built after cut."""
    whole = worked[0]
    file = whole.tower.file
    named = (("10", "built", "DEL2"), ("2", "cut", "DEL10"), ("2", "drawn", ""))
    flats = tuple(
        replace(done, flat=replace(done.flat, floor=floor, state=state, delivery=delivery))
        for done, (floor, state, delivery) in zip(whole.flats, named, strict=False)
    )
    tower = replace(whole.tower, file=replace(file, deliveries=(Delivery("DEL2"), Delivery("DEL10"))))
    rows = [row[:2] for row in totals(replace(whole, tower=tower, flats=flats)).rows]
    assert [row for row in rows if row[0] != "type"] == [
        ("floor", "2"), ("floor", "10"), ("delivery", "DEL2"), ("delivery", "DEL10"), ("delivery", "not called for"),
        ("state", "drawn"), ("state", "cut"), ("state", "built"), ("all", ""),
    ]  # fmt: skip


def test_a_folder_that_is_not_ours_is_left_alone_and_nothing_half_is_left(
    worked: Any, tmp_path: Path, monkeypatch: Any
) -> None:
    other = tmp_path / "mine"
    other.mkdir()
    (other / "letter.txt").write_text("mine")
    with pytest.raises(FileExistsError):
        issue(*worked, other, sheets=False)
    assert [path.name for path in other.iterdir()] == ["letter.txt"]
    monkeypatch.setattr("os.fsync", lambda handle: (_ for _ in ()).throw(OSError(28, "disk full")))
    with pytest.raises(OSError, match="disk full"):
        issue(*worked, tmp_path / "full", sheets=False)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["mine"]


def test_job_files_that_are_wrong_are_told_with_their_type(folder: Path, tmp_path: Path) -> None:
    text = (
        (folder / "tower.toml").read_text("utf-8").replace('job = "types/a.toml"', 'job = "types/no.toml"', 1)
    )
    (tmp_path / "tower.toml").write_text(
        text.replace('job = "types/b.toml"', 'job = "/types/b.toml"', 1), "utf-8"
    )
    with pytest.raises(JobError) as caught:
        read_tower_file(tmp_path)
    told = [str(one) for one in caught.value.problems]
    assert any(one.startswith("types[0].job types/no.toml: file: is not there") for one in told)
    assert any(
        one.startswith("types[1].job = '/types/b.toml': must be a path from the folder of this file")
        for one in told
    )


@pytest.mark.parametrize(("by", "on"), [("N. N.", "tomorrow"), ("N" * 5000, "2026-04-01")])
def test_an_acceptance_that_could_not_be_read_again_is_not_entered(
    folder: Path, tmp_path: Path, by: str, on: str
) -> None:
    path = tmp_path / "tower.toml"
    path.write_bytes(
        (folder / "tower.toml").read_bytes().replace(b'id = "0101"\n', b'id = "0101"\nstate = "cut"\n')
    )
    before = path.read_bytes()
    with pytest.raises(JobError, match=r"flats\[0\].accepted"):
        accept(path, {"0101"}, "B", by, on)
    assert path.read_bytes() == before


def test_measures_of_another_unit_are_told_by_field_and_value(folder: Path, tmp_path: Path) -> None:
    """4.2 for metres, and a flat of another type: 20 % off the type's wall and more is no wall of that type (common practice)."""
    shutil.copytree(folder / "types", tmp_path / "types")
    text = (folder / "tower.toml").read_text("utf-8")
    for value, told in (("4.2", r"flats\[0\].measured.widths\[0\].value = 4.2: is 4.2 mm, where the wall of type A has 4201 mm"),
                        ('"16 ft 6"', r"flats\[0\].measured.widths\[0\].value = '16 ft 6': is 5029.2 mm")):  # fmt: skip
        odd = re.sub(r"(at = 100, value = )\d+", rf"\g<1>{value}", text, count=1)
        (tmp_path / "tower.toml").write_text(odd, "utf-8")
        if value == "4.2":
            with pytest.raises(JobError, match=told):
                read_tower_file(tmp_path)
        else:  # 19.7 % off: within the fifth
            assert read_tower_file(tmp_path).file.flats[0].measured.widths[0].value.mm == pytest.approx(
                5029.2
            )


def test_no_two_sheets_have_one_number_and_a_danger_is_stamped(
    worked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole, _, cut = worked
    pages: list[Any] = []
    monkeypatch.setattr(tower_work, "drawings_pdf", lambda sheets: pages.extend(sheets) or b"")
    asks = [*_floors(whole), *_labels(whole, cut)]
    danger = replace(next(iter(check(derive(read_job(demo_jobs()["living_faults"]))))), severity="danger")
    first = asks[0]
    asks[0] = replace(first, flats=(replace(first.flats[0], findings=(danger,)), *first.flats[1:]))
    for ask in asks:
        tower_work.printed(ask)
    numbers = [(page.fields.number, page.number) for page in pages]
    assert len(set(numbers)) == len(numbers) > 8
    assert {number for number, _ in numbers} == {"TWR-DEMO-F1", "TWR-DEMO-F2", "TWR-DEMO-DEL1"}
    assert [page.name for page in pages if page.dangers] == [f"flat_{first.flats[0].flat.id}"]


def test_acceptance_is_entered_and_all_else_kept(folder: Path, tmp_path: Path) -> None:
    path = tmp_path / "tower.toml"
    before = (
        (folder / "tower.toml")
        .read_text("utf-8")
        .replace('id = "0101"\n', 'id = "0101"  # first\nstate = "cut"\n')
    )
    path.write_text(before, "utf-8")
    assert accept(path, {"0101"}, "B", "N. N.", "2026-04-01") == 1
    after = path.read_text("utf-8")
    assert 'accepted = "B"\naccepted_by = "N. N."\naccepted_on = "2026-04-01"\n' in after
    kept = [line for line in after.splitlines() if not line.startswith("accepted")]
    assert [line for line in kept if line] == [line for line in before.splitlines() if line]
