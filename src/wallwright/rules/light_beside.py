"""Rules of the light beside the picture: a background neither black nor bright, a bias light of the right white and level."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from wallwright.core.colour import reflectance
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.job.edits import apply
from wallwright.library import load
from wallwright.light.halo import setback_for
from wallwright.light.plan import plan
from wallwright.light.record import LightRun
from wallwright.look.colour import chroma
from wallwright.look.record import Surface
from wallwright.rules.registry import rule


@rule("light.bias")
def bias_level(wall: Wall) -> Iterator[Finding]:
    """A light behind the screen can be dimmed: full output is far too bright beside a picture."""
    limit = wall.limits["rule.bias_dim"]
    for run in wall.light.runs:
        if not run.bias or run.dimmable or run.dim_low >= 1:
            continue  # one that is too dim at full output is another rule's business
        yield finding(
            "light.bias",
            "fix",
            run.ref,
            f"light {run.ref} must be dimmed to {run.dim_low:.1%} before no line beside the picture is brighter than wanted, "
            "and is not dimmable",
            measured=round(run.dim_low, 3),
            limit=limit,
            cure="use a driver that dims to 1 %, without flicker, and a dimmer listed for it",
            edits=[edit_call("set_light", ref=run.ref, dimmable=True)],
        )


@rule("light.bias_faint")
def bias_faint(wall: Wall) -> Iterator[Finding]:
    """A light behind the screen is bright enough at full output to lift the face beside the picture out of the dark."""
    least, most = wall.limits["light.bias_least"], wall.limits.value("light.bias_share")
    white = wall.limits.value("light.screen_white")
    for run in wall.light.runs:
        share = run.band_luminance / white
        if not run.bias or run.dim_low < 1 or not 0 < share < least.value:
            continue
        ways = [way for way in (_stronger(run, least.value / share, most / share), _nearer(wall, run)) if way]
        yield finding(
            "light.bias_faint",
            "consider",
            run.ref,
            f"light {run.ref} is too dim: even at full output the face beside the picture has {run.band_luminance:.1f} cd/m², "
            f"wanted are {least.value * white:.0f} to {most * white:.0f} ({least.value:.0%} to {most:.0%} of the picture's white)",
            measured=round(share, 4),
            limit=least,
            at=wall.sight.screen.frame,
            cure="; or ".join(says for says, _ in ways)
            or "no usual strip is strong enough here: give it a deeper gap, or the face behind it a lighter finish",
            edits=ways[0][1:] if ways else (),
        )


def _stronger(run: LightRun, least: float, most: float) -> tuple[str, EditCall] | None:
    """A strip that gives so many times the light: to the middle of the wanted range, or as near to it as the library's strips go;
    None where none of them reaches the range.
    """
    rows = sorted(
        (row for row in load.strips().values() if row.volts == run.volts), key=lambda row: row.lumens_per_m
    )
    need, wish = least * run.lumens_per_m, (least + most) / 2 * run.lumens_per_m
    if not rows or rows[-1].lumens_per_m < need:
        return None
    row = next((row for row in rows if row.lumens_per_m >= wish), rows[-1])
    lumens = float(math.ceil(min(wish, row.lumens_per_m)))
    watts = max(run.watts_per_m, round(lumens * row.watts_per_m / row.lumens_per_m, 1))
    call = edit_call("set_light", ref=run.ref, lumens_per_m=lumens, watts_per_m=watts, dimmable=True)
    return f"use a strip of {lumens:.0f} lm/m ({watts:g} W/m) with a driver that dims", call


def _nearer(wall: Wall, run: LightRun) -> tuple[str, EditCall] | None:
    """The strip nearer to the edge, as far as no eye meets it, where that lets enough of its light out."""
    back = math.floor(setback_for(run.gap, wall.limits.value("rule.halo_share")))
    if run.hide_setback is None or not run.hide_setback <= back < run.setback:
        return None
    call = edit_call("set_light", ref=run.ref, setback=back, dimmable=True)
    tried = apply(wall.job, call.edit, dict(call.values))
    runs = plan(tried, wall.sight.screen, wall.setout, wall.sight.seats, wall.limits).runs
    (now,) = [other for other in runs if other.ref == run.ref]
    share = now.band_luminance / wall.limits.value("light.screen_white")
    if share < wall.limits.value("light.bias_least") or now.seen_by:
        return None
    return (
        f"set it {back:.0f} mm behind the screen's edge, where no eye meets it either, with a driver that dims",
        call,
    )


@rule("light.dim_range")
def dim_range(wall: Wall) -> Iterator[Finding]:
    """A driver holds steady as low as its light is needed."""
    for run in wall.light.runs:
        if not run.dimmable or run.driver_low <= run.dim_low + 1e-9:
            continue
        low = math.floor(run.dim_low * 1000) / 1000
        yield Finding(
            "light.dim_range",
            "fix" if run.bias else "consider",
            run.ref,
            f"the driver of {run.ref} holds down to {run.driver_low:.1%} of full output; needed is {run.dim_low:.1%}",
            round(run.driver_low, 3),
            round(run.dim_low, 3),
            "share of full output",
            wall.limits["light.bias_share"].source if run.bias else wall.limits["light.mood_low"].source,
            "computed",
            f"use a driver that holds {low:.1%}, or a strip of fewer lumens",
            (edit_call("set_light", ref=run.ref, dim_low=max(low, 0.001)),),
        )


@rule("light.bias_colour")
def bias_colour(wall: Wall) -> Iterator[Finding]:
    """A bias light has the picture's own white; warm light belongs on a circuit of its own."""
    limit = wall.limits["rule.bias_colour"]
    white = wall.limits.value("light.bias_colour")
    for run in wall.light.runs:
        off = abs(run.colour - white)
        if not run.bias or off <= limit.value:
            continue
        yield finding(
            "light.bias_colour",
            "consider",
            run.ref,
            f"the light {run.ref} behind the screen is {run.colour:g} K; beside the picture's {white:g} K it shifts every colour",
            measured=round(off),
            limit=limit,
            cure=f"use {white:g} K (D65) behind the screen, and warm light elsewhere on a second circuit",
            edits=[edit_call("set_light", ref=run.ref, colour=white)],
        )


