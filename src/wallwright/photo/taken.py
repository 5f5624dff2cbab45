"""A marked photo worked out: the points checked, the plane map fitted, the camera found, and the point that may be wrong named."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from wallwright.job.problem import fail
from wallwright.photo.camera import Camera, focal_from_35, focal_from_plane, posed, seen, spread_of
from wallwright.photo.checked import checked
from wallwright.photo.fit import AXIS_95, Fit, fitted
from wallwright.photo.homography import slope
from wallwright.photo.lens import crooked, righted
from wallwright.photo.suspect import TELLING, LeftOut, left_out, suspects

if TYPE_CHECKING:
    from collections.abc import Sequence

    from wallwright.core.limit import Limits
    from wallwright.photo.file import Photo
    from wallwright.photo.fit import Doubt, Marked

OFF_LINE = 4.0
"""A mark further off its line, in standard deviations of a mark, is none of a straight line: one good mark in 16,000 (normal)."""
PULLED = 2.0
"""Bending beyond so many standard deviations of what a usual lens does is the lens's own: one usual lens in 22 (normal)."""
FAR_OFF = 25.0
"""Points in front of the wall that the camera sees further from their marks than so many standard deviations are no such points."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A photo worked out. points : each as the others see it · focal_from : where the focal length comes from"""

    photo: Photo
    fit: Fit
    camera: Camera
    points: tuple[LeftOut, ...]
    focal_from: str

    @property
    def suspects(self) -> tuple[LeftOut, ...]:
        """The measured point that is wrong, or those that may be."""
        return suspects(self.points)

    def sure_px(self, point: tuple[float, float, float]) -> float:
        """± with which a point (x, y into the wall, z) is drawn in the photo, 95 % on either axis [px]."""
        return AXIS_95 * float(np.sqrt(np.linalg.eigvalsh(spread_of(self.camera, np.array(point)))[-1]))


def taken(
    photo: Photo, size: tuple[int, int], told: float | None, limits: Limits, name: str = "photo"
) -> Taken:
    """A marked photo worked out. size : of the picture [px] · told : focal length that its file tells, as for 36 × 24 mm

    Raises JobError, naming the photo file, where the points are no picture of the wall.
    """
    flat = photo.flat(limits)
    checked(flat, size, name)
    fit, others = _fitted(flat, photo.doubt(size, limits), photo.edges, limits.value("photo.lens_wide"))
    focal, sigma, says = _focal(photo, fit, size, told, limits)
    points = np.array([(one.x.mm, -one.out.mm, one.z.mm) for one in photo.points])
    marks = np.array([one.px for one in photo.points], float)
    try:
        camera = posed(points, righted(marks, fit.k, size), focal, size, _pick(fit), sigma)
    except ValueError as problem:
        raise fail(
            "points", None, f"{problem}; look at the marks and the measured places again", name
        ) from None
    off = np.hypot(*(seen(camera, points) - righted(marks, fit.k, size)).T)
    in_front = [i for i, one in enumerate(photo.points) if one.out.mm > 0]
    worst = max(in_front, key=lambda i: off[i], default=None)
    if worst is not None and off[worst] > FAR_OFF * fit.doubt.pick:
        says = f"is marked {off[worst]:.0f} px from where a point {photo.points[worst].out.mm:.0f} mm in front of the wall would be seen"
        raise fail(f"points[{worst}]", photo.points[worst].ref, says, name)
    return Taken(photo, fit, camera, others, says)


def _fitted(
    flat: Sequence[Marked], doubt: Doubt, edges: Sequence[Any], wide: float
) -> tuple[Fit, tuple[LeftOut, ...]]:
    """The map, and each point as the others see it. Points that do not agree may be a lens that bends more than a phone's main camera
    is taken to, and no wrong tape: where all of them agree by such a lens, and there are enough to tell it, it is that. So it is
    where lines that are straight on site pull at what a usual lens does, and are straight by such a one.
    """
    if edges and doubt.lens < wide and abs(fitted(flat, doubt, edges).k) > PULLED * doubt.lens:
        looser = replace(doubt, lens=wide)
        if straight(fitted(flat, looser, edges), edges):
            doubt = looser
    others = left_out(flat, doubt, edges)
    if suspects(others) and len(flat) >= TELLING and doubt.lens < wide:
        looser = replace(doubt, lens=wide)
        again = left_out(flat, looser, edges)
        if not suspects(again):
            return fitted(flat, looser, edges), again
    return fitted(flat, doubt, edges), others


def off_line(fit: Fit, edge: Sequence[tuple[float, float]]) -> float:
    """How far a mark of an edge lies off its straight line at most, the lens put right [px]."""
    return float(np.abs(crooked(righted(edge, fit.k, fit.doubt.size))).max())


def straight(fit: Fit, edges: Sequence[Sequence[tuple[float, float]]]) -> bool:
    """Whether the edges are straight lines, as well as they are marked."""
    return all(off_line(fit, edge) <= OFF_LINE * fit.doubt.pick for edge in edges)


def _pick(fit: Fit) -> float:
    """Standard deviation of a mark with the tape's own error seen in the photo [px]."""
    at = np.mean([one.at for one in fit.marked], axis=0)
    px_per_mm = float(np.linalg.svd(slope(fit.to_px, at), compute_uv=False).mean())
    return float(np.hypot(fit.doubt.pick, px_per_mm * np.mean([one.sigma for one in fit.marked])))


def _focal(
    photo: Photo, fit: Fit, size: tuple[int, int], told: float | None, limits: Limits
) -> tuple[float, float, str]:
    """Focal length [px], its standard deviation as a share, and where it comes from."""
    given = photo.focal or told
    if given:
        where = "as given" if photo.focal else "as the picture's file tells"
        return focal_from_35(given, size), limits.value("photo.focal_told") / 100, f"{given:g} mm, {where}"
    found, loose = focal_from_plane(fit.to_px, size), limits.value("photo.focal_guessed") / 100
    if found is not None:
        return found, loose, "from how the points stand in the photo"
    usual = limits.value("photo.focal_35")
    return focal_from_35(usual, size), loose, f"{usual:g} mm taken as usual: nothing tells it"
