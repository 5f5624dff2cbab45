"""What every call and every answer of the API is made of: bounded values, strict bodies, refusals."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints


def _not_bool(value: Any) -> Any:
    if isinstance(value, bool):
        raise ValueError("true and false are no length")
    return value


def _whole(value: Any) -> Any:
    if isinstance(value, (bool, str)):
        raise ValueError("must be a whole number")
    return value


Name = Annotated[str, Field(min_length=1, max_length=64)]
Line = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=80, pattern=r"^[^\x00-\x1f\x7f]+$")
]
"""One line that a person wrote: a name, a label."""
Paragraph = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=2000, pattern=r"^[^\x00]+$")
]
Key = Annotated[str, Field(min_length=1, max_length=64, pattern=r"^[A-Za-z0-9_.:-]+$")]
Position = Annotated[int, Field(ge=0, le=2**31 - 1), BeforeValidator(_whole)]
Written = Annotated[
    Annotated[float, Field(ge=-100_000, le=100_000, allow_inf_nan=False)]
    | Annotated[str, Field(min_length=1, max_length=60)],
    BeforeValidator(_not_bool),
]
"""A length: mm as a number, or as written (4 ft 2, 1.2 m)."""


class Strict(BaseModel):
    """A body: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid")


class At(Strict):
    """The position of the state that the page was looking at."""

    position: Position


class OneProblem(BaseModel):
    """One thing wrong: the field, the value found there, and what would do."""

    field: str
    value: str
    says: str


class Trouble(OneProblem):
    """What is wrong: the first problem, and all of them."""

    problems: list[OneProblem] = []


class Refused(BaseModel):
    """A call that could not be done."""

    error: Trouble


class Done(BaseModel):
    """It was done."""

    done: bool = True
