"""The commands about change and site: what differs, what it touches, only what changed, and what the site found."""

from __future__ import annotations

import gc
import json
import os
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from cyclopts import Parameter

from wallwright import cli_money

if TYPE_CHECKING:
    from wallwright.change.asfound import AsFound
    from wallwright.change.impact import Document, Impact
    from wallwright.core.finding import Finding
    from wallwright.derive import Wall
    from wallwright.job.document import Job

Json = Annotated[bool, Parameter(name="--json", negative="")]
GOOD, MUST_FIX = 0, 1


def diff(  # noqa: PLR0913
    old: Path,
    new: Path,
    *,
    hold: bool = False,
    documents: bool = True,
    accept: str = "",
    refuse: str = "",
    on: str = "",
    reason: str = "",
    as_json: Json = False,
) -> int:
    """What differs from one job to the next, and what it touches: documents, parts, points, money, days, findings.

    Exit 0 it can be accepted, 1 it brings something that must be put right first.

    Args:
        old: The job as it is issued and, as far as its progress says, built.
        new: The job as it is wanted.
        hold: Keep the outlets that are set on site where they are, and move only those that cannot stay.
        documents: Draw both and name the sheets, lists and files to be issued again.
        accept: Who accepts the change: it is entered into NEW as a signed variation, and NEW takes the next revision.
        refuse: Who refuses it: it is entered into OLD as a refused variation.
        on: The day of it, YYYY-MM-DD; left out, the date of NEW.
        reason: Why it is wanted, or refused.
        as_json: Print everything as JSON.
    """
    from wallwright.change.impact import impact
    from wallwright.change.state import going_on, held
    from wallwright.derive import derive, derive_to_issue
    from wallwright.export.since import as_issued, numbers_in, since

    before = _job(old)
    after = going_on(before, _job(new))
    made = (
        derive_to_issue if documents else derive
    )  # the sheets of boards and storage are those of the search that is issued
    was = made(as_issued(before, after))
    if hold:
        after = held(was, after)
    now = made(after)
    told: tuple[Document, ...] = ()
    if documents:
        gc.disable()  # both sets are drawn once and all of it is kept to the end: looking for garbage finds none
        try:
            told = since(was, now, numbers_in(old) if old.is_dir() else {}, named=True).documents
        finally:
            gc.enable()
    found = impact(was, now, told)
    number = _entered(old, new, before, after, found, accept, refuse, on or after.date, reason)
    if as_json:
        from wallwright.export.change_json import impact_json

        print(json.dumps({**impact_json(was, now, found), "variation": number}, ensure_ascii=False, indent=2))
    else:
        _print_impact(was, now, found)
        if number:
            print(
                f"\n{number} {'accepted' if accept else 'refused'} by {accept or refuse}, entered in {new if accept else old}"
            )
    return MUST_FIX if found.must else GOOD


def _job(path: Path) -> Job:
    return cli_money.job_with_rates(path, None)


def _entered(  # noqa: PLR0913
    old: Path, new: Path, before: Job, after: Job, found: Impact, accept: str, refuse: str, on: str, reason: str
) -> str:  # fmt: skip
    """The variation's number where the change was accepted or refused, entered into the file that it stays in; "" where neither."""
    from wallwright.change.variation import accepted, refused
    from wallwright.job.problem import fail

    if not accept and not refuse:
        return ""
    if accept and refuse:
        raise fail("--accept", accept, "a change is accepted or refused, not both", "diff")
    if accept:
        job, number = accepted(before, after, found, accept, on, reason)
        _save(new, job)
    else:
        job, number = refused(before, after, found, refuse, on, reason)
        _save(old, job)
    return number


def _save(path: Path, job: Job) -> None:
    """The job laid into its own file; comments and order stay."""
    from wallwright.export.files import read_bytes, write_atomic, writing
    from wallwright.job.write import merge_into

    target = path / "job.toml" if path.is_dir() else path
    text = merge_into(read_bytes(target).decode("utf-8-sig"), job)
    with writing(target):
        write_atomic(target, text.encode())


def _print_impact(was: Wall, now: Wall, found: Impact) -> None:
    change = found.change
    if change.nothing and not found.documents:
        print("The two are the same wall: nothing to issue again, nothing to make anew.")
        return
    _lines("Decided otherwise", (f"{f.says}: {f.was} → {f.now}" for f in change.fields))
    _lines("Heights and sizes", (_size(one) for one in change.heights))
    _lines("Parts", (f"{p.change.fate:<11} {p.change.ref} ({p.state}): {p.change.says}" for p in found.parts))
    _lines("Points", (f"{p.change.ref} ({p.state}) {p.change.says}" for p in found.points))
    _lines("Runs", (_size(one) for one in change.runs))
    _lines("Light", (_size(one) for one in change.lights))
    _lines("Documents to issue again, sheets by the number under which they are out; new ones take the next free", (
        f"{d.what:<9} {f'{d.number:02d} ' if d.number else ''}{d.title} ({d.kind}; {', '.join(d.readers) or 'office'})"
        for d in found.documents
    ))  # fmt: skip
    _lines("Findings it brings", _found(change.gained))
    _lines("Findings it cures", _found(change.lost))
    money = now.money
    _lines("Money and days", (
        f"the wall: {was.money.shown(was.money.total)} → {money.shown(money.total)}",
        f"thrown away or worked again: {money.shown(found.lost)}; taking out: {money.shown(found.take_out)}",
        f"the variation: {money.shown(found.price)}",
        f"working days from here to handover: {found.left[0]} → {found.left[1]} ({found.days:+d})",
    ))  # fmt: skip
    if found.must:
        print("\nNot to be accepted as it stands: what it brings must be put right first.")


