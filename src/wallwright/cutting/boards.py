"""From patterns of the linear programme to boards that can be sawn, without a part too many."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from wallwright.cutting.columns import Column
from wallwright.cutting.price import Pattern
from wallwright.cutting.tree import UNLIMITED, Board, Node, Stock, Task, tidy


def cut_columns(task: Task, taken: Sequence[tuple[Column, int]], left: list[int]) -> list[Board]:
    """Boards of the columns, each so many times; ``left`` of each kind is counted down.

    A pattern may make more of a part than is left: those places stay empty, and a board without parts is left out.
    """
    boards: list[Board] = []
    for column, times in taken:
        own = {kind: n for kind, n in enumerate(column.made.tolist()) if n}
        while times:
            whole = min(times, *(left[kind] // n for kind, n in own.items()))
            board = cut_column(task, column, left)
            if not board.root.children:
                break
            step = max(1, whole)
            for kind in board.root.parts():
                left[kind] -= step
            boards += [board] * step
            times -= step
    return boards


def cut_column(task: Task, column: Column, left: Sequence[int]) -> Board:
    """One board of the pattern with no more of each kind than is left."""
    room = list(left)
    if isinstance(column.source, Board):
        board = column.source.copy()
        for node in _leaves(board.root):
            room[node.part] -= 1
            if room[node.part] < 0:
                board.remove(node, task.areas[node.part])
        return board
    return _from_pattern(task, column.source, room)


def _leaves(root: Node) -> list[Node]:
    found: list[Node] = []
    todo = [root]
    while todo:
        node = todo.pop()
        if node.children is None:
            found.append(node)
        else:
            todo += node.children
    return found


def _from_pattern(task: Task, pattern: Pattern, room: list[int]) -> Board:
    board = Board.empty(task, pattern.kind, pattern.axis)
    width = board.root.thick
    rows: list[list[int]] = pattern.rows.tolist()
    for (_, height), strip in groupby(rows, key=lambda row: (row[0], row[1])):
        strip_node = _child(board.root, height, width)
        for (_, wide), stack in groupby(strip, key=lambda row: (row[2], row[3])):
            stack_node = _child(strip_node, wide, height)
            for row in stack:
                part, which = pattern.lays[row[4]]
                room[part] -= 1
                if room[part] >= 0:
                    _stand(task, stack_node, part, which, pattern.axis)
                    board.area += task.areas[part]
            tidy(stack_node)
        tidy(strip_node)
    board.turn_root()
    return board


def _child(parent: Node, thick: int, along: int) -> Node:
    """A new division, ``thick`` along its parent's axis and ``along`` along its own."""
    node = Node(thick, along, parent, [])
    assert parent.children is not None
    parent.children.append(node)
    parent.left -= thick
    return node


def _stand(task: Task, stack: Node, part: int, which: int, axis: int) -> None:
    """A part on the stack, trimmed where the stack is wider."""
    x, y, turned = task.lies[part][which]
    deep, wide = (x, y) if axis == 0 else (y, x)
    assert stack.children is not None
    slot = _child(stack, deep, stack.thick)
    leaf = Node(wide, 0, slot, None)
    leaf.part, leaf.turned = part, turned
    slot.left -= wide
    assert slot.children is not None
    slot.children.append(leaf)
    tidy(slot)


def rest_of(task: Task, left: Sequence[int], fixed: Sequence[Board]) -> Task:
    """The task of the parts and the stock that are left."""
    keep = [k for k, n in enumerate(left) if n]
    return replace(
        task,
        pieces=tuple(replace(task.pieces[k], quantity=left[k]) for k in keep),
        lies=tuple(task.lies[k] for k in keep),
        areas=tuple(task.areas[k] for k in keep),
        owners=tuple(task.owners[k] for k in keep),
        sets=tuple(task.sets[k] for k in keep),
        stock=stock_after(task, fixed),
    )


def stock_after(task: Task, used: Sequence[Board]) -> tuple[Stock, ...]:
    """The sheets still in stock."""
    count = Counter(b.kind for b in used)
    return tuple(
        s if s.most >= UNLIMITED else replace(s, most=s.most - count[i]) for i, s in enumerate(task.stock)
    )


def renamed(board: Board, back: Sequence[int]) -> Board:
    """The board of some kinds only, with the whole task's numbers for them."""
    board = board.copy()
    todo = [board.root]
    while todo:
        node = todo.pop()
        if node.children is None:
            node.part = back[node.part]
        else:
            todo += node.children
    return board
