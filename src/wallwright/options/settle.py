"""A proposal made sound: what must be put right on it is put right by the findings' own cures, and by what a designer tries first.

What must be fixed whatever is built (an unknown wall, a screen that is only known from a shop's page) is no fault of a proposal: it is
told with it, not charged to it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.core.finding import SEVERITIES, EditCall, edit_call
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.options.effect import edited
from wallwright.rules import check
from wallwright.rules.check import MUST
from wallwright.rules.registry import RULES, untried

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.job.document import Job

STEPS = 4
"""Rounds of cures made on one proposal, at most."""
THIN_VOID = 15
"""Depth of the battens where the screen's fixings would bend too far over the usual ones [mm]: common practice."""
SHAPELY = frozenset({"set_bay_front", "remove_unit", "remove_panel", "set_panel_kind"})
"""Edits that would make another shape of it: none of them is made, nor one that widens a unit out of its lines."""
ALONE = 2
"""Cures tried one by one, where all together help nothing."""
SPARE = 40
"""How far above the trade's usual band the screen may go for a higher console, where all seats are content [mm]."""
LATER = frozenset({"storage.left_over"})
"""Rules that are never a must and look long for their cures: asked of what is shown, not of each wall tried."""
UNHOUSED = "services.no_place"
"""On a bare wall boxes have no place: that is what the proposal is for."""


@dataclass(frozen=True, slots=True)
class Sound:
    """A wall with nothing on it left to fix but what is `open` whatever is built. cures : what was put right · tries : derives it took."""

    wall: Wall
    findings: tuple[Finding, ...]
    cures: tuple[EditCall, ...]
    open: tuple[Finding, ...]


class Trials:
    """Counts the walls that are derived, and keeps what a first wall taught for the next ones. voids : the battens that held the
    screen last.
    """

    def __init__(self) -> None:
        self.count = 0
        self.void: int | None = None

    def derived(self, job: Job) -> tuple[Wall, tuple[Finding, ...]]:
        """The wall and its findings, but for those of `LATER`. Raises ValueError where it cannot be built."""
        self.count += 1
        wall = derive(job)
        found = [item for key in RULES if key not in LATER for item in _found(wall, key)]
        return wall, tuple(sorted(found, key=lambda item: SEVERITIES.index(item.severity)))


def _found(wall: Wall, key: str) -> list[Finding]:
    """What a rule finds; cures are looked for by trying them only where something must be cured."""
    with untried():
        found = list(RULES[key].find(wall))
    return (
        list(RULES[key].find(wall))
        if any(item.severity in MUST and not item.cure for item in found)
        else found
    )


def inherited(bare: Wall, trials: Trials) -> frozenset[tuple[str, str]]:
    """What must be fixed on the bare wall already and no cure puts right, by rule and place."""
    must = [item for item in check(bare) if item.severity in MUST and item.rule != UNHOUSED]
    left: set[tuple[str, str]] = set()
    for item in must:
        cured = False
        for edits in _cures(bare, item):
            try:
                _, found = trials.derived(edited(bare.job, edits))
            except ValueError:
                continue
            cured = cured or (item.rule, item.where) not in {(one.rule, one.where) for one in found}
        if not cured:
            left.add((item.rule, item.where))
    return frozenset(left)


def settle(job: Job, given: frozenset[tuple[str, str]], trials: Trials) -> Sound | Finding | None:
    """The job made sound; else the finding that stands in the way, or None where it cannot be built at all."""
    cures: list[EditCall] = []
    try:
        if trials.void is not None and (thin := _thinner(job, trials.void)):
            job = edited(job, thin)
            cures.extend(thin)
        wall, found = trials.derived(job)
    except ValueError:
        return None
    must = _must(found, given)
    for _ in range(STEPS):
        if not must:
            break
        step = _step(wall, must, given, trials)
        if step is None:
            return next((item for item in must if not list(_cures(wall, item))), must[0])
        wall, found, calls = step
        cures.extend(calls)
        must = _must(found, given)
    if must:
        return must[0]
    trials.void = next(
        (int(v) for c in cures if c.edit == "set_panel_void" for k, v in c.values if k == "void"), trials.void
    )
    return Sound(wall, found, tuple(cures), tuple(item for item in found if item.severity in MUST))


def _must(found: tuple[Finding, ...], given: frozenset[tuple[str, str]]) -> list[Finding]:
    return [item for item in found if item.severity in MUST and (item.rule, item.where) not in given]


def _step(
    wall: Wall, must: list[Finding], given: frozenset[tuple[str, str]], trials: Trials
) -> tuple[Wall, tuple[Finding, ...], tuple[EditCall, ...]] | None:
    """The first cures of all that must be fixed, made together; else the first cure of one of them that leaves less to fix."""
    each = [list(_cures(wall, item)) for item in must]
    if not all(each):
        return None
    together = _once(call for cures in each for call in cures[0])
    singly = [edits for cures in each for edits in cures if edits != together]
    for edits in (together, *singly[:ALONE]):
        try:
            tried, found = trials.derived(edited(wall.job, edits))
        except ValueError:
            continue
        if len(_must(found, given)) < len(must):
            return tried, found, edits
    return None


