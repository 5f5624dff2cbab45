"""Every board that carries, checked for sag at once and after years, and for a load in the middle of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Given, Why
from wallwright.library import load
from wallwright.library.load import Board
from wallwright.structure import creep, span
from wallwright.structure.hung import G
from wallwright.structure.record import ShelfCheck
from wallwright.structure.section import Section, Timber, section

if TYPE_CHECKING:
    from wallwright.carcass.record import Shelf

CLASSES = {"particleboard": "particleboard", "mdf": "fibreboard", "hdf": "fibreboard"}
"""How a board's key begins → its class of strength; all others are taken as plywood."""
THICK = {
    "particleboard": ((20.0, ""), (25.0, "_25"), (32.0, "_32"), (1e9, "_40")),
    "fibreboard": ((19.0, ""), (30.0, "_30"), (1e9, "_45")),
    "plywood": ((1e9, ""),),
}
"""Thicker boards break at less: up to which thickness [mm] each bending strength of a class holds."""
SAID = {
    "plain": "one board",
    "lipped": "a board with a lip in front",
    "doubled": "two boards glued",
    "torsion_box": "two skins on ribs",
}


Allowed = tuple[tuple[str, tuple[tuple[float, float], ...]], ...]
"""By class of board: (up to this thickness [mm], this stress [N/mm²]), thinnest first."""


@dataclass(frozen=True, slots=True)
class Sag:
    """What a shelf is held to, and what it is made of besides its board.

    at_once, later : span over sag · psi_2 : share of the load that creeps · humid : service class 2 · timber, lip, ribs : of lips
    and torsion boxes where nothing is said · short, long : by class of board, what it may be stressed to for
    a moment, and for years, up to each thickness [mm, N/mm²]
    """

    at_once: float
    later: float
    psi_2: float
    humid: bool = False
    timber: Timber = Timber(9000.0, 0.6, 650.0, 560.0)
    lip: tuple[float, float] = (40.0, 20.0)
    ribs: tuple[float, float, float] = (150.0, 18.0, 32.0)
    short: Allowed = ()
    long: Allowed = ()


@lru_cache(maxsize=16)
def sag_limits(limits: Limits, *, humid: bool = False) -> Sag:
    """The sag limits of the rule set. humid : the home stands in a hot and humid climate (service class 2)."""
    value = limits.value
    k_def = value("structure.lip_creep")
    return Sag(
        value("structure.sag_ratio"), value("structure.sag_later_ratio"), value("structure.psi_2"), humid,
        Timber(
            value("structure.lip_modulus"), creep.in_humid_air(k_def) if humid else k_def,
            value("structure.lip_density"), value("structure.rib_shear"),
        ),
        (value("structure.lip_height"), value("structure.lip_thickness")),
        (value("structure.rib_pitch"), value("structure.rib_thickness"), value("structure.rib_height")),
        allowed(limits, "short", humid=humid), allowed(limits, "long", humid=humid),
    )  # fmt: skip


def allowed(limits: Limits, lasts: str, *, humid: bool) -> Allowed:
    """What boards may be stressed to: f_m·k_mod / (γ_M·γ_F), EN 1995-1-1, 2.4.1. lasts : "short" or "long"."""
    value, air = limits.value, "humid_" if humid else ""
    return tuple(
        (
            kind,
            tuple(
                (
                    most,
                    value(f"structure.strength_{kind}{name}")
                    * value(f"structure.k_{lasts}_{air}{kind}")
                    / (value(f"structure.gamma_{kind}") * value("structure.board_load_factor")),
                )
                for most, name in steps
            ),
        )
        for kind, steps in THICK.items()
    )


def made(shelf: Shelf, board: Board, held_to: Sag) -> Section:
    """The shelf's section: as it is built, of its board and of lips or ribs where it has them."""
    k_def = creep.in_humid_air(board.k_def) if held_to.humid else board.k_def
    lip = (shelf.lip, shelf.lip_thick)
    if shelf.build == "lipped":
        lip = shelf.lip or held_to.lip[0], shelf.lip_thick or held_to.lip[1]
    return section(
        shelf.build, (board.modulus, k_def, board.density), shelf.depth, shelf.thickness, lip, held_to.timber,
        held_to.psi_2, held_to.ribs,
    )  # fmt: skip


def class_of(board: str) -> str:
    """The class of strength of a board, by its key: particleboard, fibreboard or plywood."""
    return next((name for start, name in CLASSES.items() if board.startswith(start)), "plywood")


