"""The light stage: each strip of the design laid, fed, driven, and looked at from every eye."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import partial
from itertools import chain
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Point2
from wallwright.core.why import Later, Why
from wallwright.job.design import Light as Wish
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.library.load import Strip
from wallwright.light import why
from wallwright.light.beside import (
    Around,
    around,
    backgrounds,
    band_luminance,
    face_at,
    peak_luminance,
    target,
    thrown_back,
    throws_back,
)
from wallwright.light.dots import ripple
from wallwright.light.eyes import Eye, every_eye
from wallwright.light.flicker import least_hz
from wallwright.light.halo import facing_between, grazing_between
from wallwright.light.lay import Laid, feed_points, hiding, lay, lit_at, lux_near, seen_by
from wallwright.light.lines import facing, grazing
from wallwright.light.record import Circuit, Light, LightRun
from wallwright.light.wiring import Feed, driver, feed_drop, feed_size, heat_rise, strip_drop

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut
    from wallwright.sight.record import Screen, SeatView

USUAL = {
    "behind_panel": "soft", "behind_screen": "bias", "under_console": "soft", "under_shelf": "medium", "tower_side": "soft",
}  # fmt: skip
"""The library's strip for each place: soft where the wall is lit to be looked at, stronger where a shelf is."""

_NO_LIGHT = 1e-9
"""Luminance that counts as none [cd/m²]."""


def plan(
    job: Job,
    screen: Screen,
    setout: SetOut,
    seats: tuple[SeatView, ...],
    limits: Limits,
) -> Light:
    """All runs. A strip that has nothing to lie along is left out, and its Why says so."""
    runs: list[LightRun] = []
    said: list[Iterable[Why]] = []
    eyes = every_eye(job, screen, seats, limits) if job.design.lights else ()
    faces = around(job, screen, setout, limits)
    for wish in job.design.lights:
        laid = lay(wish, screen, setout, limits)
        if isinstance(laid, str):
            says = f"{laid}: add it, or lay the strip elsewhere"
            said.append(
                (Why(f"light {wish.ref}", "not laid", "", says, "", (), "plane geometry", "computed"),)
            )
            continue
        strip = _strip(wish)
        run = _run(job, wish, laid, strip, faces, setout, eyes, limits)
        runs.append(run)
        said.append(Later(partial(why.of_run, run, wish, laid, strip, limits)))
    beside = backgrounds(faces, runs, limits)
    circuits = _circuits(runs)
    said.append(Later(lambda: why.of_beside(beside, faces, limits)))
    said.append(Later(partial(why.of_circuits, circuits)))
    return Light(
        tuple(runs),
        Later(lambda: chain.from_iterable(said)),
        beside,
        circuits,
        tuple((ref, share) for ref, _, share in faces),
    )


def _strip(wish: Wish) -> Strip:
    """The library's strip for this place and voltage; the soft one where that place's has no such voltage."""
    strips = load.strips()
    tail = "" if wish.volts == 24 else f"_{wish.volts}"
    return strips.get(USUAL[wish.along] + tail) or strips[f"soft{tail}"]


def _run(  # noqa: PLR0913
    job: Job,
    wish: Wish,
    laid: Laid,
    strip: Strip,
    faces: Around,
    setout: SetOut,
    eyes: tuple[Eye, ...],
    limits: Limits,
) -> LightRun:
    metres = laid.length / 1000
    watts_per_m = wish.watts_per_m if wish.watts_per_m is not None else strip.watts_per_m
    usual_lumens = strip.lumens_per_m * watts_per_m / strip.watts_per_m
    lumens = wish.lumens_per_m if wish.lumens_per_m is not None else usual_lumens
    watts = watts_per_m * metres
    amps = watts / wish.volts
    feed = wish.feed or _feed(laid, strip, watts_per_m / wish.volts, wish.volts, limits)
    points = feed_points(laid, feed)
    driver_at = _driver_at(job, wish, laid, setout, points[0])
    feed_length = _feed_length(points, driver_at, limits)
    amps_each = amps / len(points)
    size = feed_size(amps_each, wish.volts, feed_length / 1000, limits.value("light.feed_drop"))
    each, count = driver(watts, limits.value("rule.driver_load"))
    bias = wish.along == "behind_screen"

    surface, dress = (
        faces[0][:2] if bias
        else face_at(job, setout, lit_at(laid), laid.of if wish.along == "behind_panel" else "")
    )  # fmt: skip
    grey = thrown_back(faces) if bias else throws_back(dress)
    lux = lux_near(laid, lumens, limits)
    peak_at, peak = peak_luminance(laid, lumens, grey, limits)
    band = band_luminance(laid, lumens, grey, limits) if bias else 0.0
    depth = _depth(wish, laid, limits)
    pitch = wish.pitch.mm if wish.pitch is not None else strip.pitch
    back, lip = hiding(laid, eyes, limits)
    heat = watts_per_m * limits.value("light.heat_share")
    return LightRun(
        ref=wish.ref, along=wish.along, of=laid.of, path=laid.path, y=laid.y, length=laid.length, watts_per_m=watts_per_m,
        watts=watts, volts=wish.volts, amps=amps, driver_watts=each * count, driver_load=watts / (each * count),
        driver_place=wish.driver_place, feed=feed,
        drop_percent=100 * strip_drop(strip.loop_ohm_per_m, watts_per_m / wish.volts, metres, feed) / wish.volts,
        pitch=pitch, depth=depth,
        colour=wish.colour if wish.colour is not None else limits.value("light.bias_colour" if bias else "light.mood_colour"),
        lumens_per_m=lumens, wall_lux=lux,
        dim_to=min(1.0, target(limits) / max(band, _NO_LIGHT)) if bias else 0.0, dimmable=wish.dimmable, setback=laid.setback,
        seen_by=seen_by(laid, eyes, limits),
        feed_drop_percent=100 * feed_drop(amps_each, size, feed_length / 1000) / wish.volts,
        feed_size=size, drivers=count, feed_points=points, driver_at=driver_at, feed_length=feed_length,
        lit=laid.lit, gap=laid.gap, surface=surface, surface_gloss=dress.finish.gloss, reflectance=grey,
        wall_luminance=grey * lux / math.pi, peak_luminance=peak, peak_at=peak_at, band_luminance=band,
        evenness=_evenness(laid, limits), dot_ripple=ripple(pitch, depth),
        wall_ripple=ripple(pitch, (laid.gap**2 + laid.shows_from**2) ** 0.5),
        visible_lumens=_visible(laid, lumens) * metres,
        lip=laid.lip, hide_setback=back, hide_lip=lip,
        dim_low=min(1.0, target(limits) / max(peak, _NO_LIGHT)) if bias else limits.value("light.mood_low"),
        least_hz=least_hz(wish.flicker_depth, limits.value("light.flicker_slope")),
        driver_low=wish.dim_low or 0.0, flicker_hz=wish.flicker_hz or 0.0,
        flicker_depth=wish.flicker_depth,
        profile=wish.profile if wish.profile is not None else watts_per_m > limits.value("rule.profile_watts"),
        heat=heat, rise=heat_rise(heat, limits.value("light.heat_film"), limits.value("light.heat_perimeter")),
        circuit=wish.circuit or ("bias" if bias else "mood"),
        curve=laid.radius, turn=laid.turn, round_curve=wish.round_curve or "",
    )  # fmt: skip


