"""Only what changed since an issue: which sheets, lists and files, against the trade's own table, and the set that is written."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest

from wallwright.derive import Wall, derive
from wallwright.export.package import MANIFEST
from wallwright.export.since import as_issued, issue_since, numbers_in, since
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job

JOB = read_job(demo_jobs()["living"])
WALL = derive(JOB)
COLUMNS = {
    "heights": ("heights",),
    "outlet zone": ("services",),
    "conduit": ("runs",),
    "fronts": ("joinery_C1", "joinery_T1", "joinery_T2"),
    "fixing": ("fixings",),
    "cut list": ("cut_list",),
    "LED": ("lights",),
    "cost": ("quote.pdf",),
    "client page": ("elevation", "view_A"),
    "electrician's sheet": ("electrician",),
    "carpenter's sheet": ("joinery_C1", "joinery_T1", "joinery_panels"),
}
"""What stands for each column of the trade's table of what is checked when something changes (common practice)."""


def lowered(job: Job, by: float) -> Job:
    for one in job.survey.wall.heights:
        job = apply(job, "set_wall_reading", {"which": "height", "at": one.at, "value": one.value.mm - by})
    return job


def edited(name: str, **values: object) -> Callable[[Job], Job]:
    return lambda job: apply(job, name, values)


ALL = frozenset(COLUMNS)
ROWS: list[tuple[str, Callable[[Job], Job], frozenset[str], frozenset[str], frozenset[str]]] = [
    ("screen size", edited("set_screen_size", diagonal=75), ALL, frozenset(), frozenset()),
    # the screen follows the eyes, so its leads and strips do too, and the price with them
    ("sofa", edited("set_seat", ref="A", eye_height=1000), ALL - {"conduit", "LED", "cost"}, frozenset(),
     frozenset({"conduit", "LED", "cost"})),
    ("console", edited("resize_unit", ref="C1", height=450, depth=450), ALL - {"outlet zone"}, frozenset(),
     frozenset({"outlet zone"})),  # the sockets behind the console go with it
    # one more box takes no other board here; its heat and its plug are the carpenter's all the same
    ("device list", edited("add_device", ref="ZZ", kind="games_console"),
     frozenset({"outlet zone", "conduit", "fronts", "cut list", "cost", "electrician's sheet", "carpenter's sheet"}),
     frozenset({"cut list"}), frozenset({"fixing"})),
    # 12 → 9 mm: the boxes are in the wall and no strip lies in the panel's reveal; the screen's section shows the thinner face
    ("face", edited("set_panel_board", ref="W1", board="ply9"),
     frozenset({"outlet zone", "fronts", "fixing", "cut list", "LED", "cost", "client page", "carpenter's sheet"}),
     frozenset({"outlet zone", "fronts", "LED"}), frozenset({"heights"})),
    # a width moves no height and, here, no strip
    ("survey", edited("set_wall_reading", which="width", at=1000, value=4150), ALL - {"client page"},
     frozenset({"heights", "LED"}), frozenset({"client page"})),
]  # fmt: skip


@pytest.mark.parametrize(("name", "change", "table", "spared", "also"), ROWS, ids=[row[0] for row in ROWS])
def test_what_is_issued_again_agrees_with_the_trades_table(
    name: str,
    change: Callable[[Job], Job],
    table: frozenset[str],
    spared: frozenset[str],
    also: frozenset[str],
) -> None:
    del name
    named = {one.name for one in since(WALL, derive(change(JOB))).documents}
    touched = {column for column, docs in COLUMNS.items() if named & set(docs)}
    assert spared <= table and not also & table
    assert touched == (table - spared) | also


def test_a_lower_ceiling_reaches_every_sheet_that_shows_it() -> None:
    named = {one.name for one in since(WALL, derive(lowered(JOB, 120))).documents}
    assert {"heights", "elevation", "section", "services", "electrician", "quote.pdf", "view_A"} <= named
    assert not {"joinery_T1", "cuts_T1", "joinery_T2"} & named  # 2300 high still, under 2630


def test_nothing_is_issued_for_nothing() -> None:
    found = since(WALL, derive(JOB))
    assert found.documents == () and found.lists == () and found.files == ()
    new = apply(JOB, "set_issue", {"date": "2026-05-05", "status": "approval"})
    new = apply(new, "set_revision", {"revision": "B"})
    again = since(derive(as_issued(JOB, new)), derive(new))
    assert again.documents == ()


def test_who_is_told() -> None:
    """A finish: the client, the carpenter, the stone trade and the owner; no price goes to a trade, nothing to the electrician."""
    found = since(WALL, derive(apply(JOB, "set_panel_finish", {"ref": "W1", "finish": "laminate_oak"})))
    told = {one.name: one.readers for one in found.documents}
    assert "client" in told["elevation"] and told["quote.pdf"] == ("client",)
    assert "electrician" not in {reader for readers in told.values() for reader in readers}


@pytest.fixture(scope="module")
def new() -> Job:
    job = apply(JOB, "set_panel_finish", {"ref": "W1", "finish": "laminate_oak"})
    return apply(job, "set_revision", {"revision": "B"})