@rule("light.one_circuit")
def one_circuit(wall: Wall) -> Iterator[Finding]:
    """Lights that differ in colour are switched apart: bias light while watching, warm light at other times."""
    limit = wall.limits["rule.circuit_colours"]
    for circuit in wall.light.circuits:
        spread = circuit.colours[-1] - circuit.colours[0]
        if spread <= limit.value:
            continue
        runs = [run for run in wall.light.runs if run.circuit == circuit.ref]
        usual = Counter(run.colour for run in runs).most_common(1)[0][0]
        others = [run for run in runs if abs(run.colour - usual) > limit.value / 2]
        taken = {run.circuit for run in wall.light.runs}
        yield finding(
            "light.one_circuit",
            "consider",
            circuit.ref,
            f"circuit {circuit.ref} switches {', '.join(circuit.runs)} together, from {circuit.colours[0]:g} to "
            f"{circuit.colours[-1]:g} K",
            measured=round(spread),
            limit=limit,
            cure=f"put {', '.join(run.ref for run in others)} on a circuit of their own",
            edits=[
                edit_call("set_light", ref=run.ref, circuit=_circuit(run.bias, run.colour, taken))
                for run in others
            ],
        )


def _circuit(bias: bool, colour: float, taken: set[str]) -> str:
    return "bias" if bias and "bias" not in taken else f"k{colour:.0f}"


@rule("light.background_dark")
def background_dark(wall: Wall) -> Iterator[Finding]:
    """In the evening what one sees round the picture is not a black hole."""
    limit = wall.limits["rule.background_least"]
    evening = next((state for state in wall.light.beside if state.when == "evening"), None)
    if evening is None or evening.share >= limit.value:
        return
    yield finding(
        "light.background_dark",
        "consider",
        "screen",
        f"in the evening the face behind it has {evening.luminance:.2f} cd/m², {evening.share:.2%} of the picture's white: "
        "the eye tires between bright and black",
        measured=round(evening.share, 4),
        limit=limit,
        at=wall.sight.screen.frame,
        cure="add a dimmed bias light of the picture's own white behind the screen",
        edits=[] if any(run.bias for run in wall.light.runs) else [_bias_light(wall)],
    )


