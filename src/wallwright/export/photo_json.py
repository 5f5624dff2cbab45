"""What a photo told, for --json and for a page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wallwright.photo.boxes import SeenBox
    from wallwright.photo.straight import Sure
    from wallwright.photo.taken import Taken


def taken_json(taken: Taken) -> dict[str, Any]:
    """The fit: points with what is left over, the suspect, the lens, the camera."""
    fit, camera = taken.fit, taken.camera
    by_ref = {one.ref: one for one in taken.points}
    return {
        "points": [
            {
                "ref": one.ref,
                "x": one.at[0],
                "z": one.at[1],
                "off": [round(v, 2) for v in off],
                "by_the_others": [round(v, 2) for v in by_ref[one.ref].off] if one.ref in by_ref else None,
            }
            for one, off in zip(fit.marked, fit.residuals, strict=True)
        ],
        "suspects": [one.ref for one in taken.suspects],
        "spare": fit.spare,
        "variance": round(fit.variance, 3),
        "lens": round(fit.k, 5),
        "camera": {
            "at": [round(float(v)) for v in camera.at],
            "focal_px": round(camera.focal, 1),
            "focal_from": taken.focal_from,
            "aside": round(camera.aside, 1),
        },
    }


def sure_json(sure: Sequence[Sure]) -> list[dict[str, float]]:
    """± over the wall."""
    return [{"x": round(one.x, 1), "z": round(one.z, 1), "sure": round(one.sure, 1)} for one in sure]


def boxes_json(seen: Sequence[SeenBox]) -> list[dict[str, Any]]:
    """Boxes as seen, with their ±."""
    return [
        {
            "ref": one.ref,
            "x": round(one.x, 1),
            "z": round(one.z, 1),
            "sure": round(one.sure, 1),
            "state": "photo",
        }
        for one in seen
    ]
