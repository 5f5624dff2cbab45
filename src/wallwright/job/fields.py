"""The kinds of value a job file holds, and how each is read: lengths as typed, angles, shares, references."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, ConfigDict, Field, PlainSerializer, WithJsonSchema
from pydantic_core import PydanticCustomError

from wallwright.core.units import Length, read_length
from wallwright.library import names

STRICT = ConfigDict(extra="forbid", use_attribute_docstrings=True)

_STATES = ("assumed", "photo", "measured", "verified")
_KEYS = ("value", "state", "tolerance")
_WOULD_DO = 'a length such as 2853, "285.3 cm", "9\'-4 3/8\\"", or { value = "2853", state = "measured", tolerance = 3 }'


def _fail(says: str) -> PydanticCustomError:
    return PydanticCustomError("length", "{says}", {"says": says})


def _read(value: Any) -> Length:
    """A length from a number (mm), a text as typed, or a table with value, state and tolerance."""
    if isinstance(value, Length):
        return value
    if isinstance(value, dict):
        table: dict[str, Any] = value  # pyright: ignore[reportUnknownVariableType]
        unknown = [key for key in table if key not in _KEYS]
        if unknown or "value" not in table:
            raise _fail(
                f"a length table holds value, state and tolerance, not {', '.join(unknown) or 'no value'}; {_WOULD_DO}"
            )
        state = table.get("state", "assumed")
        if state not in _STATES:
            raise _fail(f"the state {state!r} is none of assumed, photo, measured, verified")
        bare = _read(table["value"])
        tolerance = _read(table.get("tolerance", 0)).mm
        if tolerance < 0:
            raise _fail(f"the tolerance {tolerance:g} mm is negative; a tolerance is 0 or more")
        return Length(bare.mm, bare.written, state, tolerance)
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise _fail(f"{value!r} is not a length; write {_WOULD_DO}")
    try:
        mm = read_length(value)
    except ValueError as problem:
        raise _fail(str(problem)) from None
    if abs(mm) > 100_000:
        raise _fail(f"{value!r} is {mm / 1000:g} m: more than any room; check the unit")
    return Length(mm, value if isinstance(value, str) else "")


def _positive(length: Length) -> Length:
    if length.mm <= 0:
        raise _fail(f"{_shown(length)} must be more than 0; write {_WOULD_DO}")
    return length


def _not_negative(length: Length) -> Length:
    if length.mm < 0:
        raise _fail(f"{_shown(length)} must not be negative; write 0 or {_WOULD_DO}")
    return length


def _shown(length: Length) -> str:
    return repr(length.written) if length.written else f"{length.mm:g}"


def write_length(length: Length) -> Any:
    """The length as it goes into a file: as typed; a table only where state or tolerance say something."""
    bare: Any = length.written or (int(length.mm) if length.mm == int(length.mm) else length.mm)
    if length.state == "assumed" and length.tolerance == 0:
        return bare
    table: dict[str, Any] = {"value": bare, "state": length.state}
    if length.tolerance:
        table["tolerance"] = length.tolerance
    return table


_LENGTH_SCHEMA: dict[str, Any] = {
    "anyOf": [
        {"type": "number", "description": "millimetres"},
        {
            "type": "string",
            "description": 'as written: 9\'-4 3/8", 72 3/8", 4 ft 6, 2853, 285.3 cm, 1.2 m',
            "maxLength": 60,
        },
        {
            "type": "object",
            "properties": {
                "value": {"type": ["number", "string"]},
                "state": {"enum": list(_STATES)},
                "tolerance": {"type": ["number", "string"]},
            },
            "required": ["value"],
            "additionalProperties": False,
        },
    ]
}


def _bare(value: Any) -> str:
    """Where a number was written as a text: how it is written."""
    digits = value.replace(",", "").replace(" ", "") if isinstance(value, str) else ""
    return f"; write {digits}, without quotes or commas" if digits.replace(".", "", 1).isdecimal() else ""


def _finite(value: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise PydanticCustomError("number", "{says}", {"says": f"{value!r} is not a number{_bare(value)}"})
    if not math.isfinite(value):
        raise PydanticCustomError("number", "{says}", {"says": f"{value} is not a finite number"})
    return value


_plain = PlainSerializer(write_length)
_schema = WithJsonSchema(_LENGTH_SCHEMA)
Offset = Annotated[Length, BeforeValidator(_read), _plain, _schema]
"""A length of either sign."""
Clear = Annotated[Length, BeforeValidator(lambda value: _not_negative(_read(value))), _plain, _schema]
"""A length of 0 or more."""
Size = Annotated[Length, BeforeValidator(lambda value: _positive(_read(value))), _plain, _schema]
"""A length of more than 0."""

Number = Annotated[float, BeforeValidator(_finite)]
Positive = Annotated[float, Field(gt=0), BeforeValidator(_finite)]
NotNegative = Annotated[float, Field(ge=0), BeforeValidator(_finite)]
Watts = Annotated[float, Field(ge=0, le=20_000), BeforeValidator(_finite)]
"""Of one device: more than any plug or fixed connection of a flat gives it, 63 A at 230 V and 14.5 kW."""
Share = Annotated[float, Field(ge=0, le=1), BeforeValidator(_finite)]
Degrees = Annotated[float, Field(ge=-360, le=360), BeforeValidator(_finite)]
Upward = Annotated[float, Field(ge=0, le=90), BeforeValidator(_finite)]
"""An angle from 0 to 90 degrees."""
Layers = Annotated[int, Field(ge=1, le=4)]
Count = Annotated[int, Field(ge=0, le=100_000)]
Ref = Annotated[str, Field(min_length=1, max_length=24, pattern=r"^[A-Za-z][A-Za-z0-9_.-]*$")]


def _key(find: Callable[[str], str]) -> BeforeValidator:
    """A name as the trade says it becomes the library's key; one that nobody knows is kept, for the error that names the nearest."""
    return BeforeValidator(lambda said: (find(said) or said) if isinstance(said, str) else said)


BoardName = Annotated[str, Field(min_length=1, max_length=80), _key(names.board_key)]
"""A board of the library by its key or by what the trade calls it: ply18, chipboard, MR-MDF 25 mm."""
FinishName = Annotated[str, Field(min_length=1, max_length=80), _key(names.finish_key)]
"""A finish of the library by its key or by what the trade calls its face: laminate_oak, HPL, vinyl wrap."""
Words = Annotated[str, Field(max_length=400)]
Colour = Annotated[str, Field(pattern=r"^#[0-9A-Fa-f]{6}$")]
