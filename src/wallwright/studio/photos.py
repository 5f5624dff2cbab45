"""A photo of the wall, worked out: what its points and boxes tell, the wall laid straight, the design laid over it.

Nothing of it is kept here, and nothing that a photo shows is written into the job.
"""

from __future__ import annotations

import math
import threading
from typing import TYPE_CHECKING, Any

from wallwright.derive import Wall
from wallwright.job.problem import JobError, fail
from wallwright.studio import found
from wallwright.studio.answers_photo import (
    BoxTold,
    EdgeTold,
    HeadOut,
    Lens,
    MarkedBox,
    Marks,
    PhotoTold,
    PictureIn,
    PointTold,
    Within,
)

if TYPE_CHECKING:
    from wallwright.export.photo_file import Picture
    from wallwright.photo.taken import Taken

MOST_TAKEN = 12_000_000
"""Pixels of a picture that is unpacked here: the page sends a smaller one than the photo."""
MOST_MADE = 2_500_000
"""Pixels of a straight picture: a page's width twice over."""
_ONE = threading.Lock()
"""One picture at a time: each takes a second of a processor and some hundred megabytes."""
NAME = "photo"


def head_of(head: bytes) -> HeadOut:
    """The focal length that a photo's file tells, and whether pictures can be made of it here."""
    from wallwright.export.photo_file import focal_of
    from wallwright.photo.opencv import opencv

    try:
        opencv()
    except JobError as lacking:
        return HeadOut(focal=focal_of(head), lacks=f"the studio {lacking.problems[0].says}")
    return HeadOut(focal=focal_of(head), lacks="")


def told(wall: Wall, marks: Marks) -> PhotoTold:
    """What the points tell of each other and of the boxes. JobError where they are no picture of the wall."""
    one = _taken(wall, marks)
    within = _within(wall, one)
    without = _within(wall, _taken(wall, marks.model_copy(update={"edges": []}))) if marks.edges else None
    again = {point.ref for point in one.suspects}
    others = {point.ref: point.far for point in one.points}
    points = [
        PointTold(
            ref=point.ref, off=round(math.hypot(*off), 1), again=point.ref in again,
            by_others=round(others[point.ref], 1) if point.ref in others else None,
        )
        for point, off in zip(one.fit.marked, one.fit.residuals, strict=True)
    ]  # fmt: skip
    boxes, answer = _boxes(wall, one)
    eye = one.camera.at
    camera = (
        f"taken from {-eye[1] / 1000:.2f} m, {eye[2]:.0f} mm above the floor; focal length {one.focal_from}"
    )
    return PhotoTold(
        points=points, says=_worth(one), camera=camera, least=within.least, most=within.most, lens=_lens(one), edges=_edges(one),
        without=without, boxes=boxes, found=answer,
    )  # fmt: skip


def _within(wall: Wall, one: Taken) -> Within:
    from wallwright.photo.straight import sure_over

    sure = [place.sure for place in sure_over(one.fit, wall.face.box, 900.0)]
    return Within(least=round(min(sure), 1), most=round(max(sure), 1))


def _lens(one: Taken) -> Lens:
    from wallwright.photo.fit import AXIS_95
    from wallwright.photo.lens import radius

    far = radius(one.fit.doubt.size)
    sigma = math.sqrt(max(0.0, float(one.fit.spread[8, 8])) * max(1.0, one.fit.variance))
    # at the corner a mark is put right by k times the half diagonal: the lens had moved it the other way
    return Lens(corner=round(-one.fit.k * far, 1), sure=round(AXIS_95 * sigma * far, 1))


def _edges(one: Taken) -> list[EdgeTold]:
    """The lines that are straight on site, as marked and with the lens put right."""
    from wallwright.photo.lens import crooked
    from wallwright.photo.taken import off_line, straight

    return [
        EdgeTold(
            bent=round(float(abs(crooked(edge)).max()), 1), left=round(off_line(one.fit, edge), 1), again=not straight(one.fit, [edge])
        )
        for edge in one.photo.edges
    ]  # fmt: skip


def straight(wall: Wall, sent: PictureIn) -> bytes:
    """The wall laid straight and to scale, as JPEG."""
    from wallwright.export.photo_file import encoded
    from wallwright.export.photo_straight import straightened
    from wallwright.photo.straight import step_for

    with _ONE:
        one, picture = _both(wall, sent)
        area = wall.face.box
        least = math.ceil(math.sqrt(area.width * area.height / MOST_MADE) * 2) / 2
        step = max(step_for(area, one.fit), least)
        made = straightened(
            one.fit, picture.pixels, area, wall.limits.value("photo.shown"), "The wall laid straight", step
        )
        return encoded(made.pixels, ".jpg")


