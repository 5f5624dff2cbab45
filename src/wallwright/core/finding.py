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


RuleFunction = Callable[[Any], Iterable[Finding]]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of the trade: its name, the trade it belongs to, what it says in one line, and the function."""

    name: str
    trade: str
    says: str
    find: RuleFunction
