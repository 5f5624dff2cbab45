"""The wall out of plumb or flat: packs up the battens, scribes, shims behind the screen, and the depth that is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, ceil, degrees
from typing import TYPE_CHECKING

from wallwright.carcass import relief
from wallwright.change.sizes import edited, verified
from wallwright.change.verdict import Answer, Fix, Number, Verdict
from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall, derive
from wallwright.job.edit import to_plain
from wallwright.job.problem import fail
from wallwright.rules.check import check

if TYPE_CHECKING:
    from wallwright.job.site import Site

STEP = 600.0
"""Packs are told at every batten, and where there are none this far apart up the wall [mm]."""


def readings_of(wall: Wall, site: Site) -> tuple[relief.Reading, ...]:
    """The grid that was taken; without one, the lean alone; empty where neither was. JobError where both were: they may disagree."""
    if site.plumb and site.out_of_plumb is not None:
        says = "is told beside a grid of plumb readings, which tells the lean too; keep the one that holds"
        raise fail("out_of_plumb", f"{site.out_of_plumb.mm:g}", says, "site")
    if site.plumb:
        return tuple((one.x.mm, one.z.mm, one.out.mm) for one in site.plumb)
    if site.out_of_plumb is not None:
        return relief.of_plumb(site.out_of_plumb.mm, wall.face.width, wall.face.height)
    return ()


def lean(readings: Sequence[relief.Reading]) -> float:
    """How far the wall leans away from the room over a metre of height [mm], by the straight line that fits best up all of it.

    Positive: away at the top.
    """
    n = len(readings)
    mid = sum(z for _, z, _ in readings) / n
    spread = sum((z - mid) ** 2 for _, z, _ in readings)
    return -1000 * sum((z - mid) * out for _, z, out in readings) / spread if spread else 0.0


def plumb_verdicts(wall: Wall, site: Site) -> Iterator[Verdict]:
    """One answer for the wall's lean, one for its flatness where a grid was taken."""
    readings = readings_of(wall, site)
    if not readings:
        return
    yield _plumb(wall, site, readings)
    yield from _flat(wall, readings)


def _plumb(wall: Wall, site: Site, readings: Sequence[relief.Reading]) -> Verdict:
    limits, high = wall.limits, max(z for _, z, _ in readings) - min(z for _, z, _ in readings)
    by = lean(readings)
    over = by * high / 1000
    limit = limits["change.plumb_per_3m"]
    may = limit.value * min(high, 3000.0) / 3000.0
    numbers = tuple(_numbers(wall, readings, by))
    most = max((one.value for one in numbers if one.says.startswith("pack at")), default=0.0)
    short = tuple(_too_shallow(wall, by))
    void = _grid_void(wall, site, may)
    angle = degrees(atan2(abs(over), high))
    way = "away at the top" if over > 0 else "into the room at the top"
    told = f"{abs(over):.0f} mm over {high:.0f} ({angle:.2f}°), {way}"
    answer: Answer = "adjust"
    if abs(over) <= may and not short:
        answer, says = "accept", f"the wall leans {told}: within {may:.1f} mm, set plumb as drawn"
    elif most > limits.value("change.pack_most"):
        answer = "stop"
        says = f"the wall leans {told}: packs of {most:.0f} mm are a frame of their own; have it drawn and fixed as one"
    elif short:
        answer = "stop"
        says = f"the wall leans {told}: {'; '.join(one.says for one in short)}"
    else:
        days = round(limits.value("programme.subframe_days"))
        says = f"the wall leans {told}: pack the battens out to one plumb plane; about {days} day of packing, nothing is drawn anew"
    if void:
        answer = "adjust" if answer == "accept" else answer
        says += f"; {void}"
    fixes = tuple(_deeper(wall, one) for one in short) if answer == "stop" else ()
    ask = "The plumb grid again, against one plumb plane." if void else ""
    return Verdict(
        "wall", "plumb", answer, says, abs(over), may, limit.source, numbers, fixes, _edits(site, bool(void)), ask
    )  # fmt: skip


def _grid_void(wall: Wall, site: Site, may: float) -> str:
    """What becomes of the grid that was surveyed, where the lean that was found is not the grid's: panels are packed out by the grid."""
    grid = tuple((one.x.mm, one.z.mm, one.out.mm) for one in wall.job.survey.wall.relief)
    if site.plumb or site.out_of_plumb is None or not grid:
        return ""
    was = lean(grid) * wall.face.height / 1000
    if abs(site.out_of_plumb.mm - was) <= may:
        return ""
    return f"the grid of {len(grid)} places that was surveyed leans {round(was)} mm and is struck out: take it again"


def _edits(site: Site, void: bool) -> tuple[EditCall, ...]:
    if site.plumb:
        return (edit_call("set_relief", relief=to_plain(site.plumb)),)
    value = site.out_of_plumb
    given = verified(value) if value else 0
    out = (edit_call("set_plumb", out_of_plumb=given),)
    return (*out, edit_call("set_relief", relief=[])) if void else out


