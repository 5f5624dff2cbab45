"""A photo of the wall, worked on: of any one job, below /api/jobs/{job}/photo. Nothing is kept, nothing is written."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Depends
from fastapi.responses import Response

from wallwright.studio import photos
from wallwright.studio.answers_photo import HeadIn, HeadOut, Marks, PhotoTold, PictureIn
from wallwright.studio.door import session_of
from wallwright.studio.session import Session

PHOTO = APIRouter(prefix="/photo")
Opened = Annotated[Session, Depends(session_of)]
JPEG: dict[int | str, dict[str, Any]] = {
    200: {"content": {"image/jpeg": {"schema": {"type": "string", "format": "binary"}}}, "description": "A picture; not for cutting"}
}  # fmt: skip


@PHOTO.post("/head")
def head(session: Opened, body: HeadIn) -> HeadOut:
    """What the beginning of a photo's file tells of its lens."""
    return photos.head_of(body.head)


@PHOTO.post("/told")
def told(session: Opened, body: Marks) -> PhotoTold:
    """What the measured points tell of each other, and the answers to the boxes that are marked."""
    return photos.told(session.view().wall, body)


@PHOTO.post("/straight", response_class=Response, responses=JPEG)
def straight(session: Opened, body: PictureIn) -> Response:
    """The wall laid straight, with a grid in mm and how sure it is."""
    return Response(photos.straight(session.view().wall, body), media_type="image/jpeg")


@PHOTO.post("/overlay", response_class=Response, responses=JPEG)
def overlay(session: Opened, body: PictureIn) -> Response:
    """The design laid over the photo. A picture only."""
    return Response(photos.overlaid(session.view().wall, body), media_type="image/jpeg")