def strength(board: str, allowed: Allowed) -> float:
    """What a board of the library may be stressed to [N/mm²], by its class and its thickness."""
    thick, own = load.boards()[board].thickness, class_of(board)
    steps = next((steps for kind, steps in allowed if kind == own), ())
    return next((stress for most, stress in steps if thick <= most), 0.0)


def check(shelf: Shelf, kg_per_m: float, held_to: Sag, point: float = 0.0) -> ShelfCheck:
    """A shelf on its supports under its load [kg/m] and its own weight, and under a load in the middle of a span [N]."""
    board = load.boards()[shelf.board]
    of = made(shelf, board, held_to)
    own, carried, L = of.mass * G / 1000, kg_per_m * G / 1000, shelf.span
    shares = _shares(shelf.supports)
    now = _sag(own, carried, L, of.EI, of.GA, shares)
    stays = _sag(own, 0.0, L, of.EI_stays, of.GA, shares)
    changes = _sag(own, carried, L, of.EI_changes, of.GA, shares) - _sag(
        own, 0.0, L, of.EI_changes, of.GA, shares
    )
    moment = shares.moment_all * own * L * L + shares.moment_some * carried * L * L
    under = shares.point * point * L**3 / of.EI + (point * L / (4 * of.GA))
    return ShelfCheck(
        ref=shelf.ref,
        unit=shelf.unit,
        span=L,
        load=own + carried,
        stiffness=of.EI,
        sag=now,
        sag_later=stays + changes,
        stress=moment * of.per_moment,
        longest=_longest(own, carried, of, shares, held_to),
        build=shelf.build,
        supports=shelf.supports,
        point=point,
        sag_point=under,
        stress_point=(moment + shares.point_moment * point * L) * of.per_moment,
        strength=strength(shelf.board, held_to.short),
        strength_long=strength(shelf.board, held_to.long),
    )


@dataclass(frozen=True, slots=True)
class Shares:
    """How a board over equal spans bends, per unit: sag and moment with all spans loaded and with the worst of them, a load in
    the middle of an end span: sag over PL³/EI and moment over PL.
    """

    sag_all: float
    sag_some: float
    moment_all: float
    moment_some: float
    point: float
    point_moment: float


_SIMPLE = Shares(5 / 384, 5 / 384, 1 / 8, 1 / 8, 1 / 48, 1 / 4)
_FOUND: dict[int, Shares] = {2: _SIMPLE}


def _shares(supports: int) -> Shares:
    """The shares of a board on that many supports, worked out once for each number. ValueError for fewer than two."""
    if supports < 2:
        raise ValueError(f"a shelf lies on 2 supports or more, not {supports}")
    if supports not in _FOUND:
        laid = span.Laid((1.0,) * (supports - 1), 1.0)
        every, some = span.bent(laid, (1.0,) * (supports - 1)), span.worst_even(laid, 0.0, 1.0)
        middle = span.bent(laid, (0.0,) * (supports - 1), ((0, 0.5, 1.0),))
        _FOUND[supports] = Shares(every.sag, some.sag, every.moment, some.moment, middle.sag, middle.moment)
    return _FOUND[supports]


def _sag(own: float, carried: float, L: float, EI: float, GA: float, shares: Shares) -> float:
    """Sag of its own weight on all spans and of a load where it sags most; a torsion box yields to shear besides, wL²/8GA."""
    return (shares.sag_all * own + shares.sag_some * carried) * L**4 / EI + (own + carried) * L * L / (8 * GA)


def _longest(own: float, carried: float, of: Section, shares: Shares, held_to: Sag) -> float:
    """The longest span [mm] that passes both limits: in closed form, but where a torsion box's shear makes it a search."""
    if own + carried <= 0:
        return 0.0
    at_once = (shares.sag_all * own + shares.sag_some * carried) / of.EI
    later = shares.sag_all * own / of.EI_stays + shares.sag_some * carried / of.EI_changes
    most = min((1 / (at_once * held_to.at_once)) ** (1 / 3), (1 / (later * held_to.later)) ** (1 / 3))
    if math.isinf(of.GA):
        return most
    low, high, shear = 0.0, most, (own + carried) / (8 * of.GA)
    for _ in range(40):
        L = (low + high) / 2
        passes = (at_once * L**3 + shear * L) * held_to.at_once <= 1 and (
            later * L**3 + shear * L
        ) * held_to.later <= 1
        low, high = (L, high) if passes else (low, L)
    return low


_NOWHERE = Box(0.0, 0.0, 0.0, 0.0)


