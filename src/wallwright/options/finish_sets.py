"""One geometry, priced in several sets of finishes: saving, balanced, rich. Only what it is faced and boxed in differs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, product
from typing import TYPE_CHECKING, Any

from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall, derive
from wallwright.library import load, terms
from wallwright.look.ladder import refusals
from wallwright.options.effect import edited
from wallwright.rules import check
from wallwright.rules.check import MUST
from wallwright.rules.faced import Faced, faces_of, place_of

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.library.terms import FinishSet

ON_BOARD = ("flat", "fluted", "framed")
"""Panels that are faced; slabs, tiles, mirrors and glass are what they are made of, and stay."""
MOST = 36
"""Combinations tried for one set."""


@dataclass(frozen=True, slots=True)
class Option:
    """A wall that could be ordered: its job's edits, what it gives and what it gives up, and its findings."""

    key: str
    name: str
    says: str
    gain: str
    give_up: str
    edits: tuple[EditCall, ...]
    wall: Wall
    findings: tuple[Finding, ...]

    @property
    def price(self) -> int:
        """All in, in minor units."""
        return self.wall.money.total

    @property
    def sound(self) -> bool:
        """Whether nothing on it must be fixed."""
        return not any(item.severity in MUST for item in self.findings)


def finish_options(wall: Wall) -> tuple[Option, ...]:
    """The wall in each set of finishes of the library, priced and checked; the geometry of all is the wall's own.

    A set in which no combination is free of new danger is left out.
    """
    had = frozenset((item.rule, item.where) for item in check(wall, cures=False) if item.severity in MUST)
    out: list[Option] = []
    for row in terms.finish_sets().values():
        sound = _sound(wall, row, had)
        if row.pick == "least dear":
            best = min(sound, key=lambda option: option.price, default=None)
        else:
            best = next(sound, None)
        if best is not None:
            out.append(best)
    return tuple(out)


def _sound(wall: Wall, row: FinishSet, had: frozenset[tuple[str, str]]) -> Iterator[Option]:
    """The combinations of a set that bring no new danger and leave the geometry as it is, first choices first."""
    for edits in islice(_combinations(wall, row), MOST):
        try:
            made = derive(edited(wall.job, edits), searched=True)
        except ValueError:
            continue
        found = check(made, cures=False)
        worse = [item for item in found if item.severity in MUST and (item.rule, item.where) not in had]
        if not worse and same_geometry(wall, made):
            yield Option(row.key, row.name, _said(made), row.gain, row.give_up, edits, made, found)


def same_geometry(a: Wall, b: Wall) -> bool:
    """Whether two walls are one but for what they are faced and boxed in: the same screen, outlines and fronts, the same boards one by
    one, each within the thickness of its faces.
    """
    if _outlines(a) != _outlines(b):
        return False
    old = {part.id: (part.length, part.width) for part in a.carcass.parts}
    new = {part.id: (part.length, part.width) for part in b.carcass.parts}
    within = a.limits.value("money.face_moves")
    return old.keys() == new.keys() and all(
        abs(x - y) <= within for ref in old for x, y in zip(old[ref], new[ref], strict=True)
    )


def _outlines(wall: Wall) -> tuple[Any, ...]:
    return (
        wall.sight.screen.frame,
        tuple((unit.ref, unit.kind, unit.box, unit.depth) for unit in wall.setout.units),
        tuple((zone.ref, zone.kind, zone.box) for zone in wall.setout.zones),
        tuple((bay.ref, bay.front, bay.drawers, bay.shelves) for bay in wall.carcass.bays),
    )


def _combinations(wall: Wall, row: FinishSet) -> Iterator[tuple[EditCall, ...]]:
    """The edits of each combination of a set, the first choices first."""
    faces = tuple(faces_of(wall))
    panels = [zone.ref for zone in wall.setout.zones if zone.kind in ON_BOARD]
    choices = {
        "wall": _allowed(wall, [face for face in faces if face.role == "wall"], row.wall),
        "panel": _allowed(wall, [face for face in faces if face.ref in panels], row.panel),
        "front": _allowed(wall, [face for face in faces if face.role == "front"], row.fronts),
    }
    boards = [board for board in row.carcass_board if _as_thick(wall, board)] or [""]
    each = [range(len(found)) for found in (*choices.values(), boards)]
    for picked in sorted(product(*each), key=lambda at: (sum(at), at)):
        *faced, board = picked
        edits: list[EditCall] = []
        for (role, found), at in zip(choices.items(), faced, strict=True):
            whose = [face for face in faces if face.role == role and (role != "panel" or face.ref in panels)]
            edits += [face.refaced(found[at]) for face in whose if found[at] and found[at] != face.finish]
        if boards[board]:
            edits += [
                edit_call("set_unit_board", ref=unit.ref, board=boards[board])
                for unit in wall.setout.units
                if unit.board != boards[board] and not unit.board_only
            ]
        yield tuple(edits)


def _allowed(wall: Wall, faces: Sequence[Faced], finishes: Sequence[str]) -> list[str]:
    """The finishes of a role that every place of it allows; where there is none, what is there stays ("")."""
    fit = [
        key for key in finishes if all(not refusals(key, face.role, place_of(wall, face)) for face in faces)
    ]
    return fit if faces and fit else [""]


def _as_thick(wall: Wall, board: str) -> bool:
    """Whether a board is as thick as all carcasses are now."""
    rows = load.boards()
    return all(
        abs(rows[unit.board].thickness - rows[board].thickness) < 0.05 for unit in wall.setout.units if not unit.board_only
    )  # fmt: skip


def _said(wall: Wall) -> str:
    """What it is faced in, each finish once, and what boards its carcasses and panels are of."""
    rows = load.finishes()
    by_role: dict[str, list[str]] = {}
    for face in faces_of(wall):
        names = by_role.setdefault(face.role, [])
        if rows[face.finish].name not in names:
            names.append(rows[face.finish].name)
    boards = load.boards()
    for what, keys in (
        ("carcasses of", [unit.board for unit in wall.setout.units if not unit.board_only]),
        ("panels on", [zone.board for zone in wall.setout.zones if zone.boarded]),
    ):
        if names := list(dict.fromkeys(boards[key].name for key in keys if key in boards)):
            by_role[what] = names
    return "; ".join(f"{role} {' and '.join(names)}" for role, names in by_role.items())
