"""Rules of the strips: even, cool, fed and driven so that they last, reachable, steady, and not seen."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.light.flicker import allowed
from wallwright.light.halo import setback_for
from wallwright.light.record import LightRun
from wallwright.light.wiring import Feed, watts_that_hold
from wallwright.rules.registry import rule


@rule("light.drop")
def strip_drop(wall: Wall) -> Iterator[Finding]:
    """The far end of a strip is not visibly dimmer than its feed."""
    limit = wall.limits["rule.led_drop"]
    for run in wall.light.runs:
        if run.drop_percent <= limit.value:
            continue
        cure, edits = _fed_better(run, limit.value)
        yield finding(
            "light.drop",
            "fix",
            run.ref,
            f"light {run.ref} ({run.length / 1000:.1f} m, {run.watts:.0f} W at {run.volts} V) drops {run.drop_percent:.1f} % "
            f"fed from {run.feed.replace('_', ' ')}",
            measured=round(run.drop_percent, 2),
            limit=limit,
            cure=cure,
            edits=edits,
        )


@rule("light.feed_drop")
def feed_drop(wall: Wall) -> Iterator[Finding]:
    """The lead from driver to strip does not eat up the volts."""
    limit = wall.limits["light.feed_drop"]
    for run in wall.light.runs:
        share = run.feed_drop_percent / 100
        if share <= limit.value:
            continue
        edits = [edit_call("set_light", ref=run.ref, volts=24)] if run.volts == 12 else []
        yield finding(
            "light.feed_drop",
            "fix",
            run.ref,
            f"the lead of {run.ref} ({run.feed_length / 1000:.1f} m of {run.feed_size:g} mm², {run.amps:.1f} A at {run.volts} V) "
            f"loses {share:.1%} of the volts",
            measured=round(share, 4),
            limit=limit,
            cure="use 24 V, or stand the driver nearer"
            if run.volts == 12
            else "stand the driver nearer, or split the run",
            edits=edits,
        )


def _fed_better(run: LightRun, percent: float) -> tuple[str, list[EditCall]]:
    """The first way that holds: the feed elsewhere, 24 V too, a softer strip too."""
    better: Feed = "centre" if run.feed == "one_end" else "both_ends" if run.feed == "both_ends" else "centre"
    edits = [edit_call("set_light", ref=run.ref, feed=better)] if better != run.feed else []
    says = [f"feed it from {better.replace('_', ' ')}"] if better != run.feed else []
    drop = run.drop_percent / (4 if better != run.feed else 1)
    if drop > percent and run.volts == 12:
        edits.append(edit_call("set_light", ref=run.ref, volts=24))
        says.append("use 24 V")
        drop /= 4
    if drop > percent:
        loop = load.strips()["soft"].loop_ohm_per_m
        most = math.floor(10 * watts_that_hold(loop, 24, run.length / 1000, better, percent)) / 10
        edits.append(edit_call("set_light", ref=run.ref, watts_per_m=most))
        says.append(f"use a strip of at most {most:g} W/m, or cut it into runs each fed in its middle")
    return " and ".join(says), edits


@rule("light.driver_sealed")
def driver_sealed(wall: Wall) -> Iterator[Finding]:
    """A driver can be reached and changed without breaking a finish: it is what fails first."""
    for run in wall.light.runs:
        if run.driver_place != "behind_panel":
            continue
        yield Finding(
            "light.driver_sealed",
            "fix",
            run.ref,
            f"the driver of {run.ref} is sealed in behind the panel",
            "behind panel",
            "reachable",
            "",
            "common practice: drivers fail before strips; reach them with one tool, 50 mm of air around",
            "common practice",
            "put the driver in the cabinet, ventilated",
            (edit_call("set_light", ref=run.ref, driver_place="cabinet"),),
        )


@rule("light.driver_homeless")
def driver_homeless(wall: Wall) -> Iterator[Finding]:
    """A driver that goes into a cabinet has a cabinet to go into."""
    if any(unit.cabinet for unit in wall.setout.units):
        return
    for run in wall.light.runs:
        if run.driver_place != "cabinet":
            continue
        yield Finding(
            "light.driver_homeless",
            "fix",
            run.ref,
            f"the driver of {run.ref} goes into the cabinet, and there is none on this wall",
            "no cabinet",
            "reachable",
            "",
            "common practice: drivers fail before strips; reach them with one tool, 50 mm of air around",
            "common practice",
            "put the driver above the ceiling, with a hatch below it",
            (edit_call("set_light", ref=run.ref, driver_place="ceiling"),),
        )


@rule("light.driver_high")
def driver_high(wall: Wall) -> Iterator[Finding]:
    """A driver out of arm's reach has a hatch, and the sheets say so."""
    limit = wall.limits["rule.driver_high"]
    for run in wall.light.runs:
        height = run.driver_at[1] if run.driver_at else wall.face.height
        if run.driver_place != "ceiling" or height <= limit.value:
            continue
        yield finding(
            "light.driver_high",
            "note",
            run.ref,
            f"the driver of {run.ref} stands {height:.0f} mm up: it needs a hatch that opens without a tool, and a ladder",
            measured=round(height),
            limit=limit,
            cure="draw a hatch at least 300 × 300 below it, or put it in the cabinet",
            edits=[edit_call("set_light", ref=run.ref, driver_place="cabinet")]
            if any(unit.cabinet for unit in wall.setout.units)
            else [],
        )


