"""The design laid over the client's own photo: its solids seen by the photo's camera, the screen black, what stands in front kept.

A picture only: nothing is measured from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from wallwright.core.shape import kept_side
from wallwright.export.picture_scene import Face, model_faces
from wallwright.photo.camera import Camera
from wallwright.photo.lens import bent
from wallwright.photo.opencv import opencv

if TYPE_CHECKING:
    from wallwright.derive import Wall

WIDEST = 2400
"""Longest side of the picture that comes out [px]."""
STAMP = "Illustrative: picture only, not for cutting"
SUN = np.array((-0.35, -0.80, 0.49))
"""Where most light comes from: over the viewer's left shoulder, common practice of drawing."""


@dataclass(frozen=True, slots=True)
class Overlay:
    """pixels : rows of blue, green, red · drawn : share of the picture that the design covers · number : of the face at each pixel"""

    pixels: Any
    drawn: float
    number: Any


def overlay(  # noqa: PLR0913
    wall: Wall, camera: Camera, k: float, pixels: Any, front: Sequence[Any] = (), sure: float = 0.0
) -> Overlay:
    """The design on the photo. k : the lens's bending · front : outlines of what stands in front [px] · sure : ± with which an edge
    that stands off the wall is drawn [px of the photo]
    """
    cv = opencv()
    high, wide = pixels.shape[:2]
    share = min(1.0, WIDEST / max(high, wide))
    size = (round(wide * share), round(high * share))
    ground = cv.resize(pixels, size, interpolation=cv.INTER_AREA) if share < 1 else pixels.copy()
    faces = design_faces(wall)
    number = painted(faces, camera, k, (wide, high), size)
    for outline in front:
        mask = np.zeros(number.shape, np.uint8)
        cv.fillPoly(mask, [np.round(np.asarray(outline, float) * share).astype(np.int32)], 1)
        number[mask > 0] = -1
    light = _light(ground, number)
    colours = np.array([_colour(face, light) for face in faces] + [(0, 0, 0)], np.uint8)
    drawn = number >= 0
    out = np.where(drawn[..., None], colours[number], ground)
    out = _edges(out, number, faces)
    stamp = f"{STAMP}; edges in front of the wall +/- {sure:.0f} px" if sure else STAMP
    _stamped(cv, out, stamp)
    return Overlay(out, float(drawn.mean()), number)


def front_corners(wall: Wall) -> list[tuple[float, float, float]]:
    """The front corners of every unit: where a wrong camera shows most."""
    return [
        (x, -unit.depth, z)
        for unit in wall.setout.units
        for x in (unit.box.x, unit.box.right)
        for z in (unit.box.z, unit.box.top)
    ]


def design_faces(wall: Wall) -> list[Face]:
    """What is to come: without the wall, the floor, and what stays in the room and is in the photo already."""
    there = {thing.ref for thing in wall.face.obstacles if thing.state != "new"}
    points = {point.ref for point in wall.services.points}
    return model_faces(wall, {"wall", "floor", *there, *points})


def painted(
    faces: Sequence[Face], camera: Camera, k: float, photo: tuple[int, int], size: tuple[int, int]
) -> Any:
    """The number of the face that each pixel sees, -1 where none: the nearest is kept at each pixel."""
    number = np.full((size[1], size[0]), -1, np.int32)
    depth = np.zeros((size[1], size[0]), np.float32)  # 1 / depth: it runs evenly over a flat face
    share = size[0] / photo[0]
    eye = camera.at
    for i, face in enumerate(faces):
        corners = np.array(face.corners)
        normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
        if float(normal @ (eye - corners[0])) <= 0:
            continue
        at = corners @ camera.turn.T + camera.shift
        kept = np.array(kept_side([tuple(c) for c in at], 2, 50.0, 1.0)) if at[:, 2].min() < 50.0 else at
        if len(kept) < 3:
            continue
        ideal = camera.focal * kept[:, :2] / kept[:, 2:] + np.array(camera.middle)
        _fill(number, depth, i, bent(ideal, k, photo) * share, 1.0 / kept[:, 2])
    return number


def _fill(number: Any, depth: Any, i: int, px: Any, near: Any) -> None:
    high, wide = number.shape
    x0, x1 = max(int(np.ceil(px[:, 0].min())), 0), min(int(np.floor(px[:, 0].max())) + 1, wide)
    y0, y1 = max(int(np.ceil(px[:, 1].min())), 0), min(int(np.floor(px[:, 1].max())) + 1, high)
    if x0 >= x1 or y0 >= y1:
        return
    x, y = np.arange(x0, x1)[None, :], np.arange(y0, y1)[:, None]
    ahead: Any = np.bool_(True)
    behind: Any = np.bool_(True)
    for a, b in zip(px, np.roll(px, -1, axis=0), strict=True):
        side = (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])
        ahead, behind = ahead & (side >= 0), behind & (side <= 0)
    plane = np.linalg.lstsq(np.column_stack((px, np.ones(len(px)))), near, rcond=None)[0]
    deep = plane[0] * x + plane[1] * y + plane[2]
    there = depth[y0:y1, x0:x1]
    nearer = (ahead | behind) & (deep > there * (1 + 1e-6))
    there[nearer] = deep[nearer]
    number[y0:y1, x0:x1][nearer] = i


def _light(ground: Any, number: Any) -> Any:
    """How bright the photo is where the design comes: its median there, of linear light, against a white wall's."""
    where = number >= 0
    seen = ground[where] if where.any() else ground.reshape(-1, 3)
    linear = (np.median(seen, axis=0) / 255.0) ** 2.2
    return np.clip(linear / 0.7, 0.25, 1.4)


def _colour(face: Face, light: Any) -> tuple[int, int, int]:
    corners = np.array(face.corners)
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    normal = normal / max(float(np.linalg.norm(normal)), 1e-9)
    lit = 0.62 + 0.38 * max(0.0, float(normal @ SUN))
    shown = np.clip(np.array(face.paint.colour[::-1]) * lit * light, 0, 1) ** (1 / 2.2)
    return tuple(int(v) for v in shown * 255)  # type: ignore[return-value]


def _edges(out: Any, number: Any, faces: Sequence[Face]) -> Any:
    """A dark line where one part ends and another begins."""
    parts = np.array([face.part for face in faces] + [0])[number]
    line = np.zeros(number.shape, bool)
    line[:, 1:] |= parts[:, 1:] != parts[:, :-1]
    line[1:] |= parts[1:] != parts[:-1]
    return np.where(line[..., None], (out * 0.55).astype(np.uint8), out)


def _stamped(cv: Any, out: Any, text: str) -> None:
    scale = max(0.45, out.shape[1] / 2400)
    (wide, high), _ = cv.getTextSize(text, cv.FONT_HERSHEY_SIMPLEX, scale, 1)
    x, y = out.shape[1] - wide - 12, out.shape[0] - 12
    cv.rectangle(out, (x - 6, y - high - 6), (x + wide + 6, y + 8), (255, 255, 255), -1)
    cv.putText(
        out, text, (x, y), cv.FONT_HERSHEY_SIMPLEX, scale, (20, 20, 20), max(1, round(scale)), cv.LINE_AA
    )
