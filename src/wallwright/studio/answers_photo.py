"""What is said about a photo of the wall: its marks and measured points, what they tell, and the pictures made of it.

Only the page keeps a photo. What is marked counts pixels of the photo as it was taken; a picture that is sent may be smaller.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Base64Bytes, BaseModel, Field

from wallwright.studio.answers_base import Key, Line, Strict, Written
from wallwright.studio.answers_change import FoundOut

Side = Annotated[int, Field(ge=200, le=30_000)]
At = Annotated[float, Field(ge=-30_000, le=30_000, allow_inf_nan=False)]
Px = tuple[At, At]


class HeadIn(Strict):
    """The beginning of a photo's file, where its camera wrote about itself."""

    head: Annotated[Base64Bytes, Field(max_length=60_000)]


class HeadOut(BaseModel):
    """focal : length as for a 36 × 24 mm frame; none = not told · lacks : what keeps this studio from working on photos, else empty"""

    focal: float | None
    lacks: str


class MarkedPoint(Strict):
    """A point that was measured with a tape. px : column, row · out : how far in front of the wall"""

    ref: Key
    px: Px
    x: Written
    z: Written
    out: Written | None = None


class MarkedBox(Strict):
    """A box in the wall: two opposite corners of its rim, all four, or its middle alone."""

    ref: Key
    corners: Annotated[list[Px], Field(min_length=1, max_length=4)]


Marked = Annotated[list[Px], Field(min_length=3, max_length=60)]
"""Marks one after the other: along a line that is straight on site, or around what stands in front of the wall."""


class Marks(Strict):
    """What is marked in a photo. size : of the photo [px] · focal : as for a 36 × 24 mm frame · pick : how well it is marked [px] ·
    edges : along lines that are straight on site · front : outlines of what stands in front of the wall
    """

    size: tuple[Side, Side]
    focal: Annotated[float, Field(gt=1, le=2000)] | None = None
    pick: Annotated[float, Field(ge=0.1, le=50)] | None = None
    by: Line | None = None
    points: Annotated[list[MarkedPoint], Field(max_length=40)]
    boxes: Annotated[list[MarkedBox], Field(max_length=60)] = []
    edges: Annotated[list[Marked], Field(max_length=12)] = []
    front: Annotated[list[Marked], Field(max_length=20)] = []


class PictureIn(Strict):
    """A photo with its marks. picture : JPEG or PNG, as it is shown upright, its sides in the ratio of the marks' size"""

    marks: Marks
    picture: Annotated[Base64Bytes, Field(max_length=3_900_000)]


class PointTold(BaseModel):
    """A measured point as the others see it [mm]. off : by the map of all of them · by_others : without it; none = nothing checks it"""

    ref: str
    off: float
    by_others: float | None
    again: bool


class BoxTold(BaseModel):
    """A box as the photo shows it: its middle and the ± that holds it with 95 % [mm]."""

    ref: str
    x: float
    z: float
    sure: float


class EdgeTold(BaseModel):
    """A line that is straight on site. bent : how far its marks lie off a straight line [px] · left : with the lens put right [px] ·
    again : a mark of it is wrong, or it is not straight
    """

    bent: float
    left: float
    again: bool


class Within(BaseModel):
    """± with which places on the wall are read, with 95 %: where it is least, where most [mm]."""

    least: float
    most: float


class Lens(BaseModel):
    """How far the lens moves the corners of the picture outwards, inwards where it is less than 0; and the ± that holds it with 95 % [px]."""

    corner: float
    sure: float


class PhotoTold(BaseModel):
    """What a photo tells. says : of how much that is worth · least, most : ± over the wall with 95 % [mm] · found : of its boxes ·
    without : the same ± had the straight lines not been marked; none where none is
    """

    points: list[PointTold]
    says: str
    camera: str
    least: float
    most: float
    lens: Lens
    edges: list[EdgeTold]
    without: Within | None
    boxes: list[BoxTold]
    found: FoundOut | None
