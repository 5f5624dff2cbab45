"""The commands that write what leaves the house: the issue set, the picture; and the one that reads an architect's room."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from threading import Thread
from typing import Annotated, Literal

from cyclopts import Parameter

from wallwright import cli_change
from wallwright.cli_progress import progress as _progress
from wallwright.cli_say import GOOD, Json, counts_of, job_of, print_json, wall_of
from wallwright.core.counted import counted

ReaderName = Literal[
    "client", "carpenter", "electrician", "stone", "screen_fitter", "site_engineer", "owner", "all"
]
"""Who a set may be written for; a test holds it to the roles there are."""


def _fetch_writers() -> None:
    """Load the packages that write the set; meanwhile the solver of the storage, which leaves Python alone, is at work."""
    for name in ("ezdxf", "typst", "xlsxwriter", "icalendar"):
        with suppress(ImportError):  # said where the file is written
            import_module(name)


def issue(  # noqa: PLR0913
    job: Path,
    *,
    out: Path,
    role: Annotated[tuple[ReaderName, ...], Parameter(negative="")] = (),
    since: Path | None = None,
    tiles: Literal["A4", "A3"] = "A4",
    pictures: Annotated[bool, Parameter(negative="")] = False,
    rates: Path | None = None,
    as_json: Json = False,
) -> int:
    """Write the whole issue set: the folder appears complete or not at all. Same input, same bytes.

    Args:
        job: The job file, or the folder it is in.
        out: The folder to write; an older set of ours in it is replaced whole.
        role: Only what this reader gets, as one PDF with his other files; may be given again. `all`: the whole set, and one PDF
            a reader beside it.
        since: The job that is out (its file, or the folder of its issue set): only what changed since is written, clouded, with a
            transmittal that names the sheets that are void; with --role, what changed for that reader alone.
        tiles: The paper of the templates at full size.
        pictures: Also the client's pictures by day and by night as files, some seconds more; his own set always has them.
        rates: A rates file to price it with; the job in the set carries them.
        as_json: Print the manifest as JSON.
    """
    from wallwright.derive import derive_to_issue
    from wallwright.export.files import writing
    from wallwright.export.package import issue as issue_set
    from wallwright.rules import check as check_wall
    from wallwright.sheets.roles import ROLES, Role

    read = job_of(job, rates)
    roles: tuple[Role, ...] = ROLES if "all" in role else tuple(name for name in ROLES if name in role)
    whole = not role or "all" in role
    if since is not None:
        return cli_change.issue_changes(
            read, since, out, as_json, roles=roles, whole=whole, tiles=tiles, pictures=pictures
        )
    Thread(target=_fetch_writers, daemon=True).start()
    with _progress("Issuing") as tell, writing(out):
        tell(0.0, "cutting plans")
        derived = derive_to_issue(read)
        manifest = issue_set(
            derived, out, progress=tell, roles=roles, whole=whole, tiles=tiles, pictures=pictures
        )
    counts = counts_of(check_wall(derived))
    if as_json:
        print_json({**manifest.as_dict(), "findings": counts})
    else:
        print(f"{len(manifest.files)} files in {out}{os.sep}, revision {manifest.revision}")
        for entry in manifest.files:
            print(f"  {entry.name:<28} {entry.size / 1000:8.1f} kB")
        for line in manifest.left_out:
            print(f"  left out: {line}")
        print("  " + ", ".join(f"{count} {severity}" for severity, count in counts.items()))
    if counts["danger"]:
        print(
            f"NOT FOR CONSTRUCTION: {counted(counts['danger'], 'danger')} open; every sheet says so",
            file=sys.stderr,
        )
    return GOOD


def picture(  # noqa: PLR0913
    job: Path,
    *,
    out: Path,
    when: Literal["day", "night"] = "night",
    seat: str = "",
    fast: bool = False,
    width: int = 960,
    height: int = 640,
    as_json: Json = False,
) -> int:
    """The client's picture of the wall in its room, from a seat, the screen black, as PNG.

    Args:
        job: The job file, or the folder it is in.
        out: The PNG to write; an older one is replaced.
        when: day, by the windows, or night, by the LED lines and lamps.
        seat: From whose eye (a seat's ref); left out: the seat that is used most.
        fast: In a few seconds, without light that goes from wall to wall; else with it (extra `render`).
        width: In pixels, 64 to 4000.
        height: In pixels, 64 to 4000.
        as_json: Print what was written as JSON.
    """
    from wallwright.export.files import write_atomic, writing
    from wallwright.export.picture import note, picture_png
    from wallwright.export.picture_scene import stage
    from wallwright.export.render import render_png

    if not (64 <= width <= 4000 and 64 <= height <= 4000):
        raise ValueError(
            f"width and height must lie between 64 and 4000 pixels; they are {width} and {height}"
        )
    wall = wall_of(job)
    says = note(stage(wall, when, seat))
    make = picture_png if fast else render_png
    with _progress("Picture") as tell, writing(out):
        write_atomic(out, make(wall, when, seat=seat, size=(width, height), progress=tell))
    if as_json:
        print_json({"file": str(out), "when": when, "light": "direct" if fast else "traced", "says": says})
    else:
        print(f"{out}: {says}")
    return GOOD


def import_room(  # noqa: PLR0913
    file: Path,
    *,
    out: Path | None = None,
    wall: str = "",
    space: str = "",
    other_side: bool = False,
    as_json: Json = False,
) -> int:
    """Read a wall of an architect's IFC model into a job: sizes, openings, what stands on it. All of it counts as assumed.

    Args:
        file: The IFC file. Reading it needs the extra `ifc`.
        out: The job file to write; without it the walls are listed and nothing is written.
        wall: The wall's name, identifier or number in the list; absent = the longest.
        space: The room's name in the file; absent = the larger of the rooms beside the wall.
        other_side: Read the wall's other face.
        as_json: Print what was read as JSON.
    """
    from wallwright.export.files import write_atomic, writing
    from wallwright.export.ifc_read import read_room_apart
    from wallwright.job.document import Job
    from wallwright.job.problem import fail
    from wallwright.job.write import write_job

    read = read_room_apart(file, wall, space, other_side=other_side)
    if out is not None:
        with writing(out):
            if out.exists():
                raise fail(
                    "file", None, "is there already; choose another name, nothing was overwritten", str(out)
                )
            write_atomic(
                out, write_job(Job(title=f"{read.survey.room.name} wall"[:80], survey=read.survey)).encode()
            )
    if as_json:
        walls = [{"number": one.number, "name": one.name, "storey": one.storey, "length": round(one.length, 1),
                  "height": round(one.height, 1), "thickness": round(one.thickness, 1), "openings": one.openings,
                  "spaces": list(one.spaces)} for one in read.walls]  # fmt: skip
        told = {"read": list(read.taken), "guessed": list(read.guessed), "not_read": list(read.left)}
        print_json(
            {"wall": read.wall.number, "walls": walls, **told, "job": str(out) if out is not None else None}
        )
        return GOOD
    for one in read.walls:
        mark = "→" if one.number == read.wall.number else " "
        beside = f"; beside {', '.join(one.spaces)}" if one.spaces else ""
        print(
            f"{mark}{one.number:>3}  {one.name}  {one.length:.0f} × {one.height:.0f} × {one.thickness:.0f} mm"
            f"{f'  {one.storey}' if one.storey else ''}{beside}"
        )
    for title, lines in (
        ("Read", read.taken),
        ("Guessed: correct it", read.guessed),
        ("Not read", read.left),
    ):
        print(f"{title}:")
        for line in lines:
            print(f"  {line}")
    print("Every length counts as assumed until somebody measures it.")
    print(f"{out}\nNext: wallwright check {out}" if out else "Nothing was written: give --out job.toml")
    return GOOD
