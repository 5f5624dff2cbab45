"""The sheet of paper: frame, title block, scale bar and check line, and where views, tables and notes stand on it.

Frame by ISO 5457 (20 mm at the filing edge, 10 mm elsewhere), title block by ISO 7200 (not wider than 180 mm, its mandatory
fields), scales of ISO 5455. Everything on the paper is marks too: a sheet is its views at their scales and one drawing at 1:1.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    TEXT_LABEL,
    TEXT_SMALL,
    TEXT_TITLE,
    Drawing,
    Line,
    Mark,
    Text,
    rectangle,
)
from wallwright.core.shape import Box
from wallwright.job.document import Job
from wallwright.sheets.ink import extent
from wallwright.sheets.lettering import fitted, text_depth, text_rise, text_width, wrap
from wallwright.sheets.words import count

if TYPE_CHECKING:
    from wallwright.derive import Wall

A3 = (420.0, 297.0)
A4 = (210.0, 297.0)
SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500)  # ISO 5455, reductions
LEFT, EDGE = 20.0, 10.0  # ISO 5457:1999 borders
BLOCK = Box(230.0, 10.0, 180.0, 42.0)  # title block, bottom right inside the frame
FOOT = Box(20.0, 10.0, 210.0, 42.0)  # left of it: scale bar, check line, cautions
STATUS = {
    "preliminary": "Preliminary",
    "approval": "For approval",
    "construction": "For construction",
    "as_built": "As built",
}
NOT_YET = "Not for construction"
OWNER = "Designer not named"


@dataclass(frozen=True, slots=True)
class View:
    """A drawing on the paper. (x, y) : paper mm, from the lower left corner of the paper, of the drawing's own origin."""

    drawing: Drawing
    x: float
    y: float

    def on_paper(self, point: tuple[float, float]) -> tuple[float, float]:
        """A point of the drawing in paper mm."""
        return self.x + point[0] / self.drawing.scale, self.y + point[1] / self.drawing.scale


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture made of dots, for the client: PNG bytes, where it lies on the paper [mm], and what it shows."""

    png: bytes
    box: Box
    shows: str


@dataclass(frozen=True, slots=True)
class Fields:
    """What the title block says (ISO 7200 names): the same on every sheet of a job but for title, type and number."""

    owner: str
    client: str
    number: str
    revision: str
    date: str
    creator: str
    approver: str
    status: str

    @classmethod
    def of(cls, job: Job) -> Fields:
        """The fields of a job."""
        named = job.designer or OWNER
        return cls(
            named,
            job.client,
            job.number,
            job.revision,
            job.date,
            job.designer or "-",
            job.approver or "-",
            STATUS[job.status],
        )


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its views at scale, and all that stands beside them as marks in paper mm.

    name : for files and layouts · title and kind : for the title block · cautions : the trade's safety words at the foot ·
    number, of : sheet number and number of sheets
    """

    name: str
    title: str
    kind: str
    views: tuple[View, ...]
    marks: tuple[Mark, ...]
    fields: Fields
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    size: tuple[float, float] = A3
    number: int = 1
    of: int = 1
    job_title: str = ""
    dangers: int = 0
    """Findings of danger that are open: the sheet is stamped."""
    pictured: bool = False
    """Its views are pictures as the eye sees them: no size is taken from them, and it has no scale."""
    photos: tuple[Photo, ...] = ()
    over: tuple[Mark, ...] = ()
    """Marks in paper mm that stand over the views: the clouds of a revision."""
    series: str = ""
    """Letter before the number of sheets that are counted by themselves, beside the set of drawings: O for options."""

    @property
    def counted(self) -> str:
        """Its number as written: 07, O1."""
        return f"{self.series}{self.number}" if self.series else f"{self.number:02d}"

    @property
    def place(self) -> str:
        """Which of how many: 3 of 7; an index stands before the first, and says so."""
        return f"{self.number} of {self.of}" if self.number else f"index of {self.of}"

    @property
    def stamp(self) -> str:
        """What is printed across a sheet that nobody may build from; "" where nothing is open."""
        return f"NOT FOR CONSTRUCTION: {count(self.dangers, 'danger')} open" if self.dangers else ""

    @property
    def scale(self) -> str:
        """The scale as written: 1:20, or several where views differ."""
        if self.pictured:
            return "none"
        scales = list(dict.fromkeys(f"1:{view.drawing.scale:g}" for view in self.views))
        return ", ".join(scales) or "none"

    @property
    def paper(self) -> Drawing:
        """Everything but the views, at 1:1: frame, title block, foot, tables and notes."""
        around = (*frame(self.size), *title_block(self), *foot(self)) if self.size == A3 else strip(self)
        marks = (*around, *self.marks)
        return Drawing(self.name, self.title, 1.0, marks, Box(0, 0, *self.size))

    @property
    def layers(self) -> tuple[View, ...]:
        """The paper and then the views, in the order in which they are drawn."""
        over = View(Drawing("over", self.title, 1.0, self.over, Box(0, 0, *self.size)), 0.0, 0.0)
        return View(self.paper, 0.0, 0.0), *self.views, *((over,) if self.over else ())


