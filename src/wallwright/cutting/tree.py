"""Guillotine trees: the shape of a plan while it is being searched for.

Kerf vanishes by inflation: with every part k longer and wider, and the trimmed sheet k longer and wider too, parts
that touch in the inflated picture stand exactly one blade apart in the real one, and the last part of a row may touch
the edge without a cut.

A **node** divides its rectangle into slabs lying side by side along one axis; its children divide along the other.
A node keeps only its ``thick`` (extent along its parent's axis); its extent along its own axis is its parent's
``thick``. So sum(children's thick) + left = parent's thick, always, and the order of the children means nothing: all
that is free in a node is one slab, ``left`` by ``thick``.

Levels: the root cuts at level 1, its children at level 2 and so on. With k stages, cuts at level k + 1 may only free
one part each (the trimming cut).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from wallwright.cutting.match import members, sets_of, whole
from wallwright.cutting.model import Piece, Problem, Saw, Sheet, lays, own_trim

UNLIMITED = 10**6


class Slab(NamedTuple):
    """A free rectangle: ``left`` along the node's axis (0 = x, 1 = y) by ``thick`` across it.

    ``spare``: levels of cuts still allowed below the node's own, not counting the trimming cut.
    """

    left: int
    thick: int
    axis: int
    spare: int
    node: Node


class Node:
    """A divided rectangle (``children`` a list) or a part (``children`` None, ``part`` its kind)."""

    __slots__ = ("children", "left", "parent", "part", "thick", "turned")

    def __init__(self, thick: int, left: int, parent: Node | None, children: list[Node] | None) -> None:
        self.thick = thick
        self.left = left
        self.parent = parent
        self.children = children
        self.part = -1
        self.turned = False

    def copy(self, parent: Node | None) -> Node:
        """The same subtree under another parent."""
        twin = Node(self.thick, self.left, parent, None)
        twin.part, twin.turned = self.part, self.turned
        if self.children is not None:
            twin.children = [child.copy(twin) for child in self.children]
        return twin

    def parts(self) -> list[int]:
        """Kinds of all parts in the subtree."""
        if self.children is None:
            return [self.part]
        return [kind for child in self.children for kind in child.parts()]


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of sheet, inflated: usable extents, cost in whole units, how many there are."""

    sheet: Sheet
    x: int
    y: int
    cost: int
    most: int


@dataclass(frozen=True, slots=True)
class Task:
    """One material's problem, inflated. ``lies[kind]`` = (x, y, turned) ways of piece ``kind``; ``levels`` = stages.

    Pieces that lie alike are one kind, however many names they have: ``owners[kind]`` are the pieces it stands for, and
    the kind's own piece has the first one's name and the quantity of all. ``sets[kind]``: the parts of a matched set that
    is searched for as one, in order; else nothing.
    """

    pieces: tuple[Piece, ...]
    lies: tuple[tuple[tuple[int, int, bool], ...], ...]
    areas: tuple[int, ...]
    stock: tuple[Stock, ...]
    saw: Saw
    levels: int
    owners: tuple[tuple[Piece, ...], ...]
    sets: tuple[tuple[Piece, ...], ...]


def tasks(problem: Problem) -> list[Task]:
    """The problem taken apart by material; sheets that hold no part at all are left out."""
    return [_task(problem, material) for material in problem.materials()]


def sheet_cost(sheet: Sheet) -> int:
    """Price in hundredths, and below that the sheet's area: between equal prices the smaller sheet wins."""
    return (round(sheet.price * 100) << 64) + sheet.length * sheet.width


def _task(problem: Problem, material: str) -> Task:
    saw, k = problem.saw, problem.saw.kerf
    alike: dict[tuple[tuple[int, int, bool], ...], list[Piece]] = {}
    for piece in problem.pieces:
        if piece.material == material and not piece.match:
            own = tuple((x + k, y + k, turned) for x, y, turned in lays(piece))
            alike.setdefault(own, []).append(piece)
    lies = tuple(alike)
    owners = tuple(tuple(group) for group in alike.values())
    sets: list[tuple[Piece, ...]] = [() for _ in owners]
    for (own_material, _), group in sets_of(problem.pieces).items():
        if own_material == material:
            one = whole(group, k)
            lies += (tuple((x + k, y + k, turned) for x, y, turned in lays(one)),)
            owners += ((one,),)
            sets.append(members(group))
    pieces = tuple(
        group[0] if len(group) == 1 else replace(group[0], quantity=sum(p.quantity for p in group))
        for group in owners
    )
    stock: list[Stock] = []
    for sheet in problem.sheets:
        if sheet.material != material:
            continue
        trim = own_trim(sheet, saw.trim)
        x, y = sheet.length - 2 * trim + k, sheet.width - 2 * trim + k
        if any(px <= x and py <= y for way in lies for px, py, _ in way):
            most = UNLIMITED if sheet.quantity is None else sheet.quantity
            stock.append(Stock(sheet, x, y, sheet_cost(sheet), most))
    levels = UNLIMITED if saw.stages == "any" else saw.stages
    areas = tuple(way[0][0] * way[0][1] for way in lies)
    return Task(pieces, lies, areas, tuple(stock), saw, levels, owners, tuple(sets))


