"""What the site found: the file that comes back with sizes as they are, by the refs of the job."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.job.fields import STRICT, Clear, Offset, Ref, Size, Words
from wallwright.job.progress import Day
from wallwright.job.read import read_tables
from wallwright.job.survey import ObstacleKind, Reading, Relief

KEY = "wallwright-site"


@dataclass(frozen=True, slots=True)
class FoundBox:
    """A box in the wall as it was found."""

    __pydantic_config__ = STRICT
    ref: Ref
    """The outlet's ref on the drawings."""
    x: Offset
    """Its middle from the left corner."""
    z: Clear
    """Its middle above FFL."""
    sunk: Offset | None = None
    """How deep its front lies below the finished face; negative = proud."""

    @property
    def from_photo(self) -> bool:
        """Whether its place was read from a photo; its tolerance is then the ± that holds it with 95 %."""
        return "photo" in (self.x.state, self.z.state)


@dataclass(frozen=True, slots=True)
class FoundThing:
    """Something on the wall as it was found: one that the survey has, with what differs, or one that it has not."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: ObstacleKind | None = None
    """Needed for a thing that the survey has not."""
    x: Offset | None = None
    z: Clear | None = None
    """Its lower edge: the soffit of a beam."""
    width: Size | None = None
    height: Size | None = None
    projection: Clear | None = None
    stays: bool | None = None
    """False: it comes away; true: it stays where the survey said that it goes."""
    past: Literal["cut", "notch"] | None = None
    """Of a skirting that stays: it is cut out behind what stands on the floor, or that is notched over it. Answered once, for all."""


@dataclass(frozen=True, slots=True)
class FoundSeat:
    """A seat as it was delivered."""

    __pydantic_config__ = STRICT
    ref: Ref
    eye_height: Size | None = None
    distance: Size | None = None


@dataclass(frozen=True, slots=True)
class Site:
    """All that was found on a visit."""

    __pydantic_config__ = STRICT
    by: Words = ""
    date: Day = ""
    boxes: tuple[FoundBox, ...] = ()
    plumb: tuple[Relief, ...] = ()
    """How far the wall stands out on a grid, against one plumb plane."""
    out_of_plumb: Offset | None = None
    """Where there is no grid: how far the top stands behind the foot."""
    widths: tuple[Reading, ...] = ()
    heights: tuple[Reading, ...] = ()
    diagonals: tuple[Size, ...] = ()
    ceiling: Size | None = None
    """The finished ceiling where it came lower than surveyed, all along."""
    things: tuple[FoundThing, ...] = ()
    seats: tuple[FoundSeat, ...] = ()


def read_site(text: str | bytes, name: str = "site") -> Site:
    """What the site found, from the text of its file. JobError with every problem found."""
    return read_tables(text, name, Site, KEY)
