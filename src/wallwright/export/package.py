"""The whole issue set: every drawing, schedule, model and list of a wall in one folder that appears complete or not at all.

All files are made in memory first, written to a folder beside the target, and brought in by one rename. Same input, same bytes.
"""

from __future__ import annotations

import ctypes
import gc
import hashlib
import json
import os
import secrets
import shutil
import sys
import time
from collections.abc import Callable, Generator, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wallwright.core.counted import counted
from wallwright.core.table import Table
from wallwright.export.boring import boring_csv
from wallwright.export.cut_csv import cutlist_csv as cutlist_csv
from wallwright.export.cut_csv import cutting_plan_csv as cutting_plan_csv
from wallwright.export.dxf import drawings_dxf, sheet_dxf
from wallwright.export.gltf import wall_glb
from wallwright.export.ics import programme_ics
from wallwright.export.ifc import wall_ifc
from wallwright.export.pdf import documents_pdf, drawings_pdf, is_archive, laid_pdf, lost_letters
from wallwright.export.quote import quote_pdf
from wallwright.export.role_sets import WHENS, client_pictures, picture_name, role_contents
from wallwright.export.svg import laid
from wallwright.export.xlsx import csv, xlsx
from wallwright.rules import check
from wallwright.sheets import labels
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.paper import Fields, Sheet
from wallwright.sheets.quote import quote_paper
from wallwright.sheets.templates import templates

if TYPE_CHECKING:
    from wallwright.cutting.record import CutPlans
    from wallwright.derive import Wall
    from wallwright.sheets.roles import Role
    from wallwright.sheets.tiles import Paper

MANIFEST = "manifest.json"
_FORMAT = "wallwright-issue"
_HERE, _EXCHANGE = -100, 2  # AT_FDCWD and RENAME_EXCHANGE of Linux
Progress = Callable[[float, str], object]


@dataclass(frozen=True, slots=True)
class Entry:
    """One file of the set."""

    name: str
    size: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Manifest:
    """What was issued: the job's number, revision and date, each file with its SHA-256, and what was left out and why.

    since : of a set of changes alone, the revision it is read with, the sheets in force and those that are void
    """

    number: str
    title: str
    revision: str
    status: str
    date: str
    files: tuple[Entry, ...]
    left_out: tuple[str, ...]
    since: Mapping[str, Any] = field(default_factory=dict[str, Any])

    def as_dict(self) -> dict[str, Any]:
        """For JSON, as manifest.json holds it."""
        return {
            _FORMAT: 1,
            "number": self.number,
            "title": self.title,
            "revision": self.revision,
            "status": self.status,
            "date": self.date,
            "files": [{"name": e.name, "size": e.size, "sha256": e.sha256} for e in self.files],
            "left_out": list(self.left_out),
            **({"since": dict(self.since)} if self.since else {}),
        }


class NotForConstruction(ValueError):  # noqa: N818
    """A construction set was asked for while something on the wall may still hurt someone."""

    exit_code = 1


def refuse_danger(wall: Wall) -> None:
    """Raise NotForConstruction where a construction or as-built set is asked for with a danger open; other sets are stamped."""
    if wall.job.status not in ("construction", "as_built"):
        return
    dangers = [item for item in check(wall, cures=False) if item.severity == "danger"]
    if dangers:
        said = "; ".join(f"{item.where}: {item.says}" for item in dangers[:3])
        more = f" and {len(dangers) - 3} more" if len(dangers) > 3 else ""
        msg = (
            f"status is {wall.job.status!r}, but {counted(len(dangers), 'danger is', 'dangers are')} open ({said}{more}): nothing was written; "
            "put them right, or issue the set as preliminary"
        )
        raise NotForConstruction(msg)


def issue(
    wall: Wall,
    out_dir: str | Path,
    *,
    cuts: CutPlans | None = None,
    progress: Progress | None = None,
    roles: Sequence[Role] = (),
    whole: bool = True,
    tiles: Paper = "A4",
    pictures: bool = False,
) -> Manifest:
    """Write the issue set of a wall.

    Args:
        wall: The derived wall.
        out_dir: The folder. One that is there is replaced only when it is empty or holds an issue set of ours.
        cuts: Better cutting plans than the wall's quick ones.
        progress: Called with the share done (0..1) and what is being made.
        roles: Readers whose own sets are written too, each one PDF.
        whole: Whether the whole set is written; else only what those readers get.
        tiles: The paper of the templates at full size.
        pictures: Whether the client's pictures by day and by night are written as files too; his own set always has them.

    Raises:
        NotForConstruction: a construction set with a danger open; nothing is written.
        FileExistsError: the folder holds something that is not ours; says what to do.
        OSError: the folder cannot be written.
    """
    target = Path(out_dir)
    refuse_danger(wall)
    _may_replace(target)
    tell = progress or (lambda share, words: None)
    files: dict[str, bytes] = {}
    left_out: list[str] = []
    shots = client_pictures(wall) if pictures or "client" in roles else ()
    if pictures:
        files |= {picture_name(when): png for when, (_, png, _) in zip(WHENS, shots, strict=True)}
    every = partial(contents, tiles=tiles)
    making = (
        role_contents(wall, roles, cuts, left_out, every, whole=whole, shots=shots)
        if roles
        else every(wall, cuts, left_out)
    )
    with uncollected():
        for share, name, data in making:
            files[name] = data
            tell(share, name)
    manifest = write_set(wall, target, files, left_out)
    tell(1.0, "done")
    return manifest


