"""Names in any script: written with shipped fonts that are embedded, and read back letter by letter by other programs."""

from __future__ import annotations

import io
import subprocess
import unicodedata
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest

from wallwright.core.table import Column, Table
from wallwright.derive import Wall, derive
from wallwright.export.pdf import documents_pdf, drawings_pdf, is_archive, set_pdf
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import elevation
from wallwright.sheets.lettering import missing
from wallwright.sheets.paper import Fields, Sheet, numbered

NAMES = {  # invented
    "Korean": "김하늘 거실",
    "Japanese": "居間のかべ テレビ",
    "Chinese": "客厅电视墙 客廳電視牆",
    "Arabic": "جدار الشاشة",
    "Hebrew": "קיר המסך",
    "Devanagari": "बैठक की दीवार",
    "Tamil": "சுவர்",
    "Thai": "ผนังห้อง",
    "Lao": "ຝາເຮືອນ",
    "Khmer": "ជញ្ជាំង",
    "Burmese": "နံရံ",
    "Sinhala": "බිත්තිය",
    "Armenian": "Պատ",
    "Georgian": "კედელი",
    "Amharic": "ግድግዳ",
    "Greek": "Τοίχος",
    "Cyrillic": "Стена",
}


def letters(text: str) -> set[str]:
    """The letters of a text, marks and spaces aside; presentation forms brought back to the letters they stand for."""
    plain = unicodedata.normalize("NFKC", text)
    return {c for c in plain if unicodedata.category(c)[0] == "L"}


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job(demo_jobs()["bedroom"]))


def named(wall: Wall, name: str) -> tuple[Sheet, ...]:
    job = replace(wall.job, title=name, client=name, designer=name)
    return numbered((elevation.sheet(replace(wall, job=job)),))


@pytest.mark.parametrize("script", NAMES)
def test_a_name_is_written_embedded_and_read_back(wall: Wall, script: str, tmp_path: Path) -> None:
    name = NAMES[script]
    assert missing(name) == ""
    pdf = drawings_pdf(named(wall, name))
    assert is_archive(pdf)
    (tmp_path / "a.pdf").write_bytes(pdf)
    fonts = subprocess.run(
        ["pdffonts", str(tmp_path / "a.pdf")], capture_output=True, text=True, check=True
    ).stdout
    rows = [line.split() for line in fonts.splitlines()[2:]]
    assert rows
    for row in rows:
        assert row[-5] == "yes", row  # emb
        assert row[-3] == "yes", row  # a map back to letters
    text = subprocess.run(
        ["pdftotext", str(tmp_path / "a.pdf"), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert letters(name) <= letters(text)


@pytest.mark.parametrize("script", ["Korean", "Chinese", "Arabic", "Devanagari", "Khmer"])
def test_lists_and_sets_have_them_too(wall: Wall, script: str) -> None:
    name = NAMES[script]
    table = Table("t", name, (Column("Thing"),), ((name,),))
    fields = Fields.of(replace(wall.job, designer=name))
    for pdf in (documents_pdf((table,), name, fields), set_pdf(named(wall, name), (table,), name)):
        text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)
        assert letters(name) <= letters(text)


def test_a_letter_that_no_font_has_is_named() -> None:
    assert missing("Wand ᚠ 가") == "ᚠ"
