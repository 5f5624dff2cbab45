"""Niches: cheeks, head and sill round a screen or round something to look at; with an arched head behind a face board.

The clear size is between the boards (of an arched niche between its linings, up to the crown).
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass import stock
from wallwright.carcass.arch import Arch, arch_over, kerfs
from wallwright.carcass.piece import BARE, WIDE, piece
from wallwright.carcass.record import Hardware, Part, Role, UnitBox
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box
from wallwright.library import load

STRIP = 40.0
"""Height of the strip under the head by which a niche is screwed to the wall [mm]."""


def of_niche(unit: UnitBox) -> Stock:
    """What its boards are of: seen on both sides, so in the finish of the fronts."""
    return made_of(unit.board, unit.front_finish)


def made_of(board: str, finish: str) -> Stock:
    """The board of a niche: fibreboard under spray, paint and the like, else its own, faced alike."""
    return stock.stock(board if stock.banded(board, finish) else stock.SPRAY_BOARD, _facing(finish))


def _facing(finish: str) -> str:
    """A facing that goes round a niche: glass, mirror and cloth do not."""
    kind = load.finishes()[finish].kind
    return stock.FRONT_FINISH if kind in ("glass", "mirror", "cloth") else finish


def _lining(finish: str, bend: str) -> Stock:
    """Flexible ply in layers glued over a form, or a kerfed board, with its facing."""
    return stock.stock(stock.KERFED if bend == "kerf" else stock.BENDING, _facing(finish))


def arched_clear(box: Box, board: str, finish: str, bend: str) -> Box:
    """The clear opening of an arched niche: inside its linings; over the crown is room for the fixing strip, hidden by the face."""
    t, lining = made_of(board, finish).thickness, _lining(finish, bend).thickness
    x, z = box.x + t + lining, box.z + t
    return Box(x, z, max(box.right - t - lining - x, 0.0), max(box.top - t - STRIP - lining - z, 0.0))


def clear_of(unit: UnitBox) -> Box:
    """The clear opening.

    Raises:
        ValueError: boards that leave no opening, naming the field.
    """
    t, box = of_niche(unit).thickness, unit.box
    clear = arched_clear(box, unit.board, unit.front_finish, unit.bend) if unit.rise else Box(
        box.x + t, box.z + t, box.width - 2 * t, box.height - 2 * t
    )  # fmt: skip
    for name, size in (("width", clear.width), ("height", clear.height)):
        if size < 50:
            raise ValueError(
                f"design.units.{unit.ref}.{name}: {getattr(box, name):g} mm leaves {max(size, 0):.0f} mm between the boards; "
                "make it at least 250 mm"
            )
    return clear


def arch_of(unit: UnitBox) -> Arch:
    """The arch over the clear opening. ValueError, naming the field, where it would rise higher than a half round."""
    try:
        return arch_over(clear_of(unit), unit.rise)
    except ValueError as problem:
        raise ValueError(f"design.units.{unit.ref}.arch_rise: {problem}") from problem


def clear_depth(unit: UnitBox, behind: float) -> float:
    """Clear depth in front of its back or of the wall [mm]."""
    of = of_niche(unit)
    back = stock.stock(stock.BACK, _facing(unit.front_finish)).thickness if unit.back else 0.0
    return unit.depth - behind - back - (of.thickness if unit.rise else 0.0)


def niche_parts(unit: UnitBox, behind: float) -> Iterator[Part]:
    """The boards of a niche. behind : a panel between it and the wall [mm].

    Raises:
        ValueError: too shallow, or no opening left, naming the field.
    """
    of, box, clear = of_niche(unit), unit.box, clear_of(unit)
    t, rear = of.thickness, -behind
    front = -unit.depth + (t if unit.rise else 0.0)
    back = rear - (stock.stock(stock.BACK, _facing(unit.front_finish)).thickness if unit.back else 0.0)
    if back - front < 30:
        least = unit.depth + 30 - (back - front)
        panel = f" in front of a panel of {behind:.0f} mm" if behind else ""
        raise ValueError(
            f"design.units.{unit.ref}.depth: {unit.depth:g} mm{panel} leaves {max(back - front, 0):.0f} mm for the boards of a niche; "
            f"make it at least {math.ceil(least - 1e-6)} mm"
        )
    deep = back - front
    edges = ("" if unit.rise else WIDE, "", WIDE, WIDE)
    for letter, name, x in (("L", "left cheek", box.x), ("R", "right cheek", box.right - t)):
        yield piece(f"{unit.ref}-{letter}", unit.ref, "side", name, of, Block(x, front, box.z, t, deep, box.height),
                    "z", "y", edges)  # fmt: skip
    inner = box.width - 2 * t
    across: tuple[tuple[str, Role, str, float], ...] = (
        ("B", "bottom", "sill", box.z),
        ("T", "top", "head", box.top - t),
    )
    for letter, role, name, z in across:
        block = Block(box.x + t, front, z, inner, deep, t)
        yield piece(f"{unit.ref}-{letter}", unit.ref, role, name, of, block, "x", "y", (edges[0], "", "", ""))
    if unit.back:
        of_back = stock.stock(stock.BACK, _facing(unit.front_finish))
        block = Block(box.x, back, box.z, box.width, of_back.thickness, box.height)
        yield piece(f"{unit.ref}-K", unit.ref, "back", "back, planted", of_back, block, "z", "x")
    strip = stock.stock(stock.CLEAT)
    head = Box(box.x + t, box.top - t - STRIP, inner, STRIP)
    y = back - strip.thickness
    yield piece(f"{unit.ref}-W", unit.ref, "cleat", "fixing strip under the head", strip,
                Block(head.x, y, head.z, head.width, strip.thickness, STRIP), "x", "z", BARE)  # fmt: skip
    if unit.rise:
        yield from _arched(unit, clear, (front, deep), of)


def _arched(unit: UnitBox, clear: Box, run: tuple[float, float], of: Stock) -> Iterator[Part]:
    """The face board with its arched cut-out, the straight linings of the cheeks and the bent one of the arch."""
    arch, lining, box = arch_of(unit), _lining(unit.front_finish, unit.bend), unit.box
    front, deep = run
    opening = clear.width * (arch.springing - clear.z) + arch.area
    yield piece(f"{unit.ref}-A", unit.ref, "face", "face with arched cut-out", of,
                Block(box.x, -unit.depth, box.z, box.width, of.thickness, box.height), "z", "x", (WIDE, WIDE, WIDE, WIDE),
                hollow=opening)  # fmt: skip
    high = arch.springing - clear.z
    for letter, x in (("M", clear.x - lining.thickness), ("N", clear.right)):
        if high > 1:
            block = Block(x, front, clear.z, lining.thickness, deep, high)
            name = "lining of the left cheek" if letter == "M" else "lining of the right cheek"
            yield piece(f"{unit.ref}-{letter}", unit.ref, "lining", name, lining, block, "z", "y")
    name = (
        "arch lining, kerfed and bent" if unit.bend == "kerf" else "arch lining, flexible ply bent in layers"
    )
    block = Block(clear.x - lining.thickness, front, arch.springing, clear.width + 2 * lining.thickness, deep,
                  arch.rise + lining.thickness)  # fmt: skip
    round_it = math.ceil(2 * arch.half_angle * (arch.radius + lining.thickness))
    yield bent(f"{unit.ref}-Y", unit.ref, name, lining, block, float(round_it), deep)


def bent(ident: str, unit: str, name: str, of: Stock, block: Block, length: float, width: float) -> Part:
    """A part that is bent in place: its length is measured round the curve, the block only holds it.

    Bending plywood bends one way only: the way its sheet's length lies, as the library lists it.
    """
    mass = length * width * of.mass_per_m2 / 1e6
    return Part(
        ident,
        unit,
        "lining",
        name,
        of.board,
        of.finish,
        length,
        width,
        of.thickness,
        length,
        width,
        "length" if of.grain else "none",
        BARE,
        mass,
        block,
    )


def niche_hardware(unit: UnitBox, kerf: float, limits: Limits) -> Iterator[Hardware]:
    """Screws of the frame, and how the arch is bent."""
    yield Hardware("confirmat", "Case screw 7 × 50", unit.ref, 8, "two at each end of head and sill")
    if not unit.rise:
        return
    arch = arch_of(unit)
    trammel = f"radius {arch.radius:.0f} mm, rise {arch.rise:.0f} mm, {arch.length:.0f} mm round the arch"
    if unit.bend == "kerf":
        cuts = kerfs(
            arch,
            stock.stock(stock.KERFED).thickness,
            limits.value("carcass.arch_kerf_left"),
            kerf,
            limits.value("carcass.kerf_flat"),
        )
        note = f"{trammel}; {cuts.count} saw cuts of {cuts.width:g} mm every {cuts.spacing:.1f} mm"
        yield Hardware("bending", "Arch lining kerfed and bent", unit.ref, 1, note)
    else:
        yield Hardware("bending", "Arch lining bent over a form", unit.ref, 1, f"{trammel}; in layers, glued")
