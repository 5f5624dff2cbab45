"""The parts of the page's state: screen, units, rods, findings, money, seats and points, as the engine derived them."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, Field

Severity = Literal["danger", "fix", "consider", "note"]
Certainty = Literal["published", "computed", "derived", "common practice", "from memory", "your rule set"]


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
    """Exactly what its edits change, in words; empty where there are none. Words and edits are both empty where the cure is found by
    trying it on the wall: /cures tells it."""


class Cure(BaseModel):
    """What to do about one finding, tried on the wall. finding : its place in the list of findings · does : exactly what its edits change"""

    finding: int
    cure: str
    edits: list[CallOut]
    does: str


class Cures(BaseModel):
    """The cures that the findings of a position were told without."""

    position: int
    cures: list[Cure]


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
    quick: bool
    """True while the boards are counted by the quick plan: the issue's plan may buy fewer, and its price be lower."""
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