def _once(calls: Iterable[EditCall]) -> tuple[EditCall, ...]:
    """Each call once, in order (values may be lists, which are in no set)."""
    out: list[EditCall] = []
    for call in calls:
        if call not in out:
            out.append(call)
    return tuple(out)


def _cures(wall: Wall, item: Finding) -> Iterator[tuple[EditCall, ...]]:
    """What a designer tries first, then the finding's own cure; nothing that the design gives is moved."""
    if item.rule == "structure.fixing" and item.where == "screen":
        for void in (THIN_VOID, 0):
            if thin := _thinner(wall.job, void):
                yield thin
    if item.rule == "services.hot_bay":
        yield from _lifted(wall)
        yield from _wider(wall, item)
        yield from _stood(wall, item)
    if (
        item.rule == "services.no_path" and wall.job.survey.supply is None
    ):  # nobody surveyed where it comes from: it is asked for
        yield from ((edit_call("set_supply", comes=end),) for end in ("right", "ceiling", "left"))
    if item.rule == "services.behind_drawer":
        yield from _mirrored(wall, item)
    if item.edits and not any(_reshapes(call) for call in item.edits):
        yield item.edits


def _reshapes(call: EditCall) -> bool:
    return call.edit in SHAPELY or (call.edit == "resize_unit" and dict(call.values).get("width") is not None)


def _thinner(job: Job, void: int) -> tuple[EditCall, ...]:
    """Panels whose battens nobody gave on battens of this depth; with none, the light behind them goes behind the screen."""
    thick = [
        panel.ref
        for panel in job.design.panels
        if panel.kind not in ("framed", "moulding")
        and (panel.void is None or void < panel.void.mm <= THIN_VOID)
    ]
    calls = [edit_call("set_panel_void", ref=ref, void=void) for ref in thick]
    for light in job.design.lights:
        if void == 0 and light.along == "behind_panel" and light.of in thick:
            calls.append(edit_call("remove_light", ref=light.ref))
            calls.append(edit_call("add_light", ref=light.ref, along="behind_screen", colour=light.colour))
    return tuple(calls)


def _lifted(wall: Wall) -> Iterator[tuple[EditCall, ...]]:
    """The screen a little higher, so that the console under it is as high as usual; within what is good for all seats."""
    sight = wall.sight.heights
    console = next((unit for unit in wall.setout.units if unit.kind == "console"), None)
    if console is None or wall.job.design.screen.centre_height is not None or "height" in console.pinned:
        return
    lift = wall.limits.value("carcass.body") - console.box.height
    if lift > 1 and sight.used + lift <= min(sight.high, sight.rule_high + SPARE):
        yield (edit_call("set_screen_height", centre_height=math.ceil((sight.used + lift) / 5) * 5),)


def _mirrored(wall: Wall, item: Finding) -> Iterator[tuple[EditCall, ...]]:
    """Another front for a bay that a hand must reach into, and the same for the one that mirrors it."""
    for call in item.edits:
        values = dict(call.values)
        unit = next((unit for unit in wall.job.design.units if unit.ref == values.get("ref")), None)
        if call.edit != "set_bay_front" or unit is None or not unit.bays:
            return
        bays = {int(values["bay"]), len(unit.bays) + 1 - int(values["bay"])}
        yield tuple(
            edit_call("set_bay_front", ref=unit.ref, bay=bay, front=values["front"]) for bay in sorted(bays)
        )


def _stood(wall: Wall, item: Finding) -> Iterator[tuple[EditCall, ...]]:
    """The console on the floor: under a low screen it is then higher inside than one that hangs."""
    unit = next((unit for unit in wall.setout.units if item.where.startswith(f"{unit.ref}.")), None)
    if unit is not None and unit.kind == "console" and unit.hung and "height" not in unit.pinned:
        yield (edit_call("set_unit_hung", ref=unit.ref, hung=False),)


def _wider(wall: Wall, item: Finding) -> Iterator[tuple[EditCall, ...]]:
    """The open bay wider by what its warmth asks for, and the one that mirrors it: the air's rise goes with the opening to -2/3."""
    unit = next((unit for unit in wall.job.design.units if item.where.startswith(f"{unit.ref}.")), None)
    box = next((bay.box for bay in wall.carcass.bays if bay.ref == item.where), None)
    if unit is None or box is None or unit.kind != "console" or not isinstance(item.measured, float):
        return
    at = int(item.where.rpartition(".")[2]) - 1
    if at >= len(unit.bays) or unit.bays[at].front != "open" or not isinstance(item.limit, (int, float)):
        return
    width = math.ceil(box.width * (item.measured / item.limit) ** 1.5 * 1.03)
    twins = {at, len(unit.bays) - 1 - at}
    bays = tuple(
        replace(bay, width=Length(float(width))) if n in twins and bay.front == "open" else bay
        for n, bay in enumerate(unit.bays)
    )
    yield (edit_call("set_unit_bays", ref=unit.ref, bays=bays),)
