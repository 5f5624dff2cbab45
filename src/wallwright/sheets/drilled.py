"""Boards that are bored alike, with their rows of holes named by letters: what a drilling sheet draws once, and its table."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from wallwright.core.table import Column, Table
from wallwright.sheets.running import figure
from wallwright.sheets.words import short_board

if TYPE_CHECKING:
    from wallwright.carcass.bored import Bored, Cut, Groove, Hole
    from wallwright.carcass.lie import Lie
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall

T = TypeVar("T", "Hole", "Groove", "Cut")
FACE_WORDS = {
    "inside": "face", "outside": "far face", "both": "through", "long1": "edge at datum", "long2": "edge opposite",
    "short1": "end at datum", "short2": "far end",
}  # fmt: skip
COLUMNS = (
    Column("Row"), Column("In"), Column("y"), Column("x"), Column("Ø", "", 0, "right"),
    Column("Deep", "", 0, "right"), Column("For"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Row:
    """Holes of one board that share everything but their place. letter : as on the drawing · ys : from the datum edge, each with all
    of xs.
    """

    letter: str
    face: str
    ys: tuple[float, ...]
    xs: tuple[float, ...]
    diameter: float
    depth: float
    what: str
    through: bool


@dataclass(frozen=True, slots=True)
class Drilled:
    """Boards that are bored alike. part : the one that is drawn · drawn, handed : references of those as drawn and of their handed
    ones · rows, grooves, cuts : on the one that is drawn
    """

    part: Part
    lie: Lie
    drawn: tuple[str, ...]
    handed: tuple[str, ...]
    holes: tuple[Hole, ...]
    rows: tuple[Row, ...]
    grooves: tuple[Groove, ...]
    cuts: tuple[Cut, ...]

    @property
    def refs(self) -> str:
        """All references, short."""
        names = [*self.drawn, *self.handed]
        return ", ".join(names) if len(names) <= 4 else f"{', '.join(names[:3])} … {names[-1]}"

    @property
    def name(self) -> str:
        """What it is: of a handed pair without its hand."""
        name = self.part.name
        return (
            name.removesuffix(", left").removesuffix(", right").removeprefix("left ").removeprefix("right ")
            if self.handed
            else name
        )

    @property
    def says(self) -> str:
        """How many are made, and how many of them handed."""
        if not self.handed:
            return f"{len(self.drawn)} off, as drawn"
        return f"{len(self.drawn) + len(self.handed)} off: {_refs(self.drawn)} as drawn, {_refs(self.handed)} handed"


def _refs(names: Sequence[str]) -> str:
    return ", ".join(names) if len(names) <= 2 else str(len(names))


def drilled(wall: Wall, made: Bored) -> tuple[Drilled, ...]:
    """Every different board with its holes, in the order in which the boards are listed."""
    groups: dict[tuple[object, ...], list[Part]] = {}
    holes, grooves, cuts = _by(made.holes), _by(made.grooves), _by(made.cuts)
    for part in wall.carcass.parts:
        own = (holes.get(part.id, []), grooves.get(part.id, []), cuts.get(part.id, []))
        if not any(own):
            continue
        key = (
            part.role, part.board, part.finish, *(round(v, 1) for v in made.lies[part.id].size), part.edges,
            tuple(sorted((h.face, round(h.x, 1), round(h.y, 1), h.diameter, round(h.depth, 1), h.what) for h in own[0])),
            tuple(sorted((round(g.x0, 1), round(g.x1, 1), round(g.y0, 1)) for g in own[1])),
            tuple(sorted((round(c.x, 1), round(c.y, 1), round(c.dx, 1), round(c.dy, 1)) for c in own[2])),
        )  # fmt: skip
        groups.setdefault(key, []).append(part)
    out: list[Drilled] = []
    for parts in groups.values():
        first = parts[0]
        hand = made.lies[first.id].as_drawn
        drawn = tuple(p.id for p in parts if made.lies[p.id].as_drawn == hand)
        other = tuple(p.id for p in parts if made.lies[p.id].as_drawn != hand)
        own = tuple(holes.get(first.id, []))
        out.append(
            Drilled(first, made.lies[first.id], drawn, other, own, rows(own), tuple(grooves.get(first.id, [])), tuple(cuts.get(first.id, [])))
        )  # fmt: skip
    return tuple(out)


def _by(items: Iterable[T]) -> dict[str, list[T]]:
    out: dict[str, list[T]] = {}
    for item in items:
        out.setdefault(item.part, []).append(item)
    return out


def rows(holes: Iterable[Hole]) -> tuple[Row, ...]:
    """The holes row by row, rows with the same places in one: faces first, then edges; each with its letter."""
    lines: dict[tuple[str, float, float, str, bool, float], list[float]] = {}
    for hole in holes:
        key = (hole.face, hole.diameter, round(hole.depth, 1), hole.what, hole.through, round(hole.y, 1))
        lines.setdefault(key, []).append(round(hole.x, 1))
    groups: dict[tuple[str, float, float, str, bool, tuple[float, ...]], list[float]] = {}
    for (face, size, deep, what, through, y), xs in lines.items():
        groups.setdefault((face, size, deep, what, through, tuple(sorted(xs))), []).append(y)
    order = sorted(groups, key=lambda key: (list(FACE_WORDS).index(key[0]), min(groups[key]), key[3], key[5]))
    return tuple(
        Row(_letter(k), key[0], tuple(sorted(groups[key])), key[5], key[1], key[2], key[3], key[4])
        for k, key in enumerate(order)
    )


def _letter(k: int) -> str:
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # no I, no O
    return letters[k] if k < len(letters) else f"{letters[k // len(letters) - 1]}{letters[k % len(letters)]}"


def places(xs: Sequence[float]) -> str:
    """Places along a board; runs of equal steps in short: `201.8 to 329.8, 5 at 32`."""
    out: list[str] = []
    k = 0
    while k < len(xs):
        n = k + 1
        while n + 1 < len(xs) and abs((xs[n + 1] - xs[n]) - (xs[k + 1] - xs[k])) < 0.06:
            n += 1
        if n - k >= 3:
            out.append(f"{figure(xs[k])} to {figure(xs[n])}, {n - k + 1} at {figure(xs[k + 1] - xs[k])}")
            k = n + 1
        else:
            out.append(figure(xs[k]))
            k += 1
    return "; ".join(out)


def hole_table(board: Drilled) -> Table:
    """The rows of a board's holes, with its grooves and cut-outs."""
    body: list[tuple[str | float | int | None, ...]] = [
        (
            row.letter, FACE_WORDS[row.face], "; ".join(figure(y) for y in row.ys), places(row.xs), figure(row.diameter),
            "thro'" if row.through else figure(row.depth), row.what,
        )
        for row in board.rows
    ]  # fmt: skip
    body += [
        (
            "",
            "face",
            f"{figure(g.y0)} to {figure(g.y1)}",
            f"{figure(g.x0)} to {figure(g.x1)}",
            "",
            figure(g.depth),
            "groove for the back",
        )
        for g in board.grooves
    ]
    body += [
        (
            "",
            "through",
            f"{figure(c.y)} to {figure(c.y + c.dy)}",
            f"{figure(c.x)} to {figure(c.x + c.dx)}",
            "",
            "thro'",
            c.what,
        )
        for c in board.cuts
    ]
    title = f"{board.refs}: {short_board(board.part.board)}"
    return Table(f"drill_{board.part.id}", title, COLUMNS, tuple(body))