@pytest.fixture(scope="module")
def old(new: Job) -> Wall:
    return derive(as_issued(JOB, new))


def test_the_set_holds_only_what_changed_and_names_what_is_void(old: Wall, new: Job, tmp_path: Path) -> None:
    out = tmp_path / "b"
    manifest = issue_since(old, derive(new), out, "A")
    there = {path.name for path in out.iterdir()}
    assert {
        "transmittal.pdf",
        "transmittal.csv",
        "changed_sheets.pdf",
        "changed_lists.pdf",
        "quote.pdf",
    } <= there
    sheets = {name for name in there if re.match(r"\d\d_.*\.svg", name)}
    assert "01_elevation.svg" in sheets and not any(
        "electrician" in name or "services" in name for name in sheets
    )
    told = json.loads((out / MANIFEST).read_bytes())["since"]
    assert told == manifest.since and told["revision"] == "A"
    void = {one["name"]: (one["revision"], one["by"]) for one in told["superseded"]}
    assert void["elevation"] == ("A", "B") and "services" not in void
    assert {f"{one['number']:02d}_{one['name']}.svg" for one in told["superseded"] if one["by"]} == sheets
    rows = list(csv.DictReader(io.StringIO((out / "transmittal.csv").read_text("utf-8-sig"))))
    assert {row["name"] for row in rows} == {one["name"] for one in told["documents"]}
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(out / "transmittal.pdf").pages)
    assert "Transmittal: revision B, since A" in text and "Elevation, finished" in text
    assert numbers_in(out)["elevation"] == 1 and numbers_in(tmp_path) == {}
    assert issue_since(old, derive(new), out, "A").files == manifest.files  # same input, same bytes


def test_one_letter_for_two_prints_is_refused(new: Job, tmp_path: Path) -> None:
    same = apply(new, "set_revision", {"revision": "A"})
    with pytest.raises(JobError, match="such as B"):
        issue_since(derive(as_issued(JOB, same)), derive(same), tmp_path / "x", "A")
    assert not (tmp_path / "x").exists()


def test_work_that_stops_is_named(tmp_path: Path) -> None:
    cut = apply(JOB, "set_progress", {"joinery": "cut", "points": "set"})
    new = apply(apply(cut, "resize_unit", {"ref": "C1", "height": 414}), "set_revision", {"revision": "B"})
    issue_since(derive(as_issued(cut, new)), derive(new), tmp_path / "b", "A")
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "b" / "transmittal.pdf").pages)
    assert "Stop work on these parts" in text and "C1-L (cut)" in text


def pages(path: Path) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(path).pages]


def test_a_reader_gets_what_changed_of_his_own_set_alone(old: Wall, new: Job, tmp_path: Path) -> None:
    manifest = issue_since(
        old, derive(new), tmp_path / "c", "A", roles=("carpenter", "electrician"), whole=False
    )
    there = {path.name for path in (tmp_path / "c").iterdir()}
    # another face: cut list and model; no sheet, no box of the electrician's, whose set is named as left out
    assert {"changed_carpenter.pdf", "cutlist.csv", "wall.glb", MANIFEST} <= there
    assert not there & {"changed_electrician.pdf", "quote.pdf", "transmittal.pdf", "job.toml", "wall.ifc"}
    assert manifest.left_out == ("changed_electrician.pdf: nothing of this set changed",)
    said = pages(tmp_path / "c" / "changed_carpenter.pdf")
    assert "Transmittal: revision B, since A" in said[0]
    assert any("Elevation, finished" in page for page in said[1:])
    assert any("Cut list" in page for page in said[1:])
    assert not any("Quote" in page or "View from seat" in page for page in said)
    assert manifest.since["superseded"]  # which prints are void is told whoever reads it


def test_nothing_for_any_of_the_readers_is_refused(old: Wall, new: Job, tmp_path: Path) -> None:
    with pytest.raises(JobError, match="nothing of these sets changed"):
        issue_since(old, derive(new), tmp_path / "e", "A", roles=("electrician",), whole=False)
    assert not (tmp_path / "e").exists()


def test_paper_and_pictures_are_as_asked(tmp_path: Path) -> None:
    higher = apply(
        apply(JOB, "set_screen_height", {"centre_height": 1250}), "set_revision", {"revision": "B"}
    )
    was, now = derive(as_issued(JOB, higher)), derive(higher)
    issue_since(
        was, now, tmp_path / "p", "A", roles=("screen_fitter",), whole=False, tiles="A3", pictures=True
    )
    sizes = {
        round(float(page.mediabox.height) * 25.4 / 72)
        for page in pypdf.PdfReader(tmp_path / "p" / "templates.pdf").pages
    }
    assert 420 in sizes
    assert not (tmp_path / "p" / "picture_day.png").exists()  # the client's
    issue_since(was, now, tmp_path / "q", "A", roles=("client",), whole=False, pictures=True)
    assert {"picture_day.png", "picture_night.png", "changed_client.pdf"} <= {
        path.name for path in (tmp_path / "q").iterdir()
    }
