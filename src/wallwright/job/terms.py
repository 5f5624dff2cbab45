"""The terms of the quote: how the bill is written, what is in it, how it is paid. What is absent is the library's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal, cast

from pydantic import BeforeValidator, Field, PlainSerializer, WithJsonSchema
from pydantic_core import PydanticCustomError

from wallwright.job.fields import STRICT, Count, Ref, Words
from wallwright.library.rates import METRIC, OwnRate

Percent = Annotated[float, Field(ge=0, le=100)]
Party = Literal[
    "client", "designer", "joiner", "electrician", "plasterer", "painter", "stone fitter", "glazier", "screen fitter", "builder", "-"
]  # fmt: skip
_RATE_KEYS = ("amount", "unit", "hours", "name", "trade")
_WOULD_DO = 'a number, or { amount = 5.2, unit = "sq ft" }'


def _read_rate(value: Any) -> OwnRate:
    """A rate of one's own from a number (the amount) or a table."""
    if isinstance(value, OwnRate):
        return value
    table: Any = (
        {"amount": value} if isinstance(value, (int, float)) and not isinstance(value, bool) else value
    )
    if not isinstance(table, dict):
        code = (
            '; a currency is no rate: it stands at the top of the job, currency = "INR"'
            if isinstance(value, str)
            else ""
        )
        raise _fail(f"{value!r} is no rate; write {_WOULD_DO}{code}")
    found = cast("dict[str, Any]", table)
    unknown = [key for key in found if key not in _RATE_KEYS]
    if unknown:
        raise _fail(f"a rate holds {', '.join(_RATE_KEYS)}, not {', '.join(unknown)}; write {_WOULD_DO}")
    for key in ("amount", "hours"):
        number = found.get(key)
        if number is not None and (isinstance(number, bool) or not isinstance(number, (int, float))):
            raise _fail(f"{key} = {number!r} is no number; write {_WOULD_DO}")
    for key in ("unit", "name", "trade"):
        if not isinstance(found.get(key, ""), str) or len(found.get(key, "")) > 200:
            raise _fail(f"{key} must be a text of at most 200 characters")
    numbers = {key: float(found[key]) for key in ("amount", "hours") if found.get(key) is not None}
    return OwnRate(**numbers, **{key: found[key] for key in ("unit", "name", "trade") if found.get(key)})


def _fail(says: str) -> PydanticCustomError:
    return PydanticCustomError("number", "{says}", {"says": says})


def _write_rate(rate: OwnRate) -> Any:
    """As short as it can be said: the bare amount where that is all."""
    table = {key: value for key in _RATE_KEYS if (value := getattr(rate, key)) not in (None, "")}
    return rate.amount if list(table) == ["amount"] else table


OwnRateField = Annotated[
    OwnRate,
    BeforeValidator(_read_rate),
    PlainSerializer(_write_rate),
    WithJsonSchema(
        {
            "anyOf": [
                {
                    "type": "number",
                    "minimum": 0,
                    "description": "amount for one unit of the book, supply and fix",
                },
                {
                    "type": "object",
                    "properties": {
                        "amount": {"type": "number", "minimum": 0},
                        "unit": {"type": "string", "description": ", ".join(METRIC)},
                        "hours": {"type": "number", "minimum": 0},
                        "name": {"type": "string"},
                        "trade": {"type": "string"},
                    },
                    "additionalProperties": False,
                },
            ]
        }
    ),
]
RateKey = Annotated[str, Field(min_length=1, max_length=64, pattern=r"^[A-Za-z][A-Za-z0-9_.-]*$")]


@dataclass(frozen=True, slots=True)
class Stage:
    """A payment stage of your own."""

    __pydantic_config__ = STRICT
    name: Words
    share: Percent
    """Of the price; all stages sum to 100.00 %."""
    task: Ref | None = None
    """The task of the programme at whose finish it falls due (approve, first_fix, workshop, hang, snag); absent = on order."""
    says: Words = ""


@dataclass(frozen=True, slots=True)
class Parties:
    """Who supplies, fixes and connects a thing, where that differs from the usual."""

    __pydantic_config__ = STRICT
    supply: Party | None = None
    fix: Party | None = None
    connect: Party | None = None


@dataclass(frozen=True, slots=True)
class Terms:
    """How the quote is written, what is in it and how it is paid."""

    __pydantic_config__ = STRICT
    valid_days: Count | None = None
    """Days from the date of issue that the price holds; absent = as long as the house's prices hold, 30 days unless changed."""
    measure: Literal["metric", "feet"] = "metric"
    """Whether the bill shows m² and running metres, or sq ft and running feet."""
    rates_shown: bool = True
    """Whether rates and amounts of single lines are shown in what is issued; the price always is."""
    decimals: Literal[0, 2, 3] | None = None
    """Decimals of the currency's smallest coin; absent = by the currency."""
    grouping: Literal["thousand", "lakh", "none"] | None = None
    """How digits are grouped; absent = by the currency and the country."""
    decimal_mark: Literal["point", "comma"] | None = None
    """What stands before the decimals; absent = by the currency."""
    tax: Mapping[Ref, Percent] = field(default_factory=dict[str, float])
    """Tax of a trade's lines [%] where it differs from the general one (money.tax)."""
    stages: tuple[Stage, ...] = ()
    """Payment stages; absent = the usual ones."""
    scope: Mapping[Ref, Parties] = field(default_factory=dict[str, Parties])
    """Things by the key of the scope matrix, and who does what of them."""
    includes: tuple[Words, ...] = ()
    """Sentences more of what is in the price."""
    excludes: tuple[Words, ...] = ()
    """Sentences more of what is not."""
