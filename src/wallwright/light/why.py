"""The working behind every number of the light stage."""

from __future__ import annotations

import math

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.job.design import Light as Wish
from wallwright.library.load import Strip
from wallwright.light.beside import Around, target
from wallwright.light.halo import facing_between
from wallwright.light.lay import Laid
from wallwright.light.lines import bias_lumens
from wallwright.light.record import Background, Circuit, LightRun

_FORMULA = {
    "facing": "F/(π d) · (s/d)² · (γ + sinγ cosγ), d² = s² + h²",
    "grazing": "F/(π d) · (h s/d²) · (γ + sinγ cosγ), d² = s² + h²",
}
_LINE = "inverse-square law along the line, matt emitter"
_PLANE = "plane geometry"
_ROW = "sum of an endless row of matt points"


def of_run(run: LightRun, wish: Wish, laid: Laid, strip: Strip, limits: Limits) -> list[Why]:
    """All of one run."""
    return [
        *_wired(run, wish, strip, limits),
        *_lit(run, laid, limits),
        *_seen(run, laid, wish, limits),
        *_dimmed(run, wish, laid, limits),
    ]


def _wired(run: LightRun, wish: Wish, strip: Strip, limits: Limits) -> list[Why]:
    name, length = f"light {run.ref}", Given("length", round(run.length / 1000, 3), "m")
    limit, load_most, lost = limits["rule.led_drop"], limits["rule.driver_load"], limits["light.feed_drop"]
    place = f"{run.along.replace('_', ' ')} {'' if run.of == 'screen' else run.of}".strip()
    warm = limits["light.heat_share"]
    return [
        Why(f"{name}.length", round(run.length), "mm",
            f"{place}, {run.setback:.0f} mm behind the edge that hides it", "sum of its pieces",
            (Given("setback", run.setback, "mm"), Given("pieces", len(run.path) - 1)), _PLANE, "computed"),
        Why(f"{name}.watts", round(run.watts, 1), "W", "the strip's power over its length", "W/m · length",
            (Given("strip", run.watts_per_m, "W/m"), length), strip.source, strip.certainty, wish.watts_per_m is not None),
        Why(f"{name}.feed", run.feed, "",
            "decided in the design" if wish.feed else f"one end while it drops at most {limit.value:g} %",
            "", (length,), limit.source, limit.certainty, wish.feed is not None),
        Why(f"{name}.feed_points", "; ".join(f"x {x:.0f} z {z:.0f}" for x, z in run.feed_points), "mm",
            "where its feed comes in", {"centre": "half of the length along the path"}.get(run.feed, "the ends of the path"),
            (length,), _PLANE, "computed"),
        Why(f"{name}.drop", run.drop_percent, "%",
            f"volts lost along the strip fed from {run.feed.replace('_', ' ')}, of {run.volts} V",
            "r i L²/2 from one end, r i L²/8 from both ends or the middle",
            (Given("both tracks", strip.loop_ohm_per_m, "Ω/m"),
             Given("current", round(run.watts_per_m / run.volts, 4), "A/m"), length), strip.source, "derived"),
        Why(f"{name}.feed_length", round(run.feed_length), "mm",
            "from its driver to the furthest feed point" if run.driver_at else "no cabinet for its driver yet: a usual length",
            "|Δx| + |Δz| + spare" if run.driver_at else "",
            (Given("spare", limits.value("light.feed_spare"), "mm"),), _PLANE, "computed"),
        Why(f"{name}.feed_drop", run.feed_drop_percent, "%",
            f"volts lost in a feed of {run.feed_size:g} mm², the smallest that will do",
            "2 I R′ L",
            (Given("current", round(run.amps / len(run.feed_points), 3), "A"),
             Given("length", round(run.feed_length / 1000, 2), "m"),
             Given("at most", 100 * lost.value, "%")), "IEC 60228:2004 table 3, class 5", "published"),
        Why(f"{name}.driver", run.driver_watts, "W",
            "the next standard size" + (f", {run.drivers} of them" if run.drivers > 1 else ""),
            f"W / {load_most.value:g}, rounded up to a size that is sold", (Given("load", round(run.watts, 1), "W"),),
            load_most.source, load_most.certainty),
        Why(f"{name}.rise", round(run.rise, 1), "K",
            "how much warmer than the air the strip gets on bare board"
            + ("; it lies in an aluminium profile, which carries it off" if run.profile else ""),
            "W/m · share that becomes heat / (h · perimeter)",
            (Given("strip", run.watts_per_m, "W/m"), Given("heat", warm.value, warm.unit),
             Given("h", limits.value("light.heat_film"), "W/m²K"),
             Given("perimeter", limits.value("light.heat_perimeter"), "mm")),
            warm.source, warm.certainty),
    ]  # fmt: skip


