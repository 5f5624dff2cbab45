"""Rules of what backs fixings on a framed wall: noggings, boards between the studs, plywood on its face."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass.let_in import WALL as LET_IN
from wallwright.carcass.let_in import backing_of
from wallwright.core.finding import Finding, edit_call
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.structure.wall import plate_to_studs


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