def _bias_light(wall: Wall) -> EditCall:
    taken = {light.ref for light in wall.job.design.lights}
    ref = next(name for i in range(1, 100) if (name := f"G{i}") not in taken)
    return edit_call("add_light", ref=ref, along="behind_screen")


@rule("light.background_bright")
def background_bright(wall: Wall) -> Iterator[Finding]:
    """The room's own light does not make the face behind the screen compete with the picture."""
    limit = wall.limits["rule.background_most"]
    behind = wall.look.behind
    if behind is None:
        return
    for state in wall.light.beside:
        if state.room_share <= limit.value:
            continue
        need = math.pi * limit.value * state.white / state.room_lux
        key = _darker(100 * need)
        faces = wall.look.faces_beside
        bright = [one for one, _ in faces if one.reflectance > 100 * need] or [behind]
        behind = max(faces, key=lambda item: item[1] * item[0].reflectance)[0] if faces else behind
        edits = [] if key is None else [_finished(one.ref, key) for one in bright]
        when = "by day" if state.when == "day" else "in the evening"
        yield finding(
            "light.background_bright",
            "consider",
            behind.ref,
            f"{_named(faces, behind)} beside the screen has {state.room:.0f} cd/m² {when}, "
            f"{state.room_share:.0%} of the picture's white",
            measured=round(state.room_share, 3),
            limit=limit,
            at=wall.sight.screen.frame,
            cure=f"dim the lamps that light it, draw the blind, or finish it to throw back at most {need:.0%}",
            edits=edits,
        )
        return


def _named(faces: Sequence[tuple[Surface, float]], behind: Surface) -> str:
    """The faces in the band of light by name, with their shares where there are several."""
    if len(faces) < 2:
        return behind.name
    return " and ".join(f"{one.name} ({share:.0%})" for one, share in faces)


def _darker(most: float) -> str | None:
    """The lightest calm, matt finish of the library that throws back no more than that (0..100)."""
    fits = [
        (reflectance(row.colour), row.key)
        for row in load.finishes().values()
        if row.kind in ("paint", "sprayed")
        and row.gloss == "matt"
        and not row.bold
        and reflectance(row.colour) <= most
    ]
    return max(fits)[1] if fits else None


def _finished(ref: str, key: str) -> EditCall:
    if ref == "wall":
        return edit_call("set_finish", which="wall", finish=key)
    return edit_call("set_panel_finish", ref=ref, finish=key)


@rule("light.bias_tint")
def bias_tint(wall: Wall) -> Iterator[Finding]:
    """A bias light falls on a neutral face: a coloured one gives its own colour back."""
    limit = wall.limits["rule.bias_tint"]
    behind = wall.look.behind
    runs = [run for run in wall.light.runs if run.bias]
    if behind is None or not runs or wall.look.behind_chroma <= limit.value:
        return
    faces = wall.look.faces_beside
    tinted = [one for one, _ in faces if chroma(one.lab) > limit.value] or [behind]
    behind = max(faces, key=lambda item: item[1] * chroma(item[0].lab))[0] if faces else behind
    yield finding(
        "light.bias_tint",
        "consider",
        behind.ref,
        f"the light of {runs[0].ref} comes back from {_named(faces, behind)} in its colour (C*ab {wall.look.behind_chroma:.0f})",
        measured=round(wall.look.behind_chroma, 1),
        limit=limit,
        at=wall.sight.screen.frame,
        cure="use a neutral grey or white, matt, behind and beside the screen",
        edits=[
            _finished(one.ref, "paint_stone_grey" if one.ref == "wall" else "sprayed_neutral")
            for one in tinted
        ],
    )
