"""Edits of the joinery: cabinets, shelves, niches and desks, their bays, boards and fixing."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal

from pydantic import Field

from wallwright.job.design import Bay, FrontKind, Opening, Unit, UnitKind
from wallwright.job.document import Job
from wallwright.job.edit import add, change_in, edit, place_of, remove
from wallwright.job.fields import BoardName, Clear, Count, FinishName, NotNegative, Offset, Ref, Size
from wallwright.job.path import put
from wallwright.job.problem import fail

UNITS = "design.units"
BayNumber = Annotated[int, Field(ge=1, le=100)]
"""Counted from 1, left to right, as in `C1.1`."""


@edit
def add_unit(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: UnitKind,
    side: Literal["centre", "left", "right"] = "centre",
    x: Offset | None = None,
    z: Clear | None = None,
    width: Size | None = None,
    height: Size | None = None,
    depth: Size | None = None,
    hung: bool | None = None,
    bays: tuple[Bay, ...] = (),
    board: BoardName | None = None,
    finish: FinishName | None = None,
    load: NotNegative | None = None,
) -> Job:
    """Add a unit: a console, tower, loft, bookcase, shelf, picture ledge, niche or desk."""
    return add(job, UNITS, Unit(ref, kind, side, x, z, width, height, depth, hung, bays, board, finish, load))


@edit
def remove_unit(job: Job, ref: Ref) -> Job:
    """Take a unit out; a light that belonged to it goes to the first that fits."""
    return unkept(unlit(remove(job, UNITS, ref), ref), ref)


def unlit(job: Job, ref: str) -> Job:
    """The job with no light bound to this ref any more."""
    for i, light in enumerate(job.design.lights):
        if light.of == ref:
            job = put(job, ("design", "lights", i, "of"), None)
    return job


def unkept(job: Job, ref: str) -> Job:
    """The job with this ref no longer kept from swaps: what is gone cannot be kept."""
    budget = job.brief.budget
    if budget is None or ref not in budget.keep:
        return job
    return put(job, ("brief", "budget", "keep"), tuple(name for name in budget.keep if name != ref))


@edit
def move_unit(job: Job, ref: Ref, x: Offset | None = None, z: Clear | None = None) -> Job:
    """Move a unit along the wall or in height."""
    return change_in(job, UNITS, ref, x=x, z=z)


@edit
def resize_unit(
    job: Job, ref: Ref, width: Size | None = None, height: Size | None = None, depth: Size | None = None
) -> Job:
    """Set a unit's width, height or depth."""
    return change_in(job, UNITS, ref, width=width, height=height, depth=depth)


@edit
def set_unit_side(job: Job, ref: Ref, side: Literal["centre", "left", "right"]) -> Job:
    """Choose where a unit stands when its place is automatic."""
    return change_in(job, UNITS, ref, side=side)


@edit
def set_unit_hung(job: Job, ref: Ref, hung: bool) -> Job:
    """Hang a unit on the wall, or stand it on the floor."""
    return change_in(job, UNITS, ref, hung=hung)


@edit
def anchor_unit(job: Job, ref: Ref, anchored: bool = True) -> Job:
    """Fix a unit to the wall near its top."""
    return change_in(job, UNITS, ref, anchored=anchored)


@edit
def set_unit_board(job: Job, ref: Ref, board: BoardName) -> Job:
    """Choose the board of a unit's carcass."""
    return change_in(job, UNITS, ref, board=board)


@edit
def set_unit_finish(job: Job, ref: Ref, finish: FinishName) -> Job:
    """Choose the finish of a unit's fronts."""
    return change_in(job, UNITS, ref, front_finish=finish)


@edit
def set_unit_opening(job: Job, ref: Ref, opening: Opening) -> Job:
    """Choose whether a unit's fronts are pushed open, have handles, or a gap for the fingers over them."""
    return change_in(job, UNITS, ref, opening=opening)


