"""The programme of one wall: only the works it has, their durations from the quantities, and the four holds.

Trades work in this order: nothing is closed before it is tested and photographed (H1), nothing is hung before the fixings are
pulled (H2), nothing is loaded before it is level (H3), nothing is handed over untested (H4).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Later, Why
from wallwright.library import load
from wallwright.programme.network import Activity, Schedule, in_order, schedule
from wallwright.programme.record import Gate, Programme, Task

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut
    from wallwright.money.record import Line

APPROVED = "drawings and samples signed"
SET_OUT = "set-out signed on the wall"
H1 = "H1: continuity and insulation measured, draw wires pulled, photographed with a tape, before anything is closed"
DRY = "moisture check passed"
DRY_FIT = "screen template and bracket held over the boxes at their height, seen from the seats"
ROUTE = "way in walked with the size of the screen's box"
H2 = "H2: fixings pull-tested, plumb and flat, mount height checked"
TEMPLATE = "stone templated on the wall before it is cut"
H3 = "H3: units level to 1 mm a metre, load test"
DEAD = "dead tests by the licensed electrician"
H4 = "H4: test record, leakage device tripped, every function shown"
SIGNED = "snags closed, signed over"
GATES = (
    ("G0", "brief agreed", ()),
    ("G1", "survey closed", ("survey",)),
    ("G2", "screen and height frozen", ("approve",)),
    ("G3", "first fix verified, cutting released", ("dry_fit",)),
    ("G4", "delivery route proved", ("order_screen",)),
    ("G5", "commissioned", ("test",)),
    ("G6", "handed over", ("snag",)),
)
"""What is signed, and after which task. Common practice."""


@dataclass(frozen=True, slots=True)
class Work:
    """A task before it is timed."""

    ref: str
    name: str
    trade: str
    days: int
    after: tuple[str, ...]
    says: str
    hold: str = ""


def plan(setout: SetOut, lines: Sequence[Line], limits: Limits) -> Programme:
    """The works network of a wall in working days; day 0 is the survey."""
    works = _linked(tuple(_before_site(setout, lines, limits)) + tuple(_on_site(setout, lines, limits)))
    times = schedule(Activity(work.ref, work.days, work.after) for work in works)
    by_ref = {work.ref: work for work in works}
    tasks = tuple(_task(by_ref[ref], times) for ref in times.times)
    return Programme(tasks, times.days, times.critical, Later(partial(_whys, works, times)), _gates(times))


def _gates(times: Schedule) -> tuple[Gate, ...]:
    """Each gate at the end of the task that it follows."""
    return tuple(
        Gate(ref, name, after[0] if after else "", times.times[after[0]].early_finish if after else 0)
        for ref, name, after in GATES
    )


def _before_site(setout: SetOut, lines: Sequence[Line], limits: Limits) -> Iterator[Work]:
    """Survey, approval, orders with their lead times, and the workshop."""
    value = _days(limits)
    yield Work("survey", "Survey and probe the wall", "design", value("survey_days"), (), "as agreed")
    yield Work(
        "approve", "Design and approval", "design", value("design_days"), ("survey",), "as agreed", APPROVED
    )
    for kind, name in _orders(lines, setout):
        hold = ROUTE if kind == "screen" else ""
        days = value(f"lead_{kind}_days")
        yield Work(f"order_{kind}", f"Order {name}", "supply", days, ("approve",), "lead time", hold)
    if setout.units or setout.zones:
        hours = _sum(lines, "h", "labour_carcass", "labour_drawer", "labour_door")
        days = max(value("shop_least_days"), _whole(hours, limits.value("programme.shop_hours_per_day")))
        after = (
            "order_boards",
            "order_hardware",
            "order_veneer",
            "order_glass",
            "dry_fit",
        )  # no cut before boxes are checked
        yield Work(
            "workshop",
            "Cut, edge and assemble in the workshop",
            "joinery",
            days,
            after,
            f"{hours:.1f} h of shop work",
        )


def _orders(lines: Sequence[Line], setout: SetOut) -> Iterator[tuple[str, str]]:
    refs = {line.ref for line in lines}
    finishes = {kind for ref in refs if "finish_" in ref for kind in [_finish_kind(ref)]}
    if setout.units or setout.zones:
        yield "boards", "boards"
    if any(ref.startswith("hardware_") for ref in refs):
        yield "hardware", "hardware"
    if "veneer" in finishes:
        yield "veneer", "veneer"
    if finishes & {"glass", "mirror"}:
        yield "glass", "glass"
    if finishes & {"stone", "stone_veneer"}:
        yield "stone", "stone"
    yield "screen", "the screen and its bracket"


def _on_site(setout: SetOut, lines: Sequence[Line], limits: Limits) -> Iterator[Work]:
    """The wall itself, in the order of the trades; a work names all it might follow, and `_linked` keeps those there are."""
    value = _days(limits)
    points = _sum(lines, "nr", *(line.ref for line in lines if line.ref.startswith("point_")))
    stone = sum(
        line.quantity
        for line in lines
        if _finish_kind(line.ref) in ("stone", "stone_veneer") and line.unit == "m²"
    )
    # a field for stone veneer that is finished in something else is boarded like any other
    zones = [zone for zone in setout.zones if zone.kind != "stone_veneer" or not stone]
    panel = sum(zone.box.area for zone in zones) / 1e6
    paint = sum(line.quantity for line in lines if _finish_kind(line.ref) == "paint" and line.unit == "m²")
    units = len(setout.units)
    chased = _sum(lines, "m", "chase_shallow", "chase_deep")
    yield Work(
        "protect",
        "Protect, isolate, set out",
        "site",
        value("protect_days"),
        ("approve",),
        "as agreed",
        SET_OUT,
    )
    if points:
        days = _whole(points, limits.value("programme.points_per_day"))
        if chased:
            cutting = _whole(chased, limits.value("programme.chase_per_day"))
            yield Work(
                "chase",
                "Chases and boxes",
                "electrical",
                cutting,
                ("protect",),
                f"{chased:g} m of chase as priced",
            )
        yield Work(
            "first_fix",
            "First fix: conduit and cable",
            "electrical",
            days,
            ("chase", "protect"),
            f"{points:g} points",
            H1,
        )
    after = ("first_fix", "protect")
    yield Work("dry_fit", "Dry-fit the screen's template", "screen", 0, after, "held up once", DRY_FIT)
    if chased:
        yield Work(
            "make_good",
            "Make good the chases",
            "plaster",
            value("make_good_days"),
            ("dry_fit",),
            "as agreed",
        )
        yield Work("dry", "Plaster dries", "plaster", value("dry_days"), ("make_good",), "drying time", DRY)
    closed = ("dry", "make_good", "dry_fit")
    yield Work(
        "subframe",
        "Subframe, backers and fixings",
        "joinery",
        value("subframe_days"),
        closed,
        "as agreed",
        H2,
    )
    if stone:
        days = _whole(stone, limits.value("programme.stone_per_day")) + value("stone_set_days")
        yield Work(
            "stone",
            "Stone or stone veneer, set",
            "stone",
            days,
            ("subframe", "panels", "order_stone"),
            f"{stone:.1f} m²",
            TEMPLATE,
        )
    if zones:
        days = _whole(panel, limits.value("programme.panel_per_day"))
        yield Work("panels", "Panels", "joinery", days, ("subframe", "workshop"), f"{panel:.1f} m² of panel")
    if paint:
        coats = limits.value("programme.paint_coats")
        days = _whole(paint * coats, limits.value("programme.paint_per_day"))
        after = ("panels", "stone", "subframe")
        yield Work("paint", "Paint", "painting", days, after, f"{paint:.1f} m², {coats:g} coats")
    clad = ("paint", "panels", "stone", "subframe")
    if units:
        days = _whole(units, limits.value("programme.hang_per_day"))
        yield Work(
            "hang", "Hang and stand the units", "joinery", days, (*clad, "workshop"), f"{units} units", H3
        )
    yield from _finish(points, lines, limits, ("hang", *clad))


def _finish(points: float, lines: Sequence[Line], limits: Limits, built: tuple[str, ...]) -> Iterator[Work]:
    """Second fix to handover."""
    value = _days(limits)
    lit = any(line.ref == "led_strip" for line in lines)
    if points:
        days = _whole(points, limits.value("programme.second_fix_per_day"))
        yield Work(
            "second_fix",
            "Second fix: plates and drivers",
            "electrical",
            days,
            built,
            f"{points:g} points",
            DEAD,
        )
    wired = ("second_fix", *built)
    yield Work(
        "screen", "Screen and sound", "screen", value("screen_days"), (*wired, "order_screen"), "two people"
    )
    if lit:
        yield Work("lighting", "Lighting set and dimmed", "light", value("lighting_days"), wired, "as agreed")
    yield Work(
        "test",
        "Inspect, test, commission",
        "electrical",
        value("test_days"),
        ("screen", "lighting"),
        "as agreed",
        H4,
    )
    yield Work("snag", "Snag, clean, hand over", "site", value("snag_days"), ("test",), "as agreed", SIGNED)


def _linked(works: Iterable[Work]) -> tuple[Work, ...]:
    """The works with only those predecessors that this wall has and that no other predecessor already implies."""
    by_ref = {work.ref: work for work in works}
    waits = {ref: tuple(one for one in work.after if one in by_ref) for ref, work in by_ref.items()}
    before: dict[str, frozenset[str]] = {}
    for item in in_order(Activity(ref, 0, after) for ref, after in waits.items()):
        before[item.ref] = frozenset(item.after).union(*(before[ref] for ref in item.after))
    return tuple(
        replace(
            work,
            after=tuple(one for one in waits[ref] if not any(one in before[other] for other in waits[ref])),
        )
        for ref, work in by_ref.items()
    )


def _days(limits: Limits) -> Callable[[str], int]:
    """The limit of that name as whole days, rounded up."""

    def value(name: str) -> int:
        return math.ceil(limits.value(f"programme.{name}"))

    return value


def _whole(quantity: float, per_day: float) -> int:
    """Whole days, at least one."""
    if not per_day > 0:
        msg = f"programme: an output of {per_day:g} a day never ends; give more than 0"
        raise ValueError(msg)
    return max(1, math.ceil(round(quantity / per_day, 9)))


def _sum(lines: Sequence[Line], unit: str, *refs: str) -> float:
    return sum(line.quantity for line in lines if line.unit == unit and line.ref in refs)


def _finish_kind(ref: str) -> str:
    """The kind of finish a line prices; "" for any other line."""
    row = load.finishes().get(ref.removeprefix("wall_").removeprefix("finish_")) if "finish_" in ref else None
    return row.kind if row else ""


def _task(work: Work, times: Schedule) -> Task:
    at = times.times[work.ref]
    return Task(
        work.ref, work.name, work.trade, work.days, work.after,
        at.early_start, at.early_finish, at.late_start, at.late_finish, work.hold,
    )  # fmt: skip


def _whys(works: Iterable[Work], times: Schedule) -> Iterator[Why]:
    for work in works:
        given = (Given("from", work.says), Given("slack", times.times[work.ref].slack, "days"))
        yield Why(
            f"programme.{work.ref}.days",
            work.days,
            "days",
            f"{work.name}: {work.says}.",
            "quantity / output a day",
            given,
            "outputs, lead and drying times of the rule set",
            "common practice",
        )
    chain = (Given("critical", ", ".join(times.critical)),)
    says = "The longest chain of works that wait for each other."
    yield Why(
        "programme.days", times.days, "days", says, "critical path", chain, "critical path method", "computed"
    )
