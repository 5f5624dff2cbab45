"""The parts of two walls against each other: which stay, are renumbered, changed, dead or new.

A part is the same when it can be taken for the other on the bench: board, finish, sizes, edges, grain, what is cut out of it and
how it is bored. Its number comes second: a shelf that is now called S1 is not a new board.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from wallwright.carcass.record import Part
from wallwright.core.shape import Block
from wallwright.tables.boring import holes

if TYPE_CHECKING:
    from wallwright.derive import Wall

Fate = Literal["renumbered", "bored anew", "cut down", "made anew", "dead", "new"]
"""bored anew : same board, other holes · cut down : the old board is large enough for the new one · made anew : it is not"""
STEP = 0.1
"""Sizes that differ by less are the same [mm]."""


@dataclass(frozen=True, slots=True)
class PartChange:
    """What becomes of a part. was, now : as it was and as it is, None where there is none · says : what differs"""

    fate: Fate
    was: Part | None
    now: Part | None
    says: str

    @property
    def ref(self) -> str:
        """The number by which it is known on the drawings that are out: the old one where it has one."""
        thing = self.was or self.now
        return thing.id if thing else ""

    @property
    def lost(self) -> bool:
        """Whether the old board is of no use in the new wall."""
        return self.fate in ("dead", "made anew")


Bores = Mapping[str, frozenset[Hashable]]


def part_changes(old: Wall, new: Wall) -> tuple[PartChange, ...]:
    """Every part that is not as it was, in the order of the cut list, dead ones first."""
    were, are = list(old.carcass.parts), list(new.carcass.parts)
    before, after = _bores(old), _bores(new)
    out: list[PartChange] = []
    _pair(were, are, lambda p: (p.id, _board(p), _size(p)), out, before, after)
    _pair(were, are, lambda p: (p.unit, p.role, _board(p), _size(p)), out, before, after)
    _pair(were, are, lambda p: (p.role, _board(p), _size(p)), out, before, after)
    _pair(were, are, lambda p: (p.id, p.role), out, before, after)
    dead = [PartChange("dead", part, None, f"{_words(part)} is not wanted any more") for part in were]
    fresh = [PartChange("new", None, part, f"{_words(part)}, {_sizes(part)}") for part in are]
    return (*dead, *_ordered(out, old.carcass.parts), *fresh)


def _pair(  # noqa: PLR0913
    were: list[Part], are: list[Part], key: Callable[[Part], Hashable], out: list[PartChange], before: Bores, after: Bores
) -> None:  # fmt: skip
    """Take out of both lists the parts that have one key, and tell what differs between them."""
    waiting: dict[Hashable, list[Part]] = defaultdict(list)
    for part in were:
        waiting[key(part)].append(part)
    left: list[Part] = []
    for part in are:
        found = waiting[key(part)]
        if not found:
            left.append(part)
            continue
        was = found.pop(0)
        were.remove(was)
        change = _between(was, part, before.get(was.id, frozenset()) != after.get(part.id, frozenset()))
        if change is not None:
            out.append(change)
    are[:] = left


def _between(was: Part, now: Part, bored: bool) -> PartChange | None:
    """What differs between a part and the one that takes its place; None where nothing does."""
    if _board(was) == _board(now) and _size(was) == _size(now):
        if bored:
            return PartChange("bored anew", was, now, f"{_words(now)}: other holes{_number(was, now)}")
        return None if was.id == now.id else PartChange("renumbered", was, now, f"{was.id} is now {now.id}")
    return PartChange("cut down" if _holds(was, now) else "made anew", was, now, _differs(was, now))


def _holds(was: Part, now: Part) -> bool:
    """Whether the new part can be cut out of the old one: the same board and face, no cut-out in it, and no size that grew."""
    if (was.board, was.finish, was.thickness, was.grain) != (now.board, now.finish, now.thickness, now.grain):
        return False
    if was.cuts and _notches(was) != _notches(now):
        return False
    return now.length <= was.length + STEP and now.width <= was.width + STEP


def _differs(was: Part, now: Part) -> str:
    told = [
        f"{name} {a:g} → {b:g}"
        for name, a, b in (
            ("length", round(was.length, 1), round(now.length, 1)),
            ("width", round(was.width, 1), round(now.width, 1)),
            ("thickness", was.thickness, now.thickness),
        )
        if abs(a - b) > STEP / 2
    ]
    told += [
        f"{name} {a or 'bare'} → {b or 'bare'}"
        for name, a, b in (("board", was.board, now.board), ("finish", was.finish, now.finish))
        if a != b
    ]
    told += ["edges"] if was.edges != now.edges else []
    told += ["cut-outs"] if _notches(was) != _notches(now) else []
    return f"{_words(now)}: {', '.join(told) or 'grain'}{_number(was, now)}"


def _number(was: Part, now: Part) -> str:
    return "" if was.id == now.id else f"; {was.id} is now {now.id}"


def _words(part: Part) -> str:
    return f"{part.unit} {part.name}"


def _sizes(part: Part) -> str:
    return f"{part.length:.0f} × {part.width:.0f} × {part.thickness:g}"


def _board(part: Part) -> Hashable:
    return part.board, part.finish, part.grain, part.edges, part.match


def _size(part: Part) -> Hashable:
    sizes = (round(value / STEP) for value in (part.length, part.width, part.thickness))
    return *sizes, _notches(part)


def _notches(part: Part) -> Hashable:
    """What is cut out of it, from its own corner: a part that moved with its cut-outs is the same part."""
    return tuple(sorted(_from_corner(cut, part.block) for cut in part.cuts))


def _from_corner(cut: Block, block: Block) -> tuple[int, ...]:
    at = (cut.x - block.x, cut.y - block.y, cut.z - block.z, cut.dx, cut.dy, cut.dz)
    return tuple(round(value) for value in at)


def _bores(wall: Wall) -> Bores:
    out: dict[str, set[Hashable]] = defaultdict(set)
    for hole in holes(wall):
        where = (hole.face, round(hole.x / STEP), round(hole.y / STEP), round(hole.diameter / STEP))
        out[hole.part].add((*where, round(hole.depth / STEP)))
    return {part: frozenset(found) for part, found in out.items()}


def _ordered(changes: Iterable[PartChange], parts: Iterable[Part]) -> Iterator[PartChange]:
    place = {part.id: i for i, part in enumerate(parts)}
    yield from sorted(changes, key=lambda change: place.get(change.ref, len(place)))
