"""An independent check of a cutting plan: nothing here knows how the plan was found.

Two ways that share nothing, and both must be content:

* the **saw**: begin with the sheet as delivered, make the cuts of the printed list one after the other, lose the kerf
  at each, and see which panels lie on the bench at the end;
* the **tape**: look at the coordinates only: inside the trimmed sheet, a blade's width between any two parts, grain,
  and whether straight cuts right through can part them in as few stages as promised.

The cuts inside a matched set belong to the set: no stage limit counts them.

Then the counts: every part exactly as often as wanted, the stock, the price; and the bounds, priced again (``reprice.py``).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from wallwright.cutting.model import Cut, Offcut, Piece, Placed, Plan, Problem, Saw, Sheet, SheetPlan
from wallwright.cutting.reprice import Shown, shown


class Verdict(NamedTuple):
    """Faults in plain words (none = a clean plan), and the materials whose bound was too much work to price again."""

    faults: list[str]
    unchecked: list[str]


Rect = tuple[int, int, int, int]  # low x, low y, high x, high y


def verify(problem: Problem, plan: Plan) -> list[str]:
    """Every fault of the plan in plain words; an empty list is a clean plan."""
    return examine(problem, plan).faults


def examine(problem: Problem, plan: Plan) -> Verdict:
    """Every fault of the plan, and what was too much work to check: then its bounds and ``proved`` are only said."""
    faults: list[str] = []
    for number, layout in enumerate(plan.sheets, 1):
        where = f"sheet {number} ({layout.sheet.name})"
        for fault in (*_saw(layout, problem), *_tape(layout, problem), *_matches(layout, problem)):
            faults.append(f"{where}: {fault}")
    faults += _counts(problem, plan)
    faults += _stock(problem, plan)
    faults += _sums(plan)
    least = shown(problem, plan)
    faults += _bounds(plan, least)
    return Verdict(faults, [] if _below(plan, least) else list(least.unchecked))


# --- the saw ---------------------------------------------------------------------------------------------------------


def _saw(layout: SheetPlan, problem: Problem) -> Iterator[str]:
    """Make the cuts of the list; compare what lies on the bench with the parts and offcuts promised."""
    saw = problem.saw
    bench: dict[int, Rect] = {1: (0, 0, layout.sheet.length, layout.sheet.width)}
    depth: dict[int, tuple[int, str]] = {1: (0, "")}
    freeing: list[Cut] = []
    stage = 0
    sets = _set_rects(layout, problem)
    made = dict(bench)  # every panel there ever was
    for cut in layout.cuts:
        fault = _one_cut(cut, bench, saw.kerf)
        if fault:
            yield fault
            return
        if cut.stage < stage:
            yield f"cut of panel {cut.panel}: stage {cut.stage} after stage {stage}; not in sawing order"
        stage = max(stage, cut.stage)
        made.update(bench)
        yield from _one_stage(cut, depth, saw, freeing, free=_within(made[cut.panel], sets))
    yield from _bench(layout, bench)
    yield from _trimmings(layout, bench, made, freeing, sets)


def _one_cut(cut: Cut, bench: dict[int, Rect], kerf: int) -> str | None:
    """Saw one panel in two; says what is wrong with the cut."""
    label = f"cut of panel {cut.panel} at {cut.axis} {cut.at}"
    panel = bench.pop(cut.panel, None)
    if panel is None:
        return f"{label}: no such panel on the bench"
    x0, y0, x1, y1 = panel
    across = (y0, y1) if cut.axis == "x" else (x0, x1)
    low, high = (x0, x1) if cut.axis == "x" else (y0, y1)
    if (cut.start, cut.end) != across:
        return f"{label}: runs from {cut.start} to {cut.end}, the panel from {across[0]} to {across[1]}"
    if cut.at + kerf <= low or cut.at >= high:
        return f"{label}: the blade misses the panel ({low} to {high})"
    below, above = (low, cut.at), (cut.at + kerf, high)
    for number, (start, end) in ((cut.first, below), (cut.second, above)):
        if (number is not None) != (end > start):
            return f"{label}: panel {number} from {start} to {end} cannot be"
        if number is None:
            continue
        if number in bench or number == cut.panel:
            return f"{label}: panel number {number} is taken"
        bench[number] = (start, y0, end, y1) if cut.axis == "x" else (x0, start, x1, end)
    return None


def _one_stage(
    cut: Cut, depth: dict[int, tuple[int, str]], saw: Saw, freeing: list[Cut], *, free: bool
) -> Iterator[str]:
    """Count how often the direction has changed on the way to this panel; trimming the sheet does not count.

    ``free``: the cut parts a matched set, which no stage limit counts.
    """
    level, axis = depth[cut.panel]
    if cut.stage > 0:
        level, axis = (level if cut.axis == axis else level + 1), cut.axis
        if level != cut.stage:
            yield f"cut of panel {cut.panel}: called stage {cut.stage}, is stage {level}"
        if saw.stages != "any" and level > saw.stages + 1 and not free:
            yield f"cut of panel {cut.panel}: stage {level}, the saw allows {saw.stages} and a trimming cut"
        if saw.stages != "any" and level == saw.stages + 1 and not free:
            freeing.append(cut)
    elif level:
        yield f"cut of panel {cut.panel}: edges trimmed after stage {level}"
    for number in (cut.first, cut.second):
        if number is not None:
            depth[number] = (level, axis)


def _bench(layout: SheetPlan, bench: dict[int, Rect]) -> Iterator[str]:
    """Every part and offcut promised must be a panel of its own."""
    number_at = {rect: number for number, rect in bench.items()}
    taken: set[int] = set()
    for what, rect in _promised(layout):
        number = number_at.get(rect)
        if number is None:
            yield f"{what}: the cuts leave no panel from ({rect[0]}, {rect[1]}) to ({rect[2]}, {rect[3]})"
        elif number in taken:
            yield f"{what}: its panel {number} is already used"
        else:
            taken.add(number)


def _trimmings(
    layout: SheetPlan,
    bench: dict[int, Rect],
    made: dict[int, Rect],
    freeing: Sequence[Cut],
    sets: Sequence[Rect],
) -> Iterator[str]:
    """A trimming cut may free only one part (or one matched set), and nothing is sawn after it."""
    singles = [r for r in map(_rect, layout.placed) if not _within(r, sets)]
    for cut in freeing:
        whole = made[cut.panel]
        if sum(_within(thing, [whole]) for thing in (*singles, *sets)) > 1:
            yield f"cut of panel {cut.panel}: a trimming cut that parts two parts"
        for number in (cut.first, cut.second):
            if number is not None and number not in bench and not _within(made[number], sets):
                yield f"cut of panel {cut.panel}: cut again after the trimming cut"


def _promised(layout: SheetPlan) -> Iterator[tuple[str, Rect]]:
    for part in layout.placed:
        yield f"part {part.name}", _rect(part)
    for offcut in layout.offcuts:
        yield "offcut", _rect(offcut)


def _rect(thing: Placed | Offcut) -> Rect:
    return (thing.x, thing.y, thing.x + thing.length, thing.y + thing.width)


# --- the tape --------------------------------------------------------------------------------------------------------


def _tape(layout: SheetPlan, problem: Problem) -> Iterator[str]:
    """Check the coordinates alone."""
    saw, sheet = problem.saw, layout.sheet
    trim = _own_trim(sheet, saw.trim)
    inside = (trim, trim, sheet.length - trim, sheet.width - trim)
    things = list(_promised(layout))
    for what, (x0, y0, x1, y1) in things:
        if x0 < inside[0] or y0 < inside[1] or x1 > inside[2] or y1 > inside[3]:
            yield f"{what}: ({x0}, {y0}) to ({x1}, {y1}) is not inside the trimmed sheet"
        if x1 <= x0 or y1 <= y0:
            yield f"{what}: has no size"
    ordered = sorted(things, key=lambda thing: thing[1])
    for i, (what, a) in enumerate(ordered):
        for other, b in ordered[i + 1 :]:
            if b[0] >= a[2] + saw.kerf:
                break
            if b[1] < a[3] + saw.kerf and a[1] < b[3] + saw.kerf:
                yield f"{what} and {other}: less than a kerf of {saw.kerf} between them"
    sets = _set_rects(layout, problem)
    depth = _depth([*(r for r in map(_rect, layout.placed) if not _within(r, sets)), *sets], saw.kerf)
    if depth is None:
        yield "no straight cut right through parts these parts: not guillotine"
    elif saw.stages != "any" and depth > saw.stages:
        yield f"needs {depth} stages, the saw allows {saw.stages}"


def _depth(rects: Sequence[Rect], kerf: int) -> int | None:
    """Fewest stages that part the rectangles, first cut either way; None where they cannot be parted."""
    if len(rects) < 2:
        return 0
    found = [d for axis in (0, 1) if (d := _depth_from(rects, kerf, axis)) is not None]
    return min(found, default=None)


def _depth_from(rects: Sequence[Rect], kerf: int, axis: int) -> int | None:
    """Stages when the first cuts part along this axis. All gaps are sawn at once: more cuts never need more stages."""
    groups: list[list[Rect]] = []
    reach = 0
    for rect in sorted(rects, key=lambda r: r[axis]):
        if not groups or rect[axis] >= reach + kerf:
            groups.append([])
        groups[-1].append(rect)
        reach = max(reach, rect[axis + 2])
    if len(groups) == 1:
        return None
    deepest = 0
    for group in groups:
        below = 0 if len(group) == 1 else _depth_from(group, kerf, 1 - axis)
        if below is None:
            return None
        deepest = max(deepest, below)
    return 1 + deepest


# --- matched sets ----------------------------------------------------------------------------------------------------


def _set_rects(layout: SheetPlan, problem: Problem) -> list[Rect]:
    """The rectangle round each matched set that has parts on this sheet."""
    return [
        (min(r[0] for r in own), min(r[1] for r in own), max(r[2] for r in own), max(r[3] for r in own))
        for _, own in _set_parts(layout, problem)
    ]


def _set_parts(layout: SheetPlan, problem: Problem) -> Iterator[tuple[str, list[Rect]]]:
    """Each matched set on this sheet: its name and its parts' rectangles in the order given."""
    order: dict[str, list[Key]] = {}
    for piece in problem.pieces:
        if piece.match and piece.material == layout.sheet.material:
            order.setdefault(piece.match, []).append(_key(piece))
    for match, keys in order.items():
        own: list[tuple[int, Rect]] = []
        for part in layout.placed:
            size = (part.width, part.length) if part.turned else (part.length, part.width)
            key = (part.name, layout.sheet.material, *size)
            if key in keys:
                own.append((keys.index(key), _rect(part)))
        if own:
            yield match, [rect for _, rect in sorted(own)]


