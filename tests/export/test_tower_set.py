"""The tower's set: whole or not at all, same files same bytes, whoever did the work; what failed is named; a page a flat."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from pathlib import Path
from typing import Any

import openpyxl
import pypdf
import pytest

from wallwright.export.tower_files import accept, read_tower_file
from wallwright.export.tower_set import issue
from wallwright.job.problem import JobError
from wallwright.library import load
from wallwright.tower.batch import pool
from wallwright.tower.demo import demo_files
from wallwright.tower.pooled import pooled
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
