"""The command about many flats: a tower worked out, printed, written as a set; a change of a type rolled out; the demo."""

from __future__ import annotations

import json
import os
from collections.abc import Generator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from cyclopts import Parameter

from wallwright.cli_progress import progress
from wallwright.core.counted import counted

if TYPE_CHECKING:
    from wallwright.core.table import Table
    from wallwright.tower.batch import Send
    from wallwright.tower.pooled import Pooled
    from wallwright.tower.record import Tower
    from wallwright.tower.rollout import Rollout
    from wallwright.tower.run import Worked
    from wallwright.tower.sample import Sample

Json = Annotated[bool, Parameter(name="--json", negative="")]
GOOD, MUST_FIX = 0, 1


def tower(  # noqa: PLR0913
    tower: Path,
    *,
    out: Path | None = None,
    since: Path | None = None,
    accept: str = "",
    only: str = "",
    on: str = "",
    sheets: bool = True,
    workers: int = 0,
    scheduler: str = "",
    steps: int | None = None,
    demo: bool = False,
    as_json: Json = False,
) -> int:
    """Many flats of a few types: hands, samples, exceptions, changes by state, cutting and orders by delivery, sheets, bulk bill.

    Exit 0 all is well, 1 flats failed, do not take their unit, have something to put right, or ask to be accepted first, 2 bad input.

    Args:
        tower: The tower's file, or the folder it is in.
        out: Write the whole set there: flat and check sheets by floor, labels and cutting by delivery, lists, manifest.
        since: The tower as it is out: what changed is rolled out to the flats concerned, by how far each is.
        accept: With --since, who accepts the change for flats ordered or further; entered into the file.
        only: With --accept, the flats it is for, as 0304,0305; left out, all that ask.
        on: With --accept, the day of it, YYYY-MM-DD; left out, the date of the file.
        sheets: Draw flats, floors and labels into the set; --no-sheets writes lists and cutting plans alone.
        workers: Processes to work with; 0 = one a processor, 1 = none but this one.
        scheduler: Address of a dask.distributed scheduler that is there already (extra `tower`); it does the work instead.
        steps: Steps of the search for each board of a delivery; left out, as the rule set has it.
        demo: Write the invented demo tower of 120 flats into the folder first.
        as_json: Print everything as JSON.
    """
    from wallwright.export.tower_files import read_tower_file
    from wallwright.tower.lists import all_lists
    from wallwright.tower.pooled import pooled
    from wallwright.tower.rollout import in_force, rollout
    from wallwright.tower.run import run
    from wallwright.tower.sample import samples

    _refuse(since, accept, only, on, workers, steps)
    if demo:
        _write_demo(tower)
    read = read_tower_file(tower)
    rolled: Rollout | None = None
    with _sender(workers, scheduler) as send, progress("Tower") as bar:

        def tell(what: str, done: int, of: int) -> None:
            bar(done / max(of, 1), f"{what}, {done} of {of}")

        if since is not None:
            old = read_tower_file(since)
            rolled = rollout(old, read, send, tell)
            _revised(old, read, rolled)
            if accept and (flats := _accepted(rolled, only)):
                _accept(tower, read, flats, accept, on)
                read = read_tower_file(tower)
                rolled = rollout(old, read, send, tell)
            read = in_force(old, read, rolled)
        worked = run(read, send, tell)
        told = samples(worked, _limits(read))
        cut = pooled(worked, send, tell, steps)
        if out is not None:
            _issue(worked, told, cut, out, rolled, send, tell, sheets)
    if as_json:
        from wallwright.export.tower_json import tower_json

        print(
            json.dumps(
                tower_json(worked, told, cut, rolled, all_lists(worked, told, cut, rolled)),
                ensure_ascii=False,
                indent=1,
            )
        )
    else:
        _print(worked, told, cut, rolled, out)
    return MUST_FIX if against(worked, cut, rolled) else GOOD


def _refuse(since: Path | None, accept: str, only: str, on: str, workers: int, steps: int | None) -> None:
    from wallwright.job.problem import fail

    if accept and since is None:
        raise fail(
            "--accept",
            accept,
            "what is accepted is a change: name the tower as it is out with --since",
            "tower",
        )
    if (only or on) and not accept:
        name, value = ("--only", only) if only else ("--on", on)
        raise fail(name, value, "goes with --accept", "tower")
    if on and not _day(on):
        raise fail("--on", on, "is no day; write it as 2026-04-01", "tower")
    if not 0 <= workers <= 512:
        raise fail("--workers", workers, "must be from 0 (one a processor) to 512", "tower")
    if steps is not None and steps < 0:
        raise fail("--steps", steps, "must be 0 or more", "tower")


@contextmanager
def _sender(workers: int, scheduler: str) -> Generator[Send[Any, Any]]:
    """Whoever does the work."""
    if scheduler:
        from wallwright.tower.cluster import cluster

        with cluster(scheduler) as send:
            yield send
    else:
        from wallwright.tower.batch import pool

        with pool(workers) as send:
            yield send


def _limits(read: Tower) -> Any:
    """The rule set of the tower: its first type's."""
    from wallwright.library import load

    job = read.jobs[read.file.types[0].ref]
    return load.limits_of(job.survey.place.rules).overridden(job.rules)


