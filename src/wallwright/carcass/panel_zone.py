"""Panelled zones set out: outline behind the screen, whole flutes, upright joints symmetric about the middle."""

from __future__ import annotations

import math

from wallwright.carcass import flutes, room, stock
from wallwright.carcass.record import PanelZone, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Given, Why
from wallwright.job.design import Panel
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.library import load

BOARDS = {"flat": "mdf12", "fluted": "mdf18", "stone_veneer": "mdf12"}
FINISHES = {"flat": "laminate_warm_grey", "fluted": "sprayed_neutral", "stone_veneer": "stone_veneer_white"}
LEAST = 50.0
"""The smallest panel worth the name [mm]."""
MOST_PITCH = 200.0
"""Wider apart than this [mm] they are separate boards, not flutes."""
MEASURES = ("x", "z", "width", "height", "board", "finish", "void", "flute_pitch")


def set_out(  # noqa: PLR0913
    panel: Panel, index: int, job: Job, face: Face, frame: Box, units: tuple[UnitBox, ...], hangs: list[Box],
    limits: Limits, whys: list[Why],
) -> PanelZone:  # fmt: skip
    """One zone. Raises ValueError, naming the field, for an unknown board or finish and for a zone too small to be made."""
    board_key = stock.known_board(panel.board or BOARDS[panel.kind], f"design.panels.{index}.board")
    finish_key = stock.known_finish(
        panel.finish or job.design.finishes.panel or FINISHES[panel.kind], f"design.panels.{index}.finish"
    )
    board, finish = load.boards()[board_key], load.finishes()[finish_key]
    if panel.flute_pitch and panel.flute_pitch.mm > MOST_PITCH:
        raise ValueError(
            f"design.panels.{index}.flute_pitch: {panel.flute_pitch.mm:g} mm is no flute; use at most {MOST_PITCH:g} mm"
        )
    left, right = _clip(panel, frame, face, units, limits)
    sheet = stock.sheet_size(board_key, job.design.saw.trim.mm)[1]
    pitch, count, width = _flutes(panel, right - left, sheet, limits)
    x = panel.x.mm if panel.x else (left + right - width) / 2
    z = panel.z.mm if panel.z else _foot(x, x + width, frame, face, units)
    top = room.underside(face.height, x, x + width, hangs)
    height = panel.height.mm if panel.height else max(top - z, 1.0)
    box = Box(x, z, width, height)
    longest = limits.value("carcass.longest_unit")
    for name, size in (("width", width), ("height", height)):
        if size > longest:
            raise ValueError(
                f"design.panels.{index}.{name}: {size:.0f} mm is more than anybody builds; give at most {longest:.0f} mm"
            )
    if min(width, height) < LEAST or (panel.kind == "fluted" and not count):
        raise ValueError(
            f"design.panels.{index}: a {panel.kind} panel of {width:.0f} × {height:.0f} mm cannot be made; give it at least "
            f"{LEAST:.0f} mm each way" + (" and more than one flute" if panel.kind == "fluted" else "")
        )
    share = limits.value("carcass.flute_rib")
    joints = upright_joints(box, sheet, count, pitch, pitch * share)
    groove = board.density / 1000 * limits.value("carcass.flute_depth") * (1 - share) if count else 0.0
    zone = PanelZone(
        ref=panel.ref,
        kind=panel.kind,
        box=box,
        board=board_key,
        finish=finish_key,
        thickness=board.thickness + finish.thickness,
        void=panel.void.mm if panel.void is not None else limits.value("carcass.panel_void"),
        joints=joints,
        flute_pitch=pitch,
        flutes=count,
        mass_per_m2=board.thickness * board.density / 1000 + finish.mass - groove,
        pinned=frozenset(name for name in MEASURES if getattr(panel, name) is not None),
    )
    whys.extend(_whys(panel, zone, sheet, limits))
    return zone


def _clip(
    panel: Panel, frame: Box, face: Face, units: tuple[UnitBox, ...], limits: Limits
) -> tuple[float, float]:
    """The stretch a zone may take: the frame and a margin each side, alike on both sides, between towers and obstacles."""
    middle = frame.centre[0]
    towers = [unit.box for unit in units if unit.kind == "tower"]
    low, high = room.free_span(0.0, face.width, frame.z, frame.top, middle, towers, 0.0)
    low, high = room.free_span(
        low,
        high,
        frame.z,
        frame.top,
        middle,
        room.standing(face, limits),
        limits.value("carcass.obstacle_gap"),
    )
    half = min(frame.width / 2 + limits.value("carcass.panel_margin"), middle - low, high - middle)
    half = max(half, 50.0)
    if panel.width:
        left = panel.x.mm if panel.x else middle - panel.width.mm / 2
        return left, left + panel.width.mm
    if panel.x:
        return panel.x.mm, max(
            panel.x.mm + 1.0, min(high, 2 * middle - panel.x.mm if panel.x.mm < middle else high)
        )
    return middle - half, middle + half


