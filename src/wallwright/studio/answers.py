"""The shape of what the page sends and gets. Every answer is an object; every value is bounded.

Lengths are mm from the wall's left corner and from finished floor level; money is in minor units beside the text to show.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

Severity = Literal["danger", "fix", "consider", "note"]
Certainty = Literal["published", "computed", "derived", "common practice", "from memory", "your rule set"]


def _not_bool(value: Any) -> Any:
    if isinstance(value, bool):
        raise ValueError("true and false are no length")
    return value


def _whole(value: Any) -> Any:
    if isinstance(value, (bool, str)):
        raise ValueError("must be a whole number")
    return value


Name = Annotated[str, Field(min_length=1, max_length=64)]
Position = Annotated[int, Field(ge=0, le=2**31), BeforeValidator(_whole)]
Written = Annotated[
    Annotated[float, Field(ge=-100_000, le=100_000, allow_inf_nan=False)]
    | Annotated[str, Field(min_length=1, max_length=60)],
    BeforeValidator(_not_bool),
]
"""A length: mm as a number, or as written (4 ft 2, 1.2 m)."""


class Strict(BaseModel):
    """A body: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid")


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


class At(Strict):
    """The position of the state that the page was looking at."""

    position: Position


class OneProblem(BaseModel):
    """One thing wrong: the field, the value found there, and what would do."""

    field: str
    value: str
    says: str


class Trouble(OneProblem):
    """What is wrong: the first problem, and all of them."""

    problems: list[OneProblem] = []


class Refused(BaseModel):
    """A call that could not be done."""

    error: Trouble


class BoxOut(BaseModel):
    """An upright rectangle on the wall: lower left corner and size."""

    x: float
    z: float
    width: float
    height: float


class JobHead(BaseModel):
    """The job's title block, and where its file is."""

    title: str
    number: str
    client: str
    room: str
    revision: str
    status: str
    units: Literal["mm", "ft-in"]
    currency: str
    path: str


class WallOut(BaseModel):
    """The usable face, and which of its readings nobody measured."""

    width: float
    height: float
    assumed: list[str]


class CandidateOut(BaseModel):
    """One named size compared."""

    diagonal: float
    frame_width: float
    frame_height: float
    fits: bool
    angle_far: float
    angle_near: float
    verdict: str


class HeightsOut(BaseModel):
    """The screen's centre height over all seats: the best, the band that suits, the trade's usual band."""

    best: float
    low: float
    high: float
    serves_all: bool
    """Whether low to high is good for all seats; else no height is, and low to high says nothing."""
    rule_low: float
    rule_high: float
    used: float
    pinned: bool


class ScreenOut(BaseModel):
    """The screen as it hangs."""

    diagonal: float
    panel: str
    frame: BoxOut
    picture: BoxOut
    centre_height: float
    centre_x: float
    mass: float
    watts: float
    mount: str
    tilt: float
    stand_off: float
    source: str
    pinned: list[str]
    drops: str
    """What choosing another size loses; empty where nothing was entered for this screen."""
    heights: HeightsOut
    candidates: list[CandidateOut]


class UnitOut(BaseModel):
    """A console, tower or shelf."""

    ref: str
    kind: str
    x: float
    z: float
    width: float
    height: float
    depth: float
    hung: bool
    pinned: list[str]


class Mark(BaseModel):
    """A mark of a rod.

    of : the thing it belongs to · at : mm · why : name of its working
    standing : pinned = this very value is given; automatic = derived; follows = it comes of given values (`follows` says which);
    surveyed = taken on site · release : the given fields behind it, whose release makes it automatic again
    """

    name: str
    of: str
    says: str
    at: float
    kind: Literal["decided", "surveyed", "eye", "datum"]
    editable: bool
    standing: Literal["pinned", "automatic", "follows", "surveyed"]
    follows: str
    assumed: bool
    release: list[str]
    why: str


class Rods(BaseModel):
    """The height rod from the floor up, the width rod from the left corner."""

    heights: list[Mark]
    widths: list[Mark]


class CallOut(BaseModel):
    """One edit of a cure, as the page sends it back."""

    edit: str
    values: dict[str, Any] = Field(alias="with")


class FindingOut(BaseModel):
    """What is wrong, how much, against what, and the cure."""

    rule: str
    severity: Severity
    where: str
    says: str
    measured: float | str
    limit: float | str
    unit: str
    source: str
    certainty: Certainty
    cure: str
    edits: list[CallOut]
    at: BoxOut | None
    stage: str
    """The step of the trade's order that it belongs to."""
    does: str
    """Exactly what its edits change, in words; empty where there are none."""


class Group(BaseModel):
    """Findings of one cause: places in the list of findings, the worst first. why : what makes them one; empty for one alone."""

    title: str
    why: str
    severity: Severity
    findings: list[int]


class Moved(BaseModel):
    """A size or place that changed along with the last step although nobody gave it."""

    kind: Literal["screen", "unit", "panel", "outlet"]
    ref: str
    name: str
    says: str
    before: float = Field(alias="from")
    to: float
    unit: Literal["mm", "″", ""]


class FileTrouble(BaseModel):
    """Why the job file on the disk cannot be read now. line and column count from 1; 0 = not known."""

    file: str
    line: int
    column: int
    field: str
    says: str
    text: str
    """What stands in that line."""


class TradeMoney(BaseModel):
    """What one trade's lines come to."""

    trade: str
    amount: int
    shown: str


class StepMoney(BaseModel):
    """One step of the price chain."""

    name: str
    share: float
    of: str
    """What the share is a share of."""
    amount: int
    shown: str


class MoneyOut(BaseModel):
    """The total against the budget. budget 0 = none given; left negative = over it."""

    total: int
    budget: int
    left: int
    currency: str
    total_shown: str
    budget_shown: str
    left_shown: str
    direct_shown: str
    trades: list[TradeMoney]
    steps: list[StepMoney]
    rates: str
    """Where the rates come from."""
    invented: bool
    """True when the rates are made up, so that the figure is worth nothing but to try the program."""
    without: str
    """What the total leaves out."""
    why: str


class SeatOut(BaseModel):
    """What one seat sees, in degrees."""

    ref: str
    kind: str
    posture: str
    hours: float
    distance: float
    eye_height: float
    eye_measured: bool
    picture_angle: float
    off: float
    sideways: float
    best_height: float


class PointOut(BaseModel):
    """One electrical or data position: the middle of its box."""

    ref: str
    kind: str
    x: float
    z: float
    zone: str
    reason: str


class InFile(BaseModel):
    """A table of the job file and its lines."""

    field: str
    first: int
    last: int


class StageOut(BaseModel):
    """One step of the trade's order: what is open in it, what of it the page sets, and what is edited in the job file."""

    name: str
    must: int
    consider: int
    here: str
    in_file: list[InFile]


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
    trouble: FileTrouble | None
    """Set while the file on the disk cannot be read; the rest is the last good wall."""
    gate: str
    stages: list[StageOut]
    money: MoneyOut
    whys: list[str]
    """Names that /api/why can tell of."""
    view: BoxOut
    """The part of the wall that the drawing shows."""
    svg: str


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
