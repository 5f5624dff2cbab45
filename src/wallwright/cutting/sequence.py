"""From a tree to the saw: where every part lies, the cuts in sawing order, and the offcuts worth keeping.

The order is: the sheet's four edges, then all cuts of stage 1, of stage 2 and so on, so that the fence is turned as
seldom as possible.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, Literal, NamedTuple

from wallwright.cutting.match import along_width
from wallwright.cutting.model import Cut, Offcut, Piece, Placed, SheetPlan, own_trim
from wallwright.cutting.tree import Board, Node, Task

AXES: tuple[Literal["x"], Literal["y"]] = ("x", "y")


class _Panel(NamedTuple):
    """A real rectangle on the sheet, near corner and far corner, and its number on the cut list.

    ``stage`` and ``axis`` of the last cut on the way to it; stage 0 = only the edges were trimmed.
    """

    number: int
    low: tuple[int, int]
    high: tuple[int, int]
    stage: int = 0
    axis: int = -1


class _Bench:
    """The sheet on the saw: cuts made so far and the number of the last panel."""

    def __init__(self, kerf: int, length: int, width: int) -> None:
        self.kerf = kerf
        self.cuts: list[Cut] = []
        self.sheet = _Panel(1, (0, 0), (length, width))
        self.last = 1

    def cut(self, panel: _Panel, stage: int, axis: int, at: int) -> tuple[_Panel | None, _Panel | None]:
        """Saw through a panel; the blade takes ``at`` to ``at + kerf``."""
        near = self._part(panel, stage, axis, panel.low[axis], at)
        far = self._part(panel, stage, axis, at + self.kerf, panel.high[axis])
        start, end = panel.low[1 - axis], panel.high[1 - axis]
        numbers = near and near.number, far and far.number
        self.cuts.append(Cut(stage, AXES[axis], at, start, end, panel.number, *numbers))
        return near, far

    def _part(self, panel: _Panel, stage: int, axis: int, start: int, end: int) -> _Panel | None:
        if start >= end:
            return None
        self.last += 1
        if axis == 0:
            return _Panel(self.last, (start, panel.low[1]), (end, panel.high[1]), stage, axis)
        return _Panel(self.last, (panel.low[0], start), (panel.high[0], end), stage, axis)

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
    """Every board as a layout; equal layouts are joined and counted, most sheets first.

    A board that stands in the list many times is laid out once.
    """
    repeats: dict[int, int] = {}
    for board in boards:
        repeats[id(board)] = repeats.get(id(board), 0) + 1
    once = {id(board): board for board in boards}
    names = [_names(group) for group in task.owners]
    count: dict[tuple[int, tuple[Placed, ...]], int] = {}
    plans: dict[tuple[int, tuple[Placed, ...]], SheetPlan] = {}
    for number, board in once.items():
        laid, kinds = lay_board(task, board)
        for plan in _dealt(laid, kinds, repeats[number], names):
            key = (board.kind, tuple(sorted(plan.placed, key=lambda p: (p.x, p.y))))
            count[key] = count.get(key, 0) + plan.count
            plans.setdefault(key, plan)
    joined = [SheetPlan(p.sheet, count[key], p.placed, p.cuts, p.offcuts) for key, p in plans.items()]
    return tuple(sorted(joined, key=lambda p: -p.count))


def _names(group: Sequence[Piece]) -> deque[list[Any]]:
    """Each name once, with how many parts are to bear it."""
    total: dict[str, int] = {}
    for piece in group:
        total[piece.name] = total.get(piece.name, 0) + piece.quantity
    return deque([name, count] for name, count in total.items())


def _dealt(
    laid: SheetPlan, kinds: Sequence[int], times: int, names: Sequence[deque[list[Any]]]
) -> Iterator[SheetPlan]:
    """The layout ``times`` over, each part under the name of a piece still wanted; as few different ones as may be."""
    while times:
        used: dict[tuple[int, str], int] = {}
        placed: list[Placed] = []
        for part, kind in zip(laid.placed, kinds, strict=True):
            if kind < 0:  # a member of a matched set has its own name already
                placed.append(part)
                continue
            name = next((n for n, left in names[kind] if used.get((kind, n), 0) < left), names[kind][-1][0])
            used[kind, name] = used.get((kind, name), 0) + 1
            placed.append(replace(part, name=name))
        left = {(kind, n): left for kind in set(kinds) - {-1} for n, left in names[kind]}
        run = max(1, min([times, *(left[key] // n for key, n in used.items())]))
        for (kind, name), n in used.items():
            for entry in names[kind]:
                if entry[0] == name:
                    entry[1] -= n * run
                    break
            while len(names[kind]) > 1 and names[kind][0][1] <= 0:
                names[kind].popleft()
        times -= run
        yield replace(laid, count=run, placed=tuple(placed))


class _Laid(NamedTuple):
    """What comes off one sheet."""

    placed: list[Placed]
    kinds: list[int]
    offcuts: list[Offcut]
    sets: list[tuple[Node, _Panel]]  # matched sets in one piece, to be parted


def lay_board(task: Task, board: Board) -> tuple[SheetPlan, list[int]]:
    """One board as a layout: parts, cut list, offcuts; and the kind of every part."""
    sheet, saw = task.stock[board.kind].sheet, task.saw
    bench = _Bench(saw.kerf, sheet.length, sheet.width)
    laid = _Laid([], [], [], [])
    layer, axis, stage = [(board.root, bench.trim(own_trim(sheet, saw.trim)))], board.axis, 1
    while layer or laid.sets:
        below: list[tuple[Node, _Panel]] = []
        for node, panel in layer:
            below += _divide(task, bench, node, panel, axis, stage, laid)
        due = [s for s in laid.sets if _part_stage(task, *s) <= stage]
        laid.sets[:] = [s for s in laid.sets if _part_stage(task, *s) > stage]
        for node, panel in due:
            _part_set(task, bench, node, panel, laid)
        layer, axis, stage = below, 1 - axis, stage + 1
    plan = SheetPlan(sheet, 1, tuple(laid.placed), tuple(bench.cuts), tuple(laid.offcuts))
    return plan, laid.kinds


def _divide(
    task: Task, bench: _Bench, node: Node, panel: _Panel, axis: int, stage: int, laid: _Laid
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
        if child.children is not None:
            divisions.append((child, own))
        elif task.sets[child.part]:
            laid.sets.append((child, own))
        else:
            laid.placed.append(_placed(task.pieces[child.part].name, own, turned=child.turned))
            laid.kinds.append(child.part)
    if rest is not None:
        offcut = Offcut(*rest.low, rest.high[0] - rest.low[0], rest.high[1] - rest.low[1])
        if min(offcut.length, offcut.width) >= max(1, task.saw.least_offcut):
            laid.offcuts.append(offcut)
    return divisions


def _set_axis(task: Task, leaf: Node) -> int:
    """The axis along which the members of a matched set follow one another."""
    return 1 - int(leaf.turned) if along_width(task.sets[leaf.part]) else int(leaf.turned)


def _part_stage(task: Task, leaf: Node, panel: _Panel) -> int:
    return panel.stage if _set_axis(task, leaf) == panel.axis else panel.stage + 1


def _part_set(task: Task, bench: _Bench, leaf: Node, panel: _Panel, laid: _Laid) -> None:
    """Part a matched set into its members, in order."""
    axis, stage = _set_axis(task, leaf), _part_stage(task, leaf, panel)
    one = task.sets[leaf.part]
    side = along_width(one)
    rest: _Panel | None = panel
    for number, piece in enumerate(one):
        assert rest is not None
        own = rest
        if number < len(one) - 1:
            end = rest.low[axis] + (piece.width if side else piece.length)
            first, rest = bench.cut(rest, stage, axis, end)
            assert first is not None
            own = first
        laid.placed.append(_placed(piece.name, own, turned=leaf.turned))
        laid.kinds.append(-1)


def _placed(name: str, panel: _Panel, *, turned: bool) -> Placed:
    (x, y), (far_x, far_y) = panel.low, panel.high
    return Placed(name, x, y, far_x - x, far_y - y, turned)


def _order(node: Node) -> tuple[int, tuple[int, ...]]:
    """Widest first, then equal contents side by side: a tidy sheet, and equal sheets come out equal."""
    return (-node.thick, tuple(sorted(node.parts())))
