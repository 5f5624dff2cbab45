"""Text of a tower's file -> TowerFile; what is wrong is told by field, value and what would do."""

from __future__ import annotations

import json
import tomllib
from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, cast

from wallwright.job.problem import JobError, Problem, fail, nearest
from wallwright.job.read import MOST_PROBLEMS, bounded, problems_of
from wallwright.job.slip import slip
from wallwright.library import load
from wallwright.tower.record import KEY, Tower, TowerFile

if TYPE_CHECKING:
    from wallwright.job.document import Job

LARGEST_FILE = 40_000_000
"""Bytes: some 50,000 flats with all their measures."""
MOST_FLATS = 50_000


def read_tower(text: str | bytes, name: str = "tower") -> TowerFile:
    """A tower from the text of its file. name : what the error calls the file. JobError with every problem found."""
    try:
        return tower_from(_parsed(text))
    except JobError as error:
        raise JobError(error.problems, name) from None


def tower_from(tables: dict[str, Any]) -> TowerFile:
    """A tower from plain tables, the version key among them. JobError with every problem found."""
    from pydantic import TypeAdapter, ValidationError

    plain = _bounded(tables)
    if plain.pop(KEY, None) != 1:
        raise fail(KEY, None, f"is missing: the file begins with `{KEY} = 1`")
    try:
        made = TypeAdapter(TowerFile).validate_json(json.dumps(plain), strict=True)
    except ValidationError as error:
        raise JobError(problems_of(error, of=TowerFile)) from None
    problems = list(_problems(made))
    if problems:
        raise JobError(problems[:MOST_PROBLEMS])
    return made


def _parsed(text: str | bytes) -> dict[str, Any]:
    if len(text) > LARGEST_FILE:
        raise fail("file", None, f"holds more than {LARGEST_FILE / 1e6:g} MB. Is it the right file?")
    if isinstance(text, bytes):
        try:
            text = text.decode("utf-8-sig")
        except UnicodeDecodeError as problem:
            line = text[: problem.start].count(b"\n") + 1
            raise fail("file", None, f"is not UTF-8 text (line {line}); save it again as UTF-8") from None
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise fail("file", None, ": ".join(slip(text, problem))) from None
    except (ValueError, RecursionError) as problem:
        raise fail("file", None, f"holds a value that cannot be read: {str(problem)[:120]}") from None


def _bounded(tables: dict[str, Any]) -> dict[str, Any]:
    """Plain values, dates as text, each flat bounded by itself: a tower holds more of them than one wall may."""
    out: dict[str, Any] = {}
    for key, value in tables.items():
        if key == "flats" and isinstance(value, list):
            flats = cast("list[Any]", value)
            if len(flats) > MOST_FLATS:
                raise fail("flats", None, f"holds {len(flats)} flats; one file holds at most {MOST_FLATS}")
            out[key] = [bounded(flat, ("flats", i)) for i, flat in enumerate(flats)]
        else:
            out[key] = bounded(value, (key,))
    return out


def _problems(tower: TowerFile) -> Iterator[Problem]:
    """What no field by itself can tell: names given twice, types and deliveries that are not there."""
    if not tower.types:
        yield Problem("types", "", "is empty: a tower has at least one [[types]] with a ref and its job file")
    if not tower.flats:
        yield Problem("flats", "", "is empty: a tower has at least one [[flats]] with an id, floor and type")
    yield from _twice("types", "ref", [kind.ref for kind in tower.types])
    yield from _twice("flats", "id", [flat.id for flat in tower.flats])
    yield from _twice("deliveries", "ref", [one.ref for one in tower.deliveries])
    types, called = {kind.ref for kind in tower.types}, {one.ref for one in tower.deliveries}
    for i, flat in enumerate(tower.flats):
        if flat.type not in types:
            yield Problem(
                f"flats[{i}].type", repr(flat.type), f"there is no such type; {nearest(flat.type, types)}"
            )
        if flat.delivery and called and flat.delivery not in called:
            says = f"there is no such delivery; {nearest(flat.delivery, called)}"
            yield Problem(f"flats[{i}].delivery", repr(flat.delivery), says)
        if flat.accepted and flat.state == "drawn":
            says = (
                "nothing is made yet, so there is nothing to accept; leave it out, or give the flat's state"
            )
            yield Problem(f"flats[{i}].accepted", repr(flat.accepted), says)


def far_off(tower: Tower) -> Iterator[Problem]:
    """Measures that cannot be of that type's wall: typed in another unit, or taken in another flat."""
    drawn = {ref: _face(job) for ref, job in tower.jobs.items()}
    for i, flat in enumerate(tower.file.flats):
        width, height, share = drawn[flat.type]
        for name, readings, usual in (
            ("widths", flat.measured.widths, width),
            ("heights", flat.measured.heights, height),
        ):
            for k, reading in enumerate(readings):
                if abs(reading.value.mm - usual) > share * usual:
                    says = (
                        f"is {reading.value.mm:g} mm, where the wall of type {flat.type} has {usual:.0f} mm: more than {100 * share:g} % off. "
                        "Check the unit and the flat's type; a bare number is in mm"
                    )
                    where = f"flats[{i}].measured.{name}[{k}].value"
                    yield Problem(where, repr(reading.value.written or reading.value.mm), says)


def _face(job: Job) -> tuple[float, float, float]:
    """Width and height of a type's wall, and how far a measure may be off it as a share."""
    limits = load.limits_of(job.survey.place.rules).overridden(job.rules)
    wall = job.survey.wall
    width, height = (
        min((one.value.mm for one in readings), default=0.0) for readings in (wall.widths, wall.heights)
    )
    return width, height, limits.value("tower.far_off")


def _twice(where: str, name: str, refs: list[str]) -> Iterator[Problem]:
    for ref, count in Counter(refs).items():
        if count > 1:
            last = len(refs) - 1 - refs[::-1].index(ref)
            yield Problem(
                f"{where}[{last}].{name}", repr(ref), f"is given {count} times; give each its own {name}"
            )
