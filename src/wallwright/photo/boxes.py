"""Boxes in the wall read from a photo: their middles in mm with ±, to be held against the drawing by who knows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

import numpy as np

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.job.problem import fail, nearest
from wallwright.photo.camera import off_plane
from wallwright.photo.fit import Fit, either_way, pixel, place, spread_at

if TYPE_CHECKING:
    from wallwright.photo.camera import Camera
    from wallwright.photo.file import PhotoBox
    from wallwright.photo.taken import Taken


@dataclass(frozen=True, slots=True)
class SeenBox:
    """A box as the photo shows it. x, z : its middle · sure : ± that holds it with 95 %, whichever way [mm] · width, height : of its
    rim, None where only its middle was marked
    """

    ref: str
    x: float
    z: float
    sure: float
    width: float | None = None
    height: float | None = None


def seen_box(fit: Fit, box: PhotoBox, camera: Camera, proud: float) -> SeenBox:
    """A marked box on the wall. proud : how far its rim may lie off the wall's face (95 %) [mm]

    The middle is the mean of the corners on the wall, so that perspective does not draw it aside.
    """
    marks = np.array([box.middle] if box.middle is not None else box.corners, float)
    there = place(fit, marks)
    middle = there.mean(axis=0)
    cov = spread_at(fit, pixel(fit, middle)[0], 0.0)
    for mark in marks:
        cov = cov + (spread_at(fit, mark) - spread_at(fit, mark, 0.0)) / len(marks) ** 2
    at = (float(middle[0]), float(middle[1]))
    sure = hypot(either_way(cov), off_plane(camera, at, proud))
    if len(marks) == 1:
        return SeenBox(box.ref, *at, sure)
    wide, high = (float(v) for v in _extent(there))
    return SeenBox(box.ref, *at, sure, wide, high)


def seen_boxes(taken: Taken, drawn: Mapping[str, Box], limits: Limits, name: str) -> tuple[SeenBox, ...]:
    """Every marked box of a photo. drawn : the boxes of the wall by their refs · name : of the photo file, for the error

    Raises JobError where there is none, where one is no outlet of the wall, or where the marks are no such box.
    """
    if not taken.photo.boxes:
        raise fail("boxes", None, "holds no box: mark each by its ref and its corners in the photo", name)
    most, out = limits.value("photo.box_size"), list[SeenBox]()
    for i, box in enumerate(taken.photo.boxes):
        if box.ref not in drawn:
            raise fail(
                f"boxes[{i}].ref", box.ref, f"is no outlet of this wall; {nearest(box.ref, drawn)}", name
            )
        seen, meant = seen_box(taken.fit, box, taken.camera, limits.value("photo.proud")), drawn[box.ref]
        if seen.width is not None and seen.height is not None:
            off = max(abs(seen.width - meant.width), abs(seen.height - meant.height))
            if off > most:
                says = (
                    f"is {seen.width:.0f} × {seen.height:.0f} mm as marked; the box drawn is "
                    f"{meant.width:.0f} × {meant.height:.0f}: mark its rim"
                )
                raise fail(f"boxes[{i}].corners", box.ref, says, name)
        out.append(seen)
    return tuple(out)


def _extent(corners: np.ndarray) -> tuple[float, float]:
    """Width and height of a rim from two opposite corners, or the means of four."""
    if len(corners) == 2:
        wide, high = np.abs(corners[1] - corners[0])
        return float(wide), float(high)
    xs, zs = np.sort(corners[:, 0]), np.sort(corners[:, 1])
    return float(xs[2:].mean() - xs[:2].mean()), float(zs[2:].mean() - zs[:2].mean())
