"""Two moments of a job side by side: fields decided differently, what moved along, money and findings."""

from __future__ import annotations

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.read import read_job
from wallwright.rules.check import check
from wallwright.studio.answers_jobs import Comparison, FieldChange
from wallwright.studio.merge import said, shown, touched
from wallwright.studio.moved import moved

MOST_FIELDS = 400


def compared(first: str, second: str) -> Comparison:
    """What differs from the first text of a job to the second. JobError where one of them is none by now."""
    a, b = derive(read_job(first)), derive(read_job(second))
    fields = [
        FieldChange.model_validate({"field": ".".join(path), "says": said(path), "from": shown(was), "to": shown(now)})
        for path, (was, now) in list(touched(a.job, b.job).items())[:MOST_FIELDS]
    ]  # fmt: skip
    before, after = check(a, cures=False), check(b, cures=False)
    return Comparison(
        fields=fields, moved=list(moved(a, b)), money=_money(a, b), gone=_missing(before, after),
        come=_missing(after, before),
    )  # fmt: skip


def _money(a: Wall, b: Wall) -> str:
    """The two totals in words; the difference only where both are in one currency."""
    before, after = a.money.shown(a.money.total), b.money.shown(b.money.total)
    if a.money.currency != b.money.currency or a.money.total == b.money.total:
        return f"{before}, then {after}" if before != after else f"{after}, as before"
    more = b.money.total - a.money.total
    return f"{before}, then {after}: {b.money.shown(abs(more))} {'more' if more > 0 else 'less'}"


def _missing(of: tuple[Finding, ...], than: tuple[Finding, ...]) -> list[str]:
    """Findings that the other has not, by rule and place."""
    there = {(item.rule, item.where) for item in than}
    return [f"{item.where}: {item.says}" for item in of if (item.rule, item.where) not in there]