@edit
def set_unit_base(job: Job, ref: Ref, base: Literal["plinth", "legs"]) -> Job:
    """Choose what a standing unit stands on."""
    return change_in(job, UNITS, ref, base=base)


@edit
def set_unit_fronts(job: Job, ref: Ref, fronts: Literal["overlay", "inset"]) -> Job:
    """Choose whether a unit's fronts lie over its boards' edges or stand between them."""
    return change_in(job, UNITS, ref, fronts=fronts)


@edit
def set_unit_back(job: Job, ref: Ref, back: bool) -> Job:
    """Close a unit behind, or leave it open to the wall."""
    return change_in(job, UNITS, ref, back=back)


@edit
def set_unit_skirting(job: Job, ref: Ref, skirting: Literal["cut", "notch"]) -> Job:
    """Choose whether the skirting is cut out for a standing unit, or the unit notched over it."""
    return change_in(job, UNITS, ref, skirting=skirting)


@edit
def set_shelf_build(
    job: Job, ref: Ref, build: Literal["plain", "lipped", "doubled", "torsion_box"] | None = None, lip: Clear | None = None
) -> Job:  # fmt: skip
    """Choose what a unit's shelves are made of, and the height of their lip, or of a ledge's strip."""
    return change_in(job, UNITS, ref, shelf_build=build, lip=lip)


@edit
def set_unit_arch(
    job: Job, ref: Ref, rise: Size | None = None, bend: Literal["kerf", "flexible"] | None = None
) -> Job:  # fmt: skip
    """Set the rise of an arched niche, and how its edge is bent."""
    return change_in(job, UNITS, ref, arch_rise=rise, bend=bend)


@edit
def set_unit_load(job: Job, ref: Ref, load: NotNegative) -> Job:
    """Set the load a unit's shelves must carry, in kg per metre."""
    return change_in(job, UNITS, ref, load=load)


@edit
def set_unit_bays(job: Job, ref: Ref, bays: tuple[Bay, ...]) -> Job:
    """Divide a unit into bays; an empty list makes them automatic."""
    return put(job, ("design", "units", place_of(job, UNITS, ref), "bays"), bays)


@edit
def set_bay_front(job: Job, ref: Ref, bay: BayNumber, front: FrontKind) -> Job:
    """Choose the front of one bay."""
    return _with_bay(job, ref, bay, front=front)


@edit
def set_bay_hinge(job: Job, ref: Ref, bay: BayNumber, hinged: Literal["left", "right"]) -> Job:
    """Choose on which side the door of one bay turns."""
    return _with_bay(job, ref, bay, hinged=hinged)


@edit
def set_bay_vents(job: Job, ref: Ref, bay: BayNumber, vents: bool) -> Job:
    """Choose whether air openings may be cut for one bay: where its boxes would get too warm, or never."""
    return _with_bay(job, ref, bay, vents=vents)


@edit
def set_bay(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    bay: BayNumber,
    front: FrontKind | None = None,
    width: Size | None = None,
    drawers: Count | None = None,
    shelves: Count | None = None,
) -> Job:
    """Change one bay: its front, width, drawers or shelves."""
    return _with_bay(job, ref, bay, front=front, width=width, drawers=drawers, shelves=shelves)


def _with_bay(job: Job, ref: str, bay: int, **values: object) -> Job:
    at = place_of(job, UNITS, ref)
    bays = job.design.units[at].bays
    if not bays:
        raise fail("bay", bay, f"the bays of {ref} are automatic; divide it with set_unit_bays first")
    if bay > len(bays):
        raise fail("bay", bay, f"{ref} has bays 1 to {len(bays)}")
    given = {name: value for name, value in values.items() if value is not None}
    if not given:
        raise fail("values", None, f"nothing to change: give at least one of {', '.join(values)}")
    return put(job, ("design", "units", at, "bays", bay - 1), replace(bays[bay - 1], **given))