def _within(rect: Rect, outer: Sequence[Rect]) -> bool:
    return any(o[0] <= rect[0] and o[1] <= rect[1] and rect[2] <= o[2] and rect[3] <= o[3] for o in outer)


def _matches(layout: SheetPlan, problem: Problem) -> Iterator[str]:
    """A matched set lies whole on one sheet, its parts one blade apart in the order given, flush on both sides."""
    wanted = Counter(
        p.match for p in problem.pieces if p.material == layout.sheet.material for _ in range(p.quantity)
    )
    for match, rects in _set_parts(layout, problem):
        if len(rects) != wanted[match]:
            yield f"matched set {match}: {len(rects)} of its {wanted[match]} parts on one sheet"
        runs = {
            axis
            for axis in (0, 1)
            if all(
                b[axis] == a[axis + 2] + problem.saw.kerf
                and (a[1 - axis], a[3 - axis]) == (b[1 - axis], b[3 - axis])
                for a, b in pairwise(rects)
            )
        }
        if not runs:
            yield f"matched set {match}: its parts do not follow one another in order in one strip"


# --- the counts ------------------------------------------------------------------------------------------------------

Key = tuple[str, str, int, int]  # name, material, the part's own length and width


def _key(piece: Piece) -> Key:
    return (piece.name, piece.material, piece.length, piece.width)


