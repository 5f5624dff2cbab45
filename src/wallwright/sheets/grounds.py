"""White grounds under the figures and words that a line or a hatch would otherwise run through.

Common drawing practice: a line or a hatch is broken at a text, never the text at a line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from wallwright.core.drawing import HATCH, Dim, Hatch, Leader, Mark, Text, rectangle
from wallwright.core.shape import Box, around
from wallwright.sheets.ink import inked, text_box
from wallwright.sheets.taken import Taken, strokes
from wallwright.sheets.ways import ways

EDGE = 0.15  # paper mm by which a ground is larger than its text


class _Owned:
    """Boxes with the number of the mark they belong to, in coarse cells, so that a question costs little."""

    def __init__(self, scale: float, boxes: Iterable[tuple[int, Box]]) -> None:
        self._cell = 12.0 * scale
        self._cells: dict[tuple[int, int], list[tuple[int, float, float, float, float]]] = {}
        for owner, box in boxes:
            kept = owner, box.x, box.z, box.right, box.top
            for cell in self._touched(box):
                self._cells.setdefault(cell, []).append(kept)

    def _touched(self, box: Box) -> Iterator[tuple[int, int]]:
        rows = range(int(box.z // self._cell), int(box.top // self._cell) + 1)
        for i in range(int(box.x // self._cell), int(box.right // self._cell) + 1):
            for j in rows:
                yield i, j

    def met(self, box: Box, but: int) -> set[int]:
        """The owners of what meets the box, one of them left out."""
        x, z, right, top = box.x, box.z, box.right, box.top
        return {
            owner
            for cell in self._touched(box)
            for owner, left, low, end, high in self._cells.get(cell, ())
            if x < end and left < right and z < high and low < top and owner != but
        }


@dataclass(slots=True)
class _Label:
    """A label, the boxes of its texts, and thin boxes along what it draws besides them [real mm]."""

    mark: Mark
    boxes: list[Box]
    lines: list[Box]

    @classmethod
    def of(cls, mark: Mark, scale: float) -> _Label:
        parts = inked(mark, scale)
        boxes = [text_box(part, scale) for part in parts if isinstance(part, Text)]
        lines = list(strokes((part for part in parts if not isinstance(part, Text)), scale))
        return cls(mark, boxes, lines)


def grounded(still: Sequence[Mark], labels: Iterable[Mark], scale: float) -> tuple[Mark, ...]:
    """What is drawn and then its labels, each on a white ground wherever something drawn would run through its text.

    Labels whose texts stand clear come first, so that their lines lie under the grounds of the others.
    """
    drawn = Taken(scale, strokes(still, scale))
    every = [_Label.of(mark, scale) for mark in labels]
    _untangle(every, drawn, scale)
    own = _Owned(scale, ((i, line) for i, label in enumerate(every) for line in label.lines))
    hatched = [around(mark.points) for mark in still if isinstance(mark, Hatch) and HATCH[mark.pattern]]
    clear: list[Mark] = []
    over: list[_Label] = []
    for i, label in enumerate(every):
        hit = [
            box
            for box in label.boxes
            if not drawn.free(box) or any(box.meets(area) for area in hatched) or own.met(box, i)
        ]
        if hit:
            over.append(_Label(label.mark, hit, label.lines))
        else:
            clear.append(label.mark)
    return (*still, *clear, *_over(over, scale))


def _untangle(labels: list[_Label], drawn: Taken, scale: float) -> None:
    """Moves every dimension whose figure another runs through while its own line runs through that one's: no order of drawing
    frees both.
    """
    dims = [i for i, label in enumerate(labels) if isinstance(label.mark, Dim)]
    index = _Owned(scale, ((i, line) for i in dims for line in labels[i].lines))
    through = {i: {k for box in labels[i].boxes for k in index.met(box, i)} for i in dims}
    for i in dims:
        if not any(i in through[k] for k in through[i]):
            continue
        written = Taken(scale, (box for k, one in enumerate(labels) if k != i for box in one.boxes))
        inky = Taken(scale, (line for k, one in enumerate(labels) if k != i for line in one.lines))
        for tried in ways(labels[i].mark, scale):
            now = _Label.of(tried, scale)
            spare = [box.grown(0.2 * scale) for box in now.boxes]
            if all(taken.free(box) for box in spare for taken in (written, drawn, inky)):
                labels[i] = now
                through[i] = set()
                break


def _over(over: list[_Label], scale: float) -> Iterator[Mark]:
    """Leaders' lines, then dimensions on their grounds, then all else, what runs through a text before that text's ground."""
    for label in over:
        if isinstance(label.mark, Leader):
            yield from (part for part in inked(label.mark, scale) if not isinstance(part, Text))
    dims = [label for label in over if isinstance(label.mark, Dim)]
    for i in _ordered(dims, scale):
        yield from _grounds(dims[i].boxes, scale)
        yield dims[i].mark
    others = [label for label in over if not isinstance(label.mark, Dim)]
    for i in _ordered(others, scale):
        label = others[i]
        yield from _grounds(label.boxes, scale)
        if isinstance(label.mark, Leader):
            yield from (part for part in inked(label.mark, scale) if isinstance(part, Text))
        else:
            yield label.mark


def _grounds(boxes: Iterable[Box], scale: float) -> Iterator[Mark]:
    for box in boxes:
        yield rectangle(box.grown(EDGE * scale), "none", fill="#fff", layer="text")


def _ordered(labels: Sequence[_Label], scale: float) -> list[int]:
    """The labels in such an order that what runs through a figure is drawn before that figure's ground, as far as can be."""
    index = _Owned(scale, ((i, line) for i, label in enumerate(labels) for line in label.lines))
    before = {i: {k for box in label.boxes for k in index.met(box, i)} for i, label in enumerate(labels)}
    out: list[int] = []
    while before:
        first = min(before, key=lambda i: (len(before[i].intersection(before)), i))
        del before[first]
        out.append(first)
    return out