def _lit(run: LightRun, laid: Laid, limits: Limits) -> list[Why]:
    name, at = f"light {run.ref}", limits.value("light.lux_at")
    strip, gap = Given("strip", round(run.lumens_per_m), "lm/m"), Given("gap", laid.gap, "mm")
    face = Given(f"reflectance of {run.surface}", round(run.reflectance, 3))
    return [
        Why(f"{name}.wall_lux", round(run.wall_lux), "lx", f"on the wall {at:g} mm from the edge, at full output",
            _FORMULA[laid.lit], (strip, gap), _LINE, "computed"),
        Why(f"{name}.wall_luminance", round(run.wall_luminance, 1), "cd/m²", f"of {run.surface} there, taken as matt", "ρ E / π",
            (Given("light", round(run.wall_lux), "lx"), face), _LINE, "computed"),
        Why(f"{name}.peak_luminance", round(run.peak_luminance), "cd/m²",
            f"the brightest line in view, {run.peak_at:.0f} mm from the edge, at full output",
            "F s²/2d³ at the edge, times what the gap gives back" if laid.lit == "facing" else "0.19245 F/s at h = s/√2",
            (strip, gap, face), _LINE, "computed"),
        Why(f"{name}.evenness", round(run.evenness, 2), "of the middle", "the light at the run's end over that at its middle",
            "(γ + sinγ cosγ) of one side over that of both", (Given("straight piece", round(laid.straight), "mm"), gap),
            _LINE, "computed"),
        Why(f"{name}.visible_lumens", round(run.visible_lumens), "lm", "what lands where one sees it, at full output",
            "F/2 · (1 − a/d)" if laid.lit == "facing" else "F/2", (strip, gap, Given("hidden", laid.shows_from, "mm")),
            _LINE, "computed"),
        Why(f"{name}.dot_ripple", round(run.dot_ripple, 4), "(bright − dim)/(bright + dim)",
            f"how plainly single diodes show {run.depth:.0f} mm before them",
            "g − u g′ before and between diodes, u = 2π depth/pitch",
            (Given("pitch", run.pitch, "mm"), Given("depth", run.depth, "mm")), _ROW, "computed"),
        Why(f"{name}.wall_ripple", round(run.wall_ripple, 4), "(bright − dim)/(bright + dim)",
            f"the same on {run.surface} where it comes into view", "u = 2π d/pitch",
            (Given("pitch", run.pitch, "mm"), gap), _ROW, "computed"),
    ]  # fmt: skip


def _seen(run: LightRun, laid: Laid, wish: Wish, limits: Limits) -> list[Why]:
    name = f"light {run.ref}"
    inputs = (
        Given("setback", run.setback, "mm"), Given("lip", laid.lip, "mm"), Given("proud", limits.value("light.profile"), "mm"),
    )  # fmt: skip
    say = "the least that hides it from every eye"
    formula = "proud + (below − proud) · setback/(setback + beyond) against the lip"
    out = [
        Why(f"{name}.seen_by", ", ".join(run.seen_by) or "no eye", "",
            "line from each eye to the strip, past what hides it: whoever sits or lies, stands there, or plays on the floor",
            formula, inputs, _PLANE, "computed", wish.setback is not None),
    ]  # fmt: skip
    for what, value in (("setback", run.hide_setback), ("lip", run.hide_lip)):
        out.append(
            Why(f"{name}.hide_{what}", "none does" if value is None else round(value, 1), "" if value is None else "mm",
                f"no {what} alone hides it from every eye" if value is None else say, formula, inputs, _PLANE, "computed")
        )  # fmt: skip
    return out


