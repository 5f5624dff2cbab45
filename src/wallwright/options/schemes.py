"""Three schemes for one survey and brief: a shelf and a panel, a console of drawers, a console between towers; each settled and priced.

A scheme is a handful of edits on the job: its units and panels in place of those there are. What the rules then find is put right by
their own cures, one after another, as a designer would; a scheme that cannot be made sound so is shown with what is left to decide.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall, derive
from wallwright.job.design import Bay
from wallwright.options.effect import edited
from wallwright.options.finish_sets import Option
from wallwright.rules import check
from wallwright.rules.check import MUST

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.job.document import Job

CURES = 24
"""Cures tried on one scheme."""
BOXES_PLACES = ("cabinet", "tower")
OPEN, DRAWER = Bay("open"), Bay("drawers")


@dataclass(frozen=True, slots=True)
class Scheme:
    """A way to build the wall: what one gets, what one gives up, and the edits that make it of a job."""

    key: str
    name: str
    gain: str
    give_up: str
    make: Callable[[Job], Iterator[tuple[EditCall, ...]]]


def _cleared(job: Job) -> Iterator[EditCall]:
    """Everything that stands on the wall taken off it, and boxes placed where a scheme without them may put them."""
    for light in job.design.lights:
        yield edit_call("remove_light", ref=light.ref)
    for unit in job.design.units:
        yield edit_call("remove_unit", ref=unit.ref)
    for panel in job.design.panels:
        yield edit_call("remove_panel", ref=panel.ref)


def _panel(job: Job) -> Iterator[EditCall]:
    """A flat panel behind the screen, in the finish that the panels have."""
    yield edit_call("add_panel", ref="W1", kind="flat")
    yield edit_call("add_light", ref="G1", along="behind_panel", of="W1", colour=3000)


def _boxes(job: Job, place: str) -> Iterator[EditCall]:
    """Boxes that were bound to a kind of unit go where the scheme has a place for them."""
    for device in job.brief.devices:
        if device.place in BOXES_PLACES and device.place != place:
            yield edit_call("set_device", ref=device.ref, place="auto" if place == "cabinet" else place)


def _with_console(job: Job, bays: tuple[Bay, ...], **sizes: object) -> tuple[EditCall, ...]:
    """The wall cleared, a hung console of these bays, and the panel."""
    console = edit_call("add_unit", ref="C1", kind="console", hung=True, bays=bays, **sizes)
    return (*_cleared(job), console, *_panel(job), *_boxes(job, "cabinet"))


def _shelf(job: Job) -> Iterator[tuple[EditCall, ...]]:
    """A wall shelf where the boxes hang behind the screen; else a low shelf with a bottom, in as many open bays as they need."""
    if all(device.place in ("screen", "auto") for device in job.brief.devices):
        shelf = edit_call("add_unit", ref="S1", kind="shelf", side="centre")
        yield (*_cleared(job), shelf, *_panel(job))
    for count in (3, 4, 5):
        yield _with_console(job, (OPEN,) * count, height=220)
        yield _with_console(job, (OPEN,) * count)


def _drawers(job: Job) -> Iterator[tuple[EditCall, ...]]:
    """Drawers, and open bays for the boxes between or beside them, as many as keep them cool and apart."""
    yield _with_console(job, (DRAWER, OPEN, DRAWER))
    yield _with_console(job, (OPEN, DRAWER, OPEN))
    yield _with_console(job, (DRAWER, OPEN, OPEN, DRAWER))
    yield _with_console(job, (OPEN, DRAWER, DRAWER, OPEN))
    yield _with_console(job, (OPEN, DRAWER, OPEN, DRAWER, OPEN))


def _towers(job: Job) -> Iterator[tuple[EditCall, ...]]:
    """The console of drawers between two towers; the height of a tower within a sheet's length."""
    for height in (2300, None):
        towers = tuple(
            edit_call(
                "add_unit",
                ref=ref,
                kind="tower",
                side=side,
                depth=380,
                **({"height": height} if height else {}),
            )
            for ref, side in (("T1", "left"), ("T2", "right"))
        )
        for console in _drawers(job):
            yield (*console, *towers)


SCHEMES = (
    Scheme(
        "shelf", "Shelf and panel", "Least of everything: a low open shelf for the boxes, a panel, room all round",
        "Storage: what lies about today still will; boxes are seen and dusted", _shelf,
    ),
    Scheme(
        "drawers", "Console of drawers", "Drawers for what lies about, boxes cool in open bays", "Books and games stay elsewhere",
        _drawers,
    ),
    Scheme(
        "towers", "Console between towers", "Storage to the height of a door; the wall is one piece of furniture",
        "Money, floor, and a wall that leads the room", _towers,
    ),
)  # fmt: skip
"""The schemes, the least built first."""


def scheme_options(job: Job, schemes: Sequence[Scheme] = SCHEMES) -> tuple[Option, ...]:
    """Each scheme made of the job, settled, derived, checked and priced: of its variants the first that is sound, else the one with the
    least left to fix. One that cannot be built here at all is left out.
    """
    out: list[Option] = []
    for scheme in schemes:
        best: tuple[tuple[int, int], Option] | None = None
        for edits in scheme.make(job):
            try:
                quick, cures, _ = settled(edited(job, edits))
                made = derive(quick.job, searched=True)
            except ValueError:
                continue
            found = check(made)
            option = Option(
                scheme.key,
                scheme.name,
                _said(made),
                scheme.gain,
                scheme.give_up,
                (*edits, *cures),
                made,
                found,
            )
            if best is None or _weight(found) < best[0]:
                best = (_weight(found), option)
            if option.sound:
                break
        if best is not None:
            out.append(best[1])
    return tuple(out)


def settled(job: Job) -> tuple[Wall, tuple[EditCall, ...], tuple[Finding, ...]]:
    """The wall with what must be fixed put right by its own cures, as far as they go: each is kept only where it leaves less to fix."""
    wall = derive(job)
    found = check(wall)
    made: list[EditCall] = []
    for _ in range(CURES):
        step = _one_cure(wall, found)
        if step is None:
            break
        wall, calls, found = step
        made.extend(calls)
    return wall, tuple(made), found


def _one_cure(
    wall: Wall, found: tuple[Finding, ...]
) -> tuple[Wall, tuple[EditCall, ...], tuple[Finding, ...]] | None:
    """The first cure that leaves less to fix; None where none does."""
    must = _weight(found)
    for item in found:
        if item.severity not in MUST or not item.edits:
            continue
        try:
            tried = derive(edited(wall.job, item.edits))
        except ValueError:
            continue
        after = check(tried)
        if _weight(after) < must:
            return tried, item.edits, after
    return None


def _weight(found: tuple[Finding, ...]) -> tuple[int, int]:
    """How much is left to fix: dangers, then the rest of what must be."""
    return sum(item.severity == "danger" for item in found), sum(item.severity in MUST for item in found)


def _said(wall: Wall) -> str:
    """What stands on the wall, in words."""
    units: list[str] = []
    for unit in wall.setout.units:
        fronts = Counter(bay.front for bay in wall.carcass.bays if bay.unit == unit.ref)
        of = f" ({', '.join(f'{count} {front}' for front, count in fronts.items())})" if fronts else ""
        units.append(f"{unit.kind.replace('_', ' ')} {unit.box.width:.0f} × {unit.box.height:.0f}{of}")
    zones = [
        f"{zone.kind.replace('_', ' ')} panel {zone.box.width:.0f} × {zone.box.height:.0f}"
        for zone in wall.setout.zones
    ]
    return "; ".join((*units, *zones))
