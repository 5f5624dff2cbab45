"""The commands about money: rates written out and laid in, the way back into the budget, options priced side by side."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from cyclopts import Parameter

from wallwright.cli_progress import waiting

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.document import Job
    from wallwright.options.hunt import Progress

Json = Annotated[bool, Parameter(name="--json", negative="")]
GOOD = 0


def job_with_rates(path: Path, rates: Path | None) -> Job:
    """A job, with the rates of a file laid over its own. JobError where a rate in it cannot be."""
    from wallwright.export.files import read_job_file

    job = read_job_file(path / "job.toml" if path.is_dir() else path)
    return _laid(job, rates) if rates is not None else job


def _laid(job: Job, rates: Path) -> Job:
    from wallwright.export.rates import read_rates_file
    from wallwright.job.edits import apply
    from wallwright.job.problem import JobError

    own = read_rates_file(rates)
    try:
        return apply(job, "set_own_rates", {"rates": own})
    except JobError as error:
        raise JobError(error.problems, str(rates)) from None


def rates(
    job: Path | None = None, *, out: Path | None = None, use: Path | None = None, as_json: Json = False
) -> int:
    """Write the rates book out to be edited, or lay an edited one into a job.

    Args:
        job: The job file; without it, the demo book alone.
        out: The file to write; without it, the book is printed.
        use: A rates file to lay into the job's own [rates]; the job file is changed.
        as_json: Print the rates as JSON.
    """
    from wallwright.export.files import write_atomic, writing
    from wallwright.export.rates import rates_text
    from wallwright.job.problem import fail
    from wallwright.library import rates as rates_book

    if use is not None and job is None:
        raise fail("job", None, "--use lays rates into a job: name it", "rates")
    read = job_with_rates(job, use) if job is not None else None
    if use is not None and job is not None and read is not None:
        return _use(job, read, as_json)
    book = rates_book.book(read.design.rates, read.rates) if read else rates_book.book()
    if as_json:
        rows = {
            key: {"name": r.name, "trade": r.trade, "unit": r.unit, "amount": r.amount, "hours": r.hours}
            for key, r in book.items()
        }
        print(json.dumps(rows, ensure_ascii=False, indent=2))
        return GOOD
    text = rates_text(book)
    if out is None:
        print(text, end="")
        return GOOD
    with writing(out):
        if out.exists():
            raise fail(
                "file", None, "is there already; choose another name, nothing was overwritten", str(out)
            )
        write_atomic(out, text.encode())
    print(f"{out}: {len(book)} rates to be edited. Then: wallwright rates JOB --use {out}")
    return GOOD


def _use(path: Path, job: Job, as_json: bool) -> int:
    """The job file with the rates laid in; its comments and order stay."""
    from wallwright.export.files import read_bytes, write_atomic, writing
    from wallwright.job.write import merge_into

    target = path / "job.toml" if path.is_dir() else path
    text = merge_into(read_bytes(target).decode("utf-8-sig"), job)
    with writing(target):
        write_atomic(target, text.encode())
    if as_json:
        print(json.dumps({"job": str(target), "rates": len(job.rates)}))
    else:
        print(f"{target}: {len(job.rates)} rates of your own")
    return GOOD


def budget(
    job: Path, *, amount: float | None = None, rates: Path | None = None, keep: tuple[str, ...] = (), swaps: bool = False, as_json: Json = False
) -> int:  # fmt: skip
    """The shortest list of swaps with least loss of value that brings a wall back into its budget. Exit 1 where none does.

    Args:
        job: The job file, or the folder it is in.
        amount: The budget, all in; without it, the brief's.
        rates: A rates file to price it with.
        keep: What must stay as it is: refs, or wall, fronts, panels, boards, lights, mount.
        swaps: Print every swap that was weighed too.
        as_json: Print the way back as JSON.
    """
    from wallwright.derive import derive
    from wallwright.export.text import table_text
    from wallwright.job.edits import apply
    from wallwright.options.budget import way_back
    from wallwright.tables.options import swaps_table, way_back_table

    read = job_with_rates(job, rates)
    if amount is not None:
        read = apply(read, "set_budget", {"amount": amount})
    if keep:
        held = read.brief.budget.keep if read.brief.budget else ()
        read = apply(read, "keep_from_swaps", {"keep": list(dict.fromkeys((*held, *keep)))})
    with waiting("Looking for the way back into the budget") as tell:
        wall = derive(read, searched=True)
        found = way_back(wall, tell=tell)
    if as_json:
        from wallwright.export.options_json import way_back_json

        print(json.dumps(way_back_json(wall, found), ensure_ascii=False, indent=2))
    else:
        print(table_text(way_back_table(wall, found)))
        if swaps:
            print(f"\n{table_text(swaps_table(wall, found))}")
    return GOOD if found.reached else 1


def options(  # noqa: PLR0913
    job: Path, *, finishes: bool = False, styles: bool = False, number: Annotated[int, Parameter(name=["-n", "--number"])] = 3,
    hold: bool = False, fresh: bool = False, rates: Path | None = None, out: Path | None = None, as_json: Json = False,
) -> int:  # fmt: skip
    """Complete walls proposed from survey and brief, each sound, priced and in the client's words; what the design gives is held.

    Where a design leaves fewer walls than were asked for, the rest set its units, panels and lights aside, and say so.

    Args:
        job: The job file, or the folder it is in.
        finishes: Keep the whole wall as it stands; only what it is faced in differs.
        styles: Three directions of style on one outline, on equal terms.
        number: How many at most.
        hold: Only walls that hold all that the design gives.
        fresh: Only walls that set its units, panels, lights and finishes aside.
        rates: A rates file to price them with.
        out: A folder to write each option to as a job of its own.
        as_json: Print them as JSON, each with its whole job.
    """
    if number < 1:
        raise ValueError(f"-n {number}: must be 1 or more")
    if hold and fresh:
        raise ValueError("--hold and --fresh: give one of the two")
    read = job_with_rates(job, rates)
    if finishes:
        return _finishes(read, number, out, as_json=as_json)
    from wallwright.export.proposals_json import proposals_json
    from wallwright.export.text import table_text
    from wallwright.options import propose
    from wallwright.tables.proposals import proposals_table

    given: propose.Given = "hold" if hold else "fresh" if fresh else "both"
    with waiting("Looking for sound walls") as tell:

        def heard(state: Progress) -> None:
            tell(f"{state.says}, {state.done} of {state.of}" if state.of else state.says)
            if not as_json:
                _first_shown(state)

        if styles:
            found = propose.styles(read, design=given)
        else:
            found = propose.propose(read, number, heard, design=given)
    if out is not None:
        _write(((one.key, one.job) for one in found.options), out)
    if as_json:
        print(json.dumps(proposals_json(found), ensure_ascii=False, indent=2))
    else:
        title = "Three directions of style" if styles else "Walls for this brief"
        print(table_text(proposals_table(found, title)))
    return GOOD if found.options else 1


def _first_shown(state: Progress) -> None:
    """The first sound wall is told at once, while the search goes on."""
    if state.shown is not None:
        money = state.shown.sound.wall.money
        print(f"first: {state.says}, {money.shown(money.total)}", file=sys.stderr, flush=True)


def _finishes(job: Job, number: int, out: Path | None, *, as_json: bool) -> int:
    from wallwright.derive import derive
    from wallwright.export.options_json import options_json
    from wallwright.export.text import table_text
    from wallwright.options.finish_sets import finish_options
    from wallwright.tables.options import options_table

    with waiting("Pricing finishes"):
        wall = derive(job, searched=True)
        found = finish_options(wall)[:number]
    if out is not None:
        _write(((one.key, one.wall.job) for one in found), out)
    if as_json:
        print(json.dumps(options_json(wall, found), ensure_ascii=False, indent=2))
    else:
        print(table_text(options_table(wall, found, "One geometry, three sets of finishes")))
    return GOOD


def _write(found: Iterable[tuple[str, Job]], out: Path) -> None:
    from wallwright.export.files import write_atomic, writing
    from wallwright.job.write import write_job

    with writing(out):
        out.mkdir(parents=True, exist_ok=True)
        for key, job in found:
            write_atomic(out / f"{key}.toml", write_job(job).encode())


def quote(job: Path, *, out: Path, rates: Path | None = None, as_json: Json = False) -> int:
    """Write the client's quote as a PDF: what you get, the price, what is not in it, how it is paid, how changes go.

    Args:
        job: The job file, or the folder it is in.
        out: The PDF to write; one that is there is replaced.
        rates: A rates file to price it with.
        as_json: Print what was written as JSON.
    """
    from wallwright.derive import derive_to_issue
    from wallwright.export.files import write_atomic, writing
    from wallwright.export.quote import quote_pdf
    from wallwright.sheets.quote import quote_paper

    wall: Wall = derive_to_issue(job_with_rates(job, rates))
    paper = quote_paper(wall)
    with writing(out):
        write_atomic(out, quote_pdf(paper, wall.job.currency))
    told: dict[str, Any] = {
        "file": str(out),
        "price": wall.money.major(wall.money.total),
        "warnings": list(paper.warnings),
    }
    if as_json:
        print(json.dumps(told, ensure_ascii=False))
        return GOOD
    print(f"{out}: {wall.money.shown(wall.money.total)}")
    for line in paper.warnings:
        print(f"  {line}")
    return GOOD
