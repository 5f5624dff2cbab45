"""A tower as its file has it: the types, the flats, what was measured in them, what is otherwise in them, and the deliveries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from wallwright.job.document import Job
from wallwright.job.fields import STRICT, Degrees, Offset, Ref, Size, Words
from wallwright.job.progress import Day, State
from wallwright.job.site import FoundThing
from wallwright.job.survey import Reading, Relief

KEY = "wallwright-tower"
Hand = Literal["left", "right"]


def _number_as_text(value: Any) -> Any:
    """A floor or flat is often written as a bare number."""
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


FlatId = Annotated[
    str,
    BeforeValidator(_number_as_text),
    Field(min_length=1, max_length=16, pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]*$"),
]
Floor = Annotated[str, BeforeValidator(_number_as_text), Field(min_length=1, max_length=12)]
Revision = Annotated[str, Field(pattern=r"^[A-Z0-9]{0,2}$")]


@dataclass(frozen=True, slots=True)
class Measured:
    """What the tape said in one flat, from its own left corner; what was not measured is as the type has it."""

    __pydantic_config__ = STRICT
    by: Words = ""
    date: Day = ""
    widths: tuple[Reading, ...] = ()
    """Widths at several heights."""
    heights: tuple[Reading, ...] = ()
    """Heights at several places from the left corner."""
    diagonals: tuple[Size, ...] = ()
    """Bottom left to top right first."""
    out_of_plumb: Offset | None = None
    """How far the top stands behind the bottom."""
    relief: tuple[Relief, ...] = ()
    things: tuple[FoundThing, ...] = ()
    """Things on the wall where they are not as the type has them."""

    @property
    def whole(self) -> bool:
        """Whether both a width and a height were: only then is it known whether the flat takes its unit."""
        return bool(self.widths and self.heights)

    @property
    def anything(self) -> bool:
        """Whether the flat was measured at all."""
        given = (self.widths, self.heights, self.diagonals, self.relief, self.things)
        return any(given) or self.out_of_plumb is not None


@dataclass(frozen=True, slots=True)
class Exception_:  # noqa: N801
    """One thing that is otherwise in this flat: an edit of the job and its values, in the flat's own hand."""

    __pydantic_config__ = STRICT
    edit: Ref
    """A named edit, as `wallwright` and the studio's log have them: resize_unit, set_finish, set_bay_hinge."""
    values: Mapping[str, Any] = field(default_factory=dict[str, Any])
    why: Words = ""
    """Who asked for it, or what makes it so."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A type of flat: its job, drawn in one hand."""

    __pydantic_config__ = STRICT
    ref: Ref
    job: Words
    """Path of its job file, from the folder of this file."""
    hand: Hand = "left"
    """The hand it is drawn in."""


@dataclass(frozen=True, slots=True)
class Flat:
    """One flat."""

    __pydantic_config__ = STRICT
    id: FlatId
    floor: Floor
    type: Ref
    hand: Hand = "left"
    """A flat of the other hand than its type's drawing is mirrored."""
    state: State = "drawn"
    """How far its joinery is: drawn, ordered, cut, set, built."""
    delivery: Words = ""
    """With which delivery its boards and fittings come; empty = not yet called for."""
    bearing: Degrees | None = None
    """Compass bearing one faces looking at its wall; absent = as the type, as where hands are mirrored side by side."""
    measured: Measured = Measured()
    exceptions: tuple[Exception_, ...] = ()
    to_measure: bool | None = None
    """Made to its own measures; absent = where it was measured and does not take the unit as drawn; false = as drawn, whatever the
    tape says.
    """
    accepted: Revision = ""
    """The revision of the tower's types that was accepted for this flat after its boards were ordered."""
    accepted_by: Words = ""
    accepted_on: Day = ""


@dataclass(frozen=True, slots=True)
class Delivery:
    """A delivery: all its flats are cut together."""

    __pydantic_config__ = STRICT
    ref: Ref
    date: Day = ""
    note: Words = ""


@dataclass(frozen=True, slots=True)
class TowerFile:
    """What a tower's file holds."""

    __pydantic_config__ = STRICT
    title: Annotated[str, Field(min_length=1, max_length=80)]
    types: tuple[Kind, ...]
    flats: tuple[Flat, ...]
    deliveries: tuple[Delivery, ...] = ()
    number: Annotated[str, Field(max_length=16)] = "TWR-001"
    client: Words = ""
    designer: Words = ""
    date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")] = "2026-01-01"
    """Date of issue: sheets and files carry this one, never the clock's."""
    revision: Annotated[str, Field(pattern=r"^[A-Z0-9]{1,2}$")] = "A"
    note: Words = ""


@dataclass(frozen=True, slots=True)
class Tower:
    """A tower with its types' jobs read: all that the work on it needs."""

    file: TowerFile
    jobs: Mapping[str, Job]
    """The job of each type, as drawn, by the type's ref."""

    def kind(self, ref: str) -> Kind:
        """The type of that ref. KeyError where there is none."""
        return next(kind for kind in self.file.types if kind.ref == ref)


def floor_order(floor: str) -> tuple[int, int, str]:
    """Floors in the order of a lift's buttons: numbers by their value, what is written in letters below them."""
    try:
        return 1, int(floor), floor
    except ValueError:
        return 0, 0, floor