def scale_for(width: float, height: float, room: Box, margin: tuple[float, float] = (0.0, 0.0)) -> float:
    """The largest ISO 5455 scale at which `width` x `height` [real mm] and a margin [paper mm] fit the room [paper mm].

    Raises ValueError where not even 1:500 does.
    """
    for scale in SCALES[3:]:  # the detail scales 1:1 to 1:5 are chosen by hand
        if (
            width / scale + margin[0] <= room.width + 1e-6
            and height / scale + margin[1] <= room.height + 1e-6
        ):
            return float(scale)
    raise ValueError(
        f"{width:g} x {height:g} mm does not fit {room.width:g} x {room.height:g} mm of paper at any scale to 1:500"
    )


def centred(drawing: Drawing, room: Box) -> View:
    """The drawing in the middle of a room on the paper."""
    box = extent(drawing)
    s = drawing.scale
    x = room.x + (room.width - box.width / s) / 2 - box.x / s
    y = room.z + (room.height - box.height / s) / 2 - box.z / s
    return View(drawing, round(x, 3), round(y, 3))


def raised(drawing: Drawing, room: Box, beside: tuple[Box, ...]) -> tuple[View, tuple[Box, ...]]:
    """The drawing in its room, and the rooms for what stands beside it. Where those are a column alone, the drawing stands at the
    top, and what it leaves below may be written on too; where they are a strip below it, the strip grows by what the drawing rises.
    """
    view = centred(drawing, room)
    low = extent(drawing).z / drawing.scale + view.y
    high = extent(drawing).top / drawing.scale + view.y
    rise = room.top - 5.0 - high
    free = low + rise - 6.0 - room.z
    up = View(drawing, view.x, round(view.y + rise, 3))
    if len(beside) == 1 and free >= 30.0:
        width = min(beside[0].width, room.width - 6.0)
        return up, (*beside, Box(room.x + 3.0, room.z, width, free))
    if len(beside) > 1 and rise > 0:
        foot = beside[0].z
        return up, tuple(Box(at.x, foot, at.width, free + room.z - foot) for at in beside)
    return view, beside


def frame(size: tuple[float, float]) -> tuple[Mark, ...]:
    """The frame with its centring marks."""
    width, height = size
    box = Box(LEFT, EDGE, width - LEFT - EDGE, height - 2 * EDGE)
    mid_x, mid_z = box.centre
    marks: list[Mark] = [rectangle(box, "wide", layer="frame")]
    for points in (
        ((LEFT - 5, mid_z), (LEFT + 5, mid_z)),
        ((box.right - 5, mid_z), (box.right + 5, mid_z)),
        ((mid_x, EDGE - 5), (mid_x, EDGE + 5)),
        ((mid_x, box.top - 5), (mid_x, box.top + 5)),
    ):
        marks.append(Line(points, "wide", layer="frame"))
    return tuple(marks)


_ROWS = (9.5, 13.5, 9.5, 9.5)  # from the top; together the block's height


