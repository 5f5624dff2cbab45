"""The PDFs, measured by other programs: pypdf (with our own walk through the content) and poppler's pdffonts, pdftotext."""

from __future__ import annotations

import io
import math
import re
import subprocess
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pypdf
import pytest
from pypdf.generic import ContentStream

from wallwright.core.drawing import Drawing, Hatch, Line, Text
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.export.pdf import column_widths, documents_pdf, drawings_pdf, is_archive, lost_letters
from wallwright.sheets.lettering import text_width
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.templates import templates

FIELDS = Fields("Demo studio", "Client", "TVW-9", "A", "2026-03-02", "Demo studio", "Approver", "Preliminary")
Matrix = tuple[float, float, float, float, float, float]


def ruled(scale: float, title: str = "Ruler") -> Sheet:
    """A sheet with one line of 1000 real mm in a view at 1:scale."""
    marks = (Line(((0, 0), (1000, 0)), "wide"), Text((0, 100), "1000 × 45° Ø35 पैनल ₹"))
    return Sheet(
        "ruler",
        title,
        "Test",
        (View(Drawing("ruler", "Ruler", scale, marks), 60, 150),),
        (),
        FIELDS,
        job_title="रसोई",
    )


def times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def strokes(data: bytes, page: int = 0) -> list[float]:
    """Lengths [mm] of all straight strokes of a page, through all nested forms."""
    reader = pypdf.PdfReader(io.BytesIO(data))
    found: list[float] = []

    def walk(stream: Any, resources: Any, matrix: Matrix) -> None:
        stack: list[Matrix] = []
        at: tuple[float, float] = (0.0, 0.0)
        path: list[float] = []
        for operands, operator in ContentStream(stream, reader).operations:
            if operator == b"q":
                stack.append(matrix)
            elif operator == b"Q":
                matrix = stack.pop()
            elif operator == b"cm":
                matrix = times(tuple(map(float, operands)), matrix)  # type: ignore[arg-type]
            elif operator in (b"m", b"l"):
                x, y = map(float, operands)
                to = (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5])
                if operator == b"l":
                    path.append(math.dist(at, to) / 72 * 25.4)
                at = to
            elif operator in (b"S", b"s", b"B", b"b"):
                found.extend(path)
                path = []
            elif operator in (b"f", b"f*", b"n"):
                path = []
            elif operator == b"Do":
                form = resources["/XObject"][operands[0]].get_object()
                if form["/Subtype"] == "/Form":
                    inner = tuple(map(float, form.get("/Matrix", (1, 0, 0, 1, 0, 0))))
                    walk(form, form.get("/Resources", resources).get_object(), times(inner, matrix))  # type: ignore[arg-type]

    first = reader.pages[page]
    walk(first.get_contents(), first["/Resources"].get_object(), (1, 0, 0, 1, 0, 0))
    return found


@pytest.mark.parametrize(("scale", "long"), [(20, 50.0), (10, 100.0), (50, 20.0)])
def test_a_metre_measures_what_the_scale_says(scale: float, long: float) -> None:
    lengths = strokes(drawings_pdf((ruled(scale),)))
    assert any(abs(length - long) < 0.01 for length in lengths), sorted(lengths)
    assert not any(
        abs(length - long * 1.01) < 0.005 * long for length in lengths
    )  # the measure can tell 1 % apart


def test_page_is_a3_lying(issued: tuple[Path, Any]) -> None:
    """ISO 216: A3 is 297 x 420."""
    for page in pypdf.PdfReader(issued[0] / "drawings.pdf").pages:
        assert float(page.mediabox.width) / 72 * 25.4 == pytest.approx(420, abs=0.01)
        assert float(page.mediabox.height) / 72 * 25.4 == pytest.approx(297, abs=0.01)


def test_check_lines_measure_100(issued: tuple[Path, Any]) -> None:
    for name in ("drawings.pdf", "templates.pdf"):
        data = (issued[0] / name).read_bytes()
        for i in (1, len(pypdf.PdfReader(io.BytesIO(data)).pages) - 1):
            assert any(abs(length - 100) < 0.01 for length in strokes(data, i)), (name, i)


