"""Edits of the job as a whole: its title block, its rule set, and fields named by their path."""

from __future__ import annotations

from dataclasses import MISSING, replace
from typing import Annotated, Any, Literal

from pydantic import Field

from wallwright.core.units import Length, State
from wallwright.job.design import Design, StockSheet
from wallwright.job.document import Job
from wallwright.job.edit import add, change, change_in, default_of, edit, remove
from wallwright.job.fields import BoardName, Clear, Count, Number, Ref, Size, Words
from wallwright.job.path import Step, get, put, show_path, steps_of
from wallwright.job.problem import fail, nearest

STOCK = "design.stock"
Path = Annotated[str, Field(min_length=1, max_length=200)]


@edit
def set_title(job: Job, title: Annotated[str, Field(min_length=1, max_length=80)]) -> Job:
    """Set the name of the wall."""
    return replace(job, title=title)


@edit
def set_parties(
    job: Job, client: Words | None = None, designer: Words | None = None, approver: Words | None = None
) -> Job:
    """Set who it is for, who designs it and who approves it."""
    given = {"client": client, "designer": designer, "approver": approver}
    return replace(job, **{name: text for name, text in given.items() if text is not None})


@edit
def set_issue(
    job: Job,
    number: Annotated[str, Field(max_length=16)] | None = None,
    date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")] | None = None,
    status: Literal["preliminary", "approval", "construction", "as_built"] | None = None,
) -> Job:
    """Set the number, the date of issue and the status on the sheets."""
    given = {"number": number, "date": date, "status": status}
    return replace(job, **{name: value for name, value in given.items() if value is not None})


@edit
def set_revision(job: Job, revision: Annotated[str, Field(pattern=r"^[A-Z0-9]{1,2}$")]) -> Job:
    """Set the revision letter."""
    return replace(job, revision=revision)


@edit
def set_units(job: Job, units: Literal["mm", "ft-in"]) -> Job:
    """Choose how lengths are shown on the page."""
    return replace(job, units=units)


@edit
def set_currency(job: Job, currency: Annotated[str, Field(min_length=1, max_length=4)]) -> Job:
    """Set the sign of the currency."""
    return replace(job, currency=currency)


@edit
def set_limit(job: Job, name: Ref, value: Number) -> Job:
    """Set a limit of your own rule set."""
    return replace(job, rules={**job.rules, name: value})


@edit
def release_limit(job: Job, name: Ref) -> Job:
    """Give a limit back to the library's value."""
    if name not in job.rules:
        raise fail("name", name, f"your rule set does not set it; {nearest(name, job.rules)}")
    return replace(job, rules={key: value for key, value in job.rules.items() if key != name})


@edit
def set_rates(job: Job, rates: Ref) -> Job:
    """Choose the rates book that prices the wall."""
    return change(job, "design", rates=rates)


@edit
def set_saw(
    job: Job,
    kerf: Clear | None = None,
    trim: Clear | None = None,
    stages: Literal["any", "2", "3"] | None = None,
) -> Job:
    """Set the workshop's saw: blade width, edge trim, stages of cutting."""
    return change(job, "design.saw", kerf=kerf, trim=trim, stages=stages)


@edit
def add_stock(  # noqa: PLR0913
    job: Job, ref: Ref, board: BoardName, length: Size, width: Size, count: Count = 1, offcut: bool = False
) -> Job:  # fmt: skip
    """Enter sheets that the workshop has, or an offcut of an earlier job."""
    return add(job, STOCK, StockSheet(ref, board, length, width, count, offcut))


@edit
def set_stock(  # noqa: PLR0913
    job: Job, ref: Ref, board: BoardName | None = None, length: Size | None = None, width: Size | None = None,
    count: Count | None = None, offcut: bool | None = None,
) -> Job:  # fmt: skip
    """Change what is in the workshop's rack under this name."""
    return change_in(job, STOCK, ref, board=board, length=length, width=width, count=count, offcut=offcut)


@edit
def remove_stock(job: Job, ref: Ref) -> Job:
    """Take a sheet or an offcut off the list of what the workshop has."""
    return remove(job, STOCK, ref)


@edit
def set_design(job: Job, design: Design) -> Job:
    """Take over a whole design, as a proposal has it; the survey and the brief stay."""
    return replace(job, design=design)


@edit
def release(job: Job, field: Path) -> Job:
    """Give a pinned value back, so that it is automatic again."""
    steps = steps_of(job, field)
    if not steps or isinstance(steps[-1], int):
        raise fail("field", field, "names a whole thing, not one of its values; remove it instead")
    default = default_of(get(job, steps[:-1]), str(steps[-1]))
    if default is MISSING or not (default is None or default == ()):
        raise fail("field", field, "cannot be automatic: the job itself must say it")
    return put(job, steps, default)


@edit
def set_length(job: Job, field: Path, value: Size) -> Job:
    """Set one length named by its path; how sure it was stays unless the new text says it."""
    steps, old = _length_at(job, field)
    if old is not None and value.state == "assumed" and not value.tolerance:
        value = replace(value, state=old.state, tolerance=old.tolerance)
    return put(job, steps, value)


@edit
def set_length_state(job: Job, field: Path, state: State, tolerance: Clear | None = None) -> Job:
    """Say how a surveyed length was got: assumed, from a photo, measured or verified."""
    steps, old = _length_at(job, field)
    if old is None:
        raise fail("field", field, "has no length yet; give it one first")
    exact = old.tolerance if tolerance is None else tolerance.mm
    return put(job, steps, replace(old, state=state, tolerance=exact))


def _length_at(job: Job, field: str) -> tuple[tuple[Step, ...], Length | None]:
    """The steps to a length and the length there; a tape reading stands for its value."""
    steps = steps_of(job, field)
    found: Any = get(job, steps)
    if hasattr(found, "at") and hasattr(found, "value"):
        steps = (*steps, "value")
        found = found.value
    if found is None and _may_hold_length(job, steps):
        return steps, None
    if not isinstance(found, Length):
        raise fail("field", field, f"{show_path(steps)} is no length")
    return steps, found


def _may_hold_length(job: Job, steps: tuple[Step, ...]) -> bool:
    """Whether the field at these steps is an optional length."""
    holder: Any = get(job, steps[:-1])
    return str(holder.__annotations__.get(str(steps[-1]), "")).split(" |")[0] in ("Size", "Clear", "Offset")
