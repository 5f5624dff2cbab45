"""What is lost with a thing that was already bought or made: its share of the lines of the bill it is in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.change.state import at_least
from wallwright.job.progress import State

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall

_MAKING = ("labour_carcass", "labour_drawer", "labour_door", "labour_panel", "edge_")
"""Lines that the workshop earns on every part it makes, shared out by area."""
_FIXING = ("labour_hanging", "anchor", "labour_backer")


def part_worth(wall: Wall, part: Part, state: State) -> int:
    """What went into a part by now, in minor units before overhead and margin: board when ordered, work when cut, fixing when set."""
    if not at_least(state, "ordered"):
        return 0
    area = {one.id: one.length * one.width for one in wall.carcass.parts}
    worth = _share(wall, part, area, ("board_", "batten", "nogging", "moulding"))
    if at_least(state, "cut"):
        worth += making(wall, part) + _share(wall, part, area, ("finish_",))
    if at_least(state, "set"):
        worth += fixing(wall, part)
    return round(worth)


def making(wall: Wall, part: Part) -> float:
    """A part's share of cutting, edging and assembling, by its area: what working it again costs [minor units]."""
    area = {one.id: one.length * one.width for one in wall.carcass.parts}
    share = area[part.id] / (sum(area.values()) or 1.0)
    return sum(line.amount for line in wall.money.lines if line.ref.startswith(_MAKING)) * share


def fixing(wall: Wall, part: Part) -> float:
    """A part's share of hanging and fixing, by its area [minor units]."""
    area = {one.id: one.length * one.width for one in wall.carcass.parts}
    share = area[part.id] / (sum(area.values()) or 1.0)
    return sum(line.amount for line in wall.money.lines if line.ref.startswith(_FIXING)) * share


def _share(wall: Wall, part: Part, area: dict[str, float], starts: tuple[str, ...]) -> float:
    """The part's share, by area, of the lines that name it and begin so."""
    worth = 0.0
    for line in wall.money.lines:
        if line.ref.startswith(starts) and part.id in line.of:
            whole = sum(area[ref] for ref in line.of if ref in area)
            worth += line.amount * area[part.id] / whole if whole else 0.0
    return worth


def point_worth(wall: Wall, ref: str) -> int:
    """What went into a box that is set: its outlet, and its share of chase, conduit and making good by the length of its runs."""
    worth = 0.0
    for line in wall.money.lines:
        if line.ref.startswith("point_") and ref in line.of and line.quantity:
            worth += line.rate
    lengths = {run.ref: run.length for run in wall.services.runs}
    mine = {run.ref for run in wall.services.runs if ref in (run.start, run.end)}
    for line in wall.money.lines:
        if line.trade not in ("electrical", "plaster") or not mine & set(line.of):
            continue
        if line.ref.startswith(("chase_", "conduit_", "make_good")):
            whole = sum(lengths.get(one, 0.0) for one in line.of)
            own = (
                sum(lengths[one] for one in mine if one in line.of) / 2
            )  # its half of each: the other end stays
            worth += line.amount * own / whole if whole else 0.0
    return round(worth)


def all_in(wall: Wall, direct: float) -> int:
    """A direct amount with its overhead, margin, reserve and tax, in proportion [minor units]."""
    return round(direct * wall.money.total / wall.money.direct) if wall.money.direct else round(direct)