@contextmanager
def uncollected() -> Generator[None]:
    """Without the collector of circles: what a set is made of goes as soon as it is used, and looking it through costs a tenth more."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def write_set(
    wall: Wall, target: Path, files: dict[str, bytes], left_out: list[str], since: Mapping[str, Any] | None = None
) -> Manifest:  # fmt: skip
    """The files and their manifest in the folder, whole or not at all. Raises as `issue` does."""
    manifest = replace(_manifest(wall, files, left_out), since=since or {})
    write_folder(target, files, manifest)
    return manifest


def write_folder(target: Path, files: dict[str, bytes], manifest: Manifest) -> None:
    """The files and a manifest that names them in the folder, whole or not at all. Raises as `issue` does."""
    _may_replace(target)
    files[MANIFEST] = (json.dumps(manifest.as_dict(), indent=1, ensure_ascii=False) + "\n").encode()
    _bring_in(target, files)


def entries_of(files: Mapping[str, bytes]) -> tuple[Entry, ...]:
    """What a manifest says of its files, by name."""
    return tuple(
        Entry(name, len(data), hashlib.sha256(data).hexdigest()) for name, data in sorted(files.items())
    )


def contents(
    wall: Wall, cuts: CutPlans | None, left_out: list[str], tiles: Paper = "A4"
) -> Iterator[tuple[float, str, bytes]]:  # fmt: skip
    """Every file of the set but the manifest: (share done, name, bytes). What cannot be made is named in `left_out`."""
    from wallwright.job.write import write_job
    from wallwright.rules.check import check
    from wallwright.tables import all_tables
    from wallwright.tables.boring import hole_list

    chosen, job = cuts or wall.cuts, wall.job
    tables = all_tables(wall, check(wall))
    yield 0.05, "job.toml", write_job(job).encode()
    with ThreadPoolExecutor(1) as typesetter:  # it lets go of the interpreter: the rest is made meanwhile
        pdfs = {"documents.pdf": typesetter.submit(documents_pdf, tables, job.title, Fields.of(job))}
        sheets = drawing_set(wall, chosen)
        drawn = [laid(sheet) for sheet in sheets]
        pdfs["drawings.pdf"] = typesetter.submit(laid_pdf, drawn)
        pdfs["quote.pdf"] = typesetter.submit(quote_pdf, quote_paper(wall), job.currency)
        pdfs["templates.pdf"] = typesetter.submit(lambda: drawings_pdf(templates(wall, tiles)))
        if wall.carcass.parts:
            pdfs["labels.pdf"] = typesetter.submit(lambda: drawings_pdf(labels.sheets(wall, chosen)))
        names = (job.title, job.client, job.designer, job.approver, *(sheet.title for sheet in sheets))
        lost = lost_letters((*names, *_cells(tables)))
        if lost:
            left_out.append(f"letters that no shipped font has, printed as an empty box: {lost}")
        named = {sheet.name: sheet for sheet in sheets}
        yield 0.25, "elevation.dxf", sheet_dxf(named["elevation"])
        yield 0.35, "services.dxf", sheet_dxf(named["services"])
        yield 0.38, "drawings.dxf", drawings_dxf(sheets)
        yield 0.40, "wall.ifc", wall_ifc(wall)
        yield 0.42, "wall.glb", wall_glb(wall)
        boring = hole_list(
            wall
        )  # too long to print: in the workbook, as CSV, and by the row on the drilling sheets
        schedules = (*tables, boring) if boring.rows else tables
        yield 0.46, "schedules.xlsx", xlsx(schedules, job.title, job.date)
        yield 0.47, "cutlist.csv", cutlist_csv(wall)
        if boring.rows:
            yield 0.475, "holes.csv", boring_csv(wall)
        yield 0.48, "cutting_plan.csv", cutting_plan_csv(chosen)
        yield 0.52, "programme.ics", programme_ics(wall)
        for name in ("commissioning", "snag_list", "variations"):
            for table in tables:
                if table.name == name:
                    yield 0.53, f"{name}.csv", csv([col.heading for col in table.columns], table.rows)
        for sheet in drawn:
            yield 0.56, svg_name(sheet.sheet), sheet.svg().encode()
        for i, (name, made) in enumerate(pdfs.items(), 1):
            data = made.result()
            if not is_archive(data):
                left_out.append(
                    f"{name} is no archive file (PDF/A): a name in it has signs that no font can set"
                )
            yield 0.56 + 0.43 * i / len(pdfs), name, data


def svg_name(sheet: Sheet) -> str:
    """The file name of a sheet's SVG: its number and name."""
    return f"{sheet.number:02d}_{sheet.name}.svg"


