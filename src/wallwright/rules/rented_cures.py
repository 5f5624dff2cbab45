"""What makes fewer holes in a rented wall: every way is tried on the wall, and its number of holes said."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall
from wallwright.rules.places import Cure, changed, stands
from wallwright.services.runs import boxes_on_surface

AGREE = "agree what is left with the landlord in writing and enter the number agreed as your own limit"


def holes(wall: Wall) -> dict[str, int]:
    """Holes in the wall, by what they are for."""
    boxes = len(wall.services.points)
    return {
        "fixings": sum(check.count for check in wall.structure.fixings),
        "batten screws": sum(len(row.holes) for row in wall.structure.batten_rows),
        # a box on the wall hangs by two screws, one let in is one hole
        **({"screws of boxes": 2 * boxes} if boxes_on_surface(wall.job) else {"boxes let in": boxes}),
    }


def fewer(wall: Wall, most: float) -> Cure:
    """The ways that leave fewer holes, each with what it leaves; as edits where they leave no more than `most`."""
    now, said = sum(holes(wall).values()), list[str]()
    ways = list(_ways(wall))
    both = [Cure(f"{a.says} and {b.says}", (*a.edits, *b.edits)) for a, b in combinations(ways, 2)]
    for way in (*ways, *both):
        job = changed(wall.job, way.edits)
        after = stands(job, wall) if job else None
        if after is None or (left := sum(holes(after).values())) >= now:
            continue
        if left <= most:
            return Cure(f"{way.says}: {left} holes are left", way.edits)
        if way in ways:
            said.append(f"{way.says} ({left} are left)")
    said.append("use the sockets and data points that are there, each new box is a hole or two")
    return Cure(f"{', '.join(said)}; {AGREE}", ())


def _ways(wall: Wall) -> Iterator[Cure]:
    hung = [unit.ref for unit in wall.setout.units if unit.hung and unit.kind == "console"]
    if hung:
        edits: list[EditCall] = [edit_call("set_unit_hung", ref=ref, hung=False) for ref in hung]
        yield Cure("stand the console on the floor", tuple(edits))
    panels = [zone.ref for zone in wall.setout.zones]
    if panels:
        what = "panel" if len(panels) == 1 else "panels"
        yield Cure(f"leave the {what} off", tuple(edit_call("remove_panel", ref=ref) for ref in panels))