def _lines(title: str, lines: Iterable[str]) -> None:
    rows = tuple(lines)
    if rows:
        print(f"\n{title}")
        for row in rows:
            print(f"  {row}")


def _size(one: Any) -> str:
    was, now = ("none" if value is None else f"{value:g}" for value in (one.was, one.now))
    unit = "" if one.now is None else f" {one.unit}"
    return f"{one.says}: {was} → {now}{unit}".rstrip()


def _found(findings: Sequence[Finding]) -> list[str]:
    return [f"{item.severity}: {item.where}: {item.says}" for item in findings]


def issue_changes(job: Job, old: Path, out: Path, as_json: bool, **asked: Any) -> int:
    """Write only what changed since an issue: `issue --since`. old : the issued job's file, or the folder of its issue set ·
    asked : for whom, on which paper and with what, as `export.since.issue_since`
    """
    from wallwright.change.state import going_on
    from wallwright.derive import derive_to_issue
    from wallwright.export.files import writing
    from wallwright.export.since import as_issued, issue_since, numbers_in

    before = _job(old)
    job = going_on(before, job)
    with writing(out):
        was, now = derive_to_issue(as_issued(before, job)), derive_to_issue(job)
        numbers = numbers_in(old) if old.is_dir() else {}
        manifest = issue_since(was, now, out, before.revision, numbers, **asked)
    if as_json:
        print(json.dumps(manifest.as_dict(), ensure_ascii=False, indent=2))
        return GOOD
    for line in manifest.left_out:
        print(f"  left out: {line}")
    void = manifest.since["superseded"]
    print(
        f"{len(manifest.files)} files in {out}{os.sep}, revision {manifest.revision} since {before.revision}"
    )
    print(f"  {len(void)} of {len(manifest.since['sheets'])} sheets are void as they were:")
    for one in void:
        print(
            f"  {one['number']:02d} {one['title']}: {'withdrawn' if not one['by'] else 'replaced by ' + one['by']}"
        )
    return GOOD


def asfound(job: Path, site: Path, *, take: bool = False, as_json: Json = False) -> int:
    """Answer what the site found: accept, adjust with new numbers for the next trade, or stop. Exit 1 where something stops.

    Args:
        job: The job file, or the folder it is in.
        site: What was found: boxes, plumb grid, widths, heights, ceiling, things on the wall, seats (docs/guide/changes.md).
        take: Write what is accepted or adjusted into the job file, as verified; what stops is not written.
        as_json: Print the answers as JSON.
    """
    from wallwright.change.asfound import as_found, taken
    from wallwright.derive import derive
    from wallwright.export.change_json import as_found_json
    from wallwright.export.files import read_bytes
    from wallwright.export.text import table_text
    from wallwright.job.problem import fail
    from wallwright.job.site import read_site
    from wallwright.tables.asfound import answers, numbers, ways

    read = _job(job)
    found = as_found(derive(read), read_site(read_bytes(site, what="site file"), str(site)))
    if not found.verdicts:
        raise fail("boxes", None, "or anything else that was found is not told: nothing to answer", str(site))
    after = taken(read, found) if take else read
    written = after != read
    if written:
        _save(job, after)
    if as_json:
        print(json.dumps({**as_found_json(found), "written": written}, ensure_ascii=False, indent=2))
    else:
        for table in (answers(found), numbers(found), ways(found)):
            if table.rows:
                print(f"{table_text(table)}\n")
        for verdict in found.verdicts:
            if verdict.ask:
                print(f"Ask: {verdict.ask}")
        print(f"{found.answer.upper()}{_written(found, take, written, job)}")
    return MUST_FIX if found.answer == "stop" else GOOD


def _written(found: AsFound, take: bool, written: bool, job: Path) -> str:
    """What became of --take, in words."""
    if not take:
        return ""
    left = [one.ref for one in found.verdicts if one.answer in ("tape", "stop")]
    rest = f"; not {', '.join(dict.fromkeys(left))}" if left else ""
    return f"; written into {job}{rest}" if written else "; nothing to write"


def survey(job: Path, *, take: bool = False, as_json: Json = False) -> int:
    """How well the wall's measures close: each against the most likely outline, and which to take again. Exit 1 where one is wrong.

    Args:
        job: The job file, or the folder it is in.
        take: Draw the wall by the most likely outline from now on, not by the smallest readings; written into the job file.
        as_json: Print the outline and every measure as JSON.
    """
    from wallwright.export.change_json import outline_json
    from wallwright.export.text import table_text
    from wallwright.job.edits import apply
    from wallwright.job.problem import fail
    from wallwright.library import load
    from wallwright.tables.measures import outline_of, survey_measures

    read = _job(job)
    limits = load.limits_of(read.survey.place.rules).overridden(read.rules)
    found = outline_of(read.survey.wall, limits)
    if found is None:
        says = "has too few measures for an outline: two widths and two heights at least, better three each and both diagonals"
        raise fail("survey.wall", None, says, str(job))
    if take and not found.suspects:
        read = apply(read, "use_outline", {})
        _save(job, read)
    if as_json:
        print(json.dumps(outline_json(read.survey.wall, found), ensure_ascii=False, indent=2))
    else:
        print(table_text(survey_measures(read.survey.wall, limits)))
        if take and found.suspects:
            print("Nothing was written: no outline is drawn by measures that do not close.")
    return MUST_FIX if found.suspects else GOOD
