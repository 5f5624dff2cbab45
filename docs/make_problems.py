"""Write docs/problems.md: what goes wrong on such walls, the rules that catch it, and against what, from problems.toml and the library."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wallwright.library import load
from wallwright.rules import RULES

HERE = Path(__file__).parent
HEAD = """# What goes wrong, and what catches it

Written by `docs/make_problems.py` from `docs/problems.toml`, the rules and the library; a test fails when it is stale. Every rule named
here is tested on a wall that has its fault, on one that has not, and on one to which its cure was applied; what each rule says, and
every limit, stands in [rules and limits](rules.md). Any limit may be overridden in a job's own rule set.

On walls that are well made no rule may cry danger or ask for a fix: `tests/test_problems.py` derives the demo walls and those of
`tests/rules/well_made`, each of another composition, and counts.

| | problem | rules | limit | source | certainty |
|---|---|---|---|---|---|
"""


@dataclass(frozen=True, slots=True)
class Problem:
    """A problem: its number, what it is, the rules that catch it, and the limits, or where there are none what the rules rest on."""

    n: int
    says: str
    rules: tuple[str, ...]
    limits: tuple[str, ...] = ()
    source: str = ""
    certainty: str = ""


def problems() -> tuple[Problem, ...]:
    """All of them. Raises TypeError for an unknown key of the file."""
    rows = tomllib.loads((HERE / "problems.toml").read_text("utf-8"))["problem"]
    return tuple(_problem(row) for row in rows)


def _problem(row: dict[str, Any]) -> Problem:
    lists = {name: tuple(row.pop(name, ())) for name in ("rules", "limits")}
    return Problem(row.pop("n"), row.pop("says"), lists["rules"], lists["limits"], **row)


def page() -> str:
    """The page as Markdown. Raises KeyError for a rule or a limit that there is not."""
    return HEAD + "\n".join(_line(problem) for problem in problems()) + "\n"


def _line(problem: Problem) -> str:
    known = {limit.name: limit for limit in load.limits()}
    limits = [known[name] for name in problem.limits]
    sources = list(dict.fromkeys(limit.source for limit in limits)) or [problem.source]
    sure = list(dict.fromkeys(limit.certainty for limit in limits)) or [problem.certainty]
    cells = (
        str(problem.n),
        problem.says,
        ", ".join(f"`{RULES[name].name}`" for name in problem.rules),
        "; ".join(f"{limit.name} {limit.value:g} {limit.unit}" for limit in limits) or "-",
        "; ".join(sources),
        ", ".join(sure),
    )
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


if __name__ == "__main__":
    (HERE / "problems.md").write_text(page(), "utf-8")
