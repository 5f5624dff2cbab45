"""The boards between the bays of a unit, to be dragged: one moves, the others stay where they are."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall
from wallwright.job.problem import fail
from wallwright.rules.bays import bays_of
from wallwright.studio.answers_wall import Mark

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox
    from wallwright.job.design import Unit

LEAST = 60.0
"""A bay is not dragged smaller than this [mm]: a hand's breadth. Source: our own choice."""


def divisions(wall: Wall) -> Iterator[Mark]:
    """The end of every bay but a unit's last: its right side, or of bays one above the other its top."""
    for unit in wall.job.design.units:
        for bay, beyond in pairwise(_bays(wall, unit)):
            up = _above(bay, beyond)
            end, given = ("top", bay.box.top) if up else ("right", bay.box.right)
            own = f"design.units.{unit.ref}.bays"
            yield Mark(
                name=f"{bay.ref}.{end}", of=bay.ref, says=f"{bay.ref} {'top' if up else 'right side'}", at=round(given, 2),
                kind="decided", editable=True, standing="pinned" if unit.bays else "automatic", follows="", assumed=False,
                release=[own] if unit.bays else [], why="",
            )  # fmt: skip


def division_edits(wall: Wall, bay: str, mm: float) -> list[EditCall]:
    """The edit that puts the end of a bay there. JobError where it would leave a bay too small to use."""
    ref, _, number = bay.rpartition(".")
    unit = next(unit for unit in wall.job.design.units if unit.ref == ref)
    there, at = _bays(wall, unit), int(number) - 1
    one, beyond = there[at], there[at + 1]
    up = _above(one, beyond)
    size = mm - (one.box.z if up else one.box.x)
    both = _size(one, up) + _size(beyond, up)
    if not LEAST <= size <= both - LEAST:
        says = f"leaves a bay of {min(size, both - size):.0f} mm; at least {LEAST:g} mm must be left on each side"
        raise fail(f"marks.{bay}", round(mm, 1), says, "marks")
    bays = bays_of(wall, ref)
    others_share = any("width" not in item for i, item in enumerate(bays) if i not in (at, at + 1))
    bays[at]["width"] = _tidy(size)
    if others_share:  # what is left of the unit is theirs: these two take no more of it than before
        bays[at + 1]["width"] = _tidy(both - size)
    else:
        bays[at + 1].pop("width", None)
    return [edit_call("set_unit_bays", ref=ref, bays=bays)]


def _bays(wall: Wall, unit: Unit) -> list[BayBox]:
    return [bay for bay in wall.carcass.bays if bay.unit == unit.ref]


def _above(bay: BayBox, beyond: BayBox) -> bool:
    """Whether the next bay lies above this one and not beside it."""
    return beyond.box.z >= bay.box.top


def _size(bay: BayBox, up: bool) -> float:
    return bay.box.height if up else bay.box.width


def _tidy(mm: float) -> float:
    """To a tenth of a millimetre."""
    return round(mm, 1)