def test_the_overall_dimension_measures_the_wall(issued: tuple[Path, Any], living: Any) -> None:
    lengths = strokes((issued[0] / "drawings.pdf").read_bytes(), 0)
    assert any(abs(length - living.face.width / 20) < 0.01 for length in lengths)


def test_templates_are_full_size(issued: tuple[Path, Any], living: Any) -> None:
    """A box of 146 mm that lies whole on one tile is 146 mm on paper."""
    data = (issued[0] / "templates.pdf").read_bytes()
    tiles = [i for i, sheet in enumerate(templates(living)) if sheet.name.startswith("template_")]
    assert any(abs(length - 146) < 0.01 for i in tiles for length in strokes(data, i))
    page = pypdf.PdfReader(io.BytesIO(data)).pages[0]
    assert float(page.mediabox.width) / 72 * 25.4 == pytest.approx(210, abs=0.01)


@pytest.mark.parametrize("name", ["drawings.pdf", "documents.pdf", "templates.pdf"])
def test_all_fonts_are_embedded(issued: tuple[Path, Any], program: Callable[[str], str], name: str) -> None:
    out = subprocess.run(
        [program("pdffonts"), str(issued[0] / name)], capture_output=True, text=True, check=True
    ).stdout
    rows = out.splitlines()[2:]
    assert rows
    for row in rows:
        assert "NotoSans" in row.replace(" ", ""), row
        assert row.split()[-5:-2] == ["yes", "yes", "yes"], row  # embedded, subset, with its letters' meaning


def test_words_come_out_again(program: Callable[[str], str], tmp_path: Path) -> None:
    file = tmp_path / "r.pdf"
    file.write_bytes(drawings_pdf((ruled(20, "Title here"),)))
    text = subprocess.run(
        [program("pdftotext"), "-layout", str(file), "-"], capture_output=True, text=True, check=True
    ).stdout
    for words in ("1000 × 45° Ø35", "₹", "Title here", "TVW-9-01", "Legal owner"):
        assert words in text
    assert "पैनल" in text.replace(" ", "")


def test_shaped_scripts_keep_their_widths(program: Callable[[str], str], tmp_path: Path) -> None:
    """Vowel signs that stand behind their letter keep their room: no word runs into the next."""
    words = "बैठक की दीवार लंबा नाम"
    sheet = ruled(20)
    marks = (Text((0, 0), words, 5.0), Text((1000, 500), words, 5.0, "middle", 90.0))
    view = replace(sheet.views[0], drawing=replace(sheet.views[0].drawing, marks=marks))
    file = tmp_path / "d.pdf"
    file.write_bytes(drawings_pdf((replace(sheet, views=(view,)),)))
    out = subprocess.run(
        [program("pdftotext"), "-bbox", str(file), "-"], capture_output=True, text=True, check=True
    ).stdout
    found = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>', out)
    lying = sorted(
        (float(x0), float(x1), float(y0))
        for x0, y0, x1, y1, w in found
        if w in words.split() and abs(float(x1) - float(x0)) > 12
    )
    row = [(x0, x1) for x0, x1, y in lying if abs(y - lying[0][2]) < 1][:5]
    assert len(row) == 5, found
    assert all(a[1] < b[0] for a, b in pairwise(row)), row
    assert row[0][0] / 72 * 25.4 == pytest.approx(60, abs=0.5)
    assert (row[-1][1] - row[0][0]) / 72 * 25.4 == pytest.approx(text_width(words, 5.0), rel=0.06)


def test_letters_no_font_has_are_seen_and_reported() -> None:
    assert lost_letters(("Plan ᚠ ⌀ x 高", "पैनल ₹")) == "ᚠ⌀"
    svg_text = drawings_pdf((ruled(20, "Plan ᚠ"),))
    assert "\ufffd" in "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(svg_text)).pages)


def test_hatches_are_drawn() -> None:
    plain = ruled(20)
    view = plain.views[0]
    hatched = replace(
        view,
        drawing=replace(
            view.drawing, marks=(*view.drawing.marks, Hatch(Box(0, 0, 800, 800).corners, "masonry"))
        ),
    )
    assert len(drawings_pdf((replace(plain, views=(hatched,)),))) > len(drawings_pdf((plain,))) + 500


