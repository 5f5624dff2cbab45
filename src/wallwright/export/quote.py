"""The quote as quote.pdf (A4 upright), typeset by typst with the shipped fonts: a letter, not a schedule."""

from __future__ import annotations

from datetime import date
from typing import Any

from wallwright.export.pdf import typeset
from wallwright.sheets.lettering import printable
from wallwright.sheets.quote import QuotePaper

_PAPER = """
#let data = json(bytes(sys.inputs.data))
#set document(title: data.title, author: data.owner, date: datetime(..data.when))
#set text(font: data.fonts, size: 9pt, lang: "en")
#set page(paper: "a4", margin: (left: 22mm, right: 16mm, top: 20mm, bottom: 20mm),
  footer: context [#set text(8.5pt); #line(length: 100%, stroke: 0.25mm) #v(-4pt)
    #grid(columns: (1fr, auto), [#data.title · rev. #data.revision · #data.date · #data.status],
      [page #counter(page).display() of #counter(page).final().first()])])
#set par(justify: false)
#show table: set text(8.5pt)
#show heading.where(level: 1): it => block(above: 5mm, below: 2.5mm, text(12pt, weight: "bold", it.body))
#text(20pt, weight: "bold")[#data.title]
#v(1mm)
#for w in data.warnings { block(width: 100%, stroke: 0.5mm, inset: 2.5mm, above: 3mm, below: 3mm)[*#w*] }
#grid(columns: (26mm, 1fr), row-gutter: 1.6mm, ..data.head.map(h => (text(luma(80))[#h.at(0)], [#h.at(1)])).flatten())
#v(2mm)
#text(10.5pt)[#data.offer]

#let rule = (x, y) => (bottom: if y == 0 { 0.35mm } else { 0.2mm + luma(140) }, top: if y == 0 { 0.35mm })
= What you get
#let priced = data.items.any(i => i.at(3) != "")
#table(columns: if priced { (9mm, 1fr, 21mm, auto) } else { (9mm, 1fr, 24mm) }, stroke: rule, inset: (x: 1mm, y: 1mm),
  align: (x, y) => if x >= 2 { right } else { left },
  table.header([*No.*], [*What*], [*How much*], ..if priced { ([*#data.currency*],) } else { () }),
  ..data.items.map(i => if priced { i.map(c => [#c]) } else { i.slice(0, 3).map(c => [#c]) }).flatten())
#for i in data.includes [ - #i \\ ]
#block(breakable: false, above: 4mm)[
  #grid(columns: (1fr, auto, auto), column-gutter: 6mm, row-gutter: 2mm,
    ..data.sums.enumerate().map(s => {
      let last = s.at(0) == data.sums.len() - 1
      let words(t) = if last { text(12pt, weight: "bold")[#t] } else { [#t] }
      ([], words(s.at(1).at(0)), align(right, words(s.at(1).at(1))))
    }).flatten())]

= What is not in the price
#for e in data.excludes [ - #e \\ ]

#block(breakable: false)[
= How it is paid
#table(columns: (34mm, 18mm, auto, 1fr), stroke: rule, inset: (x: 1.8mm, y: 1mm),
  align: (x, y) => if x == 1 or x == 2 { right } else { left },
  table.header([*Stage*], [*Share*], [*Amount*], [*When*]), ..data.stages.flatten().map(c => [#c]))]

= Who does what
#table(columns: (1fr, 27mm, 27mm, 27mm), stroke: rule, inset: (x: 1mm, y: 1mm),
  table.header([*Thing*], [*Supplies*], [*Fixes*], [*Connects*]), ..data.scope.flatten().map(c => [#c]))

= Changes, and how long this holds
#for c in data.changes [ - #c \\ ]
#block(breakable: false, above: 12mm)[
  #grid(columns: (1fr, 1fr), column-gutter: 12mm,
    [#line(length: 100%, stroke: 0.25mm) Client, date], [#line(length: 100%, stroke: 0.25mm) Designer, date])]
"""


def quote_pdf(paper: QuotePaper, currency: str) -> bytes:
    """The quote typeset. Same paper, same bytes."""
    data: dict[str, Any] = {
        "title": printable(paper.title),
        "owner": printable(paper.fields.owner),
        "revision": paper.fields.revision,
        "date": paper.fields.date,
        "status": paper.fields.status,
        "when": _day(paper.fields.date),
        "currency": printable(currency),
        "offer": printable(paper.offer),
        "head": _rows(paper.head),
        "items": _rows(paper.items),
        "sums": _rows(paper.sums),
        "stages": _rows(paper.stages),
        "scope": _rows(paper.scope),
        "includes": [printable(text) for text in paper.includes],
        "excludes": [printable(text) for text in paper.excludes],
        "changes": [printable(text) for text in paper.changes],
        "warnings": [printable(text) for text in paper.warnings],
    }
    return typeset(_PAPER, data)


def _day(day: str) -> dict[str, int]:
    """A day as the typesetter reads it."""
    on = date.fromisoformat(day)
    return {"year": on.year, "month": on.month, "day": on.day}


def _rows(rows: tuple[tuple[str, ...], ...]) -> list[list[str]]:
    return [[printable(cell) for cell in row] for row in rows]
