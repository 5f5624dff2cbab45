"""Another board, or another way to bend a lining, that suits the emission class asked for and sags no more than the board that is
there: every way is tried on the wall.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import islice

from wallwright.carcass.emission import Asked, sold
from wallwright.core.finding import EditCall, Finding, edit_call
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.places import Cure, changed, stands
from wallwright.rules.registry import RULES

TRIES = 4
"""Boards tried, the nearest first: with none of these the choice is a person's."""
BENDING = "ply_flexible"
"""The kind of board that lines a curve in layers."""
WATCHED = ("structure.shelf_sag", "materials.bend_radius")
REPORT = "or have the maker's test report for a better class"


def poor_boards(wall: Wall, ref: str, need: Asked) -> list[str]:
    """The boards of a unit or panel that are not sold in a class that suits."""
    known = load.boards()
    used = {part.board for part in wall.carcass.parts if part.unit == ref and part.board in known}
    return sorted(board for board in used if not sold(board, need))


def suits(
    wall: Wall, ref: str, need: Asked, fit: Sequence[load.Board], reboard: Callable[[str], EditCall]
) -> Cure:
    """The first way after which the unit or panel has no poor board, sags nowhere more, and bends no tighter than its board does.

    fit : boards that would do, the nearest first · reboard : the edit that builds it of one
    """
    before = _told(wall, ref)
    for way in _ways(wall, ref, need, fit, reboard):
        job = changed(wall.job, way.edits)
        after = stands(job, wall) if job else None
        if after is None or poor_boards(after, ref, need):
            continue
        if all(key in before and value >= before[key] for key, value in _told(after, ref).items()):
            return Cure(f"{way.says}, {REPORT}", way.edits)
    return Cure(
        f"no other board of the library suits here as it is: narrow or straighten {ref}, {REPORT}", ()
    )


def _ways(
    wall: Wall, ref: str, need: Asked, fit: Sequence[load.Board], reboard: Callable[[str], EditCall]
) -> Iterator[Cure]:
    poor = poor_boards(wall, ref, need)
    bent = any(load.kind_of(board).key == BENDING for board in poor)
    kerf = _kerfed(wall, ref) if bent else []
    if kerf and len(poor) == 1:
        yield Cure("line its curve with a kerfed board", tuple(kerf))
    for board in islice(fit, TRIES):
        says = f"build it of {board.name}"
        if kerf:
            yield Cure(f"{says} and line its curve with a kerfed board", (reboard(board.key), *kerf))
        else:
            yield Cure(says, (reboard(board.key),))


def _kerfed(wall: Wall, ref: str) -> list[EditCall]:
    """The edit that bends a lining by saw cuts in its back instead of in layers of bending plywood."""
    if any(unit.ref == ref for unit in wall.setout.units):
        return [edit_call("set_unit_arch", ref=ref, bend="kerf")]
    panel = next((panel for panel in wall.job.design.panels if panel.ref == ref), None)
    return [edit_call("set_panel_head", ref=ref, bend="kerf", head=panel.head or "round")] if panel else []


def _told(wall: Wall, ref: str) -> dict[tuple[str, str], float]:
    """What is told of its sag, as span over sag, and of its bends, as radius: more is better."""
    # by their names: rules enter the list in the order their files are imported
    found: list[Finding] = [item for rule in WATCHED for item in RULES[rule].find(wall)]
    return {
        (item.rule, item.where): float(item.measured)
        for item in found
        if item.where == ref or item.where.startswith((f"{ref}-", f"{ref}."))
    }
