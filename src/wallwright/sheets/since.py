"""What differs from one set of sheets to the next: by the marks that stand on them, never by a list of what ought to change.

Two sheets are the same when the same marks stand in the same places, whatever their number, revision and date. What differs is
clouded on the new one and marked with a triangle that holds the revision, both in black line: a photocopy still tells.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from itertools import chain
from math import floor, hypot
from typing import Any, Literal, cast

from wallwright.core.drawing import TEXT_SMALL, Line, Mark, Text
from wallwright.core.shape import Box, around
from wallwright.sheets.clouds import LAYER, cloud, framed, triangle, written_on
from wallwright.sheets.ink import extent_of
from wallwright.sheets.paper import A3, BLOCK, FOOT, Sheet, View
from wallwright.sheets.taken import Taken

ROW = 0.5
"""Words whose baselines differ by less stand in one row [paper mm]."""
FAR, APART = 1e4, 40.0
"""A row is first looked at as a whole; then in pieces that begin further apart than this: tables stand side by side [paper mm]."""
WORDS = 12
"""So many letters are a sentence or a name: alone they are known again wherever they stand; a figure is not."""
STEP = 0.05
"""Marks that differ by less stand in one place [mm on paper and in the drawing]."""
NEAR = 5.0
"""Changes that are closer than this on paper share a cloud."""
MOST = 14
"""More clouds than this on a sheet are drawn together until they are so few."""
What = Literal["changed", "new", "withdrawn", "same"]


@dataclass(frozen=True, slots=True)
class SheetChange:
    """A sheet of the old or the new set. number : as it was issued, or the next free one · areas : where its views differ,
    lines : where its notes and tables do [paper mm]
    """

    name: str
    title: str
    number: int
    what: What
    areas: tuple[Box, ...] = ()
    lines: tuple[Box, ...] = ()


def sheet_changes(
    old: Sequence[Sheet], new: Sequence[Sheet], numbers: dict[str, int] | None = None, placed: bool = True
) -> tuple[SheetChange, ...]:
    """Every sheet of both sets, by its name. A sheet keeps the number it was issued under; a new one takes the next free.

    numbers : those under which the sheets are out, where some were added since the first issue · placed : where each differs is
    told too, as the clouds need it
    """
    were = {sheet.name: sheet for sheet in old}
    out_under = dict(numbers or {sheet.name: sheet.number for sheet in old})
    out: list[SheetChange] = []
    for sheet in new:
        was = were.get(sheet.name)
        number = out_under.setdefault(sheet.name, 1 + max(out_under.values(), default=0))
        areas, lines = differing(was, sheet) if was and placed else ((), ())
        other = bool(areas or lines) if placed else was is not None and differ(was, sheet)
        what: What = "new" if was is None else "changed" if other else "same"
        out.append(SheetChange(sheet.name, sheet.title, number, what, areas, lines))
    names = {sheet.name for sheet in new}
    gone = [sheet for sheet in old if sheet.name not in names]
    out += [SheetChange(s.name, s.title, out_under.get(s.name, s.number), "withdrawn") for s in gone]
    return tuple(out)


def differing(old: Sheet, new: Sheet) -> tuple[tuple[Box, ...], tuple[Box, ...]]:
    """Where two sheets differ, as boxes on the new one's paper: in their views, in their notes and tables; none where they say
    the same.
    """
    inside = Box(0, 0, *new.size)
    return joined(_within(_in_views(old, new), inside)), joined(_within(_in_words(old, new), inside), 1.0)


def differ(old: Sheet, new: Sheet) -> bool:
    """Whether two sheets differ anywhere on their paper: `differing`, as far as the first place."""
    inside = Box(0, 0, *new.size)
    return any(box.shared(inside) is not None for box in chain(_in_words(old, new), _in_views(old, new)))


def _in_words(old: Sheet, new: Sheet) -> Iterator[Box]:
    yield from _of_marks(*reworded(old.marks, new.marks), View(_bare(new), 0.0, 0.0))
    if (old.title, old.cautions, old.notes, old.size) != (new.title, new.cautions, new.notes, new.size):
        yield Box(FOOT.x + 4.0, FOOT.z + 14.0, 190.0, 24.0)


def _in_views(old: Sheet, new: Sheet) -> Iterator[Box]:
    before = {view.drawing.name: view for view in old.views}
    for view in new.views:
        was = before.pop(view.drawing.name, None)
        if was is None or was.drawing.scale != view.drawing.scale:
            yield _on_paper(extent_of(view.drawing.marks, view.drawing.scale), view)
        else:
            yield from _of_marks(was.drawing.marks, view.drawing.marks, view)
    for view in before.values():
        yield _on_paper(extent_of(view.drawing.marks, view.drawing.scale), view)


def _within(boxes: Iterable[Box], paper: Box) -> list[Box]:
    return [shown for box in boxes if (shown := box.shared(paper)) is not None]


def _bare(sheet: Sheet) -> Any:
    return replace(sheet.paper, marks=sheet.marks)


def _of_marks(old: Iterable[Mark], new: Iterable[Mark], view: View) -> Iterator[Box]:
    """A box for each mark that one of the two has and the other has not."""
    were, are = _unlike(old, new)
    before, after = Counter(map(essence, were)), Counter(map(essence, are))
    for marks, than in ((were, after), (are, before)):
        left = Counter(than)
        for mark in marks:
            key = essence(mark)
            if left[key]:
                left[key] -= 1
            else:
                yield _on_paper(extent_of((mark,), view.drawing.scale), view)


def reworded(old: Iterable[Mark], new: Iterable[Mark]) -> tuple[list[Mark], list[Mark]]:
    """The marks of notes and tables that say something else, of the old and of the new.

    A row of words that only stands elsewhere, because something was put in or taken out above it, says the same; the lines of a table
    follow its words. A single figure that stands elsewhere counts: it may have changed places with another.
    """
    old, new = tuple(old), tuple(new)
    were, are = _unlike(old, new)
    if not any(isinstance(mark, Text) for mark in (*were, *are)):
        return were, are
    before, after = ([mark for mark in marks if isinstance(mark, Text)] for marks in (old, new))
    for far in (FAR, APART):
        before, after = _without_moved(_rows(before, far), _rows(after, far))
    return _of(were, before), _of(are, after)


def _of(unlike: Iterable[Mark], words: Iterable[Text]) -> list[Mark]:
    """What is unlike the other: all but lines, and of the words those that no moved row accounts for."""
    left = Counter(words)
    return [m for m in unlike if (left[m] > 0 if isinstance(m, Text) else not isinstance(m, Line))]


def _rows(texts: Iterable[Text], far: float) -> list[list[Text]]:
    """Words on one baseline from left to right, parted where the next begins further away than `far`."""
    by: dict[int, list[Text]] = defaultdict(list)
    for text in texts:
        by[round(text.at[1] / ROW)].append(text)
    out: list[list[Text]] = []
    for row in by.values():
        row.sort(key=lambda text: text.at[0])
        for i, text in enumerate(row):
            if i == 0 or text.at[0] - row[i - 1].at[0] > far:
                out.append([])
            out[-1].append(text)
    return out


def _without_moved(before: list[list[Text]], after: list[list[Text]]) -> tuple[list[Text], list[Text]]:
    """The words of rows that the other has not, in their place or wherever they stand there."""
    there, here = (Counter(tuple(row) for row in rows) for rows in (before, after))
    stay = there & here
    before, after = (_but(rows, stay.copy()) for rows in (before, after))
    both = Counter(map(_row_key, before)) & Counter(map(_row_key, after))
    return _left(before, both.copy()), _left(after, both)


def _but(rows: Iterable[list[Text]], stay: Counter[tuple[Text, ...]]) -> list[list[Text]]:
    """The rows that do not stand in the other just so."""
    out: list[list[Text]] = []
    for row in rows:
        if stay[tuple(row)] > 0:
            stay[tuple(row)] -= 1
        else:
            out.append(row)
    return out


def _left(rows: Iterable[list[Text]], moved: Counter[Any]) -> list[Text]:
    out: list[Text] = []
    for row in rows:
        key = _row_key(row)
        if (len(row) > 1 or len(row[0].text) >= WORDS) and moved[key] > 0:
            moved[key] -= 1
        else:
            out += row
    return out


def _row_key(row: Sequence[Text]) -> tuple[Any, ...]:
    """What a row says and how it is set out, wherever it stands."""
    start = row[0].at[0]
    return tuple((round(t.at[0] - start, 1), t.text, t.height, t.anchor, t.turn, t.bold) for t in row)


def _unlike(old: Iterable[Mark], new: Iterable[Mark]) -> tuple[list[Mark], list[Mark]]:
    """The marks of either that the other has not to the last figure: the few of a sheet that are looked at closely."""
    were, are = list(old), list(new)
    if were == are:
        return [], []
    there, here = Counter(were), Counter(are)
    return list((there - here).elements()), list((here - there).elements())


def essence(value: Any) -> Any:
    """A mark as a key: its kind and all it says, places rounded, so that the same thing drawn twice is the same."""
    if isinstance(value, float):
        return round(value / STEP + 0.137)  # off the halves, on which whole and half millimetres would fall
    if isinstance(value, tuple):
        return tuple(essence(inner) for inner in cast("tuple[Any, ...]", value))
    if is_dataclass(value) and not isinstance(value, type):
        return type(value).__name__, *(essence(getattr(value, name)) for name in _names(type(value)))
    return value


@cache
def _names(kind: type[Any]) -> tuple[str, ...]:
    return tuple(item.name for item in fields(kind))


def _on_paper(box: Box, view: View) -> Box:
    low, high = view.on_paper((box.x, box.z)), view.on_paper((box.right, box.top))
    return Box(low[0], low[1], high[0] - low[0], high[1] - low[1])


def joined(boxes: Iterable[Box], near: float = NEAR) -> tuple[Box, ...]:
    """Boxes that are near one another drawn together, and no more of them than `MOST`."""
    out = _patches(list(boxes), near)
    while True:
        pair = _closest(out)
        if pair is None or (pair[0] > near and len(out) <= MOST):
            return tuple(sorted(out, key=lambda box: (-box.top, box.x)))
        _, i, j = pair
        both = around((*out[i].corners, *out[j].corners))
        out = [box for k, box in enumerate(out) if k not in (i, j)]
        out.append(both)


def _patches(boxes: list[Box], cell: float) -> list[Box]:
    """Boxes that share squares of a grid, or touch there, as one each: a sheet may hold thousands of marks that differ."""
    of: dict[tuple[int, int], int] = {}
    group = list(range(len(boxes)))

    def root(i: int) -> int:
        while group[i] != i:
            group[i] = group[group[i]]
            i = group[i]
        return i

    for k, box in enumerate(boxes):
        for gx in range(floor(box.x / cell), floor(box.right / cell) + 1):
            for gz in range(floor(box.z / cell), floor(box.top / cell) + 1):
                other = of.setdefault((gx, gz), k)
                group[root(k)] = root(other)
    members: dict[int, list[Box]] = defaultdict(list)
    for k, box in enumerate(boxes):
        members[root(k)].append(box)
    return [around(corner for box in some for corner in box.corners) for some in members.values()]


def _closest(boxes: Sequence[Box]) -> tuple[float, int, int] | None:
    """The two boxes with the least gap; the first that meet, where any do."""
    best: tuple[float, int, int] | None = None
    sides = [(box.x, box.right, box.z, box.top) for box in boxes]
    for i, (left, right, foot, top) in enumerate(sides):
        for j in range(i + 1, len(sides)):
            x0, x1, z0, z1 = sides[j]
            dx = x0 - right if x0 > right else left - x1 if left > x1 else 0.0
            dz = z0 - top if z0 > top else foot - z1 if foot > z1 else 0.0
            if best is None or (dx < best[0] and dz < best[0]):
                gap = hypot(dx, dz)  # as Box.gap, without a call for each of some thousand pairs
                if best is None or gap < best[0]:
                    best = gap, i, j
                    if gap <= 0:
                        return best
    return best


def marked(sheet: Sheet, change: SheetChange, revision: str, since: str, of: int) -> Sheet:
    """The new sheet under its own number with its changes clouded, and with the words by which the old print is known for void.

    revision, since : letters of this issue and of the one that it replaces · of : how many sheets are in force. 1:1 templates
    are not clouded: a line more on them would be cut along.
    """
    marks: list[Mark] = []
    if sheet.size == A3:
        marks += triangle((BLOCK.right - 4.0, BLOCK.top + 4.4), revision)
        marks.append(
            Text(
                (20.0, 290.0),
                _words(change, revision, since),
                TEXT_SMALL,
                bold=True,
                layer=LAYER,
                ref="revision",
            )
        )
        if change.what == "changed":
            marks += _clouded(sheet, change, revision, marks)
    return replace(sheet, number=change.number, of=of, over=tuple(marks))


def _clouded(sheet: Sheet, change: SheetChange, revision: str, besides: Iterable[Mark]) -> list[Mark]:
    """The clouds and frames of a sheet; besides : what else is written over it."""
    written = Taken(1.0, [*written_on(sheet), *(extent_of((mark,), 1.0) for mark in besides)])
    clouds = [mark for area in change.areas for mark in cloud(area, revision, written)]
    return clouds + [mark for area in change.lines for mark in framed(area, revision, written)]


def _words(change: SheetChange, revision: str, since: str) -> str:
    if change.what == "new":
        return f"New with revision {revision}."
    return f"Revision {revision}: changes are clouded, words framed. Replaces revision {since} of this sheet: mark the old print VOID."
