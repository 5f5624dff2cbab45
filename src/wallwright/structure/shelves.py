"""Every board that carries, checked for sag at once and after years."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.library import load
from wallwright.library.load import Board
from wallwright.structure import beam, creep
from wallwright.structure.record import ShelfCheck

if TYPE_CHECKING:
    from wallwright.carcass.record import Shelf


@dataclass(frozen=True, slots=True)
class Sag:
    """The limits a shelf is held to: span over sag at once and after years, and the share of the load that creeps."""

    at_once: float
    later: float
    psi_2: float


def sag_limits(limits: Limits) -> Sag:
    """The sag limits of the rule set."""
    value = limits.value
    return Sag(value("structure.sag_ratio"), value("structure.sag_later_ratio"), value("structure.psi_2"))


def check(shelf: Shelf, kg_per_m: float, held_to: Sag) -> ShelfCheck:
    """A shelf on simple supports under its load [kg/m] and its own weight."""
    board = load.boards()[shelf.board]
    own = beam.line_load(beam.board_mass(shelf.depth, shelf.thickness, board.density))
    carried = beam.line_load(kg_per_m)
    EI = board.modulus * beam.second_moment(shelf.depth, shelf.thickness)
    w, span = own + carried, shelf.span
    sag_own, sag_carried = beam.sag_simple(own, span, EI), beam.sag_simple(carried, span, EI)
    return ShelfCheck(
        ref=shelf.ref,
        unit=shelf.unit,
        span=span,
        load=w,
        stiffness=EI,
        sag=sag_own + sag_carried,
        sag_later=creep.final(sag_own, sag_carried, board.k_def, held_to.psi_2),
        stress=beam.stress(beam.moment_simple(w, span), shelf.depth, shelf.thickness),
        longest=longest(own, carried, EI, board.k_def, held_to),
    )


def longest(own: float, carried: float, EI: float, k_def: float, held_to: Sag) -> float:
    """The longest span [mm] that passes both limits under its own and the carried load [N/mm]."""
    w = own + carried
    if w <= 0:
        return 0.0
    grows = creep.final(own, carried, k_def, held_to.psi_2) / w
    return min(beam.longest_simple(w, EI, held_to.at_once), beam.longest_simple(w, EI, held_to.later, grows))


def why(check: ShelfCheck, shelf: Shelf, kg_per_m: float, limits: Limits) -> tuple[Why, Why]:
    """The working behind a shelf's two sags."""
    board: Board = load.boards()[shelf.board]
    given = (
        Given("span", round(check.span, 1), "mm"),
        Given("load carried", round(kg_per_m, 1), "kg/m"),
        Given("load with self-weight", round(check.load, 4), "N/mm"),
        Given("E of the board", board.modulus, "N/mm²"),
        Given("depth", round(shelf.depth, 1), "mm"),
        Given("thickness", shelf.thickness, "mm"),
    )
    later = (
        Given("sag at once", round(check.sag, 3), "mm"),
        Given("k_def", board.k_def),
        Given("ψ₂", limits.value("structure.psi_2")),
    )
    return (
        Why(f"shelf {check.ref}.sag", round(check.sag, 2), "mm", "An even load on simple supports, at once.",
            "5·w·L⁴ / (384·E·I), I = b·t³/12", given, f"beam theory; E: {board.source}", "computed"),
        Why(f"shelf {check.ref}.sag_later", round(check.sag_later, 2), "mm", "The same after years: wood boards creep.",
            "u_G(1 + k_def) + u_Q(1 + ψ₂·k_def)", later, "EN 1995-1-1, 2.2.3 and table 3.2", "published"),
    )  # fmt: skip
