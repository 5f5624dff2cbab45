"""The most likely outline of a wall out of more measures than it needs, by weighted least squares, and the measure that is wrong.

The outline is four corners: lower left at the origin, lower right on the floor line, and the two upper ones. Widths taken level,
heights taken upright and the two diagonals are five unknowns' worth, and more. What is left over tells how well they close, and
which of them does not agree with the rest.

Source of the method: adjustment of observations by parameters (Gauss), with Baarda's data snooping (w-test, 1968).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import hypot, sqrt
from operator import add, sub
from typing import TYPE_CHECKING, Literal

from wallwright.core.limit import Limits
from wallwright.core.units import Length
from wallwright.job.survey import Reading, SurveyedWall
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.job.document import Job

Kind = Literal["width", "height", "rising", "falling", "lean"]
Unknowns = tuple[float, ...]
"""b, dx, hl, cx, hr: lower right (b, 0), upper left (dx, hl), upper right (cx, hr) [mm]."""
_UNKNOWNS = 5
_STEP = 1e-3
_TURNS = 12
_ALIKE = 0.98
"""Measures whose residuals are so much of the largest cannot be told apart: two diagonals, where only they tell of the lean."""


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure. at : height of a width, x of a height [mm] · sigma : its standard deviation · path : its field in the job"""

    kind: Kind
    at: float
    value: float
    sigma: float
    path: str = ""

    @property
    def says(self) -> str:
        """The measure in words."""
        match self.kind:
            case "width":
                return f"the width at {self.at:.0f} above the floor"
            case "height":
                return f"the height at {self.at:.0f} from the left"
            case "rising" | "falling":
                return f"the diagonal {'bottom left to top right' if self.kind == 'rising' else 'top left to bottom right'}"
            case "lean":
                return "the left corner taken as upright"


@dataclass(frozen=True, slots=True)
class Checked:
    """A measure after the adjustment. computed : what the outline says · w : residual in its own standard deviations ·
    redundancy : share of its own error that shows in its residual, 0 (nothing checks it) to 1 · off : by how much it is wrong, if
    it alone is [mm]; 0 where nothing checks it
    """

    measure: Measure
    computed: float
    w: float
    redundancy: float
    off: float

    @property
    def residual(self) -> float:
        """Computed less measured [mm]."""
        return self.computed - self.measure.value


@dataclass(frozen=True, slots=True)
class Outline:
    """The most likely outline. corners : from lower left, counter-clockwise · spread : standard deviations of the unknowns ·
    spare : how many measures there are beyond those needed · variance : sum of squared weighted residuals over `spare`, about 1
    where all is well (0 without spare) · checked : every measure · suspects : what to measure again: the one that disagrees most
    with the rest, and with it those that the same error in them would explain as well
    """

    corners: tuple[tuple[float, float], ...]
    spread: Unknowns
    spare: int
    variance: float
    checked: tuple[Checked, ...]
    suspects: tuple[Checked, ...]

    @property
    def misclosure(self) -> float:
        """By how much the measure that agrees least with the rest is off, in its own standard deviations the furthest [mm]."""
        return abs(max(self.checked, key=lambda one: abs(one.w)).off) if self.checked else 0.0


def likely(found: Outline) -> tuple[float, float]:
    """Its smallest width and smallest height [mm]: its sides are straight, so each is smallest at one end."""
    _, (right, _), (far, high), (lean, left) = found.corners
    return min(right, far - lean), min(left, high)


def measures(wall: SurveyedWall, limits: Limits) -> tuple[Measure, ...]:
    """All measures of a wall's outline with how sure each is; what nobody measured counts for little."""
    out: list[Measure] = []
    sides: tuple[tuple[Kind, tuple[Reading, ...]], ...] = (("width", wall.widths), ("height", wall.heights))
    for kind, readings in sides:
        for i, one in enumerate(readings):
            sigma = sigma_of(one.value, limits)
            out.append(Measure(kind, one.at.mm, one.value.mm, sigma, f"survey.wall.{kind}s[{i}].value"))
    across: tuple[Kind, ...] = ("rising", "falling")
    for i, kind in enumerate(across):
        if i < len(wall.diagonals):
            length = wall.diagonals[i]
            out.append(Measure(kind, 0.0, length.mm, sigma_of(length, limits), f"survey.wall.diagonals[{i}]"))
    if not wall.diagonals:
        out.append(Measure("lean", 0.0, 0.0, limits.value("survey.lean")))
    return tuple(out)


def sigma_of(length: Length, limits: Limits) -> float:
    """The standard deviation of a length [mm]: half its tolerance where one is given, else by how it was got; to it come its length
    and that no side is straight.
    """
    base = length.tolerance / 2 if length.tolerance else limits.value(f"survey.sigma_{length.state}")
    long = limits.value("survey.sigma_per_metre") * length.mm / 1000
    return hypot(base, long, limits.value("survey.sigma_uneven"))


def outline(given: Sequence[Measure], limits: Limits) -> Outline | None:
    """The most likely outline; None where the measures do not determine one (fewer than five, or all at one place)."""
    if len(given) < _UNKNOWNS:
        return None
    return _outline(tuple(given), limits.value("survey.checked_least"), limits.value("survey.suspect"))


