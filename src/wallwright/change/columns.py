"""A column in the wall: three ways to lay the wall out about it, each with the depth it leaves, its axis, its floor and its price."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from wallwright.change.verdict import Fix
from wallwright.core.finding import EditCall, edit_call
from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.edits import apply
from wallwright.job.face import obstacle_box, wall_face
from wallwright.rules.check import check

if TYPE_CHECKING:
    from wallwright.job.document import Job

USUAL_DEPTH = 350.0
"""A unit's depth where none is drawn [mm]."""


@dataclass(frozen=True, slots=True)
class Layout:
    """One way. axis : how far the screen's middle lies from the wall's middle · depth : clear depth left in front of the column,
    0 where nothing stands there · floor : floor that it takes [m²] · cost : all in, minor units · must : what must still be put
    right with it
    """

    name: Literal["shift", "wrap", "build out"]
    says: str
    axis: float
    depth: float
    floor: float
    cost: int
    must: tuple[str, ...]
    edits: tuple[EditCall, ...]


def layouts(job: Job, ref: str, known: frozenset[tuple[str, str]] = frozenset()) -> tuple[Layout, ...]:
    """Beside the column; a tower over it and one to match; the whole wall brought out to its face. Those that cannot be built at
    all are left out. known : findings (rule, where) that were there without the column: they speak against none of the three
    """
    face = wall_face(job.survey, job.rules)
    column = next(thing for thing in job.survey.obstacles if thing.ref == ref)
    box, proud = obstacle_box(column), column.projection.mm
    out: list[Layout] = []
    for name, edits, axis, depth, floor in _ways(job, box, proud, face.width, ref):
        made = _laid(job, edits, known)
        if made is not None:
            wall, must = made
            out.append(
                Layout(
                    name, _words(name, axis, depth, floor), axis, depth, floor, wall.money.total, must, edits
                )
            )
    return tuple(out)


Way = tuple[Literal["shift", "wrap", "build out"], tuple[EditCall, ...], float, float, float]


def _ways(job: Job, box: Box, proud: float, width: float, ref: str) -> Iterator[Way]:
    left = box.centre[0] < width / 2
    low, high = (box.right, width) if left else (0.0, box.x)
    middle = (low + high) / 2
    drop = tuple(edit_call("remove_unit", ref=unit.ref) for unit in job.design.units if unit.kind == "tower")
    console = next((unit for unit in job.design.units if unit.kind == "console"), None)
    centre = (edit_call("set_screen_x", centre_x=round(middle, 1)),)
    beside = (
        (edit_call("move_unit", ref=console.ref, x=round(middle - console.width.mm / 2, 1)),)
        if console and console.width
        else ()
    )
    yield "shift", (*drop, *centre, *beside), middle - width / 2, 0.0, 0.0

    over = box.right if left else width - box.x
    depth = next(
        (u.depth.mm for u in job.design.units if u.kind == "tower" and u.depth),
        max(USUAL_DEPTH, proud + 100.0),
    )
    towers = tuple(
        edit_call("add_unit", ref=name, kind="tower", side=side, x=x, width=over, depth=depth)
        for name, side, x in (("TL", "left", 0.0), ("TR", "right", width - over))
    )
    narrow = _fitted_console(console, width - 2 * over)
    on = (edit_call("set_screen_x", centre_x=width / 2),)
    yield "wrap", (*drop, *towers, *narrow, *on), 0.0, depth - proud, 0.0

    zone = edit_call(
        "add_panel",
        ref="WO",
        kind="flat",
        x=0.0,
        z=0.0,
        width=width,
        height=wall_face(job.survey, job.rules).height,
        void=proud,
    )
    panels = tuple(edit_call("remove_panel", ref=panel.ref) for panel in job.design.panels)
    gone = (edit_call("set_obstacle_state", ref=ref, state="remove"),)
    deeper = tuple(
        edit_call("resize_unit", ref=unit.ref, depth=(unit.depth.mm if unit.depth else USUAL_DEPTH) + proud)
        for unit in job.design.units
        if unit.kind in ("console", "tower", "open_shelves", "loft")
    )
    yield (
        "build out",
        (*gone, *panels, *deeper, zone, edit_call("set_screen_x", centre_x=width / 2)),
        0.0,
        0.0,
        width * proud / 1e6,
    )


def _fitted_console(console: object, room: float) -> tuple[EditCall, ...]:
    width = getattr(getattr(console, "width", None), "mm", 0.0)
    ref = getattr(console, "ref", "")
    return (edit_call("resize_unit", ref=ref, width=room),) if width > room else ()


def _laid(
    job: Job, edits: tuple[EditCall, ...], known: frozenset[tuple[str, str]]
) -> tuple[Wall, tuple[str, ...]] | None:  # fmt: skip
    try:
        for one in edits:
            job = apply(job, one.edit, dict(one.values))
        wall = derive(job)
    except ValueError:
        return None
    must = (
        item
        for item in check(wall)
        if item.severity in ("danger", "fix") and (item.rule, item.where) not in known
    )
    return wall, tuple(f"{item.where}: {item.says}" for item in must)


def _words(name: str, axis: float, depth: float, floor: float) -> str:
    match name:
        case "shift":
            return f"shift: screen and console on the free width, their middle {abs(axis):.0f} off the wall's"
        case "wrap":
            return f"wrap: a tower over the column and one to match; {depth:.0f} deep is left in front of it; the screen on the wall's middle"
        case _:
            return f"build out: the whole wall brought out to the column's face; {floor:.2f} m² of floor less"


def layout_fixes(job: Job, ref: str, known: frozenset[tuple[str, str]] = frozenset()) -> tuple[Fix, ...]:
    """The layouts as ways out, those with nothing to put right first, the cheapest of them first."""
    made = sorted(layouts(job, ref, known), key=lambda one: (bool(one.must), one.cost))
    return tuple(
        Fix(
            one.says,
            not one.must,
            one.must[0] if one.must else "nothing must be put right",
            one.cost,
            one.edits,
        )
        for one in made
    )
