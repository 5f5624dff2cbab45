"""Findings: what is wrong with a wall, with the measured value, the limit, its source and a cure."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Literal

from wallwright.core.limit import Certainty, Limit
from wallwright.core.shape import Box

Severity = Literal["danger", "fix", "consider", "note"]
SEVERITIES: tuple[Severity, ...] = ("danger", "fix", "consider", "note")


@dataclass(frozen=True, slots=True)
class EditCall:
    """One edit to make: its name and its named values, as `job.edits.apply` takes them."""

    edit: str
    values: tuple[tuple[str, Any], ...]

    def as_dict(self) -> dict[str, Any]:
        """For JSON: {"edit": name, "with": {...}}."""
        return {"edit": self.edit, "with": dict(self.values)}


def edit_call(edit: str, **values: Any) -> EditCall:
    """An edit to make, written as a call."""
    return EditCall(edit, tuple(values.items()))


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to know about the wall.

    rule : its name · severity : danger (may hurt), fix (must be put right), consider, note · where : the ref of the thing ·
    says : one sentence · measured, limit, unit : the numbers · source, certainty : where the limit comes from ·
    cure : one sentence · edits : the cure as edits (empty where only a person on site can do it) · at : the place on the wall
    """

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
    edits: tuple[EditCall, ...] = ()
    at: Box | None = None


def finding(  # noqa: PLR0913
    rule: str,
    severity: Severity,
    where: str,
    says: str,
    *,
    measured: float | str,
    limit: Limit,
    cure: str,
    edits: Iterable[EditCall] = (),
    at: Box | None = None,
) -> Finding:
    """A finding against a limit of the rule set: the limit brings its value, unit, source and certainty."""
    return Finding(
        rule,
        severity,
        where,
        says,
        measured,
        limit.value,
        limit.unit,
        limit.source,
        limit.certainty,
        cure,
        tuple(edits),
        at,
    )


def told(item: Finding) -> tuple[str, str, str]:
    """What was measured, the limit, and the unit that both are in: shares as %, a ratio without a word; a unit that only one of
    the two has, since the other is said in words, stands with its number.
    """
    share, per = ("%", 100.0) if item.unit.startswith(("share", "0..1")) else (item.unit, 1.0)
    if item.unit.startswith("share "):
        share = f"% {item.unit.removeprefix('share ')}"
    unit = "" if item.unit == "ratio" else share
    worded = isinstance(item.measured, str), isinstance(item.limit, str)
    alone = unit if any(worded) else ""
    measured, limit = _number(item.measured, per, alone), _number(item.limit, per, alone)
    return measured, limit, "" if any(worded) else unit


def _number(value: float | str, per: float, unit: str) -> str:
    """With as many figures as the value needs: shares and millimetres stand in the same column."""
    if isinstance(value, str):
        return (
            f"{value} {unit}".rstrip() if value[-1:].isdigit() else value
        )  # `914 to 1016`, but `2 of 3 seats`
    return f"{round(value * per, 6) if per != 1.0 else value:.10g} {unit}".rstrip()


def measured_says(item: Finding) -> str:
    """`measured 37 %, limit 40 %`, `measured a single source, limit 3 mm`."""
    measured, limit, unit = told(item)
    return f"measured {measured}, limit {limit} {unit}".rstrip()


def source_says(item: Finding) -> str:
    """The source and how sure it is, once where the source begins with the same words."""
    return item.source if item.source.startswith(item.certainty) else f"{item.source}; {item.certainty}"


RuleFunction = Callable[[Any], Iterable[Finding]]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of the trade: its name, the trade it belongs to, what it says in one line, and the function."""

    name: str
    trade: str
    says: str
    find: RuleFunction
