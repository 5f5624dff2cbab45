"""The light stage: each strip of the design laid, fed, driven, and looked at from every seat."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.colour import reflectance
from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.job.design import Light as Wish
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.library.load import Strip
from wallwright.light.lay import Laid, lay, lux_near, seen_by
from wallwright.light.lines import bias_lumens
from wallwright.light.record import Light, LightRun
from wallwright.light.wiring import Feed, driver, feed_drop, feed_size, strip_drop

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut
    from wallwright.sight.record import Screen, SeatView

USUAL = {
    "behind_panel": "soft", "behind_screen": "bias", "under_console": "soft", "under_shelf": "medium", "tower_side": "soft",
}  # fmt: skip
"""The library's strip for each place: soft where the wall is lit to be looked at, stronger where a shelf is."""
USUAL_WALL = "paint_warm_white"


def plan(job: Job, screen: Screen, setout: SetOut, seats: tuple[SeatView, ...], limits: Limits) -> Light:
    """All runs. A strip that has nothing to lie along is left out, and its Why says so."""
    runs: list[LightRun] = []
    whys: list[Why] = []
    for wish in job.design.lights:
        laid = lay(wish, screen, setout, limits)
        if isinstance(laid, str):
            whys.append(
                Why(f"light {wish.ref}", "not laid", "", f"{laid}: add it, or lay the strip elsewhere")
            )
            continue
        strip = _strip(wish)
        run = _run(job, wish, laid, strip, screen, setout, seats, limits)
        runs.append(run)
        whys += _whys(run, wish, laid, strip, limits)
    return Light(tuple(runs), tuple(whys))


def _strip(wish: Wish) -> Strip:
    """The library's strip for this place and voltage; the soft one where that place's has no such voltage."""
    strips = load.strips()
    tail = "" if wish.volts == 24 else f"_{wish.volts}"
    return strips.get(USUAL[wish.along] + tail) or strips[f"soft{tail}"]


def _run(
    job: Job,
    wish: Wish,
    laid: Laid,
    strip: Strip,
    screen: Screen,
    setout: SetOut,
    seats: tuple[SeatView, ...],
    limits: Limits,
) -> LightRun:
    metres = laid.length / 1000
    watts_per_m = wish.watts_per_m if wish.watts_per_m is not None else strip.watts_per_m
    lumens = (
        wish.lumens_per_m
        if wish.lumens_per_m is not None
        else strip.lumens_per_m * watts_per_m / strip.watts_per_m
    )
    watts = watts_per_m * metres
    amps = watts / wish.volts
    feed = wish.feed or _feed(laid, strip, watts_per_m / wish.volts, wish.volts, limits)
    feed_metres = limits.value("light.feed_length") / 1000
    size = feed_size(amps, wish.volts, feed_metres, limits.value("light.feed_drop"))
    each, count = driver(watts, limits.value("rule.driver_load"))
    bias = wish.along == "behind_screen"
    return LightRun(
        ref=wish.ref, along=wish.along, of=laid.of, path=laid.path, y=laid.y, length=laid.length, watts_per_m=watts_per_m,
        watts=watts, volts=wish.volts, amps=amps, driver_watts=each * count, driver_load=watts / (each * count),
        driver_place=wish.driver_place, feed=feed,
        drop_percent=100 * strip_drop(strip.loop_ohm_per_m, watts_per_m / wish.volts, metres, feed) / wish.volts,
        pitch=wish.pitch.mm if wish.pitch is not None else strip.pitch, depth=_depth(wish, laid, limits),
        colour=wish.colour if wish.colour is not None else limits.value("light.bias_colour" if bias else "light.mood_colour"),
        lumens_per_m=lumens, wall_lux=lux_near(laid, lumens, limits),
        dim_to=_dim_to(job, screen, setout, lumens, limits) if bias else 0.0, dimmable=wish.dimmable, setback=laid.setback,
        seen_by=seen_by(laid, seats, limits), feed_drop_percent=100 * feed_drop(amps, size, feed_metres) / wish.volts,
        feed_size=size, drivers=count,
    )  # fmt: skip


def _feed(laid: Laid, strip: Strip, amps_per_m: float, volts: float, limits: Limits) -> Feed:
    """One end while the far end stays bright enough; else both ends where they meet, or the middle."""
    drop = strip_drop(strip.loop_ohm_per_m, amps_per_m, laid.length / 1000, "one_end")
    if 100 * drop / volts <= limits.value("rule.led_drop"):
        return "one_end"
    return "both_ends" if laid.closed else "centre"


def _depth(wish: Wish, laid: Laid, limits: Limits) -> float:
    """From the diodes to the diffuser, or to the wall where they look straight at it."""
    if wish.depth is not None:
        return wish.depth.mm
    return laid.gap if laid.lit == "facing" else limits.value("light.profile_depth")


def _dim_to(job: Job, screen: Screen, setout: SetOut, lumens: float, limits: Limits) -> float:
    """The share of full output at which the halo is as bright as a bias light should be."""
    return min(1.0, _bias_lumens(job, screen, setout, limits) / lumens)


