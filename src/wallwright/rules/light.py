"""Rules of light: strips that are even, cool, reachable, and not seen."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.rules.registry import rule


@rule("light.drop")
def strip_drop(wall: Wall) -> Iterator[Finding]:
    """The far end of a strip is not visibly dimmer than its feed."""
    limit = wall.limits["rule.led_drop"]
    for run in wall.light.runs:
        if run.drop_percent <= limit.value:
            continue
        better = "centre" if run.feed == "one_end" else "both_ends"
        edits = [edit_call("set_light", ref=run.ref, feed=better)]
        if run.volts == 12:
            edits.append(edit_call("set_light", ref=run.ref, volts=24))
        yield finding(
            "light.drop",
            "fix",
            run.ref,
            f"light {run.ref} ({run.length / 1000:.1f} m, {run.watts:.0f} W at {run.volts} V) drops {run.drop_percent:.1f} % "
            f"fed from {run.feed.replace('_', ' ')}",
            measured=round(run.drop_percent, 2),
            limit=limit,
            cure=f"feed it from {better.replace('_', ' ')}" + (" and use 24 V" if run.volts == 12 else ""),
            edits=edits,
        )


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
            f"diodes {run.pitch:.1f} mm apart, {run.depth:.0f} mm behind what they light: dots show",
            measured=round(run.depth / run.pitch, 2),
            limit=limit,
            cure=f"set the strip {run.pitch * 1.5:.0f} mm deep, or use a strip with closer diodes",
            edits=[edit_call("set_light", ref=run.ref, depth=round(run.pitch * 1.5 + 0.5))],
        )


@rule("light.seen")
def strip_seen(wall: Wall) -> Iterator[Finding]:
    """No eye in a seat meets the bare strip."""
    for run in wall.light.runs:
        if not run.seen_by:
            continue
        yield Finding(
            "light.seen",
            "consider",
            run.ref,
            f"the strip {run.ref} is seen from {', '.join(run.seen_by)}",
            ", ".join(run.seen_by),
            "no seat",
            "",
            "geometry: line from the eye to the strip",
            "computed",
            "set the strip further back, hide it with a lip, or put a diffuser before it",
        )


@rule("light.bias")
def bias_level(wall: Wall) -> Iterator[Finding]:
    """A light behind the screen can be dimmed to a tenth or less: full output is far too bright beside a picture."""
    limit = wall.limits["rule.bias_dim"]
    for run in wall.light.runs:
        if run.along != "behind_screen" or run.dimmable or not run.dim_to or run.dim_to >= 1:
            continue
        yield finding(
            "light.bias",
            "fix",
            run.ref,
            f"light {run.ref} must be dimmed to {run.dim_to:.0%} to sit beside a picture, and is not dimmable",
            measured=round(run.dim_to, 3),
            limit=limit,
            cure="use a driver that dims to 1 %, without flicker, and a dimmer listed for it",
            edits=[edit_call("set_light", ref=run.ref, dimmable=True)],
        )