def packs(readings: Sequence[relief.Reading], levels: Sequence[float]) -> tuple[tuple[float, float], ...]:
    """What is packed at each level so that a batten stands plumb, at the place along it where the wall is furthest back
    [(z, mm)]; the wall's highest spot over all levels is touched.
    """
    xs = sorted({x for x, _, _ in readings})
    outs = [(z, [relief.stands_out(readings, x, z) for x in xs]) for z in levels]
    high = max(out for _, row in outs for out in row)
    return tuple((z, high - min(row)) for z, row in outs)


def levels_of(wall: Wall) -> tuple[float, ...]:
    """The heights of the level battens; without them, every 600 mm up the wall."""
    own = sorted(
        {
            round(part.block.face.centre[1])
            for part in wall.carcass.parts
            if part.role == "batten" and part.block.face.width >= part.block.face.height
        }
    )
    if own:
        return tuple(float(z) for z in own)
    count = int(wall.face.height // STEP)
    return tuple(STEP * k for k in range(count + 1))


def _numbers(wall: Wall, readings: Sequence[relief.Reading], by: float) -> Iterator[Number]:
    """Packs for the battens, the taper and scribe of what is tall, the shim behind a screen on the bare wall."""
    for z, pack in packs(readings, levels_of(wall)):
        yield Number("carpenter", "wall", f"pack at {z:.0f} above FFL", pack)
    allowance = wall.limits.value("carcass.scribe_taper")
    for unit in wall.setout.units:
        taper = abs(by) * unit.box.height / 1000
        yield Number("carpenter", unit.ref, "its side against the wall tapers by", taper)
        if unit.tall:
            yield Number("carpenter", unit.ref, "scribe piece at least", taper + allowance)
        if by < 0:
            yield Number("carpenter", unit.ref, "clear depth left at its top", unit.depth - taper)
    frame = wall.sight.screen.frame
    if not any(zone.box.holds(wall.sight.screen.plate) for zone in wall.setout.zones):
        leans = abs(by) * frame.height / 1000
        yield Number("screen fitter", "screen", "it would lean over its height by", leans)
        if leans > wall.limits.value("change.screen_lean"):
            yield Number(
                "screen fitter",
                "screen",
                "shim under the plate's far edge",
                abs(by) * wall.sight.screen.plate.height / 1000,
            )


@dataclass(frozen=True, slots=True)
class _Short:
    """A device that no longer fits behind its front. by : what is missing [mm]"""

    unit: str
    by: float
    says: str


def _too_shallow(wall: Wall, by: float) -> Iterator[_Short]:
    """What no longer fits behind a front, where the wall leans into the room."""
    if by >= 0:
        return
    plug = wall.limits.value("rule.plug_depth")
    bays = {bay.ref: bay for bay in wall.carcass.bays}
    devices = {device.ref: device for device in wall.services.devices}
    for heat in wall.cooling.bays:
        bay = bays[heat.bay]
        left = bay.depth + by * bay.box.top / 1000
        for ref in heat.devices:
            device = devices[ref]
            if device.depth + plug > left:
                says = (
                    f"{ref} ({device.depth:.0f} deep and {plug:g} for plugs) has {left:.0f} left in {bay.ref}"
                )
                yield _Short(bay.unit, device.depth + plug - left, says)


def _deeper(wall: Wall, short: _Short) -> Fix:
    """The unit made deeper by what is missing, and whether the rules let it."""
    depth = float(ceil(wall.setout.unit(short.unit).depth + short.by))
    edits = (edit_call("resize_unit", ref=short.unit, depth=depth),)
    says = f"make {short.unit} {depth:.0f} deep"
    try:
        new = derive(edited(wall.job, edits))
    except ValueError as problem:
        return Fix(says, False, str(problem), 0, edits)
    known = {(item.rule, item.where) for item in check(wall)}
    bad = [i for i in check(new) if i.severity in ("danger", "fix") and (i.rule, i.where) not in known]
    cost = max(0, new.money.direct - wall.money.direct)
    return Fix(says, not bad, bad[0].says if bad else "nothing speaks against it", cost, edits)


def _flat(wall: Wall, readings: Sequence[relief.Reading]) -> Iterator[Verdict]:
    """The worst place under a straight edge, by both lines of the table. Source: DIN 18202 table 3, lines 6 and 7."""
    found = relief.flatness(readings, wall.limits)
    if not found:
        return
    one = found[0]
    source = wall.limits["carcass.line_6_1000"].source
    where = (
        f"at {one.at[0]:.0f}, {one.at[1]:.0f} it leaves a straight edge of {one.base:.0f} mm by {one.gap:.0f}"
    )
    if one.gap <= one.strict:
        says = f"{where}: flat by the stricter line ({one.strict:.0f})"
        yield Verdict("wall", "flatness", "accept", says, one.gap, one.strict, source)
        return
    if one.gap <= one.usual:
        says = f"{where}: within a finished wall's {one.usual:.0f}, over the stricter {one.strict:.0f}: packers behind panels"
        most, what = one.strict, "packers up to"
    else:
        says = f"{where}: more than a finished wall's {one.usual:.0f}: battens and packs, or have it plastered again; nothing is glued to it"
        most, what = one.usual, "packs up to"
    numbers = (Number("carpenter", "wall", what, one.gap),)
    yield Verdict("wall", "flatness", "adjust", says, one.gap, most, source, numbers)