def overlaid(wall: Wall, sent: PictureIn) -> bytes:
    """The design on the photo, as JPEG."""
    from wallwright.export.photo_file import encoded
    from wallwright.export.photo_overlay import front_corners, overlay

    with _ONE:
        one, picture = _both(wall, sent)
        sure = max(map(one.sure_px, front_corners(wall)), default=0.0)
        return encoded(
            overlay(wall, one.camera, one.fit.k, picture.pixels, one.photo.front, sure).pixels, ".jpg"
        )


def _both(wall: Wall, sent: PictureIn) -> tuple[Taken, Picture]:
    """The marks worked out in the pixels of the picture that was sent, and that picture."""
    from wallwright.export.photo_file import picture_of

    picture = picture_of(sent.picture, NAME, MOST_TAKEN)
    wide, high = sent.marks.size
    share = picture.size[0] / wide
    if abs(high * share - picture.size[1]) > max(2.0, 0.01 * picture.size[1]):
        says = f"is {picture.size[0]} × {picture.size[1]} pixels, the marks are of one of {wide} × {high}: send it as it is shown, upright"
        raise fail("picture", None, says, NAME)
    return _taken(wall, sent.marks, share, picture.size), picture


def _taken(wall: Wall, marks: Marks, share: float = 1.0, size: tuple[int, int] | None = None) -> Taken:
    """The marks worked out. share : pixels of the picture at hand for one of the photo"""
    from wallwright.photo.file import read_photo
    from wallwright.photo.opencv import opencv
    from wallwright.photo.taken import taken

    opencv()  # where it lacks, that is said and nothing else
    photo = read_photo(_file(wall, marks, share), NAME)
    try:
        return taken(photo, size or marks.size, None, wall.limits, NAME)
    except (ValueError, ArithmeticError) as problem:
        if isinstance(problem, JobError):
            raise
        raise fail(
            "points", None, "are no picture of the wall: look at the marks and sizes again", NAME
        ) from None


def _file(wall: Wall, marks: Marks, share: float) -> str:
    """The marks as a photo file, so that they are read and looked through as one."""
    import tomlkit

    pick = (marks.pick or wall.limits.value("photo.pick")) * share
    said: dict[str, Any] = {"wallwright-photo": 1, "picture": NAME, "by": marks.by or "", "pick": pick}
    if marks.focal:
        said["focal"] = marks.focal
    said["points"] = [
        {
            "ref": one.ref, "px": [v * share for v in one.px], "x": one.x, "z": one.z,
            **({} if one.out is None else {"out": one.out}),
        }
        for one in marks.points
    ]  # fmt: skip
    said["boxes"] = [_box(one, share) for one in marks.boxes]
    for name, lines in (("edges", marks.edges), ("front", marks.front)):
        said[name] = [[[v * share for v in px] for px in line] for line in lines]
    return tomlkit.dumps(said)


def _box(box: MarkedBox, share: float) -> dict[str, Any]:
    corners = [[v * share for v in px] for px in box.corners]
    return {"ref": box.ref, **({"middle": corners[0]} if len(corners) == 1 else {"corners": corners})}


def _boxes(wall: Wall, one: Taken) -> tuple[list[BoxTold], Any]:
    """The boxes with their answers; none marked, none answered."""
    from wallwright.change.asfound import as_found
    from wallwright.export.photo_site import with_boxes
    from wallwright.job.site import Site
    from wallwright.photo.boxes import seen_boxes

    if not one.photo.boxes:
        return [], None
    drawn = {point.ref: point.box for point in wall.services.points}
    seen = seen_boxes(one, drawn, wall.limits, NAME)
    only = with_boxes("", seen, one.photo.by, "")[1]
    answer = found.said(as_found(wall, Site(one.photo.by, "", only.boxes)))
    told = [
        BoxTold(ref=box.ref, x=round(box.x, 1), z=round(box.z, 1), sure=round(box.sure, 1)) for box in seen
    ]
    return told, answer


def _worth(one: Taken) -> str:
    """What the points are worth, in words."""
    from wallwright.photo.taken import straight

    if not straight(one.fit, one.photo.edges):
        return "A line marked as straight is not, by any lens: put its marks right or throw it away, before anything is read here."
    again = [f"{point.ref} ({point.far:.0f} mm off)" for point in one.suspects]
    if len(again) == 1:
        return f"Measure {again[0]} again: the others do not bear it out."
    if again:
        return f"One of these is wrong, and nothing says which: {', '.join(again)}. Measure them again."
    if not one.points:
        return "Four points check nothing: with six or more a wrong one is found."
    return "The points bear each other out."
