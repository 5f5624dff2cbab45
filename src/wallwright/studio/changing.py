"""A change between a moment of the history and now: what it touches, and the job once it is accepted or refused."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from wallwright.change.impact import Document, Impact, impact
from wallwright.change.variation import accepted, refused
from wallwright.derive import derive
from wallwright.job.document import Job
from wallwright.job.read import read_job

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from wallwright.core.finding import Finding
    from wallwright.derive import Wall

MOST_ROWS = 400


def before_of(text: str, now: Job) -> Job:
    """The job of an earlier moment, drawn under today's revision and as far built as the work is today."""
    then = read_job(text)
    return replace(then, revision=now.revision, date=now.date, status=now.status, progress=now.progress)


def impact_told(text: str, now: Job, tell: Callable[[float, str], object]) -> dict[str, Any]:
    """All that a change touches, as the page shows it. text : of the moment before it"""
    from wallwright.derive import derive_to_issue
    from wallwright.export.since import since

    tell(0.05, "the wall as it was")
    was = derive_to_issue(before_of(text, now))
    tell(0.3, "the wall as it would be")
    new = derive_to_issue(now)
    tell(0.5, "sheets, lists and files against each other")
    found = impact(was, new, since(was, new, named=True).documents)
    return _told(was, new, found)


def _told(was: Wall, now: Wall, found: Impact) -> dict[str, Any]:
    change, shown = found.change, now.money.shown
    return {
        "same": change.nothing,
        "fields": [{"says": f.says, "from": f.was, "to": f.now} for f in change.fields[:MOST_ROWS]],
        "heights": [
            {"says": one.says, "from": one.was, "to": one.now, "unit": one.unit}
            for one in change.heights[:MOST_ROWS]
        ],
        "parts": [
            {"ref": one.change.ref, "fate": one.change.fate, "state": one.state, "says": one.change.says, "wasted": one.wasted}
            for one in found.parts[:MOST_ROWS]
        ],
        "points": [
            {"ref": one.change.ref, "state": one.state, "says": one.change.says} for one in found.points[:MOST_ROWS]
        ],
        "documents": [
            {"number": d.number, "name": d.name, "title": d.title, "kind": d.kind, "what": d.what, "readers": list(d.readers)}
            for d in found.documents
        ],
        "gained": _found(change.gained),
        "lost": _found(change.lost),
        "money": {
            "before": was.money.shown(was.money.total), "after": shown(now.money.total), "lost": shown(found.lost),
            "take_out": shown(found.take_out), "price": shown(found.price),
        },
        "days": {"before": found.left[0], "after": found.left[1], "added": found.days},
        "must": len(found.must),
    }  # fmt: skip


def _found(findings: Iterable[Finding]) -> list[dict[str, str]]:
    return [{"severity": item.severity, "where": item.where, "says": item.says} for item in findings]


def accept(text: str, now: Job, told: Mapping[str, Any], by: str, on: str, reason: str) -> tuple[Job, str]:
    """The job with the change signed, under the next revision; and the variation's number. JobError where it may not be."""
    before = before_of(text, now)
    return accepted(before, now, _impact(before, now, told), by, on, reason)


def refuse(text: str, now: Job, told: Mapping[str, Any], by: str, on: str, reason: str) -> tuple[Job, str]:
    """The job with brief, design and terms as they were, and the refused variation on its list; and that one's number.

    What was measured and how far the work is stay as they are by now: those are facts, whoever refuses what.
    """
    before = before_of(text, now)
    found = _impact(before, now, told)
    back = replace(before, survey=now.survey, progress=now.progress, revision=read_job(text).revision)
    return refused(back, now, found, by, on, reason)


def _impact(before: Job, now: Job, told: Mapping[str, Any]) -> Impact:
    documents = tuple(
        Document(d["name"], d["title"], d["kind"], tuple(d["readers"]), d["what"], d["number"])
        for d in told["documents"]
    )
    return impact(derive(before, searched=True), derive(now, searched=True), documents)
