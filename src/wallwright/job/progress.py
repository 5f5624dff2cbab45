"""How far the work is: what is ordered, cut, set, built; gates signed; variations; snags; what was tested."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from wallwright.job.fields import STRICT, Number, Ref, Words

State = Literal["drawn", "ordered", "cut", "set", "built"]
"""Of a part: ordered as board, cut, hung or fixed (set), closed in (built). Of a point: set when its box is in, built when closed."""
STATES: tuple[State, ...] = ("drawn", "ordered", "cut", "set", "built")
GateRef = Literal["G0", "G1", "G2", "G3", "G4", "G5", "G6"]
VariationState = Literal["draft", "priced", "approved", "refused", "done", "invoiced"]
Day = Annotated[str, Field(pattern=r"^(\d{4}-\d{2}-\d{2})?$")]


@dataclass(frozen=True, slots=True)
class Made:
    """How far one thing is: a part, a unit or panel with all its parts, or a point."""

    __pydantic_config__ = STRICT
    ref: Ref
    """A part (C1-L), a unit or panel (C1, W1), or a point (P1)."""
    state: State
    """drawn, ordered, cut, set or built."""


@dataclass(frozen=True, slots=True)
class Signed:
    """A gate that was signed."""

    __pydantic_config__ = STRICT
    ref: GateRef
    by: Words
    date: Day


@dataclass(frozen=True, slots=True)
class Variation:
    """A change of what was agreed: priced and signed before any work on it."""

    __pydantic_config__ = STRICT
    ref: Ref
    """Its number, V1, V2 and so on."""
    says: Words
    """What changes, in a sentence."""
    reason: Words = ""
    origin: Literal["client", "site", "design"] = "client"
    """Who asked for it."""
    price: Number = 0.0
    """What it adds, all in, in the job's currency; negative = a saving."""
    days: Annotated[int, Field(ge=-1000, le=1000)] = 0
    """Working days it adds."""
    state: VariationState = "draft"
    by: Words = ""
    """Who approved or refused it."""
    date: Day = ""
    """When that was."""
    documents: tuple[Words, ...] = ()
    """Sheets and files that it makes void."""
    from_revision: Annotated[str, Field(pattern=r"^[A-Z0-9]{0,2}$")] = ""
    """The revision that it changes."""


@dataclass(frozen=True, slots=True)
class Snag:
    """Something to be put right, with what was measured."""

    __pydantic_config__ = STRICT
    ref: Ref
    where: Words
    """The thing: a unit, a panel, a point."""
    says: Words
    """What is wrong, in a sentence."""
    check: Words = ""
    """The name of the criterion it fails, as the snag list has it."""
    measured: Number | None = None
    """What was measured, in the criterion's unit."""
    trade: Words = ""
    """Who puts it right."""
    date: Day = ""
    closed: Day = ""
    """When it was seen to be right; empty = open."""


@dataclass(frozen=True, slots=True)
class Tested:
    """One line of the commissioning list that was gone through."""

    __pydantic_config__ = STRICT
    check: Words
    """The name of the line."""
    ref: Ref
    """On what: a circuit, a unit, a seat."""
    measured: Number | None = None
    passed: bool = True
    by: Words = ""
    date: Day = ""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the work is."""

    __pydantic_config__ = STRICT
    joinery: State = "drawn"
    """How far all parts are, where `made` says nothing of them."""
    points: Literal["drawn", "set", "built"] = "drawn"
    """How far all boxes in the wall are: set, or built when the wall is closed over them."""
    screen: Literal["drawn", "ordered", "set"] = "drawn"
    """Whether the screen is bought, or hangs."""
    made: tuple[Made, ...] = ()
    gates: tuple[Signed, ...] = ()
    variations: tuple[Variation, ...] = ()
    snags: tuple[Snag, ...] = ()
    tested: tuple[Tested, ...] = ()
