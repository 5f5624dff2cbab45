"""The light behind the screen: how bright what one sees round it is, and how far a bias light must be dimmed for that."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wallwright.core.colour import reflectance
from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2, cut_out
from wallwright.job.document import Job
from wallwright.job.dress import Dress, panel_dress, wall_dress
from wallwright.light.halo import brightest, facing_between, gap_gain
from wallwright.light.lay import Laid
from wallwright.light.record import Background, LightRun

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, SetOut
    from wallwright.sight.record import Screen

NO_SHARE = 1e-6
"""A face with less of the band is a seam, not a face."""
SOOT = 0.02
"""No face throws back less: even soot does 2 %."""


def throws_back(dress: Dress) -> float:
    """The share of light that a face throws back (0..1)."""
    return max(reflectance(dress.colour) / 100, SOOT)


def face_at(job: Job, setout: SetOut, point: Point2, but: str = "") -> tuple[str, Dress]:
    """The panel that covers a point of the wall, or the wall: its ref and finish. but : a panel that is left out."""
    here = Box(point[0] - 1, point[1] - 1, 2, 2)
    return _panel_or_wall(job, next((z for z in setout.zones if z.ref != but and z.box.meets(here)), None))


Around = tuple[tuple[str, Dress, float], ...]
"""Faces with the share (0..1) that each has of the band of light round the screen, the largest first."""


def around(job: Job, screen: Screen, setout: SetOut, limits: Limits) -> Around:
    """What one sees lit round the screen: the faces in a band beside its frame, the foremost panel where two lie there, and the wall
    where none does.
    """
    frame = screen.frame
    left = cut_out((frame.grown(limits.value("light.bias_band")),), frame)
    whole = sum(box.area for box in left)
    found: list[tuple[str, Dress, float]] = []
    for zone in sorted(setout.zones, key=lambda zone: -zone.build_up):
        rest = cut_out(left, zone.box) if any(box.meets(zone.box) for box in left) else left
        share = (sum(box.area for box in left) - sum(box.area for box in rest)) / whole
        if share > NO_SHARE:
            found.append((*_panel_or_wall(job, zone), share))
        left = rest
    bare = sum(box.area for box in left) / whole
    if bare > NO_SHARE:
        found.append((*_panel_or_wall(job, None), bare))
    return tuple(sorted(found, key=lambda face: -face[2]))


def thrown_back(faces: Around) -> float:
    """The share of light that these faces throw back together (0..1), by their areas."""
    return sum(share * throws_back(dress) for _, dress, share in faces)


def _panel_or_wall(job: Job, zone: PanelZone | None) -> tuple[str, Dress]:
    return ("wall", wall_dress(job)) if zone is None else (zone.ref, panel_dress(job, zone.ref, zone.finish))


def target(limits: Limits) -> float:
    """How bright the wall beside a picture should be [cd/m²]."""
    return limits.value("light.bias_share") * limits.value("light.screen_white")


def gain(laid: Laid, grey: float, limits: Limits) -> float:
    """By how much the gap behind the board brightens a halo, at most; 1 for a strip that has no gap."""
    if laid.lit != "facing":
        return 1.0
    name = "light.screen_back" if laid.of == "screen" else "light.panel_back"
    return gap_gain(laid.gap, laid.setback, grey, limits.value(name))


def band_luminance(laid: Laid, lumens: float, grey: float, limits: Limits) -> float:
    """The mean luminance of the first band beside the board's edge at full output [cd/m²]."""
    band = limits.value("light.bias_band")
    landing = facing_between(lumens, laid.gap, laid.shows_from, laid.shows_from + band)
    return landing / (band / 1000) * gain(laid, grey, limits) * grey / math.pi


def peak_luminance(laid: Laid, lumens: float, grey: float, limits: Limits) -> tuple[float, float]:
    """Where the lit face is brightest in view, from the board's edge [mm], and its luminance at full output [cd/m²]."""
    h, lux = brightest(lumens, laid.gap, laid.lit, laid.shows_from)
    return h - laid.shows_from, lux * gain(laid, grey, limits) * grey / math.pi


def backgrounds(faces: Around, runs: list[LightRun], limits: Limits) -> tuple[Background, ...]:
    """By day, in the evening, and in the dark with the bias light alone. faces : round the screen."""
    grey = thrown_back(faces)
    bias = max((_bias(run) for run in runs if run.bias), default=0.0)
    states = (
        ("day", limits.value("sight.room_light_day"), 0.0, limits.value("sight.picture_white")),
        ("evening", limits.value("sight.room_light_night"), bias, limits.value("light.screen_white")),
        ("dark", 0.0, bias, limits.value("light.screen_white")),
    )
    return tuple(Background(when, lux, lux * grey / math.pi, own, white) for when, lux, own, white in states)


def _bias(run: LightRun) -> float:
    """What the bias light adds beside the screen as it can be set: at its level, or as low as its driver goes [cd/m²]."""
    return run.band_luminance * (max(run.dim_to, run.driver_low) if run.dimmable else 1.0)
