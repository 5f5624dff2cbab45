"""Rules of the cables from box to box: none longer than its kind carries, and a way for each that leaves its unit.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from wallwright.carcass.record import BayBox
from wallwright.core.finding import EditCall, Finding, edit_call
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.services import chase
from wallwright.services.board import MAINS
from wallwright.services.conduit import BORES
from wallwright.services.plugs import SCREEN, Plug
from wallwright.services.region import centre_region, nearest, whole
from wallwright.services.signals import picture_link


@rule("services.link_length")
def link_length(wall: Wall) -> Iterator[Finding]:
    """No signal cable is longer, from plug to plug as it is bought, than its kind carries."""
    yield from _pictures(wall)
    for run in wall.services.runs:
        if run.kind == "conduit" or not run.longest or run.order <= run.longest:
            continue
        yield _too_long(
            run.ref,
            f"{run.cable} from {run.start} to {run.end}",
            run.order,
            run.longest,
            run.link,
            _NEARER,
            (),
        )


_NEARER = "set an active device half way, where it can be reached, or bring the devices nearer"


def _pictures(wall: Wall) -> Iterator[Finding]:
    cable, lines = wall.job.design.wiring.picture_cable, wall.sight.screen.lines
    longest, link = picture_link(lines, cable, wall.limits)
    reach, _ = picture_link(lines, "optical", wall.limits)
    for plug in wall.services.plugs:
        if plug.kind != "picture" or plug.bought <= longest:
            continue
        optical = cable == "passive" and plug.bought <= reach
        yield _too_long(
            plug.ref,
            f"picture cable {plug.ref} from {plug.start} to {plug.end}",
            plug.bought,
            longest,
            link,
            "use active optical cables, drawn through the conduit so that they can be replaced"
            if optical
            else _NEARER,
            (edit_call("set_wiring", picture_cable="optical"),) if optical else (),
        )


def _too_long(  # noqa: PLR0913
    ref: str, what: str, length: float, longest: float, link: str, cure: str, edits: tuple[EditCall, ...]
) -> Finding:  # fmt: skip
    return Finding(
        "services.link_length",
        "consider",
        ref,
        f"{what} takes {length / 1000:.1f} m of cable, more than a {link} carries",
        round(length),
        round(longest),
        "mm",
        f"common practice: {link}",
        "common practice",
        cure,
        edits,
    )


@rule("services.between_units")
def between_units(wall: Wall) -> Iterator[Finding]:
    """Cables that leave their unit have a conduit for all of their way: none hangs across the open wall."""
    bare: dict[str, list[Plug]] = defaultdict(list)
    for plug in wall.services.plugs:
        if plug.bare:
            bare[_without_end(wall, plug)].append(plug)
    for where, plugs in bare.items():
        said = "; ".join(f"{p.ref} {p.words} from {p.start} to {p.end}" for p in plugs)
        yield Finding(
            "services.between_units",
            "consider",
            where,
            f"{len(plugs)} cable{'s' if len(plugs) > 1 else ''} of {where} cross{'' if len(plugs) > 1 else 'es'} the open wall: {said}",
            len(plugs),
            0,
            "cables",
            "common practice: a conduit with a draw cord from every unit that holds boxes",
            "common practice",
            *_conduit_to(wall, where),
        )


def _conduit_to(wall: Wall, unit: str) -> tuple[str, tuple[EditCall, ...]]:
    """The cure: a conduit that ends in the unit, in trunking where the leaf bears no level chase for it."""
    says = f"end a conduit in {unit}, from where the other conduits meet, or stand these boxes in one unit"
    place = _place(wall, unit)
    if place is None:
        return says, ()
    edits = [edit_call("add_point", ref=_ref(wall, unit), kind="conduit", x=place[0], z=place[1])]
    cut = chase.masonry_of(wall.job.survey.wall, wall.limits)
    size = max(
        (run.outside_diameter for run in wall.services.runs if run.kind == "conduit"), default=max(BORES)
    )
    if cut is not None and wall.services.lay == "chased" and not cut.may_cut(size, level=True):
        says += "; the leaf bears no level chase for it, so it lies in trunking there"
        edits.append(edit_call("set_wiring", lay="mixed"))
    return says, tuple(edits)


def _without_end(wall: Wall, plug: Plug) -> str:
    """The unit of a cable that no conduit ends in."""
    ends = [unit for unit in (plug.unit, plug.unit_to) if unit != SCREEN]
    boxes = {unit.ref: unit.box for unit in wall.setout.units}
    conduits = [point for point in wall.services.points if point.kind == "conduit"]

    def has_one(ref: str) -> bool:
        return any(boxes[ref].holds(Box(p.x, p.z, 0.0, 0.0)) for p in conduits)

    return next((ref for ref in ends if not has_one(ref)), ends[0] if ends else SCREEN)


def _ref(wall: Wall, unit: str) -> str:
    taken = {point.ref for point in wall.services.points}
    return next(ref for n in range(1, 100) if (ref := f"K{unit}{'' if n == 1 else f'-{n}'}") not in taken)


SHELF_CLEAR = 20.0
"""A box stays clear of the board over its compartment [mm]."""


def _place(wall: Wall, ref: str) -> tuple[float, float] | None:
    """Where a conduit's box has room in a unit: in a compartment, nearest to the signal boxes there, clear of every box."""
    v = wall.limits.value
    width, height, gap = v("services.box_single_width"), v("services.box_height"), v("services.box_gap")
    unit = next((unit.box for unit in wall.setout.units if unit.ref == ref), None)
    if unit is None:
        return None
    points = wall.services.points
    taken = [p.box.grown(v("services.power_data_apart") if p.kind in MAINS else gap) for p in points]
    ours = sorted((p for p in points if unit.holds(p.box)), key=lambda p: p.kind in MAINS)
    near = (ours[0].x, ours[0].z) if ours else unit.centre
    fields = [
        level
        for bay in wall.carcass.bays
        if bay.unit == ref and bay.front != "drawers"
        for level in _levels(bay)
    ]
    region = centre_region(fields, (width, height), taken)
    spot = nearest(region, near)
    return None if spot is None else whole(region, spot)


def _levels(bay: BayBox) -> list[Box]:
    """The compartments of a bay between its shelves, each clear of the shelf over it."""
    n = bay.shelves + 1
    tall = bay.box.height / n
    return [Box(bay.box.x, bay.box.z + i * tall, bay.box.width, tall - SHELF_CLEAR) for i in range(n)]
