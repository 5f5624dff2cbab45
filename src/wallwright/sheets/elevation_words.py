"""What stands beside the finished elevation: units and panels in words, the legend, the notes."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from wallwright.carcass import flutes
from wallwright.carcass.cladding import face_pieces
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Block, Legend, Notes
from wallwright.sheets.figures import DATUM
from wallwright.sheets.front_signs import FRONT_WORDS
from wallwright.sheets.words import board_name, count, finish_name, unit_words

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone
    from wallwright.derive import Wall
    from wallwright.job.survey import Obstacle


def words_beside(wall: Wall) -> list[Block]:
    """Refs, finishes and the legend."""
    fronts = list(dict.fromkeys(bay.front for bay in wall.carcass.bays))
    rows = [
        ("pen:phantom", "screen (fitted later)"),
        ("pen:chain", f"datum line, FFL {DATUM:+.0f}; centre lines"),
        *([("pen:dashed", "LED strip (hidden)")] if wall.light.runs else []),
    ]
    rows += [(f"front:{front}", FRONT_WORDS.get(front, front)) for front in fronts]
    if any(zone.kind == "fluted" for zone in wall.setout.zones):
        rows.append(("hatch:fluted", "fluted panel"))
    if any(zone.kind in ("stone_veneer", "slab") for zone in wall.setout.zones):
        rows.append(("hatch:stone", "stone"))
    if any(_assumed(thing) for thing in wall.face.obstacles if thing.kind != "skirting"):
        rows.append(("hatch:assumed", "this edge is assumed, not measured: check on site"))
    return [
        Notes("Units and panels", tuple(_described(wall))),
        Legend(tuple(rows)),
        Notes("Notes", _notes(wall)),
    ]


def _described(wall: Wall) -> list[str]:
    lines: list[str] = []
    for unit in wall.setout.units:
        size = " × ".join(show_mm(v) for v in (unit.box.width, unit.box.height, unit.depth))
        how = "hung" if unit.hung else "standing" + (", fixed to the wall" if unit.anchored else "")
        lines.append(
            f"{unit.ref} {unit_words(unit.kind)} {size}, {how}; {board_name(unit.board)}; fronts {finish_name(unit.front_finish)}"
        )
    for zone in wall.setout.zones:
        lines.append(zone_words(zone))
    for run in wall.light.runs:
        lines.append(
            f"{run.ref} LED strip {run.along.replace('_', ' ')}, {show_mm(run.length)} long, {run.watts:.0f} W at {run.volts} V"
        )
    return lines + filler_notes(wall)


def zone_words(zone: PanelZone) -> str:
    """A zone in a line: what it is, how far it stands off the wall, its face, and how that is divided."""
    parts = [f"{zone.ref} {zone.kind.replace('_', ' ')} {show_mm(zone.thickness)}"]
    parts[0] += f" on void {show_mm(zone.void)}" if zone.void else " on the wall itself"
    parts.append(finish_name(zone.finish))
    if zone.flutes:
        middle = flutes.on_middle(zone.flutes)
        parts.append(f"{count(zone.flutes, 'flute')} at {zone.flute_pitch:g}, a {middle} on the middle")
    if zone.kind in ("tile", "slab", "mirror", "glass"):
        pieces = face_pieces(zone)
        sizes = Counter((round(one.width, 1), round(one.height, 1)) for one in pieces)
        said = ", ".join(f"{number} of {w:g} × {h:g}" for (w, h), number in sizes.most_common())
        parts.append(f"{count(len(pieces), 'piece')}, joints {zone.joint:g}: {said}")
    if zone.fields:
        parts.append(f"{count(len(zone.fields), 'field')}, strip {zone.strip:g}")
    if zone.arch:
        parts.append(
            f"head arched: radius {show_mm(zone.arch.radius)} from {show_mm(zone.arch.centre[1])} above FFL, "
            f"springing at {show_mm(zone.arch.springing)}"
        )
    return "; ".join(parts)


def filler_notes(wall: Wall, unit: str = "") -> list[str]:
    """Each filler in place and as it is cut: what is over is planed to the wall or ceiling on site. unit : of this one alone."""
    out: list[str] = []
    for part in wall.carcass.parts:
        if part.role == "filler" and unit in ("", part.unit):
            face = part.block.face
            out.append(
                f"{part.id} {part.name}: {show_mm(face.width)} × {show_mm(face.height)} in place, cut "
                f"{show_mm(part.width)} × {show_mm(part.length)}; scribe it to the wall and ceiling on site"
            )
    return out


def _notes(wall: Wall) -> tuple[str, ...]:
    face = wall.face
    notes = [
        "Left corner of the wall is x = 0. Figures are whole mm, rounded so that every chain closes on the overall size; "
        "a site's odd half goes into the scribe. Exact sizes of parts: cut list.",
        "Depths are from the wall's face. Bays of a console are dimensioned to the middle of its divisions.",
    ]
    if face.spread_x or face.spread_z:
        notes.append(
            f"Wall out of true: widths differ by {show_mm(face.spread_x)}, heights by {show_mm(face.spread_z)}. "
            "Drawn to the smallest; scribe the rest."
        )
    if face.assumed:
        readings = count(len(face.assumed), "wall reading is", "wall readings are")
        notes.append(f"{readings} assumed, not measured: measure before cutting.")
    return tuple(notes)


def _assumed(thing: Obstacle) -> bool:
    return any(not length.taped for length in (thing.x, thing.z, thing.width, thing.height))
