"""Rules of leads and boxes: no appliance's cord in a wall, every hidden signal cable in a conduit, boxes in view on their middle, none
in another's place.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.limit import Certainty, Limit
from wallwright.core.units import show_mm
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.services.board import MAINS
from wallwright.services.plugs import SCREEN
from wallwright.services.record import ServicePoint
from wallwright.services.region import centre_region, nearest, whole

_CORD: tuple[str, Certainty] = (
    "NEC 400.12 (flexible cord is not run through walls); common practice elsewhere",
    "from memory",
)
_SIGNALS = ("data", "rf", "conduit")
_SEEN = ("twin_socket", "socket", "switched_spur", "switch", "data", "rf")


@rule("services.flex_in_wall")
def flex_in_wall(wall: Wall) -> Iterator[Finding]:
    """No appliance's own cord goes through a wall or a panel: each has a socket where it stands."""
    for plug in wall.services.plugs:
        ends = (plug.unit, plug.unit_to)
        if plug.kind != "mains" or plug.unit == plug.unit_to or SCREEN not in ends or "" in ends:
            continue  # to a socket on the open wall, or from unit to unit, a cord is in view
        where = "behind the screen" if plug.unit == SCREEN else f"in {plug.unit}"
        yield Finding(
            "services.flex_in_wall", "danger", plug.start,
            f"the mains lead of {plug.start} ends at {plug.end}, which is not where {plug.start} stands: it could only go through the wall",
            f"{plug.way:.0f} mm", "0 mm", "", *_CORD,
            f"have the electrician set a socket on fixed wiring {where}, or make room for one; feed no cord, plug or extension through the wall",
        )  # fmt: skip
    for run in wall.services.runs:
        cords = [key for key, _ in run.contents if run.kind == "mains" and key.startswith("flex")]
        if cords and not run.on_surface:
            yield Finding(
                "services.flex_in_wall", "danger", run.ref,
                f"{run.ref} from {run.start} to {run.end} is flexible cord, laid in the wall", cords[0], "fixed cable", "", *_CORD,
                "lay fixed cable in conduit; a licensed electrician chooses and tests it",
            )  # fmt: skip


@rule("services.spare_way")
def spare_way(wall: Wall) -> Iterator[Finding]:
    """Every hidden signal cable lies in a conduit with a draw wire, and one conduit more is empty."""
    limit = wall.limits["rule.hidden_signal"]
    hidden = [
        run
        for run in wall.services.runs
        if run.kind in _SIGNALS and run.length - run.on_surface > limit.value
    ]
    for run in hidden:
        if run.bore <= 0:
            yield finding(
                "services.spare_way", "fix", run.ref,
                f"{run.ref}, {run.cable} from {run.start} to {run.end}, is hidden for {run.length:.0f} mm and has no conduit",
                measured=round(run.length), limit=limit, cure=f"lay {run.ref} in a conduit and leave a draw wire in it",
            )  # fmt: skip
    if not hidden or any(run.kind == "spare" for run in wall.services.runs):
        return
    edits: list[EditCall] = []
    if not wall.limits.value("services.spare_conduits") and "services.spare_conduits" in wall.job.rules:
        edits.append(edit_call("set_limit", name="services.spare_conduits", value=1))
    yield finding(
        "services.spare_way", "consider" if edits else "note", "wall",
        f"{len(hidden)} signal cables are hidden, and no conduit is empty for what is still to come",
        measured=0, limit=limit, edits=edits,
        cure="lay one conduit more, empty but for a draw wire, from where the lines come in to the screen",
    )  # fmt: skip