def _dimmed(run: LightRun, wish: Wish, laid: Laid, limits: Limits) -> list[Why]:
    name, share = f"light {run.ref}", limits["light.bias_share"]
    out = [
        Why(f"{name}.circuit", run.circuit, "", "bias light and mood light are switched and dimmed apart", "",
            (Given("colour", run.colour, "K"),), "common practice", "common practice", wish.circuit is not None),
        Why(f"{name}.least_hz", round(run.least_hz), "Hz", "the lowest frequency at which its driver may flicker when dimmed",
            "modulation in % ≤ 0.08 f (0.025 f below 90 Hz)", (Given("modulation", round(100 * run.flicker_depth), "%"),),
            "IEEE 1789-2015, low risk", "from memory"),
    ]  # fmt: skip
    if not run.bias:
        low = limits["light.mood_low"]
        out.append(
            Why(
                f"{name}.dim_low",
                run.dim_low,
                "of full output",
                "how low its driver must hold",
                "",
                (),
                low.source,
                low.certainty,
            )
        )
        return out
    wanted = Given("wanted", share.value * limits.value("light.screen_white"), "cd/m²")
    band = Given("band", limits.value("light.bias_band"), "mm")
    return [
        *out,
        Why(f"{name}.band_luminance", round(run.band_luminance, 1), "cd/m²",
            f"mean of the first {band.value:g} mm beside the screen at full output",
            "ρ/π · F/2 · [h/d] over the band / its width, times what the gap gives back",
            (Given("strip", round(run.lumens_per_m), "lm/m"), Given("gap", laid.gap, "mm"), Given("setback", laid.setback, "mm"),
             Given("reflectance", round(run.reflectance, 3))), _LINE, "computed"),
        Why(f"{name}.dim_to", run.dim_to, "of full output", "what makes that band as bright as wanted beside a picture",
            "wanted / mean of the band", (wanted, Given("band at full output", round(run.band_luminance, 1), "cd/m²")),
            share.source, share.certainty),
        Why(f"{name}.dim_low", run.dim_low, "of full output", "how low its driver must hold: no line beside is brighter",
            "wanted / brightest line", (wanted, Given("brightest line", round(run.peak_luminance), "cd/m²")),
            share.source, share.certainty),
        Why(f"{name}.budget", round(_budget(run, laid, limits)), "lm/m",
            "the strip's light that would make the whole halo as bright on the mean",
            "π L / ρ · area of the halo / perimeter / share that lands",
            (wanted, Given("width of the halo", limits.value("light.bias_reach"), "mm")),
            _LINE, "computed"),
        Why(f"{name}.lands", round(_lands(laid), 3), "of its light", "what leaves the gap to one side; the rest stays behind",
            "½ (1 − a/d)", (Given("gap", laid.gap, "mm"), Given("setback", laid.setback, "mm")), _LINE, "computed"),
    ]  # fmt: skip


def _budget(run: LightRun, laid: Laid, limits: Limits) -> float:
    edge = dict(laid.edges)
    width, height = edge["right"] - edge["left"], edge["top"] - edge["bottom"]
    reach = limits.value("light.bias_reach")
    lands = facing_between(1.0, laid.gap, laid.shows_from, laid.shows_from + reach)
    return bias_lumens(target(limits), run.reflectance, width, height, reach, lands)


def _lands(laid: Laid) -> float:
    return facing_between(1.0, laid.gap, laid.shows_from, math.inf)


def of_beside(beside: tuple[Background, ...], faces: Around, limits: Limits) -> list[Why]:
    """What one sees round the screen, by day, in the evening and in the dark."""
    colours = tuple(
        Given(f"colour of {ref}, {share:.0%} of the band", dress.colour) for ref, dress, share in faces
    )
    least, most = limits["rule.background_least"], limits["rule.background_most"]
    return [
        Why(f"beside.{state.when}", round(state.luminance, 2), "cd/m²",
            f"{state.share:.1%} of the picture's white; wanted are {least.value:.0%} to {most.value:.0%}",
            "ρ E / π + bias light",
            (Given("light of the room", state.room_lux, "lx"), *colours,
             Given("bias light", round(state.bias, 2), "cd/m²"), Given("picture's white", state.white, "cd/m²")),
            most.source, most.certainty)
        for state in beside
    ]  # fmt: skip


def of_circuits(circuits: tuple[Circuit, ...]) -> list[Why]:
    """What each circuit carries."""
    return [
        Why(f"circuit {item.ref}", round(item.watts, 1), "W",
            f"{', '.join(item.runs)}: switched and dimmed together, down to {item.dim_low:.1%}",
            "Σ of its runs", tuple(Given("colour", colour, "K") for colour in item.colours), "common practice", "common practice")
        for item in circuits
    ]  # fmt: skip
