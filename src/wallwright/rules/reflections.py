"""Rules of the lamps and the sun in the screen. Windows by day stand with the other rules of sight."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.core.finding import Finding, edit_call, finding
from wallwright.core.shape import around
from wallwright.core.why import Why
from wallwright.derive import Wall
from wallwright.job.survey import Lamp
from wallwright.rules.registry import rule
from wallwright.sight.cures import Cure
from wallwright.sight.glare import glares
from wallwright.sight.lamp_cure import PLACED, lamp_cures
from wallwright.sight.mirrored import glass_of, lamps
from wallwright.sight.record import Reflection
from wallwright.sight.season import STEP, SunYear, ask, sampled
from wallwright.sight.veil import contrast_word, front, picture, veil_borne


def lamps_that_trouble(wall: Wall) -> list[tuple[Lamp, list[Reflection]]]:
    """The lamps mirrored too brightly after dark, and in what seats' eyes."""
    bad = wall.limits.value("rule.veil_bad")
    seen = [
        (lamp, [hit for hit in wall.sight.reflections if hit.window == lamp.ref and hit.ratio > bad])
        for lamp in wall.job.survey.lamps
    ]
    return [(lamp, hits) for lamp, hits in seen if hits]


def lamp_ways(wall: Wall, lamp: Lamp, ratio: float) -> tuple[Cure, ...]:
    """The cures of a mirrored lamp, the least trouble first."""
    depth = wall.job.survey.room.depth
    return lamp_cures(
        lamp, glass_of(wall.sight.screen), [seat.eye for seat in wall.sight.seats], depth.mm if depth is not None else None,
        wall.face.width, ratio, wall.limits,
    )  # fmt: skip


@rule("sight.lamp_mirrored")
def lamp_mirrored(wall: Wall) -> Iterator[Finding]:
    """After dark no lamp shines back out of the picture at a seat."""
    limit = wall.limits["rule.veil_bad"]
    for lamp, hits in lamps_that_trouble(wall):
        worst = max(hits, key=lambda hit: hit.ratio)
        ways = lamp_ways(wall, lamp, worst.ratio)
        yield finding(
            "sight.lamp_mirrored",
            "consider",
            lamp.ref,
            f"{lamp.kind.replace('_', ' ')} {lamp.ref} is mirrored in the picture from seat "
            f"{', '.join(hit.seat for hit in hits)}, at {worst.ratio:.1f} times the picture's luminance",
            measured=round(worst.ratio, 2),
            limit=limit,
            at=around(worst.polygon),
            cure="; or ".join(way.says for way in ways),
            edits=ways[0].edits,
        )


@rule("sight.strip_mirrored")
def strip_mirrored(wall: Wall) -> Iterator[Finding]:
    """After dark no LED strip is mirrored as a bright line in the picture."""
    limit = wall.limits["rule.veil_bad"]
    for run in wall.light.runs:
        hits = [
            hit for hit in wall.sight.reflections
            if hit.kind == "line" and hit.window == run.ref and hit.ratio > limit.value
        ]  # fmt: skip
        if not hits:
            continue
        worst = max(hits, key=lambda hit: hit.ratio)
        yield finding(
            "sight.strip_mirrored",
            "consider",
            run.ref,
            f"strip {run.ref} is mirrored as a line in the picture from seat {', '.join(dict.fromkeys(hit.seat for hit in hits))}, at "
            f"{worst.ratio:.1f} times the picture's luminance at full output",
            measured=round(worst.ratio, 2),
            limit=limit,
            at=around(worst.polygon),
            cure=f"switch {run.ref} apart and leave it off while watching, or take it off this place",
            edits=[edit_call("remove_light", ref=run.ref)],
        )