def title_block(sheet: Sheet) -> tuple[Mark, ...]:
    """The title block: ISO 7200's mandatory fields and the trade's own (scale, units, client, status)."""
    f = sheet.fields
    x, top = BLOCK.x, BLOCK.top
    number = f"{f.number}-{sheet.counted}"
    status = NOT_YET if sheet.dangers and f.status == STATUS["construction"] else f.status
    rows: tuple[tuple[tuple[str, str, float], ...], ...] = (
        (
            ("Legal owner (designer)", f.owner, 62),
            ("Client", f.client or "-", 62),
            ("Document type", sheet.kind, 56),
        ),
        (("Title", sheet.title, 110), ("Number", number, 52), ("Rev.", f.revision, 18)),
        (("Created by", f.creator, 62), ("Approved by", f.approver, 62), ("Status", status, 56)),
        (
            ("Date of issue", f.date, 40),
            ("Sheet", sheet.place, 32),
            ("Scale", sheet.scale, 38),
            ("Units", "mm", 18),
            ("Paper", "A3", 18),
            ("Language", "en", 34),
        ),
    )
    marks: list[Mark] = [rectangle(BLOCK, "wide", fill="#fff", layer="frame")]
    for height, row in zip(_ROWS, rows, strict=True):
        left = x
        for label, value, width in row:
            marks += _cell(Box(left, top - height, width, height), label, value, sheet)
            left += width
        top -= height
    return tuple(marks)


def _cell(box: Box, label: str, value: str, sheet: Sheet) -> list[Mark]:
    """One field: its name small at the top, its value below; the title, number and revision larger."""
    heights = {
        "Title": (TEXT_TITLE, TEXT_LABEL, TEXT_SMALL),
        "Number": (TEXT_TITLE, TEXT_LABEL, TEXT_SMALL),
        "Rev.": (7.0, TEXT_TITLE),
    }
    text, height = fitted(value, box.width - 3, heights.get(label, (TEXT_SMALL,)), bold=True)
    marks: list[Mark] = [
        rectangle(box, "thin", layer="frame"),
        Text((box.x + 1.5, box.top - 3.4), label, TEXT_SMALL, layer="frame"),
    ]
    if label == "Title":
        name, small = fitted(sheet.job_title, box.width - text_width("Title", TEXT_SMALL) - 8, (TEXT_SMALL,))
        marks.append(Text((box.right - 1.5, box.top - 3.4), name, small, "end", layer="frame"))
    marks.append(
        Text(
            (box.x + 1.5, box.z + (1.3 if height < TEXT_TITLE else 2.0)),
            text,
            height,
            bold=True,
            layer="frame",
        )
    )
    return marks


def foot(sheet: Sheet) -> tuple[Mark, ...]:
    """Left of the title block: how to print and read the sheet, the 100 mm check line, the scale bar."""
    x, y = FOOT.x + 4, FOOT.z
    marks: list[Mark] = [
        Line(((x, y + 8), (x + 100, y + 8)), "wide", layer="frame", ref="check-100"),
        *(Line(((x + i, y + 6.4), (x + i, y + 9.6)), "wide", layer="frame") for i in (0, 50, 100)),
        Text(
            (x, y + 2.6),
            "Check line 100 mm: print at 100 %, measure it before use",
            TEXT_SMALL,
            layer="frame",
        ),
    ]
    if sheet.views and not sheet.pictured:
        marks += _scale_bar(sheet.views[0].drawing.scale, x + 116, y + 8)
    lines = (
        "All sizes in mm; do not scale, work to the figures. Heights from FFL (finished floor level).",
        *sheet.cautions,
    )
    at = FOOT.top - 4.2
    for line in lines:
        for text in wrap(line, FOOT.width - 10, TEXT_SMALL, bold=True):
            marks.append(Text((x, at), text, TEXT_SMALL, bold=line is not lines[0], layer="frame"))
            at -= 4.1
    return tuple(marks + stamp(sheet, Box(x, y + 11.4, FOOT.width - 12, 7.4)))


