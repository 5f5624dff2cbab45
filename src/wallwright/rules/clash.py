"""Rules of what opens: no door, drawer, flap or pull-out meets anything on its way, handles and skirting included."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from wallwright.carcass.record import Drawn
from wallwright.carcass.sweep import Clash, Solid, clash, reach
from wallwright.core.along import Along, meeting
from wallwright.core.finding import EditCall, Finding, Severity, edit_call, finding
from wallwright.core.shape import Block, Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.rules import things_about
from wallwright.rules.bays import front_edit, hinge_edit
from wallwright.rules.places import PLACE, given_back, taken_away
from wallwright.rules.registry import rule
from wallwright.rules.things_about import About

WORDS = {"drawer": "drawer", "door": "door", "flap": "flap", "pull_out": "pull-out"}


def _met(mover: Drawn, things: Iterable[About]) -> Iterator[tuple[About, Clash]]:
    """The things that a mover meets; its own unit is none."""
    swept = reach(mover)
    for thing in things:
        if thing.ref != mover.unit and swept.meets(thing.solid):
            found = clash(mover, thing.solid)
            if found is not None:
                yield thing, found


def _says(mover: Drawn, thing: About, found: Clash) -> str:
    how = "its handle meets" if found.by_handle else "meets"
    far = (
        f"opens {found.opens:.0f}° of {mover.open:.0f}°" if mover.open else f"comes {found.opens:.0f} mm out"
    )
    return f"{WORDS[mover.kind]} {mover.ref} {how} {thing.name}: it {far}, {found.overlap:.0f} mm too little room"


def _bay(mover: Drawn) -> str:
    return mover.ref.rpartition("-F")[0]


def _alone(wall: Wall, mover: Drawn) -> bool:
    """Whether a door is the only leaf of its bay, so that it can turn on the other side."""
    return mover.kind == "door" and sum(_bay(other) == _bay(mover) for other in wall.carcass.movers) == 1


def _cure(wall: Wall, mover: Drawn, things: list[About]) -> tuple[str, list[EditCall]]:
    """What lets it open, the least first: hinge it on the other side, take its handle away, move its unit off what it stands on,
    leave its bay open. Each is tried against all things that it may meet.
    """
    other = "right" if mover.hand == "left" else "left"
    if _alone(wall, mover) and not any(_met(replace(mover, hand=other), things)):
        return f"hinge it on the {other}", [hinge_edit(wall, _bay(mover), other)]
    bare = replace(mover, proud=0.0, swept=_bare(mover))
    if mover.proud and not any(_met(bare, things)):
        return f"let the fronts of {mover.unit} be pushed open: no handle", [
            edit_call("set_unit_opening", ref=mover.unit, opening="push")
        ]
    unit = wall.setout.unit(mover.unit)
    met = [thing for thing, _ in _met(mover, things)]
    stood_on = [thing for thing in met if thing.obstacle and obstacle_box(thing.obstacle).meets(unit.box)]
    if stood_on and given_back(unit, *PLACE):
        return f"let the program place {unit.ref} clear of it", given_back(unit, *PLACE)
    gone = [call for thing in met if thing.obstacle for call in taken_away(thing.obstacle)]
    if gone and len(gone) == len(met):
        return "have it taken away", gone
    return f"leave bay {_bay(mover)} open, or choose a front that opens less far", [
        front_edit(wall, _bay(mover), "open")
    ]


def _bare(mover: Drawn) -> Block:
    swept = mover.swept
    less = mover.proud if mover.kind in ("drawer", "pull_out") else 0.0
    return replace(swept, y=swept.y + less, dy=swept.dy - less)


def _place(mover: Drawn, thing: Solid) -> Box:
    """The place on the wall: where the thing lies before the front, else the front."""
    return mover.box.shared(Box(thing.x0, thing.z0, thing.x1 - thing.x0, thing.z1 - thing.z0)) or mover.box


@rule("carcass.drawer_clash")
def drawer_clash(wall: Wall) -> Iterator[Finding]:
    """Doors, drawers, flaps and pull-outs open without meeting what stays where it is, their handles included."""
    things = things_about.fixed(wall)
    handles = things_about.closed_handles(wall)
    every = [("", thing) for thing in things] + handles
    along = Along((thing.solid.x0, thing.solid.x1) for _, thing in every)
    for mover in wall.carcass.movers:
        swept = reach(mover)
        near = [every[k] for k in along.about(swept.x0, swept.x1)]
        found = list(_met(mover, (thing for ref, thing in near if ref != mover.ref)))
        if not found:
            continue
        thing, worst = max(found, key=lambda pair: pair[1].overlap)
        about = [*things, *(thing for ref, thing in handles if ref != mover.ref)]
        cure, edits = _cure(wall, mover, about)
        yield _finding("carcass.drawer_clash", "fix", mover, thing, worst, cure, edits)


@rule("carcass.clash_open")
def clash_open(wall: Wall) -> Iterator[Finding]:
    """What opens does not meet a room door, an inward window or the screen on its arm while those are open too."""
    things = things_about.opened(wall)
    still = things_about.fixed(wall)
    for mover in wall.carcass.movers:
        for thing, found in _met(mover, things):
            cure, edits = _cure(wall, mover, [*things, *still])
            yield _finding(
                "carcass.clash_open",
                "consider",
                mover,
                thing,
                found,
                f"{cure}; or never open both at once",
                edits,
            )


@rule("carcass.clash_each_other")
def clash_each_other(wall: Wall) -> Iterator[Finding]:
    """Two fronts can be open at once: a door that stands open does not bar another front, nor its handle."""
    movers = wall.carcass.movers
    swept = [reach(mover) for mover in movers]
    turned = [things_about.turned_open(mover) for mover in movers]
    spans = [
        (min(a.x0, b.x0), max(a.x1, b.x1)) if b else (a.x0, a.x1) for a, b in zip(swept, turned, strict=True)
    ]
    for first, second in meeting(spans):
        for i, k in ((first, second), (second, first)):
            barred, door, open_door = movers[i], movers[k], turned[k]
            if open_door is None or not swept[i].meets(open_door) or _bay(barred) == _bay(door):
                continue
            found = clash(barred, open_door)
            if found is None:
                continue
            cure, edits = _cure(
                wall, door, [*things_about.fixed(wall), About(barred.ref, barred.ref, reach(barred))]
            )
            thing = About(door.ref, f"{door.ref} standing open", open_door)
            yield _finding(
                "carcass.clash_each_other",
                "note",
                barred,
                thing,
                found,
                f"close {door.ref} first; or of {door.ref}: {cure}",
                edits,
            )
            break


@rule("carcass.clash_furniture")
def clash_furniture(wall: Wall) -> Iterator[Finding]:
    """Before what is drawn out or opened there is room to stand, and no table or knees."""
    room = wall.limits["joinery.standing_room"]
    for thing in things_about.furniture(wall):
        worst: tuple[float, Drawn] | None = None
        for mover in wall.carcass.movers:
            swept = reach(mover)
            if (
                min(swept.x1, thing.solid.x1) - max(swept.x0, thing.solid.x0) <= 0
                or swept.z0 >= thing.solid.z1 + room.value
            ):
                continue
            left = thing.solid.out0 - swept.out1
            if left < room.value and (worst is None or left < worst[0]):
                worst = left, mover
        if worst is None:
            continue
        left, mover = worst
        meets = "meets" if left < 0 else f"leaves {left:.0f} mm before"
        yield finding(
            "carcass.clash_furniture",
            "consider",
            thing.ref,
            f"{WORDS[mover.kind]} {mover.ref} opened {meets} {thing.name}",
            measured=round(left),
            limit=room,
            cure=f"move {thing.ref} {room.value - left:.0f} mm away from the wall, or choose fronts that open less far",
            at=mover.box,
        )


@rule("carcass.clash_rug")
def clash_rug(wall: Wall) -> Iterator[Finding]:
    """Doors and drawers pass over a rug: none is nearer to the floor than a rug is thick."""
    limit = wall.limits["joinery.rug_clear"]
    for mover in wall.carcass.movers:
        low = mover.box.z - (mover.proud if mover.kind == "flap" and not mover.lifts else 0.0)
        if low >= limit.value:
            continue
        yield finding(
            "carcass.clash_rug",
            "consider",
            mover.ref,
            f"{WORDS[mover.kind]} {mover.ref} passes {low:.0f} mm above the floor: a rug stops it",
            measured=round(low),
            limit=limit,
            cure=f"raise {mover.unit} by {limit.value - low:.0f} mm, or keep rugs out of its way",
            edits=[
                edit_call(
                    "move_unit",
                    ref=mover.unit,
                    z=round(wall.setout.unit(mover.unit).box.z + limit.value - low, 1),
                )
            ]
            if wall.setout.unit(mover.unit).hung
            else [],
            at=mover.box,
        )


def _finding(  # noqa: PLR0913
    name: str, severity: Severity, mover: Drawn, thing: About, found: Clash, cure: str, edits: list[EditCall]
) -> Finding:  # fmt: skip
    return Finding(
        name, severity, mover.ref, _says(mover, thing, found), round(found.overlap), 0, "mm",
        "geometry: what the leaf, drawer and handle sweep", "computed", cure, tuple(edits), at=_place(mover, thing.solid),
    )  # fmt: skip