def test_same_input_same_bytes() -> None:
    assert drawings_pdf((ruled(20),)) == drawings_pdf((ruled(20),))
    table = Table(
        "t", "Table", (Column("A"), Column("B", "mm", 1, "right")), (("x", 1.25), ("=1+1", None)), ("note",)
    )
    assert documents_pdf((table,), "Job", FIELDS) == documents_pdf((table,), "Job", FIELDS)


def test_long_tables_run_over_pages_and_repeat_their_heading() -> None:
    rows = tuple((f"a part called {i}", float(i)) for i in range(120))
    data = documents_pdf(
        (Table("t", "Cut list", (Column("Part name"), Column("Length", "mm", 1, "right")), rows),),
        "Job",
        FIELDS,
    )
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    assert len(pages) > 2
    assert all("Part name" in page.extract_text() for page in pages)
    assert "119.0" in pages[-1].extract_text()
    assert float(pages[0].mediabox.width) / 72 * 25.4 == pytest.approx(297, abs=0.01)  # A4 lying


def test_columns_fit_the_page_and_keep_words_whole() -> None:
    heads = ["Ref", "What it is for", "Note"]
    rows = [["P1", "a rather long sentence about an outlet " * 3, "another long sentence of many words " * 4]]
    widths = column_widths(heads, rows)
    assert sum(widths) <= 266.0 + 0.1
    assert widths[0] < 15 < widths[1]
    assert column_widths(["A"], [["short"]])[0] < 20


# Invented names, one a script: Devanagari, Tamil, Arabic, Chinese, Japanese, Bengali, Gujarati, Gurmukhi, Odia, Telugu, Kannada,
# Malayalam, Hebrew, Thai.
NAMES = (
    "बैठक की दीवार", "வரவேற்பறை சுவர்", "غرفة الجلوس", "客廳電視牆", "居間の壁", "বসার ঘর", "બેઠક ખંડ", "ਬੈਠਕ", "ଘର କାନ୍ଥ", "గది గోడ",
    "ಗೋಡೆ ಕೋಣೆ", "മുറിയുടെ ഭിത്തി", "קיר הסלון", "ผนังห้อง",
)  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_a_name_in_any_script_is_drawn_and_comes_out_again(
    name: str, program: Callable[[str], str], tmp_path: Path
) -> None:
    """In title block and view, by pdftotext; and no glyph is glyph 0, the empty box (.notdef), by the fonts' own numbers."""
    sheet = replace(ruled(20, name), fields=replace(FIELDS, client=name), job_title=name)
    view = replace(sheet.views[0], drawing=replace(sheet.views[0].drawing, marks=(Text((0, 0), name, 5.0),)))
    data = drawings_pdf((replace(sheet, views=(view,)),))
    file = tmp_path / "n.pdf"
    file.write_bytes(data)
    call = [program("pdftotext"), "-layout", str(file), "-"]
    out = subprocess.run(call, capture_output=True, text=True, check=True).stdout
    plain = "".join(c for c in out if c not in " \u202a\u202b\u202c\u200e\u200f")
    assert plain.count(name.replace(" ", "")) >= 4  # client, sheet title, job title, view
    assert shown_glyphs(data) > 100
    assert lost_letters((name,)) == ""


def test_schedules_hold_names_in_any_script(program: Callable[[str], str], tmp_path: Path) -> None:
    table = Table(
        "t", "Names", (Column("Name"), Column("No", "", 0, "right")), tuple((name, 1.0) for name in NAMES)
    )
    file = tmp_path / "t.pdf"
    file.write_bytes(documents_pdf((table,), "பட்டியல்", replace(FIELDS, owner="高橋")))
    call = [program("pdftotext"), "-layout", str(file), "-"]
    out = subprocess.run(call, capture_output=True, text=True, check=True).stdout
    plain = "".join(c for c in out if c not in " \u202a\u202b\u202c\u200e\u200f")
    assert [name for name in (*NAMES, "பட்டியல்", "高橋") if name.replace(" ", "") not in plain] == []
    assert shown_glyphs(file.read_bytes()) > 100