@rule("light.dots")
def dots(wall: Wall) -> Iterator[Finding]:
    """The strip reads as a line of light, not as dots."""
    limit = wall.limits["rule.dot_ratio"]
    for run in wall.light.runs:
        if run.depth >= limit.value * run.pitch - 0.01:
            continue
        yield finding(
            "light.dots",
            "consider",
            run.ref,
            f"diodes {run.pitch:.1f} mm apart, {run.depth:.0f} mm behind what they light: dots show "
            f"({run.dot_ripple:.0%} brighter and dimmer along the line)",
            measured=round(run.depth / run.pitch, 2),
            limit=limit,
            cure=f"set the strip {run.pitch * 1.5:.0f} mm deep, or use a strip with closer diodes",
            edits=[edit_call("set_light", ref=run.ref, depth=round(run.pitch * 1.5 + 0.5))],
        )


@rule("light.seen")
def strip_seen(wall: Wall) -> Iterator[Finding]:
    """No eye meets the bare strip: not from a seat or a bed, not standing there, not a child on the floor."""
    for run in wall.light.runs:
        if not run.seen_by:
            continue
        cure, edits = _hidden(run)
        yield Finding(
            "light.seen",
            "consider",
            run.ref,
            f"the strip {run.ref} is seen from {', '.join(run.seen_by)}",
            ", ".join(run.seen_by),
            "no eye",
            "",
            "geometry: line from the eye to the strip",
            "computed",
            cure,
            edits,
        )


def _hidden(run: LightRun) -> tuple[str, tuple[EditCall, ...]]:
    """Set it back where that does, else give it a lip; else, in words, a diffuser."""
    if run.hide_setback is not None:
        back = math.ceil(run.hide_setback) + 1
        return f"set the strip {back} mm behind the edge", (
            edit_call("set_light", ref=run.ref, setback=back),
        )
    if run.hide_lip is not None:
        lip = math.ceil(run.hide_lip) + 1
        return f"give the edge a lip of {lip} mm", (edit_call("set_light", ref=run.ref, lip=lip),)
    return "no lip hides it there: lay it elsewhere, or in a profile with an opal diffuser", ()


@rule("light.halo_hidden")
def halo_hidden(wall: Wall) -> Iterator[Finding]:
    """A good part of a halo's light comes out from behind its board."""
    limit = wall.limits["rule.halo_share"]
    for run in wall.light.runs:
        full = run.lumens_per_m * run.length / 1000
        if run.lit != "facing" or run.visible_lumens >= (limit.value - 1e-9) * full:
            continue
        share = run.visible_lumens / full
        back = math.floor(setback_for(run.gap, limit.value))
        hides = run.hide_setback is not None and back >= run.hide_setback
        yield finding(
            "light.halo_hidden",
            "note",
            run.ref,
            f"{share:.0%} of the light of {run.ref} comes out to be seen: it lies {run.setback:.0f} mm behind the edge and only "
            f"{run.gap:.0f} mm before the wall",
            measured=round(share, 3),
            limit=limit,
            cure=f"set it {back} mm behind the edge, where no eye meets it either"
            if hides
            else "give it a deeper void",
            edits=[edit_call("set_light", ref=run.ref, setback=back)] if hides else [],
        )


@rule("light.no_void")
def no_void(wall: Wall) -> Iterator[Finding]:
    """A strip behind a panel has a void to lie in, deeper than its profile."""
    limit = wall.limits["light.profile"]
    usual = wall.limits.value("carcass.panel_void")
    for run in wall.light.runs:
        zone = next((zone for zone in wall.setout.zones if zone.ref == run.of), None)
        if run.along != "behind_panel" or zone is None or zone.void > limit.value + 0.5:
            continue
        void = math.ceil(max(usual, limit.value + wall.limits.value("light.slot")))
        yield finding(
            "light.no_void",
            "fix",
            run.ref,
            f"{run.ref} has no place behind {zone.ref}: "
            + (f"its void is {zone.void:.0f} mm" if zone.void else "it lies on the wall itself"),
            measured=round(zone.void),
            limit=limit,
            at=zone.box,
            cure=f"set {zone.ref} off the wall by {void} mm, or lay the strip elsewhere",
            edits=[edit_call("set_panel_void", ref=zone.ref, void=float(void))],
        )


