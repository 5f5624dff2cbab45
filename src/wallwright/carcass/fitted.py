"""The fittings of fronts chosen by rule from the library: each line of the schedule says why it is that one and that many.

Hinges by weight, height and width, cranked by the overlay; runners by length and load; stays by torque; damping by how the front
opens: a push latch needs unsprung hinges and push-open runners, for a spring or damper works against it. Common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from wallwright.carcass.fronts import Front
from wallwright.carcass.hardware import asked_by, flap_torque, hinge_count, writing_torque
from wallwright.carcass.record import Hardware, OnRunners, Part, UnitBox
from wallwright.core.limit import Limits
from wallwright.job.design import Opening
from wallwright.library.fittings import Fitting, of_kind


@dataclass(frozen=True, slots=True)
class Fit:
    """What one front needs: so many of a fitting, what it is called, and why."""

    kind: str
    name: str
    quantity: int
    why: str


def crank(overlay: float) -> Fitting:
    """The hinge for an overlay [mm]: how far the door lies over the edge of the board it hangs on."""
    rows = of_kind("hinge")
    return next((row for row in rows if row.least <= overlay < row.most), rows[0])


def overlay(front: Front) -> float:
    """How far a front lies over the edge of the board it turns on [mm]; below 0 where it is set in."""
    clear, box = front.cell.clear, front.box
    if front.kind == "flap":
        return box.top - clear.top if front.lifts else clear.z - box.z
    return clear.x - box.x if front.hung_left else box.right - clear.right


def by_load(kind: str, load: float, length: float = 0.0) -> Fitting:
    """The lightest of a kind that carries a load and is made in that length [mm], where it comes in several; the strongest where none
    does.
    """
    rows = of_kind(kind)
    if length:
        rows = tuple(row for row in rows if row.least <= length <= row.most) or rows
    return next((row for row in rows if load <= row.carries), rows[-1])


def drawer_load(wide: float, deep: float, high: float, own: float, density: float) -> float:
    """What a drawer's runners carry [kg]: its own boards, and its inside full [mm, kg/l]."""
    return own + wide * deep * high / 1e6 * density


def feet(load: float, least: int, carries: float) -> int:
    """Feet or legs under a load [kg], in pairs, at least as many as stand there anyway."""
    count = least
    while count * carries < load:
        count += 2
    return count


def least_feet(plinth: int) -> int:
    """Feet of a plinth of so many boards: one in each corner of a frame, two in a row under a front board alone."""
    return 4 if plinth > 1 else 2


def of_front(unit: UnitBox, front: Front, part: Part, opening: Opening, limits: Limits) -> Iterator[Fit]:
    """The fittings of one front but its runners. part : its board."""
    push = opening == "push"
    closing = "unsprung" if push else "soft-close"
    if front.kind == "door":
        yield _hinges(front, part, closing, limits)
    elif front.kind == "flap":
        yield from _flap(unit, front, part, closing, limits)
    leaf = front.kind in ("door", "flap")
    if push and leaf:
        yield Fit("push_latch", "Push latch", 1, "one a door or flap: nothing on the front")
    if opening == "handle":
        yield Fit("handle", "Handle or grip", 1, "one a front")


def _hinges(front: Front, part: Part, closing: str, limits: Limits) -> Fit:
    count = hinge_count(part.mass, front.box.height, front.box.width, limits)
    why = f"{count} a door: {asked_by(part.mass, front.box.height, front.box.width, limits)}"
    if front.cell.front == "glass":
        return Fit("glass_hinge", f"Hinge for glass, {closing}", count, why)
    row = crank(overlay(front))
    return Fit("hinge", f"{row.name}, {closing}", count, f"{why}; overlay {overlay(front):.1f}")


