"""From a tree to the saw: where every part lies, the cuts in sawing order, and the offcuts worth keeping.

The order is: the sheet's four edges, then all cuts of stage 1, of stage 2 and so on, so that the fence is turned as
seldom as possible.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from wallwright.cutting.model import Cut, Offcut, Placed, SheetPlan
from wallwright.cutting.tree import Board, Node, Task

AXES: tuple[Literal["x"], Literal["y"]] = ("x", "y")


class _Panel(NamedTuple):
    """A real rectangle on the sheet, near corner and far corner, and its number on the cut list."""

    number: int
    low: tuple[int, int]
    high: tuple[int, int]


class _Bench:
    """The sheet on the saw: cuts made so far and the number of the last panel."""

    def __init__(self, kerf: int, length: int, width: int) -> None:
        self.kerf = kerf
        self.cuts: list[Cut] = []
        self.sheet = _Panel(1, (0, 0), (length, width))
        self.last = 1

    def cut(self, panel: _Panel, stage: int, axis: int, at: int) -> tuple[_Panel | None, _Panel | None]:
        """Saw through a panel; the blade takes ``at`` to ``at + kerf``."""
        near = self._part(panel, axis, panel.low[axis], at)
        far = self._part(panel, axis, at + self.kerf, panel.high[axis])
        start, end = panel.low[1 - axis], panel.high[1 - axis]
        numbers = near and near.number, far and far.number
        self.cuts.append(Cut(stage, AXES[axis], at, start, end, panel.number, *numbers))
        return near, far

    def _part(self, panel: _Panel, axis: int, start: int, end: int) -> _Panel | None:
        if start >= end:
            return None
        self.last += 1
        if axis == 0:
            return _Panel(self.last, (start, panel.low[1]), (end, panel.high[1]))
        return _Panel(self.last, (panel.low[0], start), (panel.high[0], end))

    def trim(self, trim: int) -> _Panel:
        """Take ``trim``, the blade included, off all four edges."""
        panel = self.sheet
        if not trim:
            return panel
        for axis in (0, 1):
            _, far = self.cut(panel, 0, axis, trim - self.kerf)
            assert far is not None
            near, _ = self.cut(far, 0, axis, far.high[axis] - trim)
            assert near is not None
            panel = near
        return panel


def lay_out(task: Task, boards: Sequence[Board]) -> tuple[SheetPlan, ...]:
    """Every board as a layout; equal layouts are joined and counted, most sheets first."""
    count: dict[tuple[int, tuple[Placed, ...]], int] = {}
    plans: dict[tuple[int, tuple[Placed, ...]], SheetPlan] = {}
    for board in boards:
        plan = lay_board(task, board)
        key = (board.kind, tuple(sorted(plan.placed, key=lambda p: (p.x, p.y))))
        count[key] = count.get(key, 0) + 1
        plans.setdefault(key, plan)
    joined = [SheetPlan(p.sheet, count[key], p.placed, p.cuts, p.offcuts) for key, p in plans.items()]
    return tuple(sorted(joined, key=lambda p: -p.count))


def lay_board(task: Task, board: Board) -> SheetPlan:
    """One board as a layout: parts, cut list, offcuts."""
    sheet, saw = task.stock[board.kind].sheet, task.saw
    bench = _Bench(saw.kerf, sheet.length, sheet.width)
    placed: list[Placed] = []
    offcuts: list[Offcut] = []
    layer, axis, stage = [(board.root, bench.trim(saw.trim))], board.axis, 1
    while layer:
        below: list[tuple[Node, _Panel]] = []
        for node, panel in layer:
            below += _divide(task, bench, node, panel, axis, stage, placed, offcuts)
        layer, axis, stage = below, 1 - axis, stage + 1
    return SheetPlan(sheet, 1, tuple(placed), tuple(bench.cuts), tuple(offcuts))


def _divide(
    task: Task,
    bench: _Bench,
    node: Node,
    panel: _Panel,
    axis: int,
    stage: int,
    placed: list[Placed],
    offcuts: list[Offcut],
) -> list[tuple[Node, _Panel]]:
    """Cut one division's children off its panel in turn; parts and offcuts are noted, divisions returned."""
    divisions: list[tuple[Node, _Panel]] = []
    rest: _Panel | None = panel
    for child in sorted(node.children or (), key=_order):
        assert rest is not None
        end = rest.low[axis] + child.thick - task.saw.kerf
        if end == rest.high[axis]:
            own, rest = rest, None
        else:
            own, rest = bench.cut(rest, stage, axis, end)
        assert own is not None
        if child.children is None:
            placed.append(_placed(task, child, own))
        else:
            divisions.append((child, own))
    if rest is not None:
        offcut = Offcut(*rest.low, rest.high[0] - rest.low[0], rest.high[1] - rest.low[1])
        if min(offcut.length, offcut.width) >= max(1, task.saw.least_offcut):
            offcuts.append(offcut)
    return divisions


def _placed(task: Task, leaf: Node, panel: _Panel) -> Placed:
    (x, y), (far_x, far_y) = panel.low, panel.high
    return Placed(task.pieces[leaf.part].name, x, y, far_x - x, far_y - y, leaf.turned)


def _order(node: Node) -> tuple[int, tuple[int, ...]]:
    """Widest first, then equal contents side by side: a tidy sheet, and equal sheets come out equal."""
    return (-node.thick, tuple(sorted(node.parts())))