@lru_cache(maxsize=4096)
def kept(shelf: Shelf, kg_per_m: float, held_to: Sag, point: float) -> ShelfCheck:
    """The same check, asked once: most shelves of a wall stay as they are when one thing on it is changed, and many are alike."""
    unnamed = replace(shelf, ref="", unit="", load_kg_per_m=0.0, box=_NOWHERE)
    return replace(_alike(unnamed, kg_per_m, held_to, point), ref=shelf.ref, unit=shelf.unit)


@lru_cache(maxsize=1024)
def _alike(shelf: Shelf, kg_per_m: float, held_to: Sag, point: float) -> ShelfCheck:
    """The check of all shelves that are alike but for their names and places."""
    return check(shelf, kg_per_m, held_to, point)


def why(check: ShelfCheck, shelf: Shelf, kg_per_m: float, limits: Limits, held_to: Sag) -> list[Why]:
    """The working behind a shelf's two sags, and behind its stress under a load in its middle."""
    board: Board = load.boards()[shelf.board]
    plain = check.build == "plain" and check.supports == 2
    given = (
        Given("span", round(check.span, 1), "mm"),
        Given("load carried", round(kg_per_m, 1), "kg/m"),
        Given("load with self-weight", round(check.load, 4), "N/mm"),
        Given("E of the board", board.modulus, "N/mm²"),
        Given("depth", round(shelf.depth, 1), "mm"),
        Given("thickness", shelf.thickness, "mm"),
        *(
            ()
            if plain
            else (
                Given("made of", SAID[check.build]),
                Given("supports", check.supports),
                Given("EI", float(f"{check.stiffness:.4g}"), "N·mm²"),
            )
        ),
    )
    later = (
        Given("sag at once", round(check.sag, 3), "mm"),
        Given(
            "k_def of P4, taken for P2"
            if class_of(shelf.board) == "particleboard" and board.kind == "particleboard"
            else "k_def",
            creep.in_humid_air(board.k_def) if held_to.humid else board.k_def,
        ),
        Given("service class", 2 if held_to.humid else 1),
        Given("ψ₂", limits.value("structure.psi_2")),
    )
    out = [
        Why(f"shelf {check.ref}.sag", round(check.sag, 2), "mm",
            "An even load on simple supports, at once." if plain
            else f"{SAID[check.build][0].upper()}{SAID[check.build][1:]} on {check.supports} supports, loaded where it sags most.",
            "5·w·L⁴ / (384·E·I), I = b·t³/12" if plain
            else "three-moment equation; EI = Σ E(I + A·d²), less what bends sideways",
            given, f"beam theory; E: {board.source}", "computed"),
        Why(f"shelf {check.ref}.sag_later", round(check.sag_later, 2), "mm", "The same after years: wood boards creep.",
            "u_G(1 + k_def) + u_Q(1 + ψ₂·k_def)" if check.build in ("plain", "doubled")
            else "with E/(1 + k_def) of each part, EN 1995-1-1, 2.3.2.2",
            later, "EN 1995-1-1, 2.2.3 and table 3.2", "published"),
    ]  # fmt: skip
    kind, air = class_of(shelf.board), "humid_" if held_to.humid else ""
    gamma, factor = limits.value(f"structure.gamma_{kind}"), limits.value("structure.board_load_factor")

    def of_board(lasts: str, strong: float) -> tuple[Given, ...]:
        k_mod = limits.value(f"structure.k_{lasts}_{air}{kind}")
        return (
            Given("least bending strength", round(strong * gamma * factor / k_mod, 2), "N/mm²"), Given("k_mod", k_mod),
            Given("γ_M", gamma), Given("γ_F", factor), Given("allowed", round(strong, 2), "N/mm²"),
        )  # fmt: skip

    stays = limits[f"structure.k_long_{air}{kind}"]
    out.append(
        Why(f"shelf {check.ref}.stress", round(check.stress, 2), "N/mm²",
            "Of what is stored on it for years: boards break at less the longer they are loaded.", "M·E·z / EI ≤ f_m·k_mod / (γ_M·γ_F)",
            of_board("long", check.strength_long), stays.source, stays.certainty)
    )  # fmt: skip
    if check.point:
        passing = limits[f"structure.k_short_{air}{kind}"]
        out.append(
            Why(f"shelf {check.ref}.point", round(check.stress_point, 2), "N/mm²",
                f"With {check.point:.0f} N in the middle it sags {check.sag_point:.1f} mm more for a while.",
                "(M + P·L/4)·E·z / EI ≤ f_m·k_mod / (γ_M·γ_F)",
                (Given("load in the middle", check.point, "N"), *of_board("short", check.strength)),
                passing.source, passing.certainty)
        )  # fmt: skip
    return out
