"""What the page's forms, things and pictures are made of. The page knows no field by name: it shows what it is told here."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, Field

from wallwright.studio.answers_wall import BoxOut, Mark

Input = Literal["length", "number", "whole", "yes_no", "choice", "text", "colour", "words", "lengths", "rows"]
Part = Literal["job", "survey", "brief", "design", "money", "progress"]


class Choice(BaseModel):
    """One of the values that a field may have."""

    value: str | int
    says: str


class Column(BaseModel):
    """One column of a field that is a list of small things."""

    name: str
    says: str
    input: Input
    choices: list[Choice]
    needed: bool


class FieldOut(BaseModel):
    """One field of a form and the edit that sets it.

    value : as it stands, as written; none = automatic · auto : what the program derived [mm] · state : of a surveyed length ·
    path : for its state and its release · release : it can be given back to the program · key : the edit's name for it ·
    values : what goes along with the edit
    """

    name: str
    says: str
    note: str
    input: Input
    choices: list[Choice]
    columns: list[Column]
    value: Any
    mm: float | None
    auto: float | None
    state: Literal["assumed", "photo", "measured", "verified"] | None
    path: str
    release: bool
    edit: str
    key: str
    values: dict[str, Any] = Field(alias="with")
    needed: bool
    why: str


class Action(BaseModel):
    """An edit with values of its own that waits for a press: add, remove."""

    edit: str
    says: str
    values: dict[str, Any] = Field(alias="with")
    fields: list[FieldOut]


class Form(BaseModel):
    """All that can be set of one thing. id : of the thing on the wall, where it is there."""

    id: str
    part: Part
    kind: str
    title: str
    fields: list[FieldOut]
    actions: list[Action]


class Forms(BaseModel):
    """Forms in the order of the trade."""

    forms: list[Form]


class Spot(BaseModel):
    """Another place that a thing may be laid at, and the values of its edit that lay it there."""

    says: str
    box: BoxOut
    values: dict[str, Any] = Field(alias="with")


class Move(BaseModel):
    """How a thing is put elsewhere: the edit, which of its values is along the wall and which in height (or away from it), and
    what those are now [mm]; "" = it does not go that way.

    inward : the value grows as it is drawn in from the edge it lies behind · deep : that edge is in front, so that up is back to
    the wall · most : the furthest in that there is · spots : other places it snaps to
    """

    edit: str
    values: dict[str, Any] = Field(alias="with")
    across: str
    up: str
    at_across: float
    at_up: float
    inward: bool
    deep: bool
    most: float | None
    spots: list[Spot]


class Thing(BaseModel):
    """Something that can be chosen: on the elevation, or in plan (z is then the distance from the wall).

    end : of a bay that has another beyond it, the mark of the board between them
    """

    ref: str
    kind: str
    says: str
    box: BoxOut
    assumed: bool
    move: Move | None
    end: Mark | None


class Things(BaseModel):
    """What lies on the wall from back to front, and the seats in plan."""

    wall: list[Thing]
    plan: list[Thing]
    room_depth: float


class Hour(BaseModel):
    """When and how much the sun or a window is mirrored, in words."""

    says: list[str]