def shown_glyphs(data: bytes) -> int:
    """How many two-byte glyph numbers the pages show; none may be 0, unless its letter is a space."""
    reader, shown = pypdf.PdfReader(io.BytesIO(data)), 0

    def walk(stream: Any, resources: Any) -> None:
        nonlocal shown
        for operands, operator in ContentStream(stream, reader).operations:
            if operator in (b"Tj", b"TJ"):
                parts = operands[0] if operator == b"TJ" else operands
                raw = b"".join(p.original_bytes for p in parts if hasattr(p, "original_bytes"))
                numbers = [int.from_bytes(raw[i : i + 2], "big") for i in range(0, len(raw), 2)]
                assert 0 not in numbers
                shown += len(numbers)
            elif operator == b"Do":
                form = resources["/XObject"][operands[0]].get_object()
                if form["/Subtype"] == "/Form":
                    walk(form, form.get("/Resources", resources).get_object())

    for page in reader.pages:
        walk(page.get_contents(), page["/Resources"].get_object())
    return shown


def test_signs_without_a_letter_never_stop_a_sheet() -> None:
    """Control signs, lone marks, free code points, selectors: printed oddly, said so, never a failure."""
    for words in ("\x07\x13", "\u0301\u064b", "\uf8ff\ufdd0", "a\ufe0f\u202e", "𝔸👩\u200d👧", "\ufff9\ufff1"):
        sheet = replace(ruled(20, words), fields=replace(FIELDS, client=words), job_title=words)
        assert drawings_pdf((sheet,)).startswith(b"%PDF")
    assert is_archive(drawings_pdf((ruled(20),)))


@pytest.mark.parametrize(
    "name", ["drawings.pdf", "documents.pdf", "templates.pdf", "labels.pdf", "quote.pdf"]
)
def test_it_is_an_archive_file(issued: tuple[Path, Any], name: str) -> None:
    """ISO 19005-2: XMP that says so, an output intent with its profile, every font within, nothing see-through or encrypted."""
    data = (issued[0] / name).read_bytes()
    reader = pypdf.PdfReader(io.BytesIO(data))
    root = reader.trailer["/Root"]
    xmp = root["/Metadata"].get_data().decode()
    assert re.search(r"pdfaid:part\W+2\b", xmp) and re.search(r"pdfaid:conformance\W+B\b", xmp)
    intent = root["/OutputIntents"][0].get_object()
    assert (
        intent["/S"] == "/GTS_PDFA1"
        and intent["/DestOutputProfile"].get_object().get_data()[36:40] == b"acsp"
    )
    assert "/Encrypt" not in reader.trailer and len(reader.trailer["/ID"]) == 2
    assert "/OpenAction" not in root and "/AA" not in root and "/Names" not in root
    for number in range(1, int(reader.trailer["/Size"])):
        thing = reader.get_object(pypdf.generic.IndirectObject(number, 0, reader))
        if not isinstance(thing, dict):
            continue
        assert thing.get("/S") not in ("/Transparency", "/JavaScript", "/Launch"), number
        assert thing.get("/SMask", "/None") == "/None", number
        assert float(thing.get("/ca", 1)) == float(thing.get("/CA", 1)) == 1, number
        if thing.get("/Type") == "/FontDescriptor":
            assert {"/FontFile2", "/FontFile3"} & set(thing), number


def test_letters_are_letters_not_outlines(issued: tuple[Path, Any]) -> None:
    """A set of drawings goes by mail: each font is in it once, and no halo turns its letters into curves."""
    data = (issued[0] / "drawings.pdf").read_bytes()
    reader = pypdf.PdfReader(io.BytesIO(data))
    assert len(data) < 1_500_000
    assert len(data) / len(reader.pages) < 45_000
    files = [o for o in range(1, int(reader.trailer["/Size"]))
             if isinstance(thing := reader.get_object(pypdf.generic.IndirectObject(o, 0, reader)), dict)
             and thing.get("/Type") == "/FontDescriptor"]  # fmt: skip
    assert len(files) <= 4
    drawn = [operator for _, operator in ContentStream(reader.pages[0].get_contents(), reader).operations]
    assert drawn.count(b"BT") > 60 and drawn.count(b"c") < 4 * drawn.count(b"BT")
