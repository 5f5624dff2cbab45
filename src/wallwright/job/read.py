"""Text of a job file -> Job. Whatever is wrong is said as problems with the field, the value and what would do."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from datetime import date, datetime, time
from functools import lru_cache
from threading import RLock
from typing import TYPE_CHECKING, Any, cast

from wallwright.job.check import MOST_ENTRIES, check
from wallwright.job.document import Job
from wallwright.job.migrate import KEY, brought_forward
from wallwright.job.path import Step, keys_at, show_path
from wallwright.job.problem import JobError, Problem, fail, nearest, shown
from wallwright.job.slip import slip

if TYPE_CHECKING:
    from pydantic import TypeAdapter, ValidationError

__all__ = ["JobError", "Problem", "job_from", "read_job", "read_tables"]

LARGEST_FILE = 2_000_000
LONGEST_LINE = 4_000
DEEPEST = 12
MOST_VALUES = 50_000
LARGEST_NUMBER = 10**15
MOST_PROBLEMS = 50


def read_job(text: str | bytes, name: str = "job") -> Job:
    """A job from the text of its file. name : what the error calls the file. JobError with every problem found."""
    try:
        return job_from(_parsed(_decoded(text)))
    except JobError as error:
        raise JobError(error.problems, name) from None


def read_tables(text: str | bytes, name: str, kind: type[Any], key: str) -> Any:
    """What another file of ours holds. kind : its dataclass · key : its version key, which must say 1

    JobError, naming the file, with every problem found.
    """
    from pydantic import ValidationError

    try:
        tables = bounded(_parsed(_decoded(text)))
        if tables.pop(key, None) != 1:
            raise fail(key, None, f"is missing: the file begins with `{key} = 1`")
        return adapter(kind).validate_json(json.dumps(tables), strict=True)
    except ValidationError as error:
        raise JobError(problems_of(error, of=kind), name) from None
    except JobError as error:
        raise JobError(error.problems, name) from None


def job_from(document: Mapping[str, Any]) -> Job:
    """A job from plain tables, as TOML or JSON gives them, the version key among them. JobError with every problem found."""
    tables = brought_forward(bounded(dict(document)))
    from pydantic import ValidationError

    try:  # by way of JSON: there pydantic's strict reading takes lists and tables, yet no true for 1 and no "3" for 3
        job = job_adapter().validate_json(json.dumps(tables), strict=True)
    except ValidationError as error:
        raise JobError(problems_of(error)) from None
    if problems := check(job):
        raise JobError(problems[:MOST_PROBLEMS])
    return job


def job_adapter() -> TypeAdapter[Job]:
    """The reader and writer that follows from the job's dataclasses; made once."""
    with _ADAPTING:
        return _job_adapter()


@lru_cache(maxsize=1)
def _job_adapter() -> TypeAdapter[Job]:
    return adapter(Job)


def adapter(kind: Any) -> TypeAdapter[Any]:
    """A reader and writer of a dataclass or an annotation of ours; one thread at a time makes one.

    Making it parses the source for its docstrings, which Python 3.11 cannot do in several threads at once (SystemError).
    """
    from pydantic import TypeAdapter

    with _ADAPTING:
        return TypeAdapter(kind)


_ADAPTING = RLock()


def _decoded(text: str | bytes) -> str:
    size = len(text)
    if size > LARGEST_FILE:
        most = LARGEST_FILE / 1e6
        raise fail(
            "file", None, f"holds {size / 1e6:.1f} MB; a job holds at most {most:g} MB. Is it the right file?"
        )
    if isinstance(text, bytes):
        if b"\0" in text:
            raise fail("file", None, "is binary, not text; a job is a TOML file in UTF-8")
        try:
            text = text.decode("utf-8-sig")
        except UnicodeDecodeError as problem:
            line = text[: problem.start].count(b"\n") + 1
            raise fail("file", None, f"is not UTF-8 text (line {line}); save it again as UTF-8") from None
    if "\0" in text:
        raise fail("file", None, "holds a NUL character; a job is a TOML file in UTF-8")
    for number, line in enumerate(text.splitlines(), 1):
        if len(line) > LONGEST_LINE:
            raise fail(
                f"line {number}", None, f"has {len(line)} characters; break lines longer than {LONGEST_LINE}"
            )
    return text