def stamp(sheet: Sheet, room: Box) -> list[Mark]:
    """The stamp of a wall with open dangers: bold, in a frame, told without colour."""
    if not sheet.stamp:
        return []
    heights = tuple(h for h in (TEXT_TITLE, TEXT_LABEL, TEXT_SMALL) if 1.4 * h + 1.1 <= room.height)
    text, height = fitted(sheet.stamp, room.width - 6, heights, bold=True)
    box = Box(room.x, room.z, text_width(text, height, True) + 6, room.height)
    return [
        rectangle(box, "extra", fill="#fff", layer="frame", ref="stamp"),
        Text(
            (box.x + 3, box.centre[1] - 0.38 * height),  # its tails stay clear of the frame too
            text,
            height,
            bold=True,
            layer="frame",
            ref="stamp",
        ),
    ]


def _scale_bar(scale: float, x: float, y: float) -> list[Mark]:
    """A bar of five equal parts, black and white in turn, with its real length."""
    part = next(p for p in (5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000) if p / scale >= 7.0)
    step = part / scale
    marks: list[Mark] = [
        rectangle(
            Box(x + i * step, y - 1, step, 2), "thin", fill="#000" if i % 2 == 0 else "#fff", layer="frame"
        )
        for i in range(5)
    ]
    marks.append(Text((x, y - 5.4), "0", TEXT_SMALL, layer="frame"))
    marks.append(
        Text((x + 5 * step, y - 5.4), f"{5 * part:g} mm at 1:{scale:g}", TEXT_SMALL, "middle", layer="frame")
    )
    return marks


def strip(sheet: Sheet) -> tuple[Mark, ...]:
    """The foot of an A4 page: title, number, revision and date in two lines, the cautions, and the check line."""
    f = sheet.fields
    width = sheet.size[0]
    number = f"{f.number}-T{sheet.number:02d}  rev. {f.revision}  {f.date}  page {sheet.place}"
    room = width - 30 - text_width(number, TEXT_SMALL, True) - 6
    named, two = f"{sheet.title} · {sheet.job_title}", False
    if text_width(named, TEXT_SMALL, True) > room:  # the wall's name on a line of its own, never cut
        named, two = sheet.title, True
    title, height = fitted(named, room, (TEXT_SMALL,) if two else (TEXT_LABEL, TEXT_SMALL), bold=True)
    first, second, under = 22.5, 22.5, 17.5
    wall, small = fitted(sheet.job_title, width - 30, (TEXT_SMALL,), bold=True)
    if two:
        first = 24.3
        second = min(20.8, first - text_depth(number, small) - text_rise(wall, small) - 0.1)
        under = min(17.0, second - text_depth(wall, small) - text_rise("A", small) - 0.1)
    marks: list[Mark] = [
        Line(((15, 28), (width - 15, 28)), "wide", layer="frame"),
        Text((15, first), title, height, bold=True, layer="frame"),
        Text((width - 15, first), number, TEXT_SMALL, "end", bold=True, layer="frame"),
        *(
            Text((15, under - 4.2 * i), line, TEXT_SMALL, layer="frame")
            for i, line in enumerate(sheet.cautions)
        ),
        Line(((15, 8), (115, 8)), "wide", layer="frame", ref="check-100"),
        *(Line(((15 + i, 6.4), (15 + i, 9.6)), "wide", layer="frame") for i in (0, 50, 100)),
        Text((119, 6.8), "must measure 100 mm", TEXT_SMALL, layer="frame"),
    ]
    if two:
        marks.append(Text((15, second), wall, small, bold=True, layer="frame"))
    return tuple(marks + stamp(sheet, Box(15.5, 28.8, width - 31, 5.2)))


def numbered(sheets: tuple[Sheet, ...], wall: Wall | None = None) -> tuple[Sheet, ...]:
    """The sheets with their numbers n of m, stamped where the wall has dangers open."""
    dangers = open_dangers(wall) if wall else 0
    return tuple(
        replace(sheet, number=i, of=len(sheets), dangers=dangers) for i, sheet in enumerate(sheets, 1)
    )


def open_dangers(wall: Wall) -> int:
    """How many findings of danger the wall has: nobody builds from its sheets until there are none."""
    from wallwright.rules.check import check  # only a whole set asks; a single drawing stays quick

    return sum(finding.severity == "danger" for finding in check(wall, cures=False))
