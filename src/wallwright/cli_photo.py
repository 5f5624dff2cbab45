"""The commands about photos: the wall straightened, its boxes checked, the design laid over it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import App, Parameter

from wallwright import cli_money

if TYPE_CHECKING:
    from wallwright.core.limit import Limits
    from wallwright.core.table import Table
    from wallwright.derive import Wall
    from wallwright.export.photo_file import Picture
    from wallwright.photo.taken import Taken

photo = App(
    name="photo",
    help="Photos of the wall: straightened, boxes checked in mm, the design laid over.",
    result_action="return_value",
)
Json = Annotated[bool, Parameter(name="--json", negative="")]
GOOD, STOPS = 0, 1


def _wall(path: Path) -> Wall:
    from wallwright.derive import derive

    return derive(cli_money.job_with_rates(path, None))


def _taken(path: Path, limits: Limits) -> tuple[Taken, Picture]:
    """The photo file read, its picture opened, and both worked out."""
    from wallwright.export.files import read_bytes
    from wallwright.export.photo_file import read_picture
    from wallwright.photo.file import read_photo
    from wallwright.photo.taken import taken

    marked = read_photo(read_bytes(path, what="photo file"), str(path))
    picture = read_picture(path.parent / marked.picture)
    return taken(marked, picture.size, picture.focal_35, limits, str(path)), picture


def _print(tables: Iterable[Table]) -> None:
    from wallwright.export.text import table_text

    for table in tables:
        if table.rows:
            print(f"{table_text(table)}\n")


def _warned(found: Taken) -> None:
    for one in found.suspects:
        print(f"Measure {one.ref} again: the others put it {one.far:.0f} mm from there.")


@photo.command
def straighten(marked: Path, *, out: Path, job: Path | None = None, as_json: Json = False) -> int:
    """Lay a photo of the wall straight and to scale, with a grid in mm and how sure it is. Exit 1 where a measured point is wrong.

    Args:
        marked: The photo file: which picture, and at least four measured points (docs/guide/photo.md).
        out: The picture to write, .png or .jpg.
        job: The job, for the wall's size and its limits; without it the measured points' own extent is shown.
        as_json: Print what was found as JSON.
    """
    from wallwright.export.files import write_atomic, writing
    from wallwright.export.photo_file import encoded, ending
    from wallwright.export.photo_json import sure_json, taken_json
    from wallwright.export.photo_straight import straightened
    from wallwright.library.load import limits
    from wallwright.photo.straight import marked_area
    from wallwright.tables import photo as lists

    end = ending(out)
    wall = _wall(job) if job else None
    rules = wall.limits if wall else limits()
    found, picture = _taken(marked, rules)
    own = marked_area(found.fit)
    area = wall.face.box if wall else own.grown(0.05 * max(own.width, own.height))
    made = straightened(found.fit, picture.pixels, area, rules.value("photo.shown"), marked.stem)
    with writing(out):
        write_atomic(out, encoded(made.pixels, end))
    if as_json:
        print(
            json.dumps(
                {**taken_json(found), "mm_per_px": made.step, "sure": sure_json(made.sure)},
                ensure_ascii=False,
                indent=2,
            )
        )
    else:
        _print((lists.points(found), lists.sure(made.sure)))
        _warned(found)
        print(f"{out}: 1 px = {made.step:g} mm. Not for cutting.")
    return STOPS if found.suspects else GOOD


@photo.command
def boxes(job: Path, marked: Path, *, site: Path | None = None, as_json: Json = False) -> int:
    """Check boxes in the wall from a photo: accept, measure by tape, adjust or stop. Exit 1 where one stops or a point is wrong.

    Args:
        job: The job file, or the folder it is in.
        marked: The photo file, with the boxes marked by their refs (docs/guide/photo.md).
        site: Write the boxes into this site file, for `wallwright asfound`; what was taped there stays.
        as_json: Print the answers as JSON.
    """
    from wallwright.change.asfound import as_found
    from wallwright.export.change_json import as_found_json
    from wallwright.export.files import read_bytes, write_atomic, writing
    from wallwright.export.photo_json import boxes_json, taken_json
    from wallwright.export.photo_site import with_boxes
    from wallwright.job.site import Site
    from wallwright.photo.boxes import seen_boxes
    from wallwright.tables import asfound as answers
    from wallwright.tables import photo as lists

    wall = _wall(job)
    found, _ = _taken(marked, wall.limits)
    drawn = {point.ref: point.box for point in wall.services.points}
    seen = seen_boxes(found, drawn, wall.limits, str(marked))
    by, date = found.photo.by, found.photo.date
    only = with_boxes("", seen, by, date)[1]
    told = as_found(wall, Site(by, date, only.boxes))
    if site is not None:
        before = read_bytes(site, what="site file").decode("utf-8-sig", "replace") if site.exists() else ""
        with writing(site):
            write_atomic(site, with_boxes(before, seen, by, date, str(site))[0].encode())
    if as_json:
        both = {**as_found_json(told), "boxes": boxes_json(seen), "photo": taken_json(found)}
        print(json.dumps(both, ensure_ascii=False, indent=2))
    else:
        _print((lists.points(found), lists.boxes(seen), answers.answers(told), answers.ways(told)))
        _warned(found)
        for verdict in told.verdicts:
            if verdict.ask:
                print(f"Ask: {verdict.ask}")
        print(
            f"{told.answer.upper()}{f'; boxes entered in {site}' if site else ''}. A photo: nothing is cut by it."
        )
    return STOPS if told.answer == "stop" or found.suspects else GOOD


@photo.command
def overlay(job: Path, marked: Path, *, out: Path, as_json: Json = False) -> int:
    """Lay the design over the client's own photo, screen black. A picture only: nothing is cut by it. Exit 1 where a point is wrong.

    Args:
        job: The job file, or the folder it is in.
        marked: The photo file; points on the floor make it surer (docs/guide/photo.md).
        out: The picture to write, .png or .jpg.
        as_json: Print what was found as JSON.
    """
    from wallwright.export.files import write_atomic, writing
    from wallwright.export.photo_file import encoded, ending
    from wallwright.export.photo_json import taken_json
    from wallwright.export.photo_overlay import front_corners
    from wallwright.export.photo_overlay import overlay as laid
    from wallwright.tables import photo as lists

    end = ending(out)
    wall = _wall(job)
    found, picture = _taken(marked, wall.limits)
    sure = max(map(found.sure_px, front_corners(wall)), default=0.0)
    made = laid(wall, found.camera, found.fit.k, picture.pixels, found.photo.front, sure)
    with writing(out):
        write_atomic(out, encoded(made.pixels, end))
    if as_json:
        print(
            json.dumps(
                {**taken_json(found), "covers": round(made.drawn, 4), "sure_px": round(sure, 1)},
                ensure_ascii=False,
                indent=2,
            )
        )
    else:
        _print((lists.points(found),))
        _warned(found)
        eye = found.camera.at
        print(f"Taken from {-eye[1] / 1000:.2f} m, {eye[2]:.0f} above FFL; focal length {found.focal_from}.")
        print(f"{out}: edges in front of the wall within ± {sure:.0f} px. Picture only, not for cutting.")
    return STOPS if found.suspects else GOOD