@lru_cache(maxsize=16)
def _outline(given: tuple[Measure, ...], least: float, suspect: float) -> Outline | None:
    x = _start(given)
    inverse: list[list[float]] | None = None
    for _ in range(_TURNS):
        sides = _sides(x)
        rows = [_slope(one, sides) for one in given]
        left = [(one.value - model(one, x)) / one.sigma for one in given]
        weighted = [[v / one.sigma for v in row] for one, row in zip(given, rows, strict=True)]
        inverse = _inverse([[_dot(weighted, i, j) for j in range(5)] for i in range(5)])
        if inverse is None:
            return None
        right = [sum(row[i] * r for row, r in zip(weighted, left, strict=True)) for i in range(5)]
        step = [sum(a * b for a, b in zip(line, right, strict=True)) for line in inverse]
        x = tuple(a + b for a, b in zip(x, step, strict=True))
        if max(map(abs, step)) < 1e-7:
            break
    assert inverse is not None
    checked = tuple(_checked(given, x, inverse, least))
    spare = len(given) - 5
    square = sum(((one.computed - one.measure.value) / one.measure.sigma) ** 2 for one in checked)
    worst = max(abs(one.w) for one in checked)
    suspects = tuple(one for one in checked if abs(one.w) >= _ALIKE * worst) if worst > suspect else ()
    b, dx, hl, cx, hr = x
    return Outline(
        ((0.0, 0.0), (b, 0.0), (cx, hr), (dx, hl)),
        tuple(sqrt(max(inverse[i][i], 0.0)) for i in range(5)),
        spare,
        square / spare if spare > 0 else 0.0,
        checked,
        suspects,
    )


def model(one: Measure, x: Unknowns) -> float:
    """What a measure would be on an outline [mm]."""
    b, dx, hl, cx, hr = x
    match one.kind:
        case "width":
            return b + (cx - b) * one.at / hr - dx * one.at / hl
        case "height":
            return hl + (hr - hl) * (one.at - dx) / (cx - dx)
        case "rising":
            return hypot(cx, hr)
        case "falling":
            return hypot(b - dx, hl)
        case "lean":
            return dx


def _start(given: Sequence[Measure]) -> Unknowns:
    wide = [one.value for one in given if one.kind == "width"] or [1000.0]
    high = [one.value for one in given if one.kind == "height"] or [1000.0]
    w, h = sum(wide) / len(wide), sum(high) / len(high)
    return w, 0.0, h, w, h


def _sides(x: Unknowns) -> list[tuple[Unknowns, Unknowns]]:
    """The outline with each unknown a little more, and a little less."""
    steps = [tuple(_STEP * (k == i) for k in range(_UNKNOWNS)) for i in range(_UNKNOWNS)]
    return [(tuple(map(add, x, step)), tuple(map(sub, x, step))) for step in steps]


def _slope(one: Measure, sides: list[tuple[Unknowns, Unknowns]]) -> list[float]:
    """How the measure changes with each unknown, by central differences."""
    return [(model(one, more) - model(one, less)) / (2 * _STEP) for more, less in sides]


def _checked(
    given: Sequence[Measure], x: Unknowns, inverse: list[list[float]], least: float
) -> Iterator[Checked]:
    sides = _sides(x)
    for one in given:
        row, computed = _slope(one, sides), model(one, x)
        spread = sum(row[i] * inverse[i][j] * row[j] for i in range(5) for j in range(5))
        redundancy = max(0.0, 1.0 - spread / one.sigma**2)
        residual = computed - one.value
        if redundancy < least:
            yield Checked(one, computed, 0.0, redundancy, 0.0)
        else:
            yield Checked(
                one, computed, residual / (one.sigma * sqrt(redundancy)), redundancy, -residual / redundancy
            )


def _dot(rows: list[list[float]], i: int, j: int) -> float:
    return sum(row[i] * row[j] for row in rows)


def _inverse(matrix: list[list[float]]) -> list[list[float]] | None:
    """The inverse by elimination with the largest pivot; None where there is none."""
    n = len(matrix)
    rows = [[*line, *(float(i == k) for k in range(n))] for i, line in enumerate(matrix)]
    largest = max(abs(v) for line in matrix for v in line)
    for i in range(n):
        best = max(range(i, n), key=lambda k: abs(rows[k][i]))
        if abs(rows[best][i]) < 1e-12 * largest:
            return None
        rows[i], rows[best] = rows[best], rows[i]
        head = rows[i][i]
        rows[i] = [v / head for v in rows[i]]
        for k in range(n):
            if k != i and rows[k][i]:
                by = rows[k][i]
                rows[k] = [a - by * b for a, b in zip(rows[k], rows[i], strict=True)]
    return [line[n:] for line in rows]


def not_closing(job: Job) -> tuple[Checked, ...]:
    """The measures of a job's wall that do not agree with the rest; empty where all close, or nothing checks them."""
    limits = load.limits_of(job.survey.place.rules).overridden(job.rules)
    found = outline(measures(job.survey.wall, limits), limits)
    return found.suspects if found else ()