@rule("services.off_centre")
def off_centre(wall: Wall) -> Iterator[Finding]:
    """A box in view that is meant for the middle of what it stands on stands there."""
    limit, meant = wall.limits["rule.box_centred"], wall.limits.value("rule.box_meant")
    for point in wall.services.points:
        if point.kind not in _SEEN or point.zone != "wall" or wall.sight.screen.frame.meets(point.box):
            continue
        near = min(_middles(wall, point), key=lambda pair: abs(point.x - pair[1]), default=None)
        if near is None or not limit.value < abs(point.x - near[1]) <= meant:
            continue
        off, side = abs(point.x - near[1]), "right" if point.x > near[1] else "left"
        yield finding(
            "services.off_centre", "consider", point.ref,
            f"{point.ref} stands {off:.0f} mm {side} of the middle of {near[0]}: it looks meant for it and missed",
            measured=round(off, 1), limit=limit, at=point.box,
            cure=f"set it on the middle, x {show_mm(near[1], 1)}, and dimension it from there; else well away from it",
            edits=(edit_call("move_point", ref=point.ref, x=round(near[1], 1), z=point.z),),
        )  # fmt: skip


def _middles(wall: Wall, point: ServicePoint) -> Iterator[tuple[str, float]]:
    """What a box stands on, under or over, and the upright line through its middle."""
    yield "the screen", wall.sight.screen.centre[0]
    for item in (*wall.setout.zones, *wall.setout.units):
        if item.box.x <= point.x <= item.box.right:
            yield item.ref, item.box.centre[0]


@rule("services.boxes_meet")
def boxes_meet(wall: Wall) -> Iterator[Finding]:
    """Two boxes stand as far apart as they can be built: their plates clear of one another, mains clear of data."""
    for one, other in _near(wall):
        limit = _apart(wall, one, other)
        if not one.box.grown(limit.value - 0.5).meets(other.box):
            continue
        gap, mover = one.box.gap(other.box), one if one.pinned and not other.pinned else other
        still = other if mover is one else one
        mixed = limit.name == "services.power_data_apart"
        spot = _free_place(wall, mover) if mover.pinned else None
        says = "stand in one place" if one.box.meets(other.box) else f"stand {gap:.0f} mm apart"
        yield finding(
            "services.boxes_meet",
            "fix",
            mover.ref,
            f"the boxes of {one.ref} ({_kind(one)}) and {other.ref} ({_kind(other)}) {says}"
            + (", mains beside data" if mixed else ""),
            measured=round(gap),
            limit=limit,
            at=mover.box,
            cure=f"move {mover.ref} to x {spot[0]:.0f}, {spot[1]:.0f} above FFL, clear of every box"
            if spot
            else f"move {mover.ref} or {still.ref}, or take one box for both",
            edits=[edit_call("move_point", ref=mover.ref, x=spot[0], z=spot[1])] if spot else [],
        )


def _near(wall: Wall) -> Iterator[tuple[ServicePoint, ServicePoint]]:
    """The pairs of boxes so near to one another along the wall that it may matter, the left one first."""
    most = max(wall.limits.value(f"services.{name}") for name in ("box_gap", "power_data_apart"))
    points = sorted(wall.services.points, key=lambda point: point.box.x)
    for k, one in enumerate(points):
        for other in points[k + 1 :]:
            if other.box.x >= one.box.right + most:
                break
            yield one, other


def _kind(point: ServicePoint) -> str:
    return point.kind.replace("_", " ")


def _apart(wall: Wall, one: ServicePoint, other: ServicePoint) -> Limit:
    """How far the two stay apart: boxes of one service by what is built between them, mains from what carries signals further."""
    alike = (one.kind in MAINS) == (other.kind in MAINS)
    return wall.limits["services.box_gap" if alike else "services.power_data_apart"]


def _free_place(wall: Wall, point: ServicePoint) -> tuple[float, float] | None:
    """The nearest place on the wall where its box is clear of all others."""
    others = [other for other in wall.services.points if other.ref != point.ref]
    taken = [other.box.grown(_apart(wall, point, other).value) for other in others]
    region = centre_region((wall.face.box,), (point.box.width, point.box.height), taken)
    spot = nearest(region, (point.x, point.z))
    return None if spot is None else whole(region, spot)
