"""In which order the parts of a unit go together, and with which fittings. Common practice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.carcass.record import Part, UnitBox
    from wallwright.derive import Wall


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the assembly: what is done, and the roles of the parts that come to it."""

    words: str
    roles: frozenset[str]


CASE = frozenset({"side", "top", "bottom", "division", "gap_rail"})
DRAWER = frozenset({"drawer_side", "drawer_end", "drawer_bottom", "frame"})


def steps(unit: UnitBox, parts: Sequence[Part]) -> tuple[Step, ...]:
    """How the unit goes together, in order; only what it has. Common practice."""
    has = {part.role for part in parts}
    up = (
        "two people lift it on to the cleat; then screw through the rail"
        if unit.hung
        else "stand it, level it, shim"
    )
    held = "" if unit.hung else "; fix it to the wall near its top before anything is put in"
    if unit.kind in ("niche", "arched_niche"):
        up, held = "set it on the wall and screw through the strip under its head", ""
    if unit.board_only:
        up, held = (
            "set its rods with resin, level and square to the wall, by the fixings sheet; when it is hard slide the board on to them and pin it",
            "",
        )
    every = (
        Step("Glue the ribs between the skins; weights on until dry", frozenset({"rib", "wall_shelf"})),
        Step("Make the plinth frame and level it on its feet", frozenset({"plinth"})),
        Step("Screw divisions and fixed boards between bottom and top, then the sides; both diagonals alike", CASE),
        Step("Bend and glue in the linings, then the face", frozenset({"lining", "face"})),
        Step("Put in the back: it keeps the case square", frozenset({"back"})),
        Step("Screw the hanging rail under the top, its bevel down and towards the case", frozenset({"rail"})),
        Step("Fix this to the wall, level, by the fixings sheet", frozenset({"cleat"})),
        Step(f"Put it up: {up}{held}", frozenset()),
        Step("Scribe the fillers to wall and ceiling", frozenset({"filler"})),
        Step("Make the boxes; hang them on their runners", DRAWER),
        Step("Lay in the loose shelves on their pins", frozenset({"shelf", "lip"})),
        Step("Hang the fronts; set their gaps by the maker's screws", frozenset({"front"})),
    )  # fmt: skip
    return tuple(step for step in every if not step.roles or step.roles & has)


def step_of(part: Part, order: Sequence[Step]) -> int:
    """The number of the step, from 1, at which a part comes; 0 for one that none names."""
    return next((i for i, step in enumerate(order, 1) if part.role in step.roles), 0)


def step_table(order: Sequence[Step], parts: Sequence[Part]) -> Table:
    """The steps with the parts that come to each."""
    rows = tuple(
        (i, step.words, _listed([tag(p) for p in parts if step_of(p, order) == i]))
        for i, step in enumerate(order, 1)
    )  # fmt: skip
    return Table(
        "assembly", "Order of assembly", (Column("", "", 0, "right"), Column("Step"), Column("Parts")), rows
    )


def _listed(tags: list[str]) -> str:
    return ", ".join(tags) if tags else "-"


def fittings_table(wall: Wall, unit: UnitBox) -> Table:
    """The fittings of the unit, counted."""
    rows = tuple((h.quantity, h.name, h.note) for h in wall.carcass.hardware if h.unit == unit.ref)
    return Table(
        "fittings",
        f"Fittings of {unit.ref}",
        (Column("No", "", 0, "right"), Column("Fitting"), Column("Note")),
        rows,
    )


def tag(part: Part) -> str:
    """The part's own tag: without its unit's reference."""
    return part.id.removeprefix(part.unit).lstrip("-.")
