"""Rules of boards: air, damp, growth, what they give off, and what bows them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from wallwright.carcass.climate import climate_of
from wallwright.carcass.emission import asked, ordered, sold
from wallwright.carcass.moisture import bow, bow_curvature, growth
from wallwright.carcass.record import Part
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules import carcass
from wallwright.rules.emission_cures import suits
from wallwright.rules.faced import air, damp_behind, damp_below
from wallwright.rules.registry import rule

HUMID = 2
"""Damp class of boards for humid conditions."""


def _boards(wall: Wall) -> dict[str, list[Part]]:
    """Parts of library boards by unit or panel."""
    known, found = load.boards(), dict[str, list[Part]]()
    for part in wall.carcass.parts:
        if part.board in known:
            found.setdefault(part.unit, []).append(part)
    return found


def _box(wall: Wall, ref: str) -> Box:
    things = (*wall.setout.units, *wall.setout.zones)
    return next((thing.box for thing in things if thing.ref == ref), wall.face.box)


def _reboard(wall: Wall, ref: str, board: str) -> EditCall:
    units = {unit.ref for unit in wall.setout.units}
    return edit_call("set_unit_board" if ref in units else "set_panel_board", ref=ref, board=board)


def _by_nearness(now: str, fit: list[load.Board]) -> list[load.Board]:
    """The boards that would do: the nearest in thickness first, then in stiffness."""
    row = load.boards()[now]
    return sorted(
        fit,
        key=lambda board: (abs(board.thickness - row.thickness), abs(math.log(board.modulus / row.modulus))),
    )


def _nearest(now: str, fit: list[load.Board]) -> load.Board | None:
    """Of the boards that would do: the nearest in thickness, then in stiffness."""
    return next(iter(_by_nearness(now, fit)), None)


@rule("materials.humid_board")
def humid_board(wall: Wall) -> Iterator[Finding]:
    """In humid air, before a wet room or on a floor on the ground, boards are of a class made for it."""
    told = {item.where for item in carcass.damp_board(wall)}
    behind, around = damp_behind(wall), air(wall)
    for ref, parts in _boards(wall).items():
        below = damp_below(wall, _box(wall, ref))
        why = behind or below or around
        dry = sorted({part.board for part in parts if load.kind_of(part.board).damp_class < HUMID})
        if not why or not dry or ref in told:
            continue
        fit = [board for board in load.boards().values() if load.kind_of(board.key).damp_class >= HUMID]
        pick = _nearest(dry[0], [board for board in fit if board.key.startswith(_family(dry[0]))] or fit)
        said = ", ".join(load.boards()[board].name for board in dry)
        yield Finding(
            "materials.humid_board",
            "fix" if behind or below else "consider",
            ref,
            f"{ref} has parts of {said}, made for dry rooms; here is {why}",
            f"class {min(load.kind_of(board).damp_class for board in dry):.0f}, dry",
            "class 2, humid",
            "",
            "EN 312, EN 622 and EN 636: board types for dry, humid and exterior conditions",
            "from memory",
            f"build {ref} of {pick.name if pick else 'a board for humid conditions'} and seal its edges",
            (_reboard(wall, ref, pick.key),) if pick else (),
            at=_box(wall, ref),
        )


def _family(board: str) -> str:
    return board.rstrip("0123456789").partition("_")[0]


@rule("materials.movement")
def movement(wall: Wall) -> Iterator[Finding]:
    """Boards of a panel grow with the damp weeks: the joint between them takes it."""
    joint, most = wall.limits["carcass.panel_joint"], wall.limits.value("materials.joint_most")
    climate = climate_of(wall.job, wall.limits)
    parts = _boards(wall)
    for zone in wall.setout.zones:
        boards = [part for part in parts.get(zone.ref, ()) if part.role == "panel"]
        if len(boards) < 2:
            continue
        grown = max((_grows(part, climate.swing(part.board)), part.board) for part in boards)
        if grown[0] <= joint.value:
            continue
        fit = [board for board in load.boards().values() if board.damp]
        calm = _nearest(grown[1], fit)
        wide = math.ceil(2 * grown[0]) / 2
        edit = edit_call("set_limit", name=joint.name, value=wide)
        cure = f"leave joints of {wide:g} mm, and fix the boards so that they can move"
        if wide > most and calm:
            edit, cure = _reboard(wall, zone.ref, calm.key), f"build it of {calm.name}, which moves less"
        yield finding(
            "materials.movement",
            "consider",
            zone.ref,
            f"a board of {zone.ref} grows {grown[0]:.1f} mm between {climate.low:.0%} and {climate.high:.0%} of humidity "
            f"at {climate.temperature:.0f} °C; its joint is {joint.value:g} mm: the boards push one another off",
            measured=round(grown[0], 1),
            limit=joint,
            at=zone.box,
            cure=cure,
            edits=[edit],
        )


def _grows(part: Part, swing: float) -> float:
    """The growth of a board across the joint it meets [mm]: panels stand with their length upright."""
    return growth(part.width, load.kind_of(part.board).moves_across, swing)


@rule("materials.one_sided")
def one_sided(wall: Wall) -> Iterator[Finding]:
    """A front faced on one side only does not bow visibly when the air turns damp or dry."""
    limit = wall.limits["materials.bow"]
    climate = climate_of(wall.job, wall.limits)
    for ref, parts in _boards(wall).items():
        fronts = [part for part in parts if part.role == "front" and part.finish in load.finishes()]
        bows = [(_hollow(part, climate.swing(part.board)), part) for part in fronts]
        if not bows or max(bow[0] for bow in bows) <= limit.value:
            continue
        worst, part = max(bows, key=lambda item: item[0])
        pick = _like(part.finish)
        yield finding(
            "materials.one_sided",
            "consider",
            part.id,
            f"{part.id} is faced with {load.finishes()[part.finish].name} on one side only: over {max(part.length, part.width):.0f} mm "
            f"it goes hollow by {worst:.1f} mm a metre with the seasons",
            measured=round(worst, 1),
            limit=limit,
            at=part.block.face,
            cure=f"face both sides alike, keep the front shorter, or face it with {pick.name if pick else 'a balanced face'}",
            edits=[edit_call("set_unit_finish", ref=ref, finish=pick.key)] if pick else [],
        )


def _hollow(part: Part, swing: float) -> float:
    """By how many mm a metre a one-sided front goes hollow: fitted in mean air, so half the swing bends it; 0 if balanced."""
    face, skin, board = load.face_of(part.finish), load.finishes()[part.finish], load.boards()[part.board]
    if not face.one_sided or not face.modulus or not skin.thickness:
        return 0.0
    strain = load.kind_of(part.board).moves_along / 100 * swing / 2
    length = max(part.length, part.width)
    curved = bow_curvature(skin.thickness, face.modulus, board.thickness, board.modulus, strain)
    return bow(curved, length) / length * 1000


def _like(finish: str) -> load.Finish | None:
    """A front's face of the same look that both sides can have."""
    look = load.face_of(finish).look
    fit = [
        row
        for row in load.finishes().values()
        if not load.face_of(row.key).one_sided and "front" in load.face_of(row.key).roles
    ]
    return next((row for row in fit if load.face_of(row.key).look == look), fit[0] if fit else None)


