"""What is said about changes and the site: accepting or refusing a change, what was found, and the answers to it."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, Field

from wallwright.job.survey import ObstacleKind
from wallwright.studio.answers import Call
from wallwright.studio.answers_base import Key, Line, Position, Strict, Written

Day = Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$", max_length=10)]
Reason = Annotated[str, Field(max_length=380, pattern=r"^[^\x00-\x1f\x7f]*$")]
Study = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$", max_length=32)]


class Decide(Strict):
    """A change is accepted or refused, just as the study of what it touches showed it. by : who decides · on : the day of it"""

    position: Position
    study: Study
    by: Line
    on: Day
    reason: Reason = ""


class FoundBoxIn(Strict):
    """A box in the wall: its middle from the left corner and above the floor; sunk : below the finished face, negative = proud."""

    ref: Key
    x: Written
    z: Written
    sunk: Written | None = None


class FoundPlaceIn(Strict):
    """How far the wall stands out at a place of the grid, against one plumb plane."""

    x: Written
    z: Written
    out: Written


class FoundReadingIn(Strict):
    """A width at a height, or a height at a distance from the left corner."""

    at: Written
    value: Written


class FoundThingIn(Strict):
    """A thing on the wall: what differs from the survey; one that the survey has not needs its kind and sizes."""

    ref: Key
    kind: ObstacleKind | None = None
    x: Written | None = None
    z: Written | None = None
    width: Written | None = None
    height: Written | None = None
    projection: Written | None = None
    stays: Annotated[bool, Field(strict=True)] | None = None


class FoundSeatIn(Strict):
    """A seat as it was delivered."""

    ref: Key
    eye_height: Written | None = None
    distance: Written | None = None


class FoundIn(Strict):
    """What was found on a visit: sizes as they are, by the refs of the job."""

    by: Line | None = None
    date: Day | None = None
    boxes: Annotated[list[FoundBoxIn], Field(max_length=200)] = []
    plumb: Annotated[list[FoundPlaceIn], Field(max_length=200)] = []
    out_of_plumb: Written | None = None
    widths: Annotated[list[FoundReadingIn], Field(max_length=40)] = []
    heights: Annotated[list[FoundReadingIn], Field(max_length=40)] = []
    ceiling: Written | None = None
    things: Annotated[list[FoundThingIn], Field(max_length=100)] = []
    seats: Annotated[list[FoundSeatIn], Field(max_length=40)] = []


class TakeFound(Strict):
    """What was found is written into the job: all of it that is accepted or adjusted."""

    position: Position
    found: FoundIn


class NumberOut(BaseModel):
    """A new number for a trade."""

    trade: str
    ref: str
    says: str
    value: float
    unit: str


class FixOut(BaseModel):
    """A way out. holds : by the rules; why : the reason either way · edits : what it would change"""

    says: str
    holds: bool
    why: str
    edits: list[Call]


class VerdictOut(BaseModel):
    """The answer to one thing: accept, adjust, stop, or tape: a photo cannot tell. off, tolerance : how far it is off, and may be [mm]"""

    ref: str
    what: str
    answer: str
    says: str
    off: float
    tolerance: float
    source: str
    ask: str
    numbers: list[NumberOut]
    fixes: list[FixOut]


class FoundOut(BaseModel):
    """The answers, the gravest first. answer : the gravest · takes : whether anything can be written into the job"""

    answer: str
    takes: bool
    verdicts: list[VerdictOut]
