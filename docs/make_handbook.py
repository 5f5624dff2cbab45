"""Write docs/handbook.md: each rule with an example of what it says, each limit, each formula, from the rules, the library and the demo walls."""

from __future__ import annotations

import importlib.util
import re
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import Any

from wallwright.core.finding import Finding, Rule, measured_says, source_says
from wallwright.core.limit import Limit, Limits
from wallwright.core.why import Why
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.rules import RULES

ROOT = Path(__file__).parents[1]
CASES = ROOT / "tests" / "rules" / "test_cures.py"
TIMING = ROOT / "bench" / "timing.py"
REF = re.compile(r"\b[A-Z]+\d*(?:[.-][A-Z]*\d+)*\b|(?<=^thing )\w+")
WORST_FIRST = {"danger": 0, "fix": 1, "consider": 2, "note": 3}
HEAD = """# Handbook of rules

Written by `docs/make_handbook.py`; a test fails when it is stale. For every rule: what it demands, what it said of a wall that was spoilt
on purpose (the same wall on which its test and its cure are tried), the limits it read to say so, and the cure. After the rules, every
formula by which a shown value is reckoned, with one example from the invented demo walls. All limits with their values stand in
[rules and limits](rules.md); `wallwright why JOB NAME` gives the same for the numbers of your own wall.

*Certainty*: **published** was read in a text; **computed** and **derived** are arithmetic; **common practice** is what the trade does;
**from memory** is to be checked before it is relied on.
"""


class Heard(Limits):
    """A rule set that remembers what was asked of it."""

    __slots__ = ("asked",)

    def __init__(self, rows: Limits) -> None:
        super().__init__({limit.name: limit for limit in rows})
        self.asked: dict[str, Limit] = {}

    def __getitem__(self, name: str) -> Limit:
        """The limit of that name, remembered."""
        self.asked[name] = limit = super().__getitem__(name)
        return limit


def page() -> str:
    """The page as Markdown."""
    return "\n".join([HEAD, *_rules(), *_formulas()]) + "\n"


def _module(name: str, path: Path) -> ModuleType:
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, path)
        assert spec is not None and spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    return sys.modules[name]


def _rules() -> Iterator[str]:
    cases = _module("wallwright_cases", CASES)
    spoilt: dict[str, Any] = {}
    for case in cases.CASES:
        spoilt.setdefault(case.rule, case)
    trades = sorted({rule.trade for rule in RULES.values()})
    for trade in trades:
        yield f"## Rules: {trade}\n"
        for rule in RULES.values():
            if rule.trade == trade:
                yield from _rule(rule, spoilt.get(rule.name), cases)


def _rule(rule: Rule, case: Any, cases: ModuleType) -> Iterator[str]:
    yield f"### `{rule.name}`\n\n{rule.says}\n"
    wall = derive(cases.after(cases.base(case.room), case.breaks)) if case and case.breaks else None
    heard = Heard(wall.limits) if wall else None
    _module("timing", TIMING).forget()  # what is known already is told without its limits
    found = sorted(rule.find(replace(wall, limits=heard)), key=_worst) if wall else []
    if found:
        yield _example(found[0])
    else:
        yield "*Example*: its test makes the wall by hand.\n"
    if heard and heard.asked:
        yield "Limits read: " + "; ".join(_limit(limit) for limit in heard.asked.values()) + "\n"


def _worst(item: Finding) -> int:
    return WORST_FIRST[item.severity]


def _example(item: Finding) -> str:
    return (
        f"*Example* ({item.severity}, {item.where}): {_plain(item.says)}. {measured_says(item)[:1].upper()}{measured_says(item)[1:]}"
        f" ({_plain(source_says(item))}). *Cure*: {_plain(item.cure)}\n"
    )


def _limit(limit: Limit) -> str:
    return f"`{limit.name}` {limit.value:g} {limit.unit}".rstrip() + f" ({limit.certainty})"


def _formulas() -> Iterator[str]:
    yield "## Formulas\n\nThe mark `…` stands for a thing's ref, such as C1 or T1-S2.\n"
    yield "| value | formula | example | source | certainty |\n|---|---|---|---|---|"
    rows: dict[tuple[str, str], str] = {}
    for path in demo_jobs().values():
        for why in derive(read_job(path)).whys:
            if why.formula:
                rows.setdefault((REF.sub("…", why.name), why.formula), _formula(why))
    yield from (rows[key] for key in sorted(rows))


def _formula(why: Why) -> str:
    given = "; ".join(f"{one.name} {_number(one.value)} {one.unit}".rstrip() for one in why.inputs)
    example = f"{given} → {_number(why.value)} {why.unit}".strip()
    cells = (REF.sub("…", why.name), why.formula, example, why.source, why.certainty)
    return "| " + " | ".join(_plain(cell) for cell in cells) + " |"


def _number(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.5g}"


def _plain(text: str) -> str:
    """Without what Markdown would take for marks."""
    return (
        text.replace("\n", " ").replace("|", "∣").replace("*", "\\*").replace("_", "\\_").replace("<", "&lt;")
    )


if __name__ == "__main__":
    Path(__file__).with_name("handbook.md").write_text(page(), "utf-8")
