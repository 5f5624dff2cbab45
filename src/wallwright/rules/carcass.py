"""Rules of the carcass: of sizes that can be made, carried in and lived with."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from wallwright.carcass.record import Part, UnitBox
from wallwright.core.counted import counted
from wallwright.core.finding import Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.bays import front_edit
from wallwright.rules.board_cures import board_cure
from wallwright.rules.joint_cures import beside_edge, joint_cure
from wallwright.rules.places import Cure, given_back
from wallwright.rules.registry import rule

ON_THE_WALL = frozenset(
    {"side", "top", "bottom", "division", "back", "rail", "cleat", "shelf", "plinth", "panel", "wall_shelf"}
)
"""Boards that stand at the wall, and so take up its damp."""


@rule("carcass.console_height")
def console_height(wall: Wall) -> Iterator[Finding]:
    """A wall-hung console's underside and body are of the heights the trade finds right."""
    low, high = wall.limits["carcass.underside_low"], wall.limits["rule.console_under_high"]
    for unit in wall.setout.units:
        if unit.kind != "console" or not unit.hung:
            continue
        z = unit.box.z
        if z < low.value - 0.5 or z > high.value + 0.5:
            to = low.value if z < low.value else high.value
            yield finding(
                "carcass.console_height",
                "consider",
                unit.ref,
                f"the underside of {unit.ref} is {z:.0f} mm above the floor",
                measured=round(z),
                limit=low if z < low.value else high,
                at=unit.box,
                cure=f"hang it with its underside at {to:.0f} mm",
                edits=[edit_call("move_unit", ref=unit.ref, z=round(to))],
            )


@rule("carcass.console_body")
def console_body(wall: Wall) -> Iterator[Finding]:
    """A wall-hung console's body is high enough to hold a box and low enough to look light."""
    low, high = wall.limits["rule.console_body_low"], wall.limits["rule.console_body_high"]
    for unit in wall.setout.units:
        height = unit.box.height
        if unit.kind != "console" or not unit.hung or low.value - 5 <= height <= high.value + 0.5:
            continue
        to = low.value if height < low.value else high.value
        yield finding(
            "carcass.console_body",
            "consider",
            unit.ref,
            f"the body of {unit.ref} is {height:.0f} mm high",
            measured=round(height),
            limit=low if height < low.value else high,
            at=unit.box,
            cure=f"make it {to:.0f} mm high",
            edits=[edit_call("resize_unit", ref=unit.ref, height=round(to))],
        )


@rule("carcass.console_narrow")
def console_narrow(wall: Wall) -> Iterator[Finding]:
    """The console is not narrower than the screen above it."""
    limit = wall.limits["rule.console_ratio"]
    frame = wall.sight.screen.frame
    for unit in wall.setout.units:
        if unit.kind != "console" or unit.box.width >= limit.value * frame.width:
            continue
        yield finding(
            "carcass.console_narrow",
            "consider",
            unit.ref,
            f"{unit.ref} is {unit.box.width:.0f} mm wide under a screen of {frame.width:.0f} mm",
            measured=round(unit.box.width / frame.width, 2),
            limit=limit,
            at=unit.box,
            cure="let the program choose its width and place",
            edits=given_back(unit, "width", "x"),
        )


@rule("carcass.side_gap")
def side_gap(wall: Wall) -> Iterator[Finding]:
    """A hand reaches behind the screen between it and what stands beside it."""
    limit = wall.limits["rule.side_gap"]
    frame = wall.sight.screen.frame
    for unit in wall.setout.units:
        beside = min(unit.box.top, frame.top) > max(unit.box.z, frame.z)
        if not beside or unit.box.meets(frame):
            continue
        gap = unit.box.x - frame.right if unit.box.x >= frame.right else frame.x - unit.box.right
        if gap >= limit.value - 0.5 or widest_beside(wall, unit) is not None:
            continue
        to = max(unit.box.width - (limit.value - gap), 200)
        yield finding(
            "carcass.side_gap",
            "consider",
            unit.ref,
            f"only {gap:.0f} mm between the screen and {unit.ref}",
            measured=round(gap),
            limit=limit,
            at=Box(min(unit.box.right, frame.right), frame.z, max(gap, 1), frame.height),
            cure=f"make {unit.ref} {to:.0f} mm wide, or let the program size it",
            edits=given_back(unit, "width", "x") or [edit_call("resize_unit", ref=unit.ref, width=round(to))],
        )


