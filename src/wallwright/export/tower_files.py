"""A tower's file and the job files it names, read from disk; acceptances written back into it."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from typing import Any, cast

from wallwright.export.files import read_bytes, read_job_file, write_atomic, writing
from wallwright.job.document import Job
from wallwright.job.problem import JobError, Problem
from wallwright.tower.read import LARGEST_FILE, far_off, read_tower
from wallwright.tower.record import Tower


def read_tower_file(path: str | Path) -> Tower:
    """The tower in a file, or in the tower.toml of a folder, with its types' jobs. JobError with every problem found."""
    path = Path(path)
    if path.is_dir():
        path = path / "tower.toml"
    file = read_tower(read_bytes(path, LARGEST_FILE, "tower file"), str(path))
    jobs: dict[str, Job] = {}
    problems: list[Problem] = []
    for i, kind in enumerate(file.types):
        where = f"types[{i}].job"
        if Path(kind.job).is_absolute():
            says = "must be a path from the folder of this file, so that the tower can be moved with its jobs"
            problems.append(Problem(where, repr(kind.job), says))
            continue
        try:
            jobs[kind.ref] = read_job_file(path.parent / kind.job)
        except JobError as error:
            problems += [
                Problem(f"{where} {kind.job}: {one.field}", one.value, one.says) for one in error.problems
            ]
    tower = Tower(file, jobs)
    problems = problems or list(far_off(tower))
    if problems:
        raise JobError(problems, str(path))
    return tower


def accept(path: Path, flats: Collection[str], revision: str, by: str, on: str) -> int:
    """Enter into the file who accepted the revision for these flats; comments and order stay. How many there were.

    JobError where what would be entered could not be read again; the file is then as it was.
    """
    import tomlkit

    if path.is_dir():
        path = path / "tower.toml"
    document = tomlkit.parse(read_bytes(path, LARGEST_FILE, "tower file").decode("utf-8-sig"))
    entered = 0
    for flat in cast("list[Any]", document["flats"]):
        if str(flat["id"]) in flats:
            flat["accepted"], flat["accepted_by"], flat["accepted_on"] = revision, by, on
            entered += 1
    text = tomlkit.dumps(document)
    read_tower(text, str(path))
    with writing(path):
        write_atomic(path, text.encode())
    return entered
