"""A change as a variation: numbered, priced, accepted or refused, and entered in the job's log by edits."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wallwright.change.state import going_on
from wallwright.core.counted import counted
from wallwright.job.edits import apply
from wallwright.job.problem import fail

if TYPE_CHECKING:
    from wallwright.change.impact import Impact
    from wallwright.job.document import Job

LONGEST = 390


def next_ref(job: Job) -> str:
    """The next free number: V1, V2 and so on."""
    taken = {one.ref for one in job.progress.variations}
    return next(f"V{n}" for n in range(1, len(taken) + 2) if f"V{n}" not in taken)


def says(found: Impact) -> str:
    """The change in a sentence: what was decided otherwise, the first few fields by name."""
    told = [f"{one.says} {one.was} → {one.now}" for one in found.change.fields]
    first = "; ".join(told[:4])
    more = f"; and {len(told) - 4} more" if len(told) > 4 else ""
    return f"{first or 'No field differs'}{more}"[:LONGEST]


def entered(job: Job, before: Job, found: Impact, reason: str) -> tuple[Job, str]:
    """The job with the change on its list of variations, priced and not yet signed; and its number."""
    ref = next_ref(job)
    values: dict[str, Any] = {
        "ref": ref,
        "says": says(found),
        "price": round(found.price_major, 2),
        "days": found.days,
        "documents": [one.title[:LONGEST] for one in found.documents if one.what != "new"],
        "from_revision": before.revision,
    }
    if reason:
        values["reason"] = reason
    return apply(job, "add_variation", values), ref


def accepted(
    before: Job, after: Job, found: Impact, by: str, date: str, reason: str = ""
) -> tuple[Job, str]:  # fmt: skip
    """The new job with the change signed, under the next revision, going on from the old one's progress; and its number.

    JobError where it brings something that must be put right, or changes nothing.
    """
    _something(found)
    if found.must:
        first = found.must[0]
        raise fail(
            "--accept",
            by,
            f"it brings {counted(len(found.must), 'finding')} that must be put right first; {first.where}: {first.says}",
            "diff",
        )
    job, ref = entered(going_on(before, after), before, found, reason)
    job = apply(job, "accept_variation", {"ref": ref, "by": by, "date": date})
    if job.revision == before.revision:
        job = apply(job, "set_revision", {"revision": next_revision(before.revision)})
    return job, ref


def refused(
    before: Job, after: Job, found: Impact, by: str, date: str, reason: str = ""
) -> tuple[Job, str]:  # fmt: skip
    """The old job, as it was, with the refused change on its list; and its number. JobError where there is no change."""
    del after
    _something(found)
    job, ref = entered(before, before, found, "")
    values = {"ref": ref, "by": by, "date": date, **({"reason": reason} if reason else {})}
    return apply(job, "refuse_variation", values), ref


def _something(found: Impact) -> None:
    if found.change.nothing:
        raise fail("NEW", None, "is the same wall as OLD: there is nothing to accept or refuse", "diff")


def next_revision(revision: str) -> str:
    """The letter that follows: A, B … Z, A1; P9 is followed by PA."""
    last = revision[-1]
    if last.isdigit():
        return f"{revision[:-1]}{int(last) + 1}" if last != "9" else f"{revision[:-1]}A"[:2]
    return f"{revision[:-1]}{chr(ord(last) + 1)}" if last != "Z" else f"{revision[:-1] or 'A'}1"[:2]
