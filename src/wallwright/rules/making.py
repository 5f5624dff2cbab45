"""Rules of making and ordering: flutes that close, runs that add up, one lot for what is seen together, cutting released by gates."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

from wallwright.carcass import flutes
from wallwright.core.finding import Finding, edit_call, finding
from wallwright.core.limit import Certainty
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.derive import Wall
from wallwright.money.faces import faces_of
from wallwright.rules.registry import rule

_INCH, _PARTS = 25.4, 8
"""Feet and inches are shown to the nearest eighth of an inch."""
_GATES = ("G1", "G2", "G3")
_STARTED = ("cut", "set", "built")
_GATED: tuple[str, Certainty] = (
    "common practice: cutting begins when survey, screen and finishes, and the verified first fix, are signed",
    "common practice",
)


@rule("panel.flute_closes")
def flute_closes(wall: Wall) -> Iterator[Finding]:
    """A field of flutes ends on a whole rib, not on a sliver, and stepped off flute by flute it still ends where it should."""
    end, stray = wall.limits["rule.flute_end"], wall.limits["rule.flute_stray"]
    step, share = wall.limits.value("carcass.flute_pitch_step"), wall.limits.value("carcass.flute_rib")
    for zone in wall.setout.zones:
        if not zone.flutes:
            continue
        pitch = zone.flute_pitch
        over = flutes.rest(zone.box.width, zone.flutes, pitch, pitch * share)
        off = flutes.machine_error(zone.flutes, pitch, step)
        if 0.5 < over < end.value * pitch:
            says = (
                f"{zone.flutes} flutes of {pitch:g} mm leave {over:.1f} mm at the end of {zone.ref}: a sliver"
            )
            measured, limit = round(over / pitch, 2), end
        elif off > stray.value:
            says = f"stepped off at the {step:g} mm a machine is set to, the last of {zone.flutes} flutes of {zone.ref} strays {off:.1f} mm"
            measured, limit = round(off, 1), stray
        else:
            continue
        # to the step below: the field only ever gets narrower, and so meets nothing new
        exact = round(int(pitch / step + 1e-9) * step, 6)
        width = flutes.field_width(zone.flutes, exact, exact * share)
        yield finding(
            "panel.flute_closes", "consider", zone.ref, says, measured=measured, limit=limit, at=zone.box,
            cure=f"make {zone.ref} {show_mm(width, 1)} wide at a pitch of {exact:g} mm, and set it out by marks from one datum",
            edits=(
                edit_call("resize_panel", ref=zone.ref, width=width),
                edit_call("set_panel_flutes", ref=zone.ref, pitch=exact),
            ),
        )  # fmt: skip


@rule("carcass.rounding")
def rounding(wall: Wall) -> Iterator[Finding]:
    """The sizes along a run, as they are shown, add up to the whole."""
    limit = wall.limits["rule.rounding"]
    feet = wall.job.units == "ft-in"
    step = _INCH / _PARTS if feet else 1.0
    for ref, box, edges in _runs(wall):
        off = abs(left_over(edges, step))
        if off <= limit.value + 1e-9:
            continue
        how = "to eighths of an inch" if feet else "to whole millimetres"
        yield finding(
            "carcass.rounding", "note", ref,
            f"the {len(edges) - 1} sizes along {ref}, rounded {how}, miss its whole by {off:.1f} mm",
            measured=round(off, 2), limit=limit, at=box,
            cure="show the job in millimetres" if feet else f"set {ref} out by running sizes from one end, never size after size",
            edits=(edit_call("set_units", units="mm"),) if feet else (),
        )  # fmt: skip


def _runs(wall: Wall) -> Iterator[tuple[str, Box, list[float]]]:
    """What is dimensioned size after size: the boards of a panel, the bays and boards of a unit."""
    for zone in wall.setout.zones:
        yield zone.ref, zone.box, [zone.box.x, *zone.joints, zone.box.right]
    bays: dict[str, list[Box]] = defaultdict(list)
    for bay in wall.carcass.bays:
        bays[bay.unit].append(bay.box)
    for unit in wall.setout.units:
        at = {round(x, 4) for box in bays[unit.ref] for x in (box.x, box.right)}
        if at:
            yield unit.ref, unit.box, sorted({*at, round(unit.box.x, 4), round(unit.box.right, 4)})


def left_over(edges: Sequence[float], step: float) -> float:
    """By how much the rounded sizes between the edges miss the rounded whole [mm]."""
    shown = sum(round((b - a) / step) for a, b in pairwise(edges))
    return (shown - round((edges[-1] - edges[0]) / step)) * step


@rule("money.batch_spare")
def batch_spare(wall: Wall) -> Iterator[Finding]:
    """What is seen together comes from one lot, with some to spare: a later lot differs in colour."""
    limit = wall.limits["rule.batch_spare"]
    net: dict[str, float] = defaultdict(float)
    for part in wall.carcass.parts:
        if part.finish:
            net[part.finish] += part.length * part.width * faces_of(part) / 1e6
    for line in wall.money.lines:
        key = line.ref.removeprefix("finish_")
        if key == line.ref or line.unit != "m²" or net.get(key, 0.0) <= 0:
            continue
        spare = 100 * (line.quantity / net[key] - 1)
        if line.quantity >= net[key] * (1 + limit.value / 100) - 0.01:
            continue  # quantities are written to 0.01 m²
        own = [name for name in ("money.waste_paint", "money.waste_other") if name in wall.job.rules]
        yield finding(
            "money.batch_spare", "consider", line.ref,
            f"{line.item}: {line.quantity:g} m² is ordered for {net[key]:.2f} m², {max(spare, 0):.1f} % to spare",
            measured=round(spare, 1), limit=limit,
            cure="order a little more in the same lot, and number the sheets in the order in which they are cut",
            edits=[edit_call("release_limit", name=name) for name in own],
        )  # fmt: skip


@rule("order.cut_release")
def cut_release(wall: Wall) -> Iterator[Finding]:
    """Nothing is cut before survey, screen, finishes and the verified first fix are signed."""
    progress = wall.job.progress
    signed = {gate.ref for gate in progress.gates}
    points = {point.ref for point in wall.services.points}
    cut = [made.ref for made in progress.made if made.state in _STARTED and made.ref not in points]
    whole = progress.joinery in _STARTED
    missing = [gate for gate in _GATES if gate not in signed]
    if not missing or not (whole or cut):
        return
    what = "the joinery is" if whole else f"{', '.join(cut[:3])} {'are' if len(cut) > 1 else 'is'}"
    yield Finding(
        "order.cut_release", "fix", "wall" if whole else cut[0],
        f"{what} cut, and {' and '.join(missing)} {'are' if len(missing) > 1 else 'is'} not signed",
        f"{len(_GATES) - len(missing)} signed", f"{len(_GATES)} signed", "", *_GATED,
        f"stop, have {' and '.join(missing)} signed on the sheets of revision {wall.job.revision}, and destroy older cutting lists",
    )  # fmt: skip
