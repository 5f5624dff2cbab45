"""The schema is a sound one and says yes and no where the reader does."""

from __future__ import annotations

import copy
import json
import tomllib

import pytest
from jsonschema import Draft202012Validator
from jsonschema.exceptions import SchemaError

from wallwright.job.demos import demo_jobs
from wallwright.job.path import walk
from wallwright.job.read import read_job
from wallwright.job.schema import job_schema
from wallwright.job.starter import ROOMS, starter
from wallwright.job.write import plain

SCHEMA = job_schema()
VALIDATOR = Draft202012Validator(SCHEMA)
TEXTS = {**demo_jobs(), **{f"new {room}": starter(room) for room in ROOMS}}


def test_the_schema_itself_is_sound() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    with pytest.raises(SchemaError):
        Draft202012Validator.check_schema({**SCHEMA, "type": "thing"})
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert "wallwright-job" in SCHEMA["required"]
    json.dumps(SCHEMA, allow_nan=False)


@pytest.mark.parametrize("name", TEXTS)
def test_our_jobs_validate(name: str) -> None:
    assert list(VALIDATOR.iter_errors(tomllib.loads(TEXTS[name]))) == []
    assert list(VALIDATOR.iter_errors(plain(read_job(TEXTS[name])))) == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("wallwright-job",), 2),
        (("title",), ""),
        (("date",), "yesterday"),
        (("survey", "wall", "substrate"), "cheese"),
        (("survey", "wall", "widths", 0, "value"), True),
        (("survey", "seats", 0, "distance"), {"value": 3, "state": "sure"}),
        (("survey", "seats", 0, "hours"), -1),
        (("survey", "windows", 0, "blind"), 2),
        (("survey", "sofa"), {}),
        (("design", "units", 0, "kind"), "wardrobe"),
        (("design", "units", 0, "ref"), "no space"),
        (("design", "finishes", "wall_colour"), "red"),
        (("brief", "things", 0, "count"), 1.5),
    ],
)
def test_a_wrong_value_is_refused_by_schema_and_reader(path: tuple[str | int, ...], value: object) -> None:
    document = copy.deepcopy(plain(read_job(TEXTS["living"])))
    here = document
    for step in path[:-1]:
        here = here[step]
    here[path[-1]] = value
    assert list(VALIDATOR.iter_errors(document))
    from wallwright.job.read import JobError, job_from

    with pytest.raises(JobError):
        job_from(document)


def test_the_words_of_the_dataclasses_are_in_it() -> None:
    seat = SCHEMA["$defs"]["Seat"]["properties"]
    assert seat["hours"]["description"] == "Hours of viewing a week: the weight of this seat."
    assert SCHEMA["$defs"]["Room"]["description"] == "The room the wall stands in."


def test_every_field_of_a_job_is_in_the_schema() -> None:
    names = {name for kind in SCHEMA["$defs"].values() for name in kind["properties"]} | set(
        SCHEMA["properties"]
    )
    job = read_job(TEXTS["living_faults"])
    assert {step for steps, _ in walk(job) for step in steps if isinstance(step, str)} <= names