class Board:
    """One sheet being filled: its kind, its tree, and the free slabs of the tree."""

    __slots__ = ("_largest", "_slabs", "area", "axis", "kind", "root")

    def __init__(self, kind: int, axis: int, root: Node, area: int) -> None:
        self.kind = kind
        self.axis = axis
        self.root = root
        self.area = area  # inflated area of the parts on it
        self._slabs: list[Slab] | None = None
        self._largest: int | None = None

    @classmethod
    def empty(cls, task: Task, kind: int, axis: int) -> Board:
        """A whole sheet whose first cuts will divide it along ``axis``."""
        stock = task.stock[kind]
        across, along = (stock.y, stock.x) if axis == 0 else (stock.x, stock.y)
        return cls(kind, axis, Node(across, along, None, []), 0)

    def copy(self) -> Board:
        """A board of its own with the same tree."""
        return Board(self.kind, self.axis, self.root.copy(None), self.area)

    def slabs(self, levels: int) -> list[Slab]:
        """Every free slab that may still take a part."""
        if self._slabs is None:
            self._slabs = self.walk(levels)
        return self._slabs

    def walk(self, levels: int, least: int = 1) -> list[Slab]:
        """The free slabs that are at least so wide both ways, those of the first cuts first."""
        found: list[Slab] = []
        layer, axis, level = [self.root], self.axis, 1
        while layer and level <= levels:
            below: list[Node] = []
            for node in layer:
                if node.left >= least <= node.thick:
                    found.append(Slab(node.left, node.thick, axis, levels - level, node))
                for child in node.children or ():
                    if child.children is not None and child.thick >= least:
                        below.append(child)
            layer, axis, level = below, 1 - axis, level + 1
        return found

    def offcut(self, kerf: int) -> int:
        """Real area of the largest free slab, in tenths squared."""
        if self._largest is None:
            free = (s for s in self.walk(UNLIMITED) if s.left > kerf)
            self._largest = max(((s.left - kerf) * (s.thick - kerf) for s in free), default=0)
        return self._largest

    def insert(self, slab: Slab, kind: int, lie: tuple[int, int, bool], *, across: bool, area: int) -> None:
        """Put a part in the near corner of a slab; ``across``: divide the slab across its node first."""
        node, (x, y, turned) = slab.node, lie
        along, cross = (x, y) if slab.axis == 0 else (y, x)
        assert node.children is not None
        if across:
            strip = Node(node.left, node.thick - cross, node, [])
            row = Node(cross, node.left - along, strip, [])
            strip.children = [row]
            row.children = [leaf := Node(along, 0, row, None)]
            node.children.append(strip)
            node.left = 0
        else:
            node.left -= along
            if cross == node.thick:
                node.children.append(leaf := Node(along, 0, node, None))
            else:
                strip = Node(along, node.thick - cross, node, None)
                strip.children = [leaf := Node(cross, 0, strip, None)]
                node.children.append(strip)
        leaf.part, leaf.turned = kind, turned
        self.area += area
        self._slabs = self._largest = None
        self.turn_root()

    def remove(self, node: Node, area: int) -> None:
        """Take a subtree out (not the root) and push the freed room up the tree, where it is widest."""
        parent = node.parent
        assert parent is not None
        assert parent.children is not None
        parent.children.remove(node)
        parent.left += node.thick
        self.area -= area
        self._slabs = self._largest = None
        above: Node | None = parent
        while above is not None:
            above = tidy(above)
        self.turn_root()

    def turn_root(self) -> None:
        """A root that holds one full-size division only is that division."""
        while self.root.children is not None and len(self.root.children) == 1 and self.root.left == 0:
            child = self.root.children[0]
            if child.children is None:
                return
            child.parent = None
            self.root = child
            self.axis = 1 - self.axis


def tidy(node: Node) -> Node | None:
    """Drop an empty node, squeeze out room that all its children leave; returns the parent to go on with."""
    parent, children = node.parent, node.children
    if parent is None or children is None or parent.children is None:
        return None
    if not children:
        parent.children.remove(node)
        parent.left += node.thick
        return parent
    slack = min(child.left for child in children)
    if slack:
        node.thick -= slack
        parent.left += slack
        for child in tuple(children):
            child.left -= slack
            if child.left == 0 and child.children is not None and len(child.children) == 1:
                _lift(child)
    if node.left == 0 and len(children) == 1:
        _lift(node)
    return parent


def _lift(node: Node) -> None:
    """Replace a division that holds one full-size child by what that child holds."""
    parent = node.parent
    assert parent is not None
    assert parent.children is not None
    assert node.children is not None
    (child,) = node.children
    parent.children.remove(node)
    if child.children is None:
        child.thick, child.parent = node.thick, parent
        parent.children.append(child)
        return
    for grand in child.children:
        grand.parent = parent
    parent.children += child.children
    parent.left += child.left
