"""The shape of what the page sends and gets. Every answer is an object; every value is bounded.

Lengths are mm from the wall's left corner and from finished floor level; money is in minor units beside the text to show.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, Field

from wallwright.studio.answers_base import Name, Position, Refused, Strict, Written
from wallwright.studio.answers_wall import (
    BoxOut,
    Certainty,
    FileTrouble,
    FindingOut,
    Group,
    JobHead,
    MoneyOut,
    Moved,
    PointOut,
    Rods,
    ScreenOut,
    SeatOut,
    UnitOut,
    WallOut,
)


class Call(Strict):
    """One edit: its name and its values."""

    edit: Name
    values: Annotated[dict[Name, Any], Field(alias="with", max_length=24)] = {}


class Change(Strict):
    """Edits to make as one step: edits by name, and marks of the rods put to a place."""

    position: Position
    """The position of the state that the page was looking at."""
    edit: Name | None = None
    values: Annotated[dict[Name, Any], Field(alias="with", max_length=24)] = {}
    also: Annotated[list[Call], Field(max_length=40)] = []
    """Further edits of the same step."""
    marks: Annotated[dict[Name, Written], Field(max_length=8)] = {}
    """Marks of the rods by name, and where each is put."""
    sure: Annotated[bool, Field(strict=True)] = False
    """The answer to a question: make it all the same."""


class Waits(BaseModel):
    """An earlier step that is not closed, and why."""

    step: str
    says: str


class StageOut(BaseModel):
    """One step of the trade's order: what is open in it, what it waits for, what of it is set on the wall, and the rooms it is worked in."""

    name: str
    must: int
    consider: int
    waits: list[Waits]
    here: str
    rooms: list[str]


class State(BaseModel):
    """The whole page: derived anew at every change."""

    job: JobHead
    position: int
    undo: str
    """What undo would take back; empty where there is nothing."""
    redo: str
    can_undo: bool
    can_redo: bool
    wall: WallOut
    screen: ScreenOut
    units: list[UnitOut]
    rods: Rods
    seats: list[SeatOut]
    points: list[PointOut]
    findings: list[FindingOut]
    groups: list[Group]
    moved: list[Moved]
    """What moved with the step that led here, besides what was asked for."""
    meanwhile: list[str]
    """What others did between the position that the change was made on and the change; it was laid over that."""
    trouble: FileTrouble | None
    """Set while the file on the disk cannot be read; the rest is the last good wall."""
    sha256: str
    """Of the job file's text."""
    gate: str
    stages: list[StageOut]
    money: MoneyOut
    whys: list[str]
    """Names that /api/why can tell of."""
    view: BoxOut
    """The part of the wall that the drawing shows."""
    svg: str


class Look(BaseModel):
    """What is drawn of the wall with a change that is not kept: those parts of the page's state, for every step of a drag."""

    screen: ScreenOut
    units: list[UnitOut]
    rods: Rods
    """Of each thing that stands otherwise than it is kept, all marks; those of units and obstacles that stay are left out."""
    points: list[PointOut]
    moved: list[Moved]
    view: BoxOut
    svg: str


class Priced(BaseModel):
    """What a change adds to the price, in minor units, negative where it takes off; and in words: `+ ₹ 2,400`."""

    difference: int
    shown: str


class Asked(BaseModel):
    """The change was not made: it looks like a slip. Send it again with sure = true to make it."""

    ask: str


class Watch(BaseModel):
    """How the job stands, in few bytes. from_file : the last step was another program's change of the file."""

    position: int
    from_file: bool
    trouble: FileTrouble | None


class Stale(Refused):
    """The job changed since the page saw it: here is how it stands."""

    state: State


class GivenOut(BaseModel):
    """One input of a computed value."""

    name: str
    value: float | str
    unit: str


class WhyOut(BaseModel):
    """The working behind one value, or a limit of the rule set."""

    name: str
    value: float | str
    unit: str
    says: str
    formula: str
    inputs: list[GivenOut]
    source: str
    certainty: Certainty
    pinned: bool


class Whys(BaseModel):
    """One working, or those below a common name."""

    whys: list[WhyOut]


class SheetOut(BaseModel):
    """A sheet of the set."""

    name: str
    title: str
    number: int


class Sheets(BaseModel):
    """All sheets, in the order of the set."""

    sheets: list[SheetOut]


class Issue(BaseModel):
    """The issue set being written: how far it is, where it goes, and what went wrong."""

    state: Literal["none", "running", "done", "failed"]
    share: float
    what: str
    folder: str
    revision: str
    files: list[str]
    error: str
