"""Rules of a rented home: few holes, and nothing cut into the landlord's wall without his word in writing."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.rules.rented_cures import fewer
from wallwright.rules.rented_cures import holes as holes_in


@rule("structure.rented")
def rented(wall: Wall) -> Iterator[Finding]:
    """In a rented flat the holes are few and can be made good."""
    if wall.job.brief.tenure != "rent":
        return
    limit, counted = wall.limits["rule.holes_rented"], holes_in(wall)
    holes = sum(counted.values())
    if holes <= limit.value:
        return
    cure, edits = fewer(wall, limit.value)
    yield finding(
        "structure.rented",
        "consider",
        "wall",
        f"{holes} {'hole' if holes == 1 else 'holes'} in a rented wall: "
        + ", ".join(f"{count} {what}" for what, count in counted.items() if count),
        measured=holes,
        limit=limit,
        at=wall.face.box,
        cure=cure,
        edits=edits,
    )


@rule("structure.rented_chases")
def rented_chases(wall: Wall) -> Iterator[Finding]:
    """A landlord's wall is not chased without written consent."""
    if wall.job.brief.tenure != "rent":
        return
    limit = wall.limits["structure.chase_rented"]
    cut = [run for run in wall.services.runs if run.lies in ("chase", "unknown")]
    chased = sum(run.in_wall for run in cut) / 1000
    if chased <= limit.value:
        return
    yield finding(
        "structure.rented_chases",
        "fix",
        "wall",
        f"{chased:.1f} m of cable and conduit would be cut into a rented wall",
        measured=round(chased, 1),
        limit=limit,
        at=wall.face.box,
        cure="run the cables in surface trunking along skirting and panel edge from the sockets that are there; where the "
        "landlord agrees to chases in writing, enter the metres agreed as your own limit",
        edits=[edit_call("set_wiring", lay="surface")],
    )
