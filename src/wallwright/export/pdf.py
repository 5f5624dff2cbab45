"""Sheets as drawings.pdf (A3, exactly to scale) and tables as documents.pdf (A4), typeset by typst with the shipped fonts.

The SVG of each sheet is placed at its paper size; nothing is rastered. No clock and no name of a machine goes in, so the same
input gives the same bytes.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_left
from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache
from importlib.resources import as_file, files
from typing import Any, Final

from wallwright.core.drawing import Text
from wallwright.core.table import Cell, Column, Table
from wallwright.export.svg import Laid, laid
from wallwright.sheets.lettering import CAPITAL, FAMILIES, missing, printable, text_width
from wallwright.sheets.paper import Fields, Sheet

STANDARD: Final = "a-2b"
"""ISO 19005-2 level B: fonts within, colours told by a profile, no clock, no link outwards; the typesetter refuses what breaks it."""

_HEAD = """
#let data = json(bytes(sys.inputs.data))
#set document(title: data.title, author: data.owner, date: datetime(..data.when))
"""

_DRAWINGS = """
#set text(font: data.fonts, lang: "en")
#for s in data.sheets {
  page(width: s.w * 1mm, height: s.h * 1mm, margin: 0mm,
    {
      place(top + left, image(bytes(s.svg), format: "svg", width: s.w * 1mm, height: s.h * 1mm, alt: s.title))
      for t in s.texts {
        let words = text(size: t.size * 1mm, weight: if t.bold { "bold" } else { "regular" }, top-edge: "baseline",
          bottom-edge: "baseline", t.text)
        place(top + left, dx: t.x * 1mm, dy: t.y * 1mm, rotate(-t.turn * 1deg, origin: top + left, reflow: false,
          context move(dx: -t.anchor * measure(words).width, box(words))))
      }
    })
}
"""

_DOCUMENTS = """
#set text(font: data.fonts, size: 9pt, lang: "en")
#set page(paper: "a4", flipped: true, margin: (left: 20mm, right: 10mm, top: 20mm, bottom: 18mm),
  header: [#set text(8.5pt); #grid(columns: (1fr, auto), [*#data.title*], [#data.number · rev. *#data.revision* · #data.date])
    #v(-6pt) #line(length: 100%, stroke: 0.5mm)],
  footer: context [#set text(8.5pt); #line(length: 100%, stroke: 0.25mm) #v(-4pt)
    #grid(columns: (1fr, auto), [#data.owner · #data.status], [page #counter(page).display() of #counter(page).final().first()])])
#set par(justify: false)
#show heading: set text(13pt)
#outline(title: [Schedules], depth: 1)
#text(8.5pt)[Design aid: electrical content to be checked, sized, installed and tested by the locally licensed
  electrician; fixings and loads to be confirmed on site. Sizes in mm, heights from FFL (finished floor level).]
#for t in data.tables { block-table(t) }
"""

_TABLE = """
// The first and the last rows of a table, and the notes under these, stay together over a page's end: an empty cell in a column of
// no width holds them. The notes have the page's whole width: a last column without a line takes what the table leaves.
#let bound(n, i, more) = {
  let k = calc.min(3, n)
  let held(rows, whole) = (table.cell(rowspan: rows, breakable: not whole, inset: 0pt)[],)
  if n < 2 * k { if i == 0 { held(n + more, true) } else { () } }
  else if i == n - k { held(k + more, true) }
  else if i == 0 { held(k, true) }
  else if i == k and n > 2 * k { held(n - 2 * k, false) }
  else { () }
}
#let notes-of(t) = text(8.5pt, t.notes.map(n => [#n]).join(linebreak()))
#let block-table(t) = [
  #v(4mm)
  #block(sticky: true, breakable: false)[= #t.title]
  #set text(8.5pt)
  #let n = t.rows.len()
  #let more = if t.held { 1 } else { 0 }
  #let last = t.heads.len() + 1
  #table(
    columns: (0mm, ..t.widths.map(w => w * 1mm), 1fr),
    align: (left, ..t.align.map(a => if a == "right" { right } else { left }), left),
    stroke: (x, y) => if x == 0 or x == last or y > n { none } else {
      (bottom: if y == 0 { 0.35mm } else { 0.25mm + luma(120) }, top: if y == 0 { 0.35mm }) },
    inset: (x: 1.2mm, y: 1.1mm),
    table.header(table.cell(inset: 0pt)[], ..t.heads.map(h => strong[#h]), table.cell(inset: 0pt)[]),
    ..t.rows.enumerate().map(((i, row)) => (
      ..bound(n, i, more), ..row.map(c => table.cell(breakable: false)[#c]), table.cell(inset: 0pt)[])).flatten(),
    ..if t.held { (table.cell(colspan: last, breakable: false, align: left, inset: (x: 1.2mm, top: 1.6mm, bottom: 0mm))[#notes-of(t)],) } else { () })
  #if not t.held and t.notes.len() > 0 { notes-of(t) }
]
"""


@lru_cache(maxsize=1)
def fonts() -> Any:
    """The shipped fonts and no others, found once."""
    import typst

    with as_file(files("wallwright").joinpath("export", "fonts")) as folder:
        return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folder)])


def drawings_pdf(sheets: Iterable[Sheet], title: str = "", owner: str = "") -> bytes:
    """Every sheet on its own page, at its true size."""
    return laid_pdf([laid(sheet) for sheet in sheets], title, owner)


def laid_pdf(sheets: Sequence[Laid], title: str = "", owner: str = "") -> bytes:
    """`drawings_pdf` of sheets whose marks are elements already."""
    rows = [_page(sheet) for sheet in sheets]
    first = sheets[0].sheet if sheets else None
    data = {
        "title": printable(title or (first.job_title if first else "")),
        "owner": printable(owner or (first.fields.owner if first else "")),
        "when": _when(first.fields.date if first else ""),
        "sheets": rows,
    }
    return _compiled(_HEAD + _DRAWINGS, data)


def set_pdf(sheets: tuple[Sheet, ...], tables: Iterable[Table], title: str) -> bytes:
    """A reader's set in one file: his sheets on A3, exactly to scale, and then his lists on A4; pages are counted through.

    sheets : one at least
    """
    fields, lists = sheets[0].fields, [_plain(table) for table in tables]
    data = {
        **_headed(title, fields),
        "sheets": [_page(laid(sheet)) for sheet in sheets],
        "tables": lists,
    }
    return _compiled(_HEAD + _DRAWINGS + (_TABLE + _DOCUMENTS if lists else ""), data)


def _headed(title: str, fields: Fields) -> dict[str, Any]:
    """What stands at the head and the foot of every page of lists."""
    return {
        "title": printable(title),
        "number": fields.number,
        "revision": fields.revision,
        "date": fields.date,
        "when": _when(fields.date),
        "owner": printable(fields.owner),
        "status": fields.status,
    }


def _when(written: str) -> dict[str, int]:
    """The job's date as the typesetter wants it: PDF/A asks for one, and the clock's would change the bytes."""
    try:
        on = date.fromisoformat(written)
    except ValueError:
        on = date(2000, 1, 1)
    return {"year": on.year, "month": on.month, "day": on.day}


def _page(laid: Laid) -> dict[str, Any]:
    """A sheet as the typesetter wants it."""
    sheet = laid.sheet
    return {
        "svg": laid.typeset(),
        "w": sheet.size[0],
        "h": sheet.size[1],
        "title": printable(sheet.title),
        "texts": [_set(x, y, text) for x, y, text in laid.shaped()],
    }


def _set(x: float, y: float, text: Text) -> dict[str, Any]:
    """A text of a shaped script for the typesetter, which shapes it right: the SVG reader inside loses vowel signs' widths."""
    anchor = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    size = text.height / CAPITAL
    return {
        "x": x,
        "y": y,
        "size": size,
        "anchor": anchor,
        "turn": text.turn,
        "bold": text.bold,
        "text": printable(text.text),
    }


def sheet_png(sheet: Sheet, dots_per_inch: float = 100) -> bytes:
    """One sheet as a picture, for the page of a document or a chat."""
    data = {
        "title": printable(sheet.job_title),
        "owner": printable(sheet.fields.owner),
        "when": _when(sheet.fields.date),
        "sheets": [_page(laid(sheet))],
    }
    return _compiled(_HEAD + _DRAWINGS, data, picture=dots_per_inch)


def documents_pdf(tables: Iterable[Table], title: str, fields: Fields) -> bytes:
    """The schedules, each a table that runs over as many pages as it needs, its heading repeated."""
    data = {**_headed(title, fields), "tables": [_plain(table) for table in tables]}
    return _compiled(_HEAD + _TABLE + _DOCUMENTS, data)


_LETTERS = 8.5 * 25.4 / 72 * CAPITAL  # height of the capitals of 8.5 pt [mm]
_ROOM, _INSET = 266.0, 2.6  # width between the margins of a lying A4; what a cell needs beside its text [mm]
_HELD = 10  # so many notes stay with the last rows of their table: with those they are shorter than a page


def _plain(table: Table) -> dict[str, Any]:
    """A table as texts with the widths of its columns."""
    rows = [
        [shown(cell, column) for cell, column in zip(row, table.columns, strict=True)] for row in table.rows
    ]
    heads = [printable(column.heading) for column in table.columns]
    return {
        "title": printable(table.title),
        "heads": heads,
        "align": [column.align for column in table.columns],
        "widths": column_widths(heads, rows),
        "rows": rows,
        "notes": [printable(note) for note in table.notes],
        "held": bool(rows) and 0 < len(table.notes) <= _HELD,
    }


def column_widths(heads: list[str], rows: list[list[str]], room: float = _ROOM) -> list[float]:
    """Widths [mm] in which every word stands whole, headings wrapped at words; where that is too wide, all wrap alike."""
    least = [
        max(
            [text_width(word, _LETTERS, True) for word in head.split()]
            + [text_width(w, _LETTERS) for row in rows for w in row[i].split()]
            + [4.0]
        )
        + _INSET
        for i, head in enumerate(heads)
    ]
    widths = [
        max(least[i], *(text_width(row[i], _LETTERS) + _INSET for row in rows)) if rows else least[i]
        for i in range(len(heads))
    ]
    if sum(widths) > room and sum(least) < room:
        widths = _shared(widths, least, room)
    if sum(widths) > room + 1e-6:
        return [width * room / sum(widths) for width in widths]
    return [round(width, 2) for width in widths]


def _shared(whole: list[float], least: list[float], room: float) -> list[float]:
    """Widths at which the longest cell of every column takes about as many lines as that of any other: the fewest that go in."""
    for lines in range(2, 200):
        widths = [max(low, wide / lines * _RAGGED) for low, wide in zip(least, whole, strict=True)]
        widths = [min(width, wide) for width, wide in zip(widths, whole, strict=True)]
        if sum(widths) <= room:
            wanted = [wide - width for width, wide in zip(widths, whole, strict=True)]
            spare = min((room - sum(widths)) / max(sum(wanted), 1e-9), 1.0)
            return [width + want * spare for width, want in zip(widths, wanted, strict=True)]
    return least


_RAGGED = 1.1
"""Lines broken at words are not filled: so much more room is taken."""


def shown(cell: Cell, column: Column) -> str:
    """A cell as printed, in letters that the shipped fonts have."""
    return printable(column.shown(cell))


def lost_letters(texts: Iterable[str]) -> str:
    """The letters of these texts that no shipped font has (printed as a box): to be reported, each once."""
    return missing("".join(texts))


def typeset(source: str, data: dict[str, Any]) -> bytes:
    """A document of its own form: a typst source and the data it reads, typeset with the shipped fonts and no clock."""
    return _compiled(source, data)


def _compiled(source: str, data: dict[str, Any], picture: float = 0.0) -> bytes:
    """A PDF, or the first page as a PNG at `picture` dots an inch."""
    import typst

    inputs = {"data": json.dumps({"fonts": FAMILIES, **data}, ensure_ascii=False)}
    if picture:
        pages = typst.compile(
            source.encode(),
            font_paths=fonts(),
            sys_inputs=inputs,
            ignore_system_fonts=True,
            format="png",
            ppi=picture,
        )
        first = pages[0] if isinstance(pages, list) else pages
        assert isinstance(first, bytes)
        return first

    def compiled(archive: bool) -> bytes:
        out = typst.compile(
            source.encode(),
            font_paths=fonts(),
            sys_inputs=inputs,
            timestamp=0,
            ignore_system_fonts=True,
            pdf_standards=STANDARD if archive else [],
        )
        assert isinstance(out, bytes)
        return ends_told(out)

    try:
        return compiled(archive=True)
    except RuntimeError as problem:
        if "PDF/A" not in str(problem):
            raise
        return compiled(
            archive=False
        )  # a mark without a letter to stand on, say: better printed oddly than not at all


_CLOSE = b"\r\nendstream"
"""Data that happen to end in a carriage return, and the line feed before the word: a strict reader takes both for the line's end."""
_ENTRY = re.compile(rb"(\d{10}) (\d{5} n)")


def ends_told(pdf: bytes) -> bytes:
    """The file with the end of every stream beyond doubt (ISO 19005-2, 6.1.7.1): where data end in CR, the line ends in CR LF.

    pdf : as the typesetter writes it, with one plain table of places
    """
    places = [found.start() for found in re.finditer(_CLOSE, pdf)]
    if not places:
        return pdf
    body, table = pdf[: (at := pdf.rindex(b"\nxref"))], pdf[at:]
    places = [place for place in places if place < at]
    for place in reversed(places):
        body = body[: place + 1] + b"\r" + body[place + 1 :]

    def moved(offset: int) -> int:
        return offset + bisect_left(places, offset)

    table = _ENTRY.sub(lambda m: b"%010d %b" % (moved(int(m[1])), m[2]), table)
    start = re.search(rb"startxref\s+(\d+)", table)
    assert start is not None
    return body + table[: start.start(1)] + b"%d" % moved(int(start[1])) + table[start.end(1) :]


def is_archive(pdf: bytes) -> bool:
    """Whether a PDF says of itself that it is one for archives."""
    return b"pdfaid:part" in pdf