def _bias_lumens(job: Job, screen: Screen, setout: SetOut, limits: Limits) -> float:
    luminance = limits.value("light.bias_share") * limits.value("light.screen_white")
    grey = max(reflectance(_colour_behind(job, screen, setout)) / 100, 0.02)  # even soot throws 2 % back
    return bias_lumens(
        luminance,
        grey,
        screen.frame.width,
        screen.frame.height,
        limits.value("light.bias_reach"),
        limits.value("light.bias_used"),
    )


def _colour_behind(job: Job, screen: Screen, setout: SetOut) -> str:
    """The colour of what the halo falls on: the panel behind the screen, or the wall."""
    finishes, library = job.design.finishes, load.finishes()
    for zone in setout.zones:
        if zone.box.meets(screen.frame):
            if finishes.panel_colour and zone.finish in (finishes.panel, ""):
                return finishes.panel_colour
            if zone.finish in library:
                return library[zone.finish].colour
    wall = library.get(finishes.wall or USUAL_WALL) or library[USUAL_WALL]
    return finishes.wall_colour or wall.colour


def _whys(run: LightRun, wish: Wish, laid: Laid, strip: Strip, limits: Limits) -> list[Why]:
    name = f"light {run.ref}"
    length = Given("length", round(run.length / 1000, 3), "m")
    power = Given("strip", run.watts_per_m, "W/m")
    limit, load_most, lost = limits["rule.led_drop"], limits["rule.driver_load"], limits["light.feed_drop"]
    place = f"{run.along.replace('_', ' ')} {'' if run.of == 'screen' else run.of}".strip()
    out = [
        Why(f"{name}.length", round(run.length), "mm",
            f"{place}, {run.setback:.0f} mm behind the edge that hides it", "sum of its pieces",
            (Given("setback", run.setback, "mm"), Given("pieces", len(run.path) - 1)), "plane geometry", "computed"),
        Why(f"{name}.watts", round(run.watts, 1), "W", "the strip's power over its length", "W/m · length", (power, length),
            strip.source, strip.certainty, wish.watts_per_m is not None),
        Why(f"{name}.feed", run.feed, "",
            "decided in the design" if wish.feed else f"one end while it drops at most {limit.value:g} %",
            "", (length,), limit.source, limit.certainty, wish.feed is not None),
        Why(f"{name}.drop", run.drop_percent, "%",
            f"volts lost along the strip fed from {run.feed.replace('_', ' ')}, of {run.volts} V",
            "r i L²/2 from one end, r i L²/8 from both ends or the middle",
            (Given("both tracks", strip.loop_ohm_per_m, "Ω/m"),
             Given("current", round(run.watts_per_m / run.volts, 4), "A/m"), length), strip.source, "derived"),
        Why(f"{name}.feed_drop", run.feed_drop_percent, "%",
            f"volts lost in a feed of {run.feed_size:g} mm², the smallest that will do",
            "2 I R′ L",
            (Given("current", round(run.amps, 3), "A"), Given("length", limits.value("light.feed_length") / 1000, "m"),
             Given("at most", 100 * lost.value, "%")), "IEC 60228:2004 table 3, class 5", "published"),
        Why(f"{name}.driver", run.driver_watts, "W",
            "the next standard size" + (f", {run.drivers} of them" if run.drivers > 1 else ""),
            f"W / {load_most.value:g}, rounded up to a size that is sold", (Given("load", round(run.watts, 1), "W"),),
            load_most.source, load_most.certainty),
        Why(f"{name}.wall_lux", round(run.wall_lux), "lx",
            f"on the wall {limits.value('light.lux_at'):g} mm from the edge, at full output",
            _FORMULA[laid.lit], (Given("strip", round(run.lumens_per_m), "lm/m"), Given("gap", laid.gap, "mm")),
            "inverse-square law along the line, matt emitter", "computed"),
        Why(f"{name}.seen_by", ", ".join(run.seen_by) or "no seat", "",
            "line from each eye to the strip, past the edge that hides it",
            "proud + (below − proud) · setback/(setback + beyond) against the lip",
            (Given("setback", run.setback, "mm"), Given("lip", laid.lip, "mm"),
             Given("proud", limits.value("light.profile"), "mm")),
            "plane geometry", "computed"),
    ]  # fmt: skip
    if run.dim_to:
        share = limits["light.bias_share"]
        out.append(
            Why(f"{name}.dim_to", run.dim_to, "of full output", "full output is far too bright beside a picture",
                "π L / ρ · halo area / perimeter / share used, over the strip's lm/m",
                (Given("halo", share.value * limits.value("light.screen_white"), "cd/m²"),
                 Given("strip", round(run.lumens_per_m), "lm/m")), share.source, share.certainty)
        )  # fmt: skip
    return out


_FORMULA = {
    "facing": "F/(π d) · (s/d)² · (γ + sinγ cosγ), d² = s² + h²",
    "grazing": "F/(π d) · (h s/d²) · (γ + sinγ cosγ), d² = s² + h²",
}