def _write_demo(folder: Path) -> None:
    from wallwright.export.files import write_atomic, writing
    from wallwright.job.problem import fail
    from wallwright.tower.demo import demo_files

    for name, text in demo_files().items():
        path = folder / name
        with writing(path):
            if path.exists() and path.read_bytes() != text.encode():
                raise fail(
                    "file",
                    None,
                    "is there and is not the demo; choose another folder, nothing was overwritten",
                    str(path),
                )
            path.parent.mkdir(parents=True, exist_ok=True)
            write_atomic(path, text.encode())


def _revised(old: Tower, new: Tower, rolled: Rollout) -> None:
    """A change that somebody must accept needs a revision of its own: an acceptance is of a revision."""
    from wallwright.job.problem import fail

    if rolled.asks and old.file.revision == new.file.revision:
        says = (
            "is that of the tower as it is out, though the change concerns flats that are ordered or further "
            f"({_some([one.flat.id for one in rolled.asks])}); give the changed tower the next one"
        )
        raise fail("revision", new.file.revision, says, "tower")


def _accepted(rolled: Rollout, only: str) -> list[str]:
    """The flats for which it is accepted. JobError where one does not ask."""
    from wallwright.job.problem import fail, nearest

    asks = [one.flat.id for one in rolled.asks]
    wanted = [name.strip() for name in only.split(",") if name.strip()] or asks
    for name in wanted:
        if name not in asks:
            says = (
                f"does not ask to be accepted; {nearest(name, asks)}"
                if asks
                else "no flat asks to be accepted"
            )
            raise fail("--only", name, says, "tower")
    return wanted


def _accept(path: Path, read: Tower, flats: list[str], by: str, on: str) -> None:
    from wallwright.export.tower_files import accept

    accept(path, set(flats), read.file.revision, by, on or read.file.date)


def _day(text: str) -> bool:
    from datetime import date

    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _issue(  # noqa: PLR0913
    worked: Worked, told: tuple[Sample, ...], cut: Pooled, out: Path, rolled: Rollout | None, send: Send[Any, Any], tell: Any, sheets: bool
) -> None:  # fmt: skip
    from wallwright.export.files import writing
    from wallwright.export.tower_set import issue

    with writing(out):
        issue(worked, told, cut, out, rolled=rolled, send=send, tell=tell, sheets=sheets)


def against(worked: Worked, cut: Pooled, rolled: Rollout | None) -> tuple[str, ...]:
    """What stands against going on, each in a line with its flats; empty where all is well."""
    flats = worked.flats
    wrong = [one.flat.id for one in flats if any(item.severity in ("danger", "fix") for item in one.findings)]
    unfit = [one.flat.id for one in flats if one.takes is False and one.series and not one.undecided]
    found = {
        "nothing could be made of them": [one.flat.id for one in worked.failed],
        "it is not said by what their boards were made (to_measure)": [
            one.flat.id for one in flats if one.undecided
        ],
        "they do not take their unit, which is made as drawn": unfit,
        "they have something to put right": wrong,
        "no sheet gives a part of theirs": list(dict.fromkeys(flat for flat, _, _ in cut.unfit)),
        "their boards could not be cut": [one.key for one in cut.failed],
        "a change asks to be accepted": [one.flat.id for one in rolled.asks] if rolled else [],
        "the change cannot be made in them": [one.flat.id for one in rolled.flats if one.what == "failed"]
        if rolled
        else [],
        "they are not in the file any more, though something was made for them": [
            one.flat.id for one in rolled.lost
        ]
        if rolled
        else [],
    }
    return tuple(f"{says}: {_some(ids)}" for says, ids in found.items() if ids)


def _some(ids: list[str]) -> str:
    return ", ".join(ids[:12]) + (f" and {len(ids) - 12} more" if len(ids) > 12 else "")


def _print(
    worked: Worked, told: tuple[Sample, ...], cut: Pooled, rolled: Rollout | None, out: Path | None
) -> None:
    from wallwright.export.text import table_text
    from wallwright.tower import lists

    print(
        f"{worked.tower.file.title}: {counted(len(worked.flats), 'flat')} of {counted(len(worked.types), 'type')}, "
        f"{counted(worked.walls, 'distinct wall')}, "
        f"{worked.checks} measured walls checked"
    )
    tables = [
        lists.totals(worked),
        lists.openings(told),
        lists.fitting(told),
        lists.not_taking(worked),
        lists.cutting(cut, worked),
    ]
    tables += [lists.findings(worked, ("danger", "fix")), lists.exceptions(worked), lists.failed(worked)]
    if rolled:
        tables += [lists.changed(rolled, worked), lists.kept(rolled)]
    for table in tables:
        if table.rows:
            print(f"\n{table_text(_in_mm(table))}")
    if rolled and rolled.asks:
        ids = ", ".join(one.flat.id for one in rolled.asks)
        print(f"\nOrdered or further, to be accepted first; made as they are out until then: {ids}")
        print("  accept with: --since OLD --accept NAME [--only 0304,0305]")
    if open_ := against(worked, cut, rolled):
        print("\nWhat stands against going on, and the flats")
        for line in open_:
            print(f"  {line}")
    if out is not None:
        print(f"\nWritten to {out}{os.sep}")


def _in_mm(table: Table) -> Table:
    """The unit in the title where every size has the same: so its columns go on a terminal."""
    if {column.unit for column in table.columns} != {"", "mm"}:
        return table
    return replace(
        table, title=f"{table.title}, mm", columns=tuple(replace(one, unit="") for one in table.columns)
    )
