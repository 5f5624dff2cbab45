"""Rules of what backs fixings on a framed wall: noggings, boards between the studs, plywood on its face."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wallwright.carcass.let_in import WALL as LET_IN
from wallwright.core.finding import EditCall, Finding, edit_call
from wallwright.core.limit import Limit
from wallwright.core.shape import Box, Point2
from wallwright.derive import Wall
from wallwright.job.backing import backing_of
from wallwright.rules.registry import rule
from wallwright.structure.record import FixingCheck
from wallwright.structure.wall import FRAMED, plate_to_studs


@rule("structure.backer")
def backer(wall: Wall) -> Iterator[Finding]:
    """Where fixings miss the studs, the wall is backed before it is closed, and what backs it is recorded when it is in."""
    what, how = _BACKING[backing_of(wall.job)]
    reaches = plate_to_studs(_stud_spacing(wall), wall.limits.value("structure.stud_overlap"))
    for check in wall.structure.fixings:
        if check.backer is None:
            continue
        box = check.backer
        narrow = check.ref == "screen" and wall.sight.screen.plate.width < reaches
        yield Finding(
            "structure.backer",
            "consider",
            check.ref,
            f"the {check.count} fixings of {check.what} need {what}: {box.width:.0f} × {box.height:.0f} mm from "
            f"x {box.x:.0f}, z {box.z:.0f}"
            + (f"; a plate under {reaches:.0f} mm reaches two studs only by luck" if narrow else ""),
            check.count,
            "in a stud or a backer",
            "",
            "common practice: a screw in boarding alone holds nothing that a person leans on",
            "common practice",
            f"{how}; photograph it with a tape, then enter it as a backer in the survey",
            at=box,
        )


_BACKING = {
    "noggings": (
        "noggings between the studs",
        "open one strip of the boarding from stud to stud, screw a nogging skew into both studs at each row of fixings, close it",
    ),
    "boards": (
        "a backer between the studs",
        "open one strip of the boarding from stud to stud, screw 18 mm ply to the studs, close it",
    ),
    "face": (
        "plywood on the face of the studs",
        "screw 18 mm ply through the boarding into every stud that it crosses",
    ),
}
"""What backs the fixings, and how it is set."""


def _stud_spacing(wall: Wall) -> float:
    said = wall.job.survey.wall.stud_spacing
    return said.mm if said else wall.limits.value("structure.stud_spacing")


@rule("structure.backer_face")
def backer_face(wall: Wall) -> Iterator[Finding]:
    """Plywood on the face of the boarding stands proud: it lies in a panel's void, or it shows and holds what hangs off the wall."""
    for part in wall.carcass.parts:
        if part.unit != LET_IN or part.block.y >= 0:
            continue
        box = part.block.face
        if any(zone.void >= part.thickness and zone.box.holds(box) for zone in wall.setout.zones):
            continue
        yield Finding(
            "structure.backer_face",
            "fix",
            part.id,
            f"plywood {box.width:.0f} × {box.height:.0f} mm stands {part.thickness:.0f} mm proud of the wall and no panel's void hides it",
            round(part.thickness),
            "within a panel's void",
            "mm",
            "common practice: face-fixed plywood is hidden by the panel before it; else it is let in flush",
            "common practice",
            "let it in between the studs",
            (edit_call("set_backing", backing="boards"),),
            at=box,
        )


@rule("structure.screw_end")
def screw_end(wall: Wall) -> Iterator[Finding]:
    """A screw keeps off the ends and edges of the nogging, board or stud that it is in: nearer it splits it, and holds less."""
    if wall.job.survey.wall.substrate not in FRAMED or wall.job.survey.wall.backers:
        return
    thick = wall.limits.value("carcass.stud_thick")
    for check in wall.structure.fixings:
        if check.backer is None and check.thread == 0:
            continue
        near = [item for hole in check.holes if (item := _in_wood(wall, check, hole, thick)) is not None]
        if near:
            yield _splits(wall, check, min(near, key=lambda item: item.gap / item.least))


@dataclass(frozen=True, slots=True)
class _Near:
    """A screw that is too near an end or edge: how far off [mm], what it wants [mm], of what, the limit."""

    gap: float
    least: float
    what: str
    limit: Limit
    x: float
    z: float


def _in_wood(wall: Wall, check: FixingCheck, hole: Point2, thick: float) -> _Near | None:
    """What a hole comes too near of the nogging or board that is let in for it, or of the stud it falls on; None where of nothing."""
    x, z = hole
    side, end = wall.limits["structure.screw_side"], wall.limits["structure.screw_end"]
    stud = min((abs(x - at.mm) for at in wall.job.survey.wall.studs), default=math.inf)
    pieces = [part.block.face for part in wall.carcass.parts if part.unit == LET_IN]
    piece = next(
        (box for box in pieces if check.backer and box.x <= x <= box.right and box.z <= z <= box.top), None
    )
    d = check.thread
    tried: list[_Near] = []
    if piece is not None:
        off, edge = min(x - piece.x, piece.right - x), min(z - piece.z, piece.top - z)
        name = "the nogging" if d else "the board"
        tried = [
            _Near(off, end.value * d if d else check.edge, f"the end of {name}", end, x, z),
            _Near(edge, side.value * d if d else check.edge, f"the edge of {name}", side, x, z),
        ]
    elif d and stud <= thick / 2:
        middle = min(side.value * d, thick / 2)
        tried = [
            _Near(thick / 2 - stud, middle, "the side of its stud", side, x, z),
            _Near(wall.face.height - thick - z, end.value * d, "the upper end of its stud", end, x, z),
            _Near(z - thick, end.value * d, "the lower end of its stud", end, x, z),
        ]
    short = [item for item in tried if item.gap < item.least - 0.5]
    return min(short, key=lambda item: item.gap / item.least, default=None)


def _splits(wall: Wall, check: FixingCheck, near: _Near) -> Finding:
    d = check.thread
    backed, unit = check.backer is not None, next((u for u in wall.setout.units if u.ref == check.ref), None)
    cure = "move it, so that its screws come away from there"
    edits: tuple[EditCall, ...] = ()
    if backed:
        cure = (
            "back it with plywood on the face of the studs, which has no end there, or move it along the wall"
        )
        edits = (edit_call("set_backing", backing="face"),)
    elif unit is not None and unit.hung and near.what.startswith("the upper"):
        lower = math.floor(unit.box.z - (near.least - near.gap))
        cure = f"hang it {near.least - near.gap:.0f} mm lower, or screw it to the plate over the studs"
        edits = (edit_call("move_unit", ref=unit.ref, z=lower),)
    return Finding(
        "structure.screw_end", "fix", check.ref,
        f"a screw of {check.what} at x {near.x:.0f}, {near.z:.0f} above FFL, stands {max(near.gap, 0):.1f} mm from {near.what}",
        round(max(near.gap, 0.0), 1), round(near.least, 1), "mm",
        near.limit.source if d else "common practice: a screw in plywood keeps five diameters from its edge",
        near.limit.certainty if d else "common practice",
        cure, edits, at=Box(near.x - 25, near.z - 25, 50, 50),
    )  # fmt: skip