def _parsed(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        where, says = slip(text, problem)
        raise fail(where, None, says) from None
    except RecursionError:
        raise fail("file", None, f"nests lists or tables deeper than {DEEPEST} levels") from None
    except ValueError as problem:  # a whole number too long for Python to read
        raise fail("file", None, f"holds a value that cannot be read: {str(problem)[:120]}") from None


def bounded(document: Any, start: tuple[Step, ...] = ()) -> Any:
    """The same plain tables, lists and values, with dates as text. JobError where they are too deep, too many or too large.

    start : the steps to where they stand, for the error.
    """
    problems: list[Problem] = []
    count = 0

    def plain(value: Any, steps: tuple[Step, ...]) -> Any:
        nonlocal count
        count += 1
        if count > MOST_VALUES:
            raise fail("file", None, f"holds more than {MOST_VALUES} values")
        if len(steps) > DEEPEST:
            raise fail(show_path(steps[:4]), None, f"nests deeper than {DEEPEST} levels")
        if isinstance(value, dict):
            return {
                str(key): plain(inner, (*steps, str(key)))
                for key, inner in cast("dict[Any, Any]", value).items()
            }
        if isinstance(value, (list, tuple)):
            entries = cast("list[Any]", value)
            if len(entries) > MOST_ENTRIES:
                raise fail(
                    show_path(steps), None, f"holds {len(entries)} entries; a wall has at most {MOST_ENTRIES}"
                )
            return [plain(inner, (*steps, i)) for i, inner in enumerate(entries)]
        if isinstance(value, int) and abs(value) > LARGEST_NUMBER:
            problems.append(Problem(show_path(steps), shown(value), "is too large a number"))
            return 0
        if isinstance(value, (date, time, datetime)):
            return value.isoformat()
        if value is None or isinstance(value, (bool, int, float, str)):
            return value
        raise fail(show_path(steps), value, "is nothing that a job can hold")

    tables = plain(document, start)
    if problems:
        raise JobError(problems[:MOST_PROBLEMS])
    return tables


def problems_of(error: ValidationError, before: tuple[Step, ...] = (), of: type[Any] = Job) -> list[Problem]:
    """The problems that pydantic found, in the trade's words. before : steps to put in front of each place · of : the document"""
    out: list[Problem] = []
    for item in error.errors(include_url=False, include_context=True)[:MOST_PROBLEMS]:
        steps = (*before, *(step for step in item["loc"] if step != "[key]"))
        value = None if item["type"] == "missing" else item["input"]
        out.append(Problem(show_path(steps), shown(value), _says(item["type"], steps, item, of)))
    return out


def _says(kind: str, steps: tuple[Step, ...], item: Mapping[str, Any], of: type[Any]) -> str:
    """One problem in a sentence that tells what would do."""
    context: Mapping[str, Any] = item.get("ctx") or {}
    if kind in ("length", "number"):
        return str(context["says"])
    if kind == "unexpected_keyword_argument":
        *before, key = steps
        known = keys_at(tuple(before), of) if before or of is not Job else (*keys_at(()), KEY)
        if key in ("state", "tolerance") and "value" in known:
            return (
                "how sure a length is goes with the length itself, not beside it: "
                'value = { value = 4200, state = "measured", tolerance = 3 }'
            )
        return f"there is no such key here; {nearest(str(key), known)}"
    if kind in ("string_too_long", "string_too_short", "string_type") and steps and steps[-1] == "currency":
        return _currency(item["input"])
    if kind == "literal_error":
        return f"must be one of {context['expected'].replace(' or ', ', ')}"
    if kind == "string_pattern_mismatch":
        says = _PATTERNS.get(str(context["pattern"]), f"must look like {context['pattern']}")
        joined = "_".join(str(item["input"]).split())
        fits = joined != item["input"] and re.match(str(context["pattern"]), joined)
        return f"{says}; did you mean {joined!r}?" if fits else says
    return _SAYS[kind].format(**context) if kind in _SAYS else str(item["msg"])


def _currency(given: Any) -> str:
    """What a currency looks like, with its code where its name is told."""
    from wallwright.library.terms import currencies

    words = str(given).lower().split()
    known = [
        row.key
        for row in currencies().values()
        if row.key.isascii() and any(word.rstrip("s") in row.name.lower().split() for word in words)
    ]
    meant = f"; did you mean {' or '.join(map(repr, known[:3]))}?" if known else ""
    return f"must be the three letters of ISO 4217 (INR, EUR, USD, GBP) or the sign (₹, €){meant}"


_PATTERNS = {
    r"^[A-Za-z][A-Za-z0-9_.-]*$": "must begin with a letter and hold only letters, digits, and . _ -",
    r"^#[0-9A-Fa-f]{6}$": "must be a colour written as #RRGGBB, such as #F1ECE2",
    r"^\d{4}-\d{2}-\d{2}$": "must be a day written as YYYY-MM-DD",
    r"^(\d{4}-\d{2}-\d{2})?$": "must be a day written as YYYY-MM-DD",
    r"^[A-Z0-9]{1,2}$": "must be one or two capital letters or digits, such as A or B1",
}
_SAYS = {
    "missing": "is missing and has no default; give it",
    "dataclass_type": "must be a table of fields",
    "tuple_type": "must be a list in [ ]",
    "dict_type": "must be a table of names and numbers",
    "string_type": "must be a text in quotes",
    "string_too_short": "must hold at least {min_length} character",
    "string_too_long": "must hold at most {max_length} characters",
    "bool_type": "must be true or false, without quotes",
    "int_type": "must be a whole number, without quotes",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number, without quotes",
    "greater_than": "must be more than {gt:g}",
    "greater_than_equal": "must be {ge:g} or more",
    "less_than_equal": "must be {le:g} or less",
}