def _flap(unit: UnitBox, front: Front, part: Part, closing: str, limits: Limits) -> Iterator[Fit]:
    high, wide = front.box.height, front.box.width
    row = crank(overlay(front))
    count = hinge_count(part.mass, wide, 0.0, limits)
    yield Fit(
        "hinge",
        f"{row.name}, {closing}",
        count,
        f"{count} a flap: {asked_by(part.mass, wide, 0.0, limits, 'long')}",
    )
    torque = flap_load(unit.kind, part.mass, high, limits)
    kind = stay_kind(unit.kind, lifts=front.lifts)
    row = by_load(kind, torque)
    over = f"; more than the {row.carries:.0f} N·m that the strongest holds" if torque > row.carries else ""
    if kind == "desk_stay":
        why = f"{torque:.0f} N·m level at 90°: {part.mass:.1f} kg and elbows on its edge; two a flap{over}"
        yield Fit("desk_stay", row.name, 2, why)
        return
    hand = torque / (high / 1000) if high else 0.0
    why = f"{torque:.1f} N·m: {part.mass:.1f} kg, {high:.0f} high; two a flap{over}. Without them {hand:.0f} N at its edge"
    yield Fit("lift", row.name, 2, why)


def stay_kind(unit: str, *, lifts: bool) -> str:
    """The kind of stay that holds a flap: a desk's locks level, one above the eyes is lifted, another is let down."""
    return "desk_stay" if unit == "desk" else "lift_stay" if lifts else "stay"


def flap_load(unit: str, mass: float, high: float, limits: Limits) -> float:
    """The torque that a flap's stays hold [N·m]: its own, on a desk with elbows on its edge too. mass kg, high mm."""
    return (
        writing_torque(mass, high, limits.value("carcass.desk_lean"))
        if unit == "desk"
        else flap_torque(mass, high)
    )


def on_runners(  # noqa: PLR0913
    unit: UnitBox, front: Front, part: Part, run: float, opening: Opening, boards: Mapping[str, Part], limits: Limits
) -> OnRunners:  # fmt: skip
    """What the runners of a drawer's or pull-out's front are chosen by. part : the front's board · run : of the runner [mm] ·
    boards : of its unit, by reference
    """
    density, bay = limits.value("joinery.drawer_density"), f"{unit.ref}.{front.cell.number}"
    ends = "push-open" if opening == "push" else "soft-close"
    if front.kind == "pull_out":
        own = part.mass + sum(board.mass for key, board in boards.items() if key.startswith(f"{bay}-O"))
        clear = front.cell.clear
        full = drawer_load(clear.width, run, clear.height, own, density)
        return OnRunners(bay, unit.ref, "pull_out", run, ends, own, full)
    ref = f"{bay}-D{front.number}"
    own = part.mass + sum(board.mass for key, board in boards.items() if key[:-1] == ref)
    side, end = boards.get(f"{ref}L"), boards.get(f"{ref}F")
    inside = (end.block.dx, side.block.dy, side.block.dz) if side and end else (0.0, 0.0, 0.0)
    return OnRunners(ref, unit.ref, "runner", run, ends, own, drawer_load(*inside, own, density))


def runner(drawer: OnRunners, kept: float | None = None) -> Fit:
    """The runners of a drawer or pull-out. kept : what storage put in it [kg]; None = as much as goes in at the usual density."""
    load = drawer.full if kept is None else drawer.own + kept
    row = by_load(drawer.kind, load, drawer.run)
    what = (
        f"{load:.0f} kg full" if kept is None else f"{load:.0f} kg with the {kept:.0f} kg that it is to keep"
    )
    if load > row.carries:
        why = f"{what} ({drawer.own:.1f} kg its own boards): more than {row.carries:.0f} kg, keep light things in it"
    else:
        why = f"{what}, {drawer.own:.1f} kg of it its own boards"
    if drawer.kind == "pull_out":
        return Fit("pull_out", f"{row.name}, {drawer.run:.0f} mm, {drawer.ends}", 1, why)
    name = f"Drawer runners {drawer.run:.0f} mm, full extension, {drawer.ends}, {row.carries:.0f} kg, pair"
    return Fit("runner", name, 1, why)


def lines(unit: str, fits: Iterable[Fit]) -> Iterator[Hardware]:
    """The schedule's lines of a unit: those that are alike added up."""
    counts: dict[tuple[str, str, str], int] = {}
    for fit in fits:
        key = (fit.kind, fit.name, fit.why)
        counts[key] = counts.get(key, 0) + fit.quantity
    for (kind, name, why), quantity in counts.items():
        yield Hardware(kind, name, unit, quantity, why)
