"""The photo file: which picture, the points that were measured on the wall, and what is marked in it.

Pixels count from the upper left corner of the picture as it is shown upright: [column, row].
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from wallwright.core.limit import Limits
from wallwright.core.units import Length
from wallwright.job.fields import STRICT, Clear, Number, Offset, Positive, Ref, Words
from wallwright.job.problem import JobError, Problem
from wallwright.job.progress import Day
from wallwright.job.read import read_tables
from wallwright.photo.fit import Doubt, Marked

if TYPE_CHECKING:
    from collections.abc import Iterator

KEY = "wallwright-photo"
Pixel = tuple[Number, Number]
_EDGE_LEAST = 3


@dataclass(frozen=True, slots=True)
class PhotoPoint:
    """A point that can be seen in the photo and was measured with a tape."""

    __pydantic_config__ = STRICT
    ref: Ref
    px: Pixel
    """Its mark: column, row."""
    x: Offset
    """From the wall's left corner; a bare number counts as measured once."""
    z: Offset
    """Above FFL."""
    out: Clear = Length(0.0)
    """How far it stands in front of the wall: a joint of the floor, the edge of a step."""


@dataclass(frozen=True, slots=True)
class PhotoBox:
    """A box in the wall as it is marked in the photo: the corners of its rim, or only its middle."""

    __pydantic_config__ = STRICT
    ref: Ref
    """The outlet's ref on the drawings."""
    corners: tuple[Pixel, ...] = ()
    """All four, or two that lie opposite."""
    middle: Pixel | None = None


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo of the wall, marked and measured."""

    __pydantic_config__ = STRICT
    picture: Annotated[str, Field(min_length=1, max_length=400)]
    """The picture's file, beside this one: JPEG or PNG."""
    points: tuple[PhotoPoint, ...]
    by: Words = ""
    date: Day = ""
    boxes: tuple[PhotoBox, ...] = ()
    edges: tuple[tuple[Pixel, ...], ...] = ()
    """Marks along lines that are straight on site, three or more each: they tell how the lens bends."""
    front: tuple[tuple[Pixel, ...], ...] = ()
    """Outlines of what stands in front of the wall: it stays in front of the design that is laid over."""
    focal: Positive | None = None
    """Focal length in mm as for a 36 × 24 mm frame; absent = as the picture's file tells."""
    pick: Positive | None = None
    """Standard deviation of a mark in pixels; absent = usual."""

    def flat(self, limits: Limits) -> tuple[Marked, ...]:
        """The points on the wall itself."""
        return tuple(
            Marked(one.ref, one.px, (one.x.mm, one.z.mm), hypot(sigma_of(one.x, limits), sigma_of(one.z, limits)) / 2**0.5)
            for one in self.points
            if one.out.mm == 0
        )  # fmt: skip

    def doubt(self, size: tuple[int, int], limits: Limits) -> Doubt:
        """How sure its marks and its lens are."""
        return Doubt(self.pick or limits.value("photo.pick"), limits.value("photo.lens"), size)


def sigma_of(length: Length, limits: Limits) -> float:
    """The standard deviation of a taped place [mm]: half its tolerance, else by how it was got; a bare number was measured once."""
    if length.tolerance:
        return length.tolerance / 2
    return limits.value(f"survey.sigma_{'verified' if length.state == 'verified' else 'measured'}")


def read_photo(text: str | bytes, name: str = "photo") -> Photo:
    """A marked photo, from the text of its file. JobError with every problem found."""
    made: Photo = read_tables(text, name, Photo, KEY)
    problems = tuple(_problems(made))
    if problems:
        raise JobError(problems, name)
    return made


def _problems(photo: Photo) -> Iterator[Problem]:
    for i, point in enumerate(photo.points):
        for axis, length in (("x", point.x), ("z", point.z)):
            if length.state == "photo":
                yield Problem(
                    f"points[{i}].{axis}",
                    f"{length.mm:g}",
                    "comes from a photo itself: a photo is measured by a tape only",
                )
    seen: set[str] = set()
    for i, box in enumerate(photo.boxes):
        if box.ref in seen:
            yield Problem(f"boxes[{i}].ref", box.ref, "is marked twice")
        seen.add(box.ref)
        if (len(box.corners) not in (2, 4)) == (box.middle is None):
            yield Problem(
                f"boxes[{i}]",
                box.ref,
                "needs its four corners, two opposite ones, or its middle; one of the three",
            )
    for i, edge in enumerate(photo.edges):
        if len(edge) < _EDGE_LEAST:
            yield Problem(
                f"edges[{i}]",
                "",
                f"holds {len(edge)} marks; {_EDGE_LEAST} or more along it show whether it is bent",
            )
    for i, outline in enumerate(photo.front):
        if len(outline) < _EDGE_LEAST:
            yield Problem(
                f"front[{i}]", "", f"holds {len(outline)} marks; an outline has {_EDGE_LEAST} or more"
            )