def _feed(laid: Laid, strip: Strip, amps_per_m: float, volts: float, limits: Limits) -> Feed:
    """One end while the far end stays bright enough; else both ends where they meet, or the middle."""
    drop = strip_drop(strip.loop_ohm_per_m, amps_per_m, laid.length / 1000, "one_end")
    if 100 * drop / volts <= limits.value("rule.led_drop"):
        return "one_end"
    return "both_ends" if laid.closed else "centre"


def _driver_at(job: Job, wish: Wish, laid: Laid, setout: SetOut, feed: Point2) -> Point2 | None:
    """Where its driver stands: in the unit, as near the feed as its sides let it; at the ceiling above the feed; behind the
    panel. None where the cabinet it goes into is not there. The mains point beside it is the services' business.
    """
    if wish.driver_place == "ceiling":
        return feed[0], min(reading.value.mm for reading in job.survey.wall.heights)
    if wish.driver_place == "behind_panel":
        zone = next((zone.box for zone in setout.zones if laid.of == zone.ref), None)
        return (zone.x, zone.z) if zone else feed
    cabinets = [unit for unit in setout.units if unit.cabinet]
    first = [unit for unit in cabinets if unit.ref == laid.of] or [u for u in cabinets if u.kind == "console"]
    unit = next(iter(first or cabinets), None)
    if unit is None:
        return None
    return min(max(feed[0], unit.box.x), unit.box.right), unit.box.centre[1]


def _feed_length(points: tuple[Point2, ...], driver_at: Point2 | None, limits: Limits) -> float:
    """From the driver to the furthest feed point, along and up, and a spare loop; a usual length where nobody knows [mm]."""
    if driver_at is None:
        return limits.value("light.feed_length")
    far = max(abs(x - driver_at[0]) + abs(z - driver_at[1]) for x, z in points)
    return far + limits.value("light.feed_spare")


def _depth(wish: Wish, laid: Laid, limits: Limits) -> float:
    """From the diodes to the diffuser, or to the wall where they look straight at it."""
    if wish.depth is not None:
        return wish.depth.mm
    return laid.gap if laid.lit == "facing" else limits.value("light.profile_depth")


def _evenness(laid: Laid, limits: Limits) -> float:
    """The light at the end of the longest straight piece over that at its middle, where it is told."""
    h, along = laid.shows_from + limits.value("light.lux_at"), max(laid.straight, 1.0)
    line = facing if laid.lit == "facing" else grazing
    return line(1.0, laid.gap, h, (along, 0.0)) / line(1.0, laid.gap, h, (along / 2, along / 2))


def _visible(laid: Laid, lumens: float) -> float:
    """Lumen a metre that land on the face where one sees them."""
    if laid.lit == "facing":
        return facing_between(lumens, laid.gap, laid.shows_from)
    return grazing_between(lumens, laid.gap, laid.shows_from)


def _circuits(runs: list[LightRun]) -> tuple[Circuit, ...]:
    """What is switched together."""
    names = dict.fromkeys(run.circuit for run in runs)
    groups = ((name, [run for run in runs if run.circuit == name]) for name in names)
    return tuple(
        Circuit(
            name, tuple(run.ref for run in group), sum(run.watts for run in group),
            tuple(sorted({run.colour for run in group})), min(run.dim_low for run in group),
        )
        for name, group in groups
    )  # fmt: skip