@rule("sight.lamp_glare")
def lamp_glare(wall: Wall) -> Iterator[Finding]:
    """No lamp beside the picture dazzles a seat so that the blacks of a film are lost."""
    limits, limit = wall.limits, wall.limits["rule.contrast_film"]
    glass = glass_of(wall.sight.screen)
    lit = lamps(wall.job.survey, glass, limits)
    if not lit:
        return
    face, shown = front(wall.job.design.screen.surface, limits), picture(True, limits)
    seen = [hit for hit in glares(lit, wall.sight.seats, glass, face, shown) if hit.contrast < limit.value]
    bears = veil_borne(shown, face, limit.value)
    for lamp in lit:
        hits = [hit for hit in seen if hit.lamp == lamp.ref]
        if not hits:
            continue
        worst = min(hits, key=lambda hit: hit.contrast)
        dimmed = math.floor(lamp.luminance * bears / worst.veil) if bears > 0 else 0
        edits = [edit_call("set_lamp", ref=lamp.ref, luminance=dimmed)] if dimmed >= 1 else []
        yield finding(
            "sight.lamp_glare",
            "consider",
            lamp.ref,
            f"{lamp.kind.replace('_', ' ')} {lamp.ref} shines {worst.angle:.0f}° beside the picture at seat "
            f"{', '.join(hit.seat for hit in hits)}: {contrast_word(worst.contrast, limits)}",
            measured=round(worst.contrast),
            limit=limit,
            at=wall.sight.screen.picture,
            cure=f"shade or dim {lamp.ref} to {dimmed} cd/m², {PLACED[lamp.kind][0]} it further from the picture, or leave it off",
            edits=edits or [edit_call("set_lamp", ref=lamp.ref, on_at_night=False)],
        )


@rule("sight.sun_on_screen")
def sun_on_screen(wall: Wall) -> Iterator[Finding]:
    """The sun does not lie on the picture for more than a few hours a year, unless a blind is drawn."""
    limit = wall.limits["rule.sun_on_screen"]
    year = _sun(wall)
    for hours in year.on_screen if year else ():
        if hours.window == "all" or hours.total <= limit.value:
            continue
        yield _sunny(
            wall, "sight.sun_on_screen", hours.window, hours.total,
            f"under a clear sky the sun lies on the picture through {hours.window} about {hours.total:.0f} hours a year: "
            f"{hours.says} ({_reckoned(wall, year)}), worst {hours.when}",
        )  # fmt: skip


@rule("sight.sun_in_eye")
def sun_in_eye(wall: Wall) -> Iterator[Finding]:
    """The picture does not mirror the sun into the eyes of a seat, unless a blind is drawn."""
    limit = wall.limits["rule.sun_in_eye"]
    year = _sun(wall)
    for hours in year.mirrored if year else ():
        if hours.total <= limit.value:
            continue
        yield _sunny(
            wall, "sight.sun_in_eye", hours.window, hours.total,
            f"under a clear sky seat {hours.seat} sees the sun mirrored in the picture through {hours.window} about "
            f"{hours.total:.0f} hours a year: {hours.says} ({_reckoned(wall, year)})",
        )  # fmt: skip


def _sunny(wall: Wall, name: str, window: str, hours: float, says: str) -> Finding:
    good = wall.limits.value("rule.blind_good")
    return finding(
        name,
        "consider",
        window,
        says,
        measured=round(hours),
        limit=wall.limits[f"rule.{name.partition('.')[2]}"],
        at=wall.sight.screen.picture,
        cure=f"give {window} a blind that lets through at most {good:.0%}, or shade it outside; draw it in those hours",
        edits=[edit_call("set_window_blind", ref=window, blind=good / 2)],
    )


def _reckoned(wall: Wall, year: SunYear | None) -> str:
    """By what clock the hours are told, and at which moments of the year they were looked for."""
    return f"{year.clock if year else ''}; reckoned {sampled(STEP, wall.sun_days)}"


def _sun(wall: Wall) -> SunYear | None:
    """The sun's year, by a few days of each month or, for a wall to issue, by every day; None where there is no bare window,
    or too little is known.
    """
    good = wall.limits.value("rule.blind_good")
    bare = [window for window in wall.job.survey.windows if window.blind > good]
    if not bare or not wall.sight.seats:
        return None
    glass = glass_of(wall.sight.screen)
    question = ask(wall.job.survey, wall.face, glass, wall.sight.seats, STEP, wall.sun_days, bare)
    if isinstance(question, Why):
        return None
    from wallwright.sight.year import year  # numpy, only where there is a window to ask about

    return year(question)