@rule("materials.emission")
def emission(wall: Wall) -> Iterator[Finding]:
    """Boards are ordered in a formaldehyde class that the law of the place asks for, and a bedroom or a child besides."""
    need, chosen = asked(wall.job, wall.limits), ordered(wall.job, wall.limits)
    if need.suits(chosen):
        return
    limit = wall.limits["materials.emission_low"]
    kinds = load.emissions()
    best = next((kind for kind in kinds.values() if need.suits(kind)), kinds["naf"])
    if best is chosen:
        return  # no class gives off less: the limit is your own
    lawful = need.lawful(chosen)
    law = f"the law of {need.rules} asks for more"
    yield finding(
        "materials.emission",
        "consider" if lawful else "fix",
        "wall",
        f"boards are ordered in class {chosen.name} ({chosen.most:g} mg/m³); {need.why if lawful else law}",
        measured=chosen.most,
        limit=limit,
        at=wall.face.box,
        cure=f"order them in class {best.name}, seal every edge and hole, and air the room after fitting",
        edits=[edit_call("set_emission", emission=best.key)],
    )


@rule("materials.emission_board")
def emission_board(wall: Wall) -> Iterator[Finding]:
    """Every board can be had in the formaldehyde class the place asks for."""
    need, limit = asked(wall.job, wall.limits), wall.limits["materials.emission_low"]
    for ref, parts in _boards(wall).items():
        poor = sorted({part.board for part in parts if not sold(part.board, need)})
        if not poor:
            continue
        kind = load.kind_of(poor[0])
        least = min(load.emissions()[key].most for key in kind.emissions)
        humid = max(load.kind_of(board).damp_class for board in poor)
        fit = [
            board
            for board in load.boards().values()
            if sold(board.key, need) and load.kind_of(board.key).damp_class >= humid
        ]
        cure, edits = suits(wall, ref, need, _by_nearness(poor[0], fit), partial(_reboard, wall, ref))
        yield finding(
            "materials.emission_board",
            "consider",
            ref,
            f"{kind.name} in {ref} is commonly sold down to {least:g} mg/m³ only; {need.why or f'the law of {need.rules} asks for less'}",
            measured=least,
            limit=limit,
            at=_box(wall, ref),
            cure=cure,
            edits=edits,
        )
