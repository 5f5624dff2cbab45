"""What the commands share: the job read, how a finding is said, JSON, and the exit codes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from cyclopts import Parameter

from wallwright import cli_money

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.derive import Wall
    from wallwright.job.document import Job

Flag = Annotated[bool, Parameter(negative="")]
Json = Annotated[bool, Parameter(name="--json", negative="")]
GOOD, MUST_FIX, BAD_INPUT = 0, 1, 2
SEVERITY_WORD = {"danger": "DANGER", "fix": "FIX", "consider": "CONSIDER", "note": "NOTE"}


def print_json(value: Any) -> None:
    """Print a value as JSON."""
    print(json.dumps(value, ensure_ascii=False, indent=2))


def wall_of(path: Path, rates: Path | None = None) -> Wall:
    """The wall of a job file, priced with a rates file where one is given. JobError, or ValueError naming the field."""
    from wallwright.derive import derive

    return derive(job_of(path, rates))


def job_of(path: Path, rates: Path | None = None) -> Job:
    """The job of a file, with the rates of another laid in. JobError with every problem found."""
    return cli_money.job_with_rates(path, rates)


def print_finding(item: Finding) -> None:
    """Print a finding: what is wrong, what was measured against which limit and its source, and the cure."""
    print(f"{SEVERITY_WORD[item.severity]:<9}{item.where}: {item.says}")
    from wallwright.core.finding import measured_says, source_says

    print(f"{'':9}{measured_says(item)}  ({source_says(item)})")
    print(f"{'':9}cure: {item.cure}\n")


def counts_of(findings: tuple[Finding, ...]) -> dict[str, int]:
    """How many there are of each severity."""
    return {severity: sum(item.severity == severity for item in findings) for severity in SEVERITY_WORD}
