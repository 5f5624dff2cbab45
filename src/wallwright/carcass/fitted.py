"""The fittings of fronts chosen by rule from the library: each line of the schedule says why it is that one and that many.

Hinges by weight, height and width, cranked by the overlay; runners by length and load; stays by torque; damping by how the front
opens: a push latch needs unsprung hinges and push-open runners, for a spring or damper works against it. Common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from wallwright.carcass.fronts import Front
from wallwright.carcass.hardware import asked_by, flap_torque, hinge_count, writing_torque
from wallwright.carcass.record import Hardware, Part, UnitBox
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
        return clear.z - box.z
    return clear.x - box.x if front.hung_left else box.right - clear.right


def by_load(kind: str, load: float) -> Fitting:
    """The lightest of a kind that carries a load; the strongest where none does."""
    rows = of_kind(kind)
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


def of_front(  # noqa: PLR0913
    unit: UnitBox, front: Front, part: Part, run: float, opening: Opening, boards: Mapping[str, Part], limits: Limits
) -> Iterator[Fit]:  # fmt: skip
    """The fittings of one front. part : its board · run : of its runner [mm] · boards : of its unit, by reference."""
    push = opening == "push"
    closing = "unsprung" if push else "soft-close"
    if front.kind == "door":
        yield _hinges(front, part, closing, limits)
    elif front.kind == "flap":
        yield from _flap(unit, front, part, closing, limits)
    else:
        yield _runner(unit, front, part, run, push, boards, limits)
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
    if unit.kind == "desk":
        torque = writing_torque(part.mass, high, limits.value("carcass.desk_lean"))
        why = f"holds {torque:.0f} N·m level at 90°: {part.mass:.1f} kg and elbows on its edge; two a flap"
        yield Fit("desk_stay", by_load("stay", torque).name if torque > 30 else "Desk flap stay", 2, why)
        return
    torque = flap_torque(part.mass, high)
    hand = torque / (high / 1000) if high else 0.0
    why = f"holds {torque:.1f} N·m: {part.mass:.1f} kg, {high:.0f} high; two a flap. Without them {hand:.0f} N at its edge"
    yield Fit("lift", by_load("stay", torque).name, 2, why)


def _runner(  # noqa: PLR0913
    unit: UnitBox, front: Front, part: Part, run: float, push: bool, boards: Mapping[str, Part], limits: Limits
) -> Fit:  # fmt: skip
    density, ref = limits.value("joinery.drawer_density"), f"{unit.ref}.{front.cell.number}-"
    ends = "push-open" if push else "soft-close"
    if front.kind == "pull_out":
        own = part.mass + sum(board.mass for key, board in boards.items() if key.startswith(f"{ref}O"))
        clear = front.cell.clear
        load = drawer_load(clear.width, run, clear.height, own, density)
        row = by_load("pull_out", load)
        return Fit("pull_out", f"{row.name}, {run:.0f} mm, {ends}", 1, _loaded(load, own, row))
    mine = {key: board for key, board in boards.items() if key.startswith(f"{ref}D{front.number}")}
    own = part.mass + sum(board.mass for board in mine.values())
    side, end = mine.get(f"{ref}D{front.number}L"), mine.get(f"{ref}D{front.number}F")
    inside = (end.block.dx, side.block.dy, side.block.dz) if side and end else (0.0, 0.0, 0.0)
    load = drawer_load(*inside, own, density)
    row = by_load("runner", load)
    return Fit(
        "runner",
        f"Drawer runners {run:.0f} mm, full extension, {ends}, {row.carries:.0f} kg, pair",
        1,
        _loaded(load, own, row),
    )


def _loaded(load: float, own: float, row: Fitting) -> str:
    if load > row.carries:
        return f"{load:.0f} kg full ({own:.1f} kg its own boards): more than {row.carries:.0f} kg, keep light things in it"
    return f"{load:.0f} kg full, {own:.1f} kg of it its own boards"


def lines(unit: str, fits: Iterable[Fit]) -> Iterator[Hardware]:
    """The schedule's lines of a unit: those that are alike added up."""
    counts: dict[tuple[str, str, str], int] = {}
    for fit in fits:
        key = (fit.kind, fit.name, fit.why)
        counts[key] = counts.get(key, 0) + fit.quantity
    for (kind, name, why), quantity in counts.items():
        yield Hardware(kind, name, unit, quantity, why)