@rule("light.edgewise")
def edgewise(wall: Wall) -> Iterator[Finding]:
    """A strip that lies flat behind an arched panel turns in its own plane: an ordinary one breaks there, its tracks buckle."""
    limit = wall.limits["rule.edgewise_radius"]
    for run in wall.light.runs:
        if not run.curve or run.round_curve == "pieces":
            continue
        bends = run.curve >= limit.value
        if run.round_curve == "bendable" and bends:
            continue
        pieces = straight_pieces(run.curve, run.turn, wall.limits.value("light.curve_stray"))
        long = 2 * run.curve * math.sin(run.turn / pieces / 2)
        says = (
            f"{run.ref} turns edge on round a radius of {run.curve:.0f} mm behind {run.of}: "
            + ("tighter than a bendable strip bears" if run.round_curve else "an ordinary strip does not bend that way")
        )  # fmt: skip
        cut = f"cut it there into {pieces} straight pieces of about {long:.0f} mm at its cut marks, joined by short leads"
        yield finding(
            "light.edgewise",
            "fix",
            run.ref,
            says,
            measured=round(run.curve),
            limit=limit,
            cure=f"order a strip that bends edge on, or {cut}" if bends else cut,
            edits=[edit_call("set_light", ref=run.ref, round_curve="bendable" if bends else "pieces")],
        )


def straight_pieces(radius: float, turn: float, stray: float) -> int:
    """How many chords follow a turn [rad] at that radius, none further than `stray` from it [mm]. Plane geometry."""
    one = 2 * math.acos(max(1 - stray / radius, 0.0))
    return max(1, math.ceil(turn / one - 1e-9))


@rule("light.profile")
def in_profile(wall: Wall) -> Iterator[Finding]:
    """A strong strip lies in an aluminium profile, which carries its heat off."""
    limit = wall.limits["rule.profile_watts"]
    for run in wall.light.runs:
        if run.profile or run.watts_per_m <= limit.value:
            continue
        yield finding(
            "light.profile",
            "fix",
            run.ref,
            f"light {run.ref} of {run.watts_per_m:g} W/m on bare board gets about {run.rise:.0f} K warmer than the air",
            measured=run.watts_per_m,
            limit=limit,
            cure="lay it in an aluminium profile",
            edits=[edit_call("set_light", ref=run.ref, profile=True)],
        )


@rule("light.flicker")
def flicker(wall: Wall) -> Iterator[Finding]:
    """A dimmed driver flickers fast enough for the depth of its flicker."""
    limit = wall.limits["light.flicker_slope"]
    for run in wall.light.runs:
        most = allowed(run.flicker_hz, limit.value)
        if not run.flicker_hz or run.flicker_depth <= most:
            continue
        hz = math.ceil(run.least_hz / 50) * 50 + 50
        yield finding(
            "light.flicker",
            "fix",
            run.ref,
            f"the driver of {run.ref} flickers at {run.flicker_hz:g} Hz by {run.flicker_depth:.0%} when dimmed; "
            f"of low risk is {most:.0%}",
            measured=round(100 * run.flicker_depth / run.flicker_hz, 3),
            limit=limit,
            cure=f"use a driver that dims at {hz} Hz or more, or one that dims the current instead of switching it",
            edits=[edit_call("set_light", ref=run.ref, flicker_hz=hz)],
        )


@rule("light.graze_gloss")
def graze_gloss(wall: Wall) -> Iterator[Finding]:
    """A strip that grazes a face finds it matt: gloss mirrors every diode."""
    limit = wall.limits["rule.graze_gloss"]
    for run in wall.light.runs:
        gloss = wall.limits.value(f"look.gloss_{run.surface_gloss}")
        if run.lit != "grazing" or gloss <= limit.value:
            continue
        calm = (
            edit_call("set_finish", which="wall", finish="paint_stone_grey")
            if run.surface == "wall"
            else edit_call("set_panel_finish", ref=run.surface, finish="sprayed_neutral")
        )
        yield finding(
            "light.graze_gloss",
            "consider",
            run.ref,
            f"light {run.ref} grazes {run.surface}, which is {run.surface_gloss}: every diode shows in it",
            measured=gloss,
            limit=limit,
            cure="use a matt finish there",
            edits=[calm],
        )
