"""A set for each reader: one PDF with his sheets and lists, his files beside it, and nothing else."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from wallwright.derive import Wall, derive
from wallwright.export.package import MANIFEST, issue
from wallwright.export.role_sets import set_name
from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.sheets.roles import READERS, ROLES, Role


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job(demo_jobs()["bedroom"]))


def words(path: Path) -> tuple[str, list[tuple[int, int]]]:
    reader = pypdf.PdfReader(io.BytesIO(path.read_bytes()))
    sizes = [
        (round(float(p.mediabox.width) * 25.4 / 72), round(float(p.mediabox.height) * 25.4 / 72))
        for p in reader.pages
    ]
    return " ".join(page.extract_text() for page in reader.pages), sizes


def test_one_reader_gets_his_set_and_his_files_alone(wall: Wall, tmp_path: Path) -> None:
    manifest = issue(wall, tmp_path / "e", roles=("electrician",), whole=False)
    there = {path.name for path in (tmp_path / "e").iterdir()}
    assert there == {"set_electrician.pdf", *READERS["electrician"].files, MANIFEST}
    assert {entry.name for entry in manifest.files} == there - {MANIFEST}
    said, sizes = words(tmp_path / "e" / "set_electrician.pdf")
    assert sizes[0] == (420, 297)
    assert sizes[-1] == (297, 210)  # lists on A4, lying
    assert "Electrician's set" in said
    for point in wall.services.points:
        assert point.ref in said
    total = wall.money.shown(wall.money.total).split()[-1]
    assert total not in said
    assert "drilling" not in " ".join(name for name in there)


def test_the_client_gets_pictures_options_and_money(wall: Wall, tmp_path: Path) -> None:
    issue(wall, tmp_path / "c", roles=("client",), whole=False)
    assert {path.name for path in (tmp_path / "c").iterdir()} == {"set_client.pdf", "quote.pdf", MANIFEST}
    said, _ = words(tmp_path / "c" / "set_client.pdf")
    for expected in (
        "Screen black, by day",
        "Screen on",
        "Other schemes for this brief",
        "other finishes",
        "Payment by stages",
        "Options compared",
        "What you give up",
    ):
        assert expected in said, expected
    assert "Cut list" not in said
    first = pypdf.PdfReader(tmp_path / "c" / "set_client.pdf").pages[0]
    shown = [picture.image for picture in first.images]
    assert [image.size for image in shown] == [(960, 640)] * 2
    by_day, by_night = (image.convert("L").resize((1, 1)).getpixel((0, 0)) for image in shown)
    assert by_day > by_night + 10  # the same wall, lit by its windows and then by its lamps
    assert "By day" in first.extract_text() and "By night" in first.extract_text()
    assert "Computed from this design, for choosing and not for measuring" in " ".join(
        first.extract_text().split()
    )
    assert wall.money.shown(wall.money.total).split()[-1] in words(tmp_path / "c" / "quote.pdf")[0]


def test_pictures_as_files_and_templates_on_a3_where_they_are_asked_for(wall: Wall, tmp_path: Path) -> None:
    issue(wall, tmp_path / "p", roles=("screen_fitter",), whole=False, tiles="A3", pictures=True)
    there = {path.name for path in (tmp_path / "p").iterdir()}
    assert there == {
        "set_screen_fitter.pdf",
        "templates.pdf",
        "picture_day.png",
        "picture_night.png",
        MANIFEST,
    }
    assert (tmp_path / "p" / "picture_day.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    _, sizes = words(tmp_path / "p" / "templates.pdf")
    assert (297, 420) in sizes and set(sizes) <= {(210, 297), (297, 420)}  # the rods' lists stay on A4
    issue(wall, tmp_path / "q", roles=("screen_fitter",), whole=False)
    assert {path.name for path in (tmp_path / "q").iterdir()} == {
        "set_screen_fitter.pdf",
        "templates.pdf",
        MANIFEST,
    }
    assert len(words(tmp_path / "q" / "templates.pdf")[1]) > len(sizes)


def test_the_whole_with_every_set_beside_it_and_the_same_bytes_twice(wall: Wall, tmp_path: Path) -> None:
    asked: tuple[Role, ...] = ("site_engineer", "stone", "owner")
    one = issue(wall, tmp_path / "a", roles=asked)
    two = issue(wall, tmp_path / "b", roles=asked)
    assert one == two
    names = {entry.name for entry in one.files}
    assert {set_name(role) for role in asked} - names == {"set_stone.pdf"}  # nothing is set in stone there
    assert {"drawings.pdf", "documents.pdf", "wall.ifc"} <= names
    assert any(line.startswith("set_stone.pdf: nothing on this wall") for line in one.left_out)
    issue(wall, tmp_path / "a")  # a set of ours with role sets is replaced like any other
    assert not (tmp_path / "a" / "set_owner.pdf").exists()


def test_a_set_that_cannot_be_made_is_refused_and_nothing_written(wall: Wall, tmp_path: Path) -> None:
    with pytest.raises(JobError, match="stone or tile"):
        issue(wall, tmp_path / "s", roles=("stone",), whole=False)
    assert not (tmp_path / "s").exists()


def test_every_file_a_reader_gets_is_one_the_whole_set_has(issued: tuple[Path, object]) -> None:
    there = {path.name for path in issued[0].iterdir()}
    for role in ROLES:
        assert set(READERS[role].files) - there <= {"holes.csv"}, role