@rule("carcass.tower_wide")
def tower_wide(wall: Wall) -> Iterator[Finding]:
    """A tower is no wider than its place beside the screen: one that is pushes the screen off the axis of the seats."""
    limit = wall.limits["carcass.tower_to_screen"]
    for unit in wall.setout.units:
        most = widest_beside(wall, unit)
        if most is None:
            continue
        frame, narrow = wall.sight.screen.frame, wall.limits.value("carcass.tower_width_low")
        off = frame.centre[0] - wall.sight.axis
        fits = most >= narrow
        yield Finding(
            "carcass.tower_wide",
            "fix",
            unit.ref,
            f"{unit.ref} is {unit.box.width:.0f} mm wide and pushes the screen {abs(off):.0f} mm off the axis of the seats: its place "
            f"takes {max(most, 0):.0f}",
            round(unit.box.width),
            floor(max(most, 0.0)),
            "mm",
            limit.source,
            limit.certainty,
            f"make it {floor(most)} mm wide"
            if fits
            else "let the program size and place it, or stand it at the other end: its place is too narrow for a tower",
            tuple(
                [edit_call("resize_unit", ref=unit.ref, width=floor(most))]
                if fits
                else given_back(unit, "width", "x")
            ),
            at=unit.box,
        )


def widest_beside(wall: Wall, unit: UnitBox) -> float | None:
    """How wide a tower may be so that the screen hangs on the axis of the seats with room for a hand [mm]; None where it keeps to that,
    or where somebody said where the screen hangs.
    """
    frame, v = wall.sight.screen.frame, wall.limits.value
    aside = frame.centre[0] - wall.sight.axis
    if (
        unit.kind not in ("tower", "open_shelves")
        or "width" not in unit.pinned
        or wall.job.design.screen.centre_x is not None
    ):
        return None
    if min(unit.box.top, frame.top) <= max(unit.box.z, frame.z) or abs(aside) < 1:
        return None
    on_left = unit.box.centre[0] < frame.centre[0]
    gap = frame.x - unit.box.right if on_left else unit.box.x - frame.right
    if gap > v("carcass.tower_to_screen") + 1 or (aside > 0) != on_left:
        return None  # something else keeps it off
    moved, clear = abs(aside), v("carcass.tower_to_screen")
    return unit.box.width - moved - (clear - gap)


@rule("carcass.tilt_up")
def tilt_up(wall: Wall) -> Iterator[Finding]:
    """A tower made in one piece can be stood up under the ceiling."""
    limit = wall.limits["carcass.tilt_margin"]
    room = wall.face.height
    for tower in wall.structure.towers:
        if room - tower.tilt_up >= limit.value:
            continue
        unit = wall.setout.unit(tower.ref)
        upright = room - limit.value
        most = _stood_up(upright, unit.depth)
        usual = wall.limits.value("carcass.tower_depth")
        if unit.depth <= usual or ("height" in unit.pinned and most >= unit.box.height / 2):
            cure = f"make it {most} mm high with a filler above, or build it in two parts"
            edits = [edit_call("resize_unit", ref=unit.ref, height=most)]
        else:  # its depth is at fault: lying on its back edge it is longer than the room is high
            high = min(int(unit.box.height), _stood_up(upright, usual))
            low = {"height": high} if "height" in unit.pinned and high < unit.box.height else {}
            cure = f"make it {usual:.0f} mm deep: {unit.depth:.0f} mm is too deep to be stood up in this room"
            edits = [edit_call("resize_unit", ref=unit.ref, depth=round(usual), **low)]
        yield finding(
            "carcass.tilt_up",
            "fix",
            unit.ref,
            f"{unit.ref} needs {tower.tilt_up:.0f} mm to be stood up; the lowest ceiling is {room:.0f} mm",
            measured=round(room - tower.tilt_up),
            limit=limit,
            at=unit.box,
            cure=cure,
            edits=edits,
        )


def _stood_up(upright: float, depth: float) -> int:
    """The greatest height that goes up on its diagonal: √(h² + d²) ≤ upright [mm]; 0 where the depth alone is too long."""
    return int(max(upright**2 - depth**2, 0.0) ** 0.5)


@rule("carcass.floor_gap")
def floor_gap(wall: Wall) -> Iterator[Finding]:
    """The gap under a hung console takes a mop or the cleaning robot, or is closed."""
    low, high = wall.limits["rule.floor_gap_low"], wall.limits["rule.floor_gap_high"]
    brief = wall.job.brief
    robot = (
        (brief.robot_height or 0.0) + wall.limits.value("rule.robot_clear")
        if brief.floor_cleaning == "robot"
        else 0.0
    )
    for unit in wall.setout.units:
        gap = unit.box.z
        if unit.kind != "console" or not unit.hung or not (low.value <= gap <= high.value or gap < robot):
            continue
        to = max(robot, wall.limits.value("carcass.underside_low"))
        yield finding(
            "carcass.floor_gap",
            "consider",
            unit.ref,
            f"{gap:.0f} mm under {unit.ref} is too low to clean and too high to close",
            measured=round(gap),
            limit=high if gap >= robot else wall.limits["rule.robot_clear"],
            at=unit.box,
            cure=f"hang it at {to:.0f} mm",
            edits=[edit_call("move_unit", ref=unit.ref, z=round(to))],
        )