def _counts(problem: Problem, plan: Plan) -> Iterator[str]:
    """Every part as often as wanted, less what the plan says it could not place; none other; none across the grain."""
    wanted: Counter[Key] = Counter()
    grain: dict[Key, str] = {}
    for piece in problem.pieces:
        wanted[_key(piece)] += piece.quantity
        grain[_key(piece)] = piece.grain
    made: Counter[Key] = Counter({_key(piece): 0 for piece in problem.pieces})
    for layout in plan.sheets:
        for part in layout.placed:
            own = (part.width, part.length) if part.turned else (part.length, part.width)
            key = (part.name, layout.sheet.material, *own)
            made[key] += layout.count
            if (grain.get(key), part.turned) in (("length", True), ("width", False)):
                yield f"part {part.name}: lies across the grain on {layout.sheet.name}"
    for piece in plan.unplaced:
        made[_key(piece)] += piece.quantity
    for key, count in made.items():
        if count != wanted[key]:
            yield f"part {key[0]} ({key[1]}, {key[2]} x {key[3]}): {count} on the plan, {wanted[key]} wanted"


def _stock(problem: Problem, plan: Plan) -> Iterator[str]:
    """Only sheets on offer, no more than there are, none left unused that would take an unplaced part."""
    used: Counter[Sheet] = Counter()
    for layout in plan.sheets:
        used[layout.sheet] += layout.count
        if layout.count < 1:
            yield f"sheet {layout.sheet.name}: cut {layout.count} times"
    for sheet, count in used.items():
        if sheet not in problem.sheets:
            yield f"sheet {sheet.name}: not on offer"
        elif sheet.quantity is not None and count > sheet.quantity:
            yield f"sheet {sheet.name}: {count} used, {sheet.quantity} in stock"
    for piece in plan.unplaced:
        for sheet in problem.sheets:
            spare = sheet.quantity is None or used[sheet] < sheet.quantity
            if (
                spare
                and not piece.match
                and sheet.material == piece.material
                and _holds(sheet, piece, problem.saw.trim)
            ):
                yield f"part {piece.name}: unplaced, yet sheet {sheet.name} is still in stock"


