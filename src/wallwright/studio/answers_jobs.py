"""What is said about jobs: the list, new ones, the history, readings from site, studies."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, Field

from wallwright.studio.answers import Call, State
from wallwright.studio.answers_base import Key, Line, Position, Strict
from wallwright.studio.answers_wall import Moved

Short = Annotated[str, Field(max_length=64)]


class JobCard(BaseModel):
    """A job of the list. changed : seconds since 1970 · next : the one thing to do now · trouble : why it cannot be opened."""

    id: str
    title: str
    number: str
    client: str
    room: str
    revision: str
    status: str
    gate: str
    next: str
    must: int
    consider: int
    position: int
    changed: float
    archived: bool
    file: str
    trouble: str
    thumbnail: str
    """Address of its picture; it changes with the picture."""


class Jobs(BaseModel):
    """The list, the last changed first. put_away : whether there are jobs that were put away"""

    jobs: list[JobCard]
    put_away: bool


class NewJob(Strict):
    """A new wall, from the starter of its kind of room."""

    room: Literal["living", "bedroom", "studio"] = "living"
    title: Annotated[Line, Field(max_length=80)] | None = None


class Archive(Strict):
    """Put away, or bring back."""

    archived: Annotated[bool, Field(strict=True)]


class JobId(BaseModel):
    """The job that was made."""

    id: str


class MomentOut(BaseModel):
    """A state that the job was brought to.

    back : the moment before it · at : seconds since 1970 · here : the job stands at it · sha256 : of the job file's text then
    """

    number: int
    back: int | None
    says: str
    name: str
    who: str
    at: float
    here: bool
    sha256: str


class History(BaseModel):
    """Newest first. older : ask again with before = this number; none = that was all."""

    moments: list[MomentOut]
    older: int | None


class NameMoment(Strict):
    """A name for a moment; empty takes it away."""

    name: Annotated[str, Field(max_length=80, pattern=r"^[^\x00-\x1f\x7f]*$")]


class FieldChange(BaseModel):
    """One field of the job in which two moments differ."""

    field: str
    says: str
    before: str = Field(alias="from")
    after: str = Field(alias="to")


class Comparison(BaseModel):
    """Two moments: what was decided differently, what moved along, and what it does to money and findings."""

    fields: list[FieldChange]
    moved: list[Moved]
    money: str
    gone: list[str]
    """Findings of the first that the second has not."""
    come: list[str]


class Reading(Strict):
    """Something measured or seen on site.

    id : made by the phone, so that sending it twice counts once · taken : when, by the phone's clock, seconds since 1970
    """

    id: Key
    taken: Annotated[float, Field(ge=1.0e9, le=1.0e11, allow_inf_nan=False)]
    call: Call


class Readings(Strict):
    """What was taken on site since the last time there was signal."""

    readings: Annotated[list[Reading], Field(min_length=1, max_length=500)]


class ReadingOut(BaseModel):
    """What became of a reading: made = it stands; older = a later one of the same thing stands; refused = it cannot be."""

    id: str
    state: Literal["made", "older", "refused"]
    says: str


class ReadingsOut(BaseModel):
    """Each reading's fate, and the job with them in it."""

    readings: list[ReadingOut]
    state: State


class AskStudy(Strict):
    """A slow question about the job as it stands.

    options: {"of": "schemes"|"finishes", "number": 1..8} · cutting: {} · issue: {} · budget: {}
    impact: {"since": SHA-256 of the text of a moment}
    picture: {"when": "day"|"night", "light": "direct"|"traced", "seat": ref, "width", "height": 64..2000}
    """

    position: Position
    kind: Literal["options", "cutting", "picture", "issue", "budget", "impact"]
    question: Annotated[dict[Key, Short | int], Field(max_length=8)] = {}


class StudyOut(BaseModel):
    """A study: how far it is. files : of its answer, at …/studies/{id}/file/{name} · holds : the job is still the one it was asked of."""

    id: str
    kind: str
    question: dict[str, Any]
    state: Literal["queued", "running", "done", "failed", "cancelled"]
    share: float
    what: str
    error: str
    made: float
    who: str
    holds: bool
    files: list[str]


class Studies(BaseModel):
    """The studies of a job, newest first."""

    studies: list[StudyOut]


class AnswerOut(BaseModel):
    """What a study found."""

    answer: dict[str, Any]