def _flutes(panel: Panel, room_there: float, sheet: float, limits: Limits) -> tuple[float, int, float]:
    """Pitch, number of flutes and width: the field closes on a whole rib wherever one of pitch and width is free.

    Where a joint comes on the axis the number is odd, so that a groove stands there.
    """
    if panel.kind != "fluted":
        return 0.0, 0, room_there
    share = limits.value("carcass.flute_rib")
    usual = limits.value("carcass.flute_pitch")
    odd = math.ceil(room_there / (sheet - usual)) % 2 == 0
    if panel.width and not panel.flute_pitch:
        count, pitch = flutes.pitch_for(room_there, usual, share)
        if odd and count % 2 == 0:
            count, pitch = count + 1, room_there / (count + 1 + share)
        return pitch, count, room_there
    pitch = panel.flute_pitch.mm if panel.flute_pitch else usual
    count = flutes.flutes_within(room_there, pitch, pitch * share)
    if panel.width:
        return pitch, count, room_there
    count -= 1 if odd and count % 2 == 0 and count > 1 else 0
    return pitch, count, flutes.field_width(count, pitch, pitch * share)


def _foot(left: float, right: float, frame: Box, face: Face, units: tuple[UnitBox, ...]) -> float:
    """Where a zone begins: on the console beneath the screen, else on the skirting, else on the floor."""
    tops = [
        unit.box.top for unit in units
        if unit.kind == "console" and unit.box.x < right and left < unit.box.right and unit.box.top <= frame.z
    ]  # fmt: skip
    if tops:
        return max(tops)
    return max(
        (thing.z.mm + thing.height.mm for thing in face.obstacles if thing.kind == "skirting"), default=0.0
    )


def upright_joints(box: Box, sheet: float, count: int, pitch: float, rib: float) -> tuple[float, ...]:
    """X of each upright joint: the fewest equal pieces that the sheet gives, so alike on both sides of the middle.

    In a fluted field each joint moves into the nearest groove; those right of the middle mirror those left of it.
    """
    pieces = max(1, math.ceil((box.width + 1e-9) / (sheet - pitch if count else sheet)))
    even = [box.width * k / pieces for k in range(1, pieces)]
    if not count:
        return tuple(box.x + at for at in even)
    left = [flutes.nearest_groove(at, count, pitch, rib) for at in even if at < box.width / 2 - 1e-6]
    middle = [flutes.nearest_groove(box.width / 2, count, pitch, rib)] if pieces % 2 == 0 else []
    field = flutes.field_width(count, pitch, rib)
    return tuple(box.x + at for at in (*left, *middle, *(field - at for at in reversed(left))))


def _whys(panel: Panel, zone: PanelZone, sheet: float, limits: Limits) -> list[Why]:
    says = {
        "x": "Alike on both sides of the screen's middle.",
        "z": "It begins on the console, or on the skirting or floor where there is none.",
        "width": "The screen's frame and a margin each side, between the towers; a fluted field in whole flutes.",
        "height": "Up to the ceiling or to the beam.",
    }
    box = zone.box
    out = [
        Why(
            f"panel {zone.ref}.{name}", value, "mm", "Pinned by the designer." if name in zone.pinned else says[name],
            "", (), "the design" if name in zone.pinned else "plane geometry of screen, units and wall", "derived",
            name in zone.pinned,
        )
        for name, value in (("x", box.x), ("z", box.z), ("width", box.width), ("height", box.height))
    ]  # fmt: skip
    out.append(
        Why(f"panel {zone.ref}.build_up", zone.build_up, "mm", "Battens, board and finish from the wall's face.",
            "void + board + finish", (Given("void", zone.void, "mm"), Given("board and finish", zone.thickness, "mm")),
            "plane geometry", "computed")
    )  # fmt: skip
    out.append(
        Why(f"panel {zone.ref}.joints", len(zone.joints), "joints", "The fewest equal pieces that a trimmed sheet gives.",
            "pieces = ⌈width / sheet⌉", (Given("width", box.width, "mm"), Given("trimmed sheet", sheet, "mm")),
            "plane geometry", "computed")
    )  # fmt: skip
    if zone.flutes:
        rib = zone.flute_pitch * limits.value("carcass.flute_rib")
        out.append(
            Why(f"panel {zone.ref}.flutes", zone.flutes, "flutes", "Whole flutes with a whole rib at each end.",
                "width = n·pitch + rib",
                (Given("pitch", zone.flute_pitch, "mm"), Given("rib", rib, "mm"), Given("width", box.width, "mm")),
                "plane geometry", "computed")
        )  # fmt: skip
    return out
