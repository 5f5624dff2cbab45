"""The work on one distinct wall: derived, checked by every rule, and told in a record that goes from one process to another."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.rules.check import check
from wallwright.tower.fit import Ends, Fit, ends_of, fit, held, own_parts
from wallwright.tower.likeness import Unlike, unlike

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.core.finding import Finding
    from wallwright.job.document import Job
    from wallwright.money.record import Line
    from wallwright.money.show import Notation

KEPT = 8
"""Derived walls that a process keeps: measured flats of one type come one after another."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One question: a wall to be derived, a measured flat to be held against its series, what range of fillers a series
    bears, or what of a mirrored wall is not the mirror of its series.

    key : of the question · job : the wall's, as measured · series : key and job of the series, where a flat is held against it
    """

    key: str
    what: Literal["wall", "check", "range", "hands"]
    job: Job
    series: tuple[str, Job] | None = None


@dataclass(frozen=True, slots=True)
class Made:
    """A distinct wall as made. Amounts in minor units.

    width, height : of the face · ends : the fillers at the corners as drawn · cut : flat by flat, searched: (board, sheets, m²,
    price) · days : working days from order to handover
    """

    key: str
    width: float
    height: float
    ends: Ends
    parts: tuple[Part, ...]
    findings: tuple[Finding, ...]
    lines: tuple[Line, ...]
    direct: int
    total: int
    notation: Notation
    cut: tuple[tuple[str, int, float, float], ...]
    unfit: tuple[tuple[str, str], ...]
    days: int


@dataclass(frozen=True, slots=True)
class Checked:
    """A measured flat held against its series. fillers : its own filler strips · parts : its boards, where they differ in more"""

    key: str
    fit: Fit
    findings: tuple[Finding, ...]
    fillers: tuple[Part, ...]
    parts: tuple[Part, ...] | None


@dataclass(frozen=True, slots=True)
class Range:
    """How narrow and how wide the fillers of a series may become before something stands against it [mm], and what: "" where it is
    the filler's own limit.
    """

    key: str
    least: float
    most: float
    why_least: str = ""
    why_most: str = ""


@dataclass(frozen=True, slots=True)
class BothHands:
    """What of a type's other hand is not the mirror of the drawn one."""

    key: str
    unlike: tuple[Unlike, ...]


Answer = Made | Checked | Range | BothHands


def work(ask: Ask) -> Answer:
    """Answer one question. ValueError where the wall cannot be built."""
    if ask.what == "hands" and ask.series is not None:
        return BothHands(ask.key, unlike(_series(*ask.series)[0], derive(ask.job)))
    if ask.what == "range":
        return _range(ask.key, ask.job)
    if ask.what == "wall" or ask.series is None:
        return made(ask.key, derive(ask.job, searched=True))
    series, before = _series(*ask.series)
    wall = derive(held(series, ask.job))
    found = _against(wall)
    strips = tuple(part for part in wall.carcass.parts if part.role == "filler")
    return Checked(ask.key, fit(series, before, wall, found), found, strips, own_parts(series, wall))


def _against(wall: Wall) -> tuple[Finding, ...]:
    """What every rule says of a wall; its cures are those of the series and are not sought again for every flat."""
    return check(wall, cures=False)


def made(key: str, wall: Wall) -> Made:
    """The record of a derived wall."""
    plans = dict(wall.cuts.plans)
    money = wall.money
    return Made(
        key,
        wall.face.width,
        wall.face.height,
        ends_of(wall),
        wall.carcass.parts,
        check(wall),
        money.lines,
        money.direct,
        money.total,
        money.notation,
        tuple((board, used, area, plans[board].price) for (board, used, _), (_, area) in zip(
            wall.cuts.sheets, wall.cuts.areas, strict=True
        )),
        wall.cuts.unfit,
        wall.programme.days,
    )  # fmt: skip


STEP = 0.25
"""To which a range is found [mm]."""


def filler_range(key: str, job: Job) -> Range:
    """By every rule: the series is held on walls narrower and wider until something stands against it; door swings, for one, may
    want more than a strip does. Of one closed end the filler stays as drawn whatever the wall, so its own limits hold.
    """
    series, before = _series(key, job)
    limits, ends = series.limits, ends_of(series)
    least, most = limits.value("tower.scribe_least"), limits.value("carcass.scribe_high")
    drawn = [gap for gap in ends if gap is not None]
    if len(drawn) < len(ends):
        return Range(key, least, most)

    def why(gap: float) -> str:
        """What stands against fillers changed so that the narrower is so wide; "" where nothing does."""
        wall = derive(held(series, _as_wide(job, series.face.width + 2 * (gap - min(drawn)))))
        answer = fit(series, before, wall, _against(wall))
        return "" if answer.takes else answer.why[0]

    low, why_low = _furthest(min(drawn), least, why)
    high, why_high = _furthest(min(drawn), most - abs(drawn[0] - drawn[1]), why)
    return Range(key, low, high, why_low, why_high)


def _range(key: str, job: Job) -> Range:
    """The range of a series, searched once in this process: a change of a type asks again for those it leaves as they are."""
    if key not in _ranges or _ranges[key][0] != job:
        _ranges[key] = job, filler_range(key, job)
        while len(_ranges) > KEPT:
            _ranges.popitem(last=False)
    _ranges.move_to_end(key)
    return _ranges[key][1]


def _as_wide(job: Job, width: float) -> Job:
    wall = job.survey.wall
    reading = replace(wall.widths[0], value=Length(width, "", "measured"))
    return replace(job, survey=replace(job.survey, wall=replace(wall, widths=(reading,), diagonals=())))


def _furthest(good: float, far: float, why: Callable[[float], str]) -> tuple[float, str]:
    """How far one may go from a value that is good towards a far one, and what stops it there."""
    says = why(far)
    if not says:
        return far, ""
    while abs(far - good) > STEP:
        middle = (good + far) / 2
        stops = why(middle)
        if stops:
            far, says = middle, stops
        else:
            good = middle
    return good, says


_walls: OrderedDict[str, tuple[Job, Wall, tuple[Finding, ...]]] = OrderedDict()
_ranges: OrderedDict[str, tuple[Job, Range]] = OrderedDict()


def _series(key: str, job: Job) -> tuple[Wall, tuple[Finding, ...]]:
    """The series' wall and findings, kept by key; a worker may see another tower, or another revision, under the same key."""
    if key not in _walls or _walls[key][0] != job:
        wall = derive(job)
        _walls[key] = job, wall, _against(wall)
        while len(_walls) > KEPT:
            _walls.popitem(last=False)
    _walls.move_to_end(key)
    return _walls[key][1:]
