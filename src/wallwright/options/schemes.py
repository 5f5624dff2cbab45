"""The walls proposed for a brief as options against the wall as it stands: each with the edits that make it of the job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import TYPE_CHECKING

from wallwright.core.finding import EditCall, edit_call
from wallwright.job.edit import to_plain
from wallwright.options.finish_sets import Option
from wallwright.options.propose import propose

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.document import Job
    from wallwright.options.hunt import Progress

OPTIONS = 3


def scheme_options(
    job: Job, number: int = OPTIONS, progress: Callable[[Progress], object] | None = None
) -> tuple[Option, ...]:
    """So many walls for the survey and the brief, the least dear first; units, panels, lights and finishes of the design set aside."""
    found = propose(job, number, progress, design="fresh")
    return tuple(
        Option(
            one.key,
            one.name,
            _said(one.wall),
            one.get,
            one.give_up,
            edits_to(job, one.job),
            one.wall,
            one.findings,
        )
        for one in sorted(found.options, key=lambda one: one.price)
    )


def edits_to(job: Job, proposed: Job) -> tuple[EditCall, ...]:
    """The edits that make a proposal of a job: its design whole, where boxes stand, what is moved, where the supply comes from."""
    calls: list[EditCall] = []
    for old, new in zip(job.brief.devices, proposed.brief.devices, strict=True):
        if old.place != new.place:
            calls.append(edit_call("set_device", ref=new.ref, place=new.place))
    for before, after in zip(job.survey.obstacles, proposed.survey.obstacles, strict=True):
        if before.state != after.state:
            calls.append(edit_call("set_obstacle_state", ref=after.ref, state=after.state))
    supply = proposed.survey.supply
    if supply is not None and supply != job.survey.supply:
        calls.append(edit_call("set_supply", comes=supply.comes))
    if proposed.design != job.design:
        calls.append(edit_call("set_design", design=to_plain(proposed.design)))
    return tuple(calls)


def _said(wall: Wall) -> str:
    """What stands on the wall, in words."""
    units: list[str] = []
    for unit in wall.setout.units:
        fronts = Counter(bay.front for bay in wall.carcass.bays if bay.unit == unit.ref)
        of = f" ({', '.join(_fronts(count, front) for front, count in fronts.items())})" if fronts else ""
        units.append(f"{unit.kind.replace('_', ' ')} {unit.box.width:.0f} × {unit.box.height:.0f}{of}")
    zones = [
        f"{zone.kind.replace('_', ' ')} panel {zone.box.width:.0f} × {zone.box.height:.0f}"
        for zone in wall.setout.zones
    ]
    return "; ".join((*units, *zones))


def _fronts(count: int, front: str) -> str:
    """How many bays have a front of this kind: `2 open`, `1 with drawers`."""
    if front == "open":
        return f"{count} open"
    return f"{count} with {_FRONTS.get(front, 'a ' + front.replace('_', ' '))}"


_FRONTS = {"drawers": "drawers", "glass": "glass", "cloth": "cloth", "slatted": "a slatted door"}