def data_files(wall: Wall, cuts: CutPlans) -> Iterator[tuple[str, bytes]]:
    """The files of the set that are neither printed nor drawn: models, lists for machines, the calendar."""
    yield "wall.ifc", wall_ifc(wall)
    yield "wall.glb", wall_glb(wall)
    yield "cutlist.csv", cutlist_csv(wall)
    if wall.carcass.parts:
        yield "holes.csv", boring_csv(wall)
    yield "cutting_plan.csv", cutting_plan_csv(cuts)
    yield "programme.ics", programme_ics(wall)


def _cells(tables: tuple[Table, ...]) -> Iterator[str]:
    for table in tables:
        yield table.title
        for row in table.rows:
            yield from (cell for cell in row if isinstance(cell, str))


def _manifest(wall: Wall, files: dict[str, bytes], left_out: list[str]) -> Manifest:
    job = wall.job
    return Manifest(
        job.number, job.title, job.revision, job.status, job.date, entries_of(files), tuple(left_out)
    )


def _may_replace(target: Path) -> None:
    """FileExistsError unless the target is new, empty, or an issue set of ours."""
    if not target.exists() and not target.is_symlink():
        return
    if not target.is_dir() or target.is_symlink():
        raise FileExistsError(
            f"{target}: is there and is not a folder; choose another place for the issue set"
        )
    if any(target.iterdir()) and not _ours(target):
        raise FileExistsError(
            f"{target}: holds files that are not an issue set; empty it or choose another folder"
        )


def _ours(folder: Path) -> bool:
    """Whether the folder is one that `issue` wrote, and nothing but that: its manifest names every file in it."""
    try:
        manifest = json.loads((folder / MANIFEST).read_bytes())
        names = {entry["name"] for entry in manifest["files"]} | {MANIFEST}
        return manifest.get(_FORMAT) == 1 and {path.name for path in folder.iterdir()} <= names
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return False


def _bring_in(target: Path, files: dict[str, bytes]) -> None:
    """Write all files to a folder beside the target, flush them to disk, and put it in place; the old set goes last."""
    target.parent.mkdir(parents=True, exist_ok=True)
    _clear_up(target)
    mark = secrets.token_hex(4)
    fresh = target.with_name(f".{target.name}.{mark}.new")
    try:
        fresh.mkdir()
        with ThreadPoolExecutor(_WRITERS) as writers:  # the disk takes many flushes in the time of one
            for _ in writers.map(partial(_written, fresh), files.items()):
                pass  # each is asked for, so that what the system refused is raised here
        _flush(fresh)
        _swap(fresh, target, mark)
        _flush(target.parent)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


_WRITERS = 8


def _written(folder: Path, named: tuple[str, bytes]) -> None:
    """One new file, on the disk when this returns."""
    with (folder / named[0]).open("xb") as file:
        file.write(named[1])
        file.flush()
        os.fsync(file.fileno())


STALE = 3600.0
"""What an issue that was killed left beside the target is taken away when it is so old [s]: a living one is younger."""


def _clear_up(target: Path) -> None:
    """After a kill: an old set that was out of its place goes back, and half a new one goes away."""
    beside = sorted(target.parent.glob(f".{target.name}.????????.*"))
    for old in beside:
        if old.suffix == ".old" and not target.exists() and _ours(old):
            old.rename(target)
    for left in beside:
        if left.suffix in (".new", ".old") and left.is_dir() and time.time() - left.stat().st_mtime > STALE:
            shutil.rmtree(left, ignore_errors=True)


def _swap(fresh: Path, target: Path, mark: str) -> None:
    """The new folder in place of the old: by one exchange where the system has it, else by two renames that undo one another."""
    if not target.exists():
        fresh.rename(target)
        return
    if _exchanged(fresh, target):
        return  # the old set now lies where the new one was, and goes with it
    old = target.with_name(f".{target.name}.{mark}.old")
    target.rename(old)
    try:
        fresh.rename(target)
    except BaseException:
        old.rename(target)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _exchanged(a: Path, b: Path) -> bool:
    """Swap two folders in one step (renameat2 with RENAME_EXCHANGE, Linux); False where that is not to be had."""
    if sys.platform != "linux":
        return False
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    return rename(_HERE, os.fsencode(a), _HERE, os.fsencode(b), _EXCHANGE) == 0


def _flush(folder: Path) -> None:
    """Make the folder's own entries durable, where the system can."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        pass
    finally:
        os.close(handle)