@rule("carcass.tall_door")
def tall_door(wall: Wall) -> Iterator[Finding]:
    """A door is not so tall that an ordinary board bows."""
    limit = wall.limits["rule.tall_door"]
    for bay in wall.carcass.bays:
        if bay.front not in ("shutter", "slatted", "cloth", "pull_out") or bay.box.height <= limit.value:
            continue
        yield finding(
            "carcass.tall_door",
            "consider",
            bay.ref,
            f"the door of {bay.ref} is {bay.box.height:.0f} mm tall",
            measured=round(bay.box.height),
            limit=limit,
            at=bay.box,
            cure="split it in two, stiffen it, or leave the bay open",
            edits=[front_edit(wall, bay.ref, "open")],
        )


@rule("carcass.board_size")
def board_size(wall: Wall) -> Iterator[Finding]:
    """Every part can be cut from a sheet of its board."""
    parts = {part.id: part for part in wall.carcass.parts}
    tried: dict[str, Wall | None] = {}
    for ref, why in wall.cuts.unfit:
        part = parts[ref]
        longest = (
            max(sheet[0] for sheet in load.boards()[part.board].sheets) - 2 * wall.job.design.saw.trim.mm
        )
        way = board_cure(wall, part, tried)
        yield Finding(
            "carcass.board_size",
            "fix",
            part.id,
            f"{part.name} ({part.id}): {why}",
            round(part.cut_length),
            round(longest),
            "mm",
            "the sheet sizes of the board, less the saw's trim",
            "computed",
            way.says,
            way.edits,
            at=part.block.face,
        )


@rule("carcass.damp_board")
def damp_board(wall: Wall) -> Iterator[Finding]:
    """On a damp or outside wall no board is used that swells."""
    survey = wall.job.survey.wall
    if survey.damp not in ("damp", "wet") and not (survey.outside and wall.job.survey.place.hot_humid):
        return
    said = f"{survey.damp} wall" if survey.damp in ("damp", "wet") else "outside wall in a humid climate"
    boards = load.boards()
    swells: dict[str, list[Part]] = {}
    for part in wall.carcass.parts:
        if part.role in ON_THE_WALL and part.board in boards and not boards[part.board].damp:
            swells.setdefault(part.unit, []).append(part)
    units = {unit.ref: unit.box for unit in wall.setout.units}
    for ref, parts in swells.items():
        names = ", ".join(sorted({boards[part.board].name for part in parts}))
        box = units.get(ref) or next(
            (zone.box for zone in wall.setout.zones if zone.ref == ref), wall.face.box
        )
        proof = _damp_board(parts)
        yield Finding(
            "carcass.damp_board",
            "fix",
            ref,
            f"{ref} has {counted(len(parts), 'part')} of {names} on a {said}",
            names,
            "a board that stands damp",
            "",
            "common practice: particleboard and MDF, the moisture-resistant grade too, swell on a wall that stays damp",
            "common practice",
            f"build {ref} of {boards[proof].name}, stand it off the wall and seal every edge",
            (edit_call("set_unit_board" if ref in units else "set_panel_board", ref=ref, board=proof),),
            at=box,
        )


def _damp_board(parts: list[Part]) -> str:
    """The board that stands damp and comes nearest in thickness to the thickest of these."""
    boards = load.boards()
    wanted = max(boards[part.board].thickness for part in parts)
    fit = [board for board in boards.values() if board.damp]
    return min(fit, key=lambda board: abs(board.thickness - wanted)).key


@rule("carcass.joint_near_edge")
def joint_near_edge(wall: Wall) -> Iterator[Finding]:
    """A panel joint stands on an edge or clearly away from it, never just beside it."""
    limit = wall.limits["rule.joint_near"]
    ways: dict[str, Cure] = {}
    for panel, x, gap in wall.look.joint_offsets:
        if not beside_edge(gap, limit.value):
            continue
        zone = next(zone for zone in wall.setout.zones if zone.ref == panel)
        if panel not in ways:
            ways[panel] = joint_cure(wall, zone, limit.value)
        yield finding(
            "carcass.joint_near_edge",
            "consider",
            panel,
            f"a joint of {panel} at x {x:.0f} stands {gap:.0f} mm beside an edge",
            measured=round(gap),
            limit=limit,
            at=Box(x - 10, zone.box.z, 20, zone.box.height),
            cure=ways[panel].says,
            edits=ways[panel].edits,
        )
