"""The findings as a list, worst first."""

from __future__ import annotations

from collections.abc import Iterable

from wallwright.core.finding import SEVERITIES, Finding, told
from wallwright.core.table import Column, Table

COLUMNS = (
    Column("Severity"),
    Column("Where"),
    Column("What"),
    Column("Measured"),
    Column("Limit"),
    Column("Unit"),
    Column("Cure"),
    Column("About"),
    Column("Source"),
    Column("How sure"),
)


def about(rule: str) -> str:
    """A rule's name as words: `services.hot_bay` is "services: hot bay"."""
    return rule.replace(".", ": ", 1).replace("_", " ")


def findings_table(findings: Iterable[Finding]) -> Table:
    """All findings, worst first, otherwise as given."""
    given = sorted(findings, key=lambda one: SEVERITIES.index(one.severity))
    rows = tuple(
        (
            f.severity,
            f.where,
            f.says,
            *told(f),
            f.cure,
            about(f.rule),
            f.source,
            f.certainty,
        )
        for f in given
    )
    count = ", ".join(f"{sum(f.severity == s for f in given)} {s}" for s in SEVERITIES)
    return Table("findings", "Findings", COLUMNS, rows, (f"{count}.",))