def _own_trim(sheet: Sheet, trim: int) -> int:
    return trim if sheet.trim is None else sheet.trim


def _holds(sheet: Sheet, piece: Piece, trim: int) -> bool:
    trim = _own_trim(sheet, trim)
    room = (sheet.length - 2 * trim, sheet.width - 2 * trim)
    straight = piece.length <= room[0] and piece.width <= room[1]
    turned = piece.width <= room[0] and piece.length <= room[1]
    return (straight and piece.grain != "width") or (turned and piece.grain != "length")


def _below(plan: Plan, least: Shown) -> bool:
    """Are the bounds shown, even without the material that was left out?"""
    return plan.lower_bound <= least.sheets and plan.price_bound <= least.price * (1 + 1e-12) + 1e-6


def _sums(plan: Plan) -> Iterator[str]:
    """Sheets used and price against our own sums, and the bounds against them."""
    used = sum(layout.count for layout in plan.sheets)
    if used != plan.used:
        yield f"used: {plan.used} said, {used} on the plan"
    price = sum(layout.count * layout.sheet.price for layout in plan.sheets)
    if not abs(price - plan.price) <= 0.005 * used + 1e-6:  # prices count to the hundredth
        yield f"price: {plan.price} said, {price} on the plan"
    if plan.unplaced:
        return
    if plan.lower_bound > used:
        yield f"lower bound {plan.lower_bound} above the {used} sheets used"
    if plan.price_bound > plan.price + 1e-6:
        yield f"price bound {plan.price_bound} above the price {plan.price}"


def _bounds(plan: Plan, least: Shown) -> Iterator[str]:
    """The bounds said against what could be shown; a plan below what is shown has parts missing."""
    if not plan.unplaced and plan.used < least.sheets:
        yield f"{plan.used} sheets used, fewer than the {least.sheets} that the parts need"
    if least.unchecked:
        return
    if not plan.lower_bound <= least.sheets:
        yield f"lower bound {plan.lower_bound}: no more than {least.sheets} sheets can be shown to be needed"
    if not plan.price_bound <= least.price * (1 + 1e-12) + 1e-6:
        yield f"price bound {plan.price_bound}: no more than {least.price} can be shown to be needed"
