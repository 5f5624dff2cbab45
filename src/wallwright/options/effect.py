"""What edits do to the price: the difference line by line, and the findings that come and go."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from wallwright.core.finding import EditCall, Finding
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.rules import check
from wallwright.rules.check import MUST


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line of the bill that changed: quantity and amount before and after (minor units); 0 where it is not there."""

    ref: str
    trade: str
    item: str
    unit: str
    quantity_before: float
    quantity_after: float
    before: int
    after: int

    @property
    def difference(self) -> int:
        """After less before."""
        return self.after - self.before


@dataclass(frozen=True, slots=True)
class Effect:
    """What edits do: the wall they make, the price before and after (minor units), lines that changed, findings that come and go."""

    wall: Wall
    before: int
    after: int
    lines: tuple[LineChange, ...]
    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]

    @property
    def difference(self) -> int:
        """After less before, all in."""
        return self.after - self.before

    @property
    def worse(self) -> tuple[Finding, ...]:
        """The new findings that must be fixed."""
        return tuple(item for item in self.new if item.severity in MUST)


def edited(job: Job, edits: Iterable[EditCall]) -> Job:
    """The job after the edits. JobError where one cannot be made."""
    for call in edits:
        job = apply(job, call.edit, dict(call.values))
    return job


def price_effect(job: Job, edits: Iterable[EditCall]) -> Effect:
    """What these edits do to the price and to the findings of a job. JobError or ValueError where they cannot be made."""
    before = derive(job, searched=True)
    return effect(before, check(before, cures=False), derive(edited(job, edits), searched=True))


def priced(wall: Wall) -> Wall:
    """The wall with the price that is quoted: its cutting plans searched as for issue."""
    return wall if wall.cuts.searched else derive(wall.job, searched=True)


def effect(before: Wall, found: tuple[Finding, ...], after: Wall) -> Effect:
    """The difference of two walls of one job. found : the findings of the first."""
    then = {_name(item) for item in found}
    findings = check(after, cures=False)
    now = {_name(item) for item in findings}
    return Effect(
        after,
        before.money.total,
        after.money.total,
        changed_lines(before, after),
        tuple(item for item in findings if _name(item) not in then),
        tuple(item for item in found if _name(item) not in now),
    )


def changed_lines(before: Wall, after: Wall) -> tuple[LineChange, ...]:
    """The lines whose quantity or amount differs, largest difference first; their differences sum to that of the direct cost."""
    old = {line.ref: line for line in before.money.lines}
    new = {line.ref: line for line in after.money.lines}
    out: list[LineChange] = []
    for ref in dict.fromkeys((*old, *new)):
        a, b = old.get(ref), new.get(ref)
        shown = b or a
        if shown is None or (a and b and a.quantity == b.quantity and a.amount == b.amount):
            continue
        out.append(
            LineChange(
                ref, shown.trade, shown.item, shown.unit, a.quantity if a else 0.0, b.quantity if b else 0.0,
                a.amount if a else 0, b.amount if b else 0,
            )
        )  # fmt: skip
    return tuple(sorted(out, key=lambda change: (-abs(change.difference), change.ref)))


def _name(item: Finding) -> tuple[str, str, str]:
    """What makes two findings the same: its rule, place and weight, not its numbers."""
    return item.rule, item.where, item.severity
