"""The items of the wall as a trade measures them: what, size, material, finish, what is with it and what is not; one price each.

Measured in the style of a bill of joinery: cabinets and fittings by number with a dimensioned description and their front, sheet faces
by area, lengths to 0.01 m and areas to 0.01 m² (common practice after IS 1200-21 and NRM2).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.counted import counted
from wallwright.core.table import Cell, Column, Table
from wallwright.library import load
from wallwright.library.rates import METRIC
from wallwright.options.cost import SITE, cost_of_things

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, UnitBox
    from wallwright.derive import Wall

SHOWN_HARDWARE = (
    "runner",
    "hinge",
    "lift",
    "push_latch",
    "handle",
    "hanging_rail",
    "bracket",
    "foot",
    "anti_tip",
    "fan",
    "vent",
    "grommet",
)


@dataclass(frozen=True, slots=True)
class Item:
    """An item of the bill: its number, heading, description, what is with it and not with it, quantity and unit, price all in."""

    number: str
    ref: str
    heading: str
    says: str
    includes: str
    excludes: str
    quantity: float
    unit: str
    price: int


def items(wall: Wall) -> tuple[Item, ...]:
    """Every item; their prices sum to the price of the wall."""
    made: list[Item] = []
    for number, thing in enumerate(cost_of_things(wall), 1):
        heading, says, includes, excludes, quantity, unit = _described(wall, thing.ref, thing.name)
        made.append(
            Item(f"{number:02d}", thing.ref, heading, says, includes, excludes, quantity, unit, thing.price)
        )
    return tuple(made)


def bill(wall: Wall) -> Table:
    """The items with their quantity and price; where rates are not shown, without single prices."""
    money, shown = wall.money, wall.job.terms.rates_shown
    columns = (
        Column("Item"), Column("Description"), Column("Quantity", "", 2, "right"), Column("Unit"),
        Column("Price", money.currency, money.notation.decimals, "right"),
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    for item in items(wall):
        quantity, unit = (
            in_feet(item.quantity, item.unit)
            if wall.job.terms.measure == "feet"
            else (item.quantity, item.unit)
        )
        price = money.major(item.price) if shown else None
        rows.append((item.number, f"{item.ref}: {sentence(item)}", quantity, unit, price))
    rows.append(("", "Price of the wall, all in", None, "", money.major(money.total)))
    notes = (
        f"Drawings revision {wall.job.revision} of {wall.job.date}. Lengths to 0.01 m, areas to 0.01 m².",
    )
    return Table("items", "Items of the wall", columns, tuple(rows), notes)


def in_feet(quantity: float, unit: str) -> tuple[float, str]:
    """A metric quantity in the feet of the trade."""
    other = {"m²": "sq ft", "m": "rft"}.get(unit)
    return (round(quantity / METRIC[other][1], 2), other) if other else (quantity, unit)


def sentence(item: Item) -> str:
    """An item in one sentence, as it stands in the bill."""
    tail = "".join(
        f"; {word} {text}" for word, text in (("incl.", item.includes), ("excl.", item.excludes)) if text
    )
    return f"{item.heading} {item.says}{tail}".strip()


def _described(wall: Wall, ref: str, name: str) -> tuple[str, str, str, str, float, str]:
    unit = next((unit for unit in wall.setout.units if unit.ref == ref), None)
    if unit is not None:
        return _unit(wall, unit)
    zone = next((zone for zone in wall.setout.zones if zone.ref == ref), None)
    if zone is not None:
        return _zone(wall, zone)
    run = next((run for run in wall.light.runs if run.ref == ref), None)
    if run is not None:
        dimmed = ", dimmed" if run.dimmable else ""
        says = (
            f"{run.length / 1000:.2f} m, {run.watts_per_m:g} W/m, {run.volts} V, {run.colour:.0f} K{dimmed}"
        )
        return (
            name,
            says,
            "profile, driver, dimmer where dimmed, setting",
            "",
            round(run.length / 1000, 2),
            "m",
        )
    return _rest(wall, ref, name)


def _unit(wall: Wall, unit: UnitBox) -> tuple[str, str, str, str, float, str]:
    kind = unit.kind.replace("_", " ")
    stands = "Wall-hung" if unit.hung else "Standing"
    heading = f"{stands} {kind}" if unit.cabinet else f"{kind.capitalize()}"
    area = round(round(unit.box.width / 1000, 2) * round(unit.box.height / 1000, 2), 2)
    says = (
        f"{unit.box.width:.0f} × {unit.box.height:.0f} × {unit.depth:.0f} mm overall (front {area:.2f} m²), "
        f"{'; '.join(_made_of(wall, unit))}"
    )
    fittings = Counter[str]()
    for item in wall.carcass.hardware:
        if item.unit == unit.ref and item.kind in SHOWN_HARDWARE:
            fittings[item.name] += item.quantity
    own = {part.id for part in wall.carcass.parts if part.unit == unit.ref}
    for line in wall.money.lines:
        if line.ref.startswith("vent_") and (cut := sum(ref in own for ref in line.of)):
            fittings[line.item] += cut
    includes = ", ".join(
        [
            *(f"{count} nr {name.lower()}" for name, count in fittings.items()),
            "fixing, levelling and scribing",
        ]
    )
    return heading, says, includes, "electrical work, what is kept in it", 1.0, "nr"


def _made_of(wall: Wall, unit: UnitBox) -> Iterator[str]:
    boards, finishes = load.boards(), load.finishes()
    yield boards[unit.board].name if unit.board in boards else unit.board
    own = [part for part in wall.carcass.parts if part.unit == unit.ref]
    inside = {part.finish for part in own if part.role not in ("front", "face") and part.finish in finishes}
    if inside:
        yield "faced in " + " and ".join(sorted(finishes[key].name for key in inside))
    moving = Counter(mover.kind.replace("_", " ") for mover in wall.carcass.movers if mover.unit == unit.ref)
    opens = sum(bay.front == "open" for bay in wall.carcass.bays if bay.unit == unit.ref)
    fronts = [f"{count} nr {kind}{'s' if count > 1 else ''}" for kind, count in moving.items()]
    if fronts and unit.front_finish in finishes:
        yield f"{', '.join(fronts)} in {finishes[unit.front_finish].name}"
    if opens and unit.cabinet:
        yield f"{opens} open bay{'s' if opens > 1 else ''}"
    shelves = sum(part.role == "shelf" for part in own)
    if shelves and unit.cabinet:
        yield f"{shelves} {'shelves' if shelves > 1 else 'shelf'}"
    backs = sorted({f"{part.thickness:g} mm" for part in own if part.role == "back"})
    if backs:
        yield f"back {' and '.join(backs)}"
    bands = sorted({edge for part in own for edge in part.edges if edge})
    if bands:
        yield (
            f"edges {' and '.join(bands)} mm"
            if all(_number(band) for band in bands)
            else f"edges {' and '.join(bands)}"
        )


def _number(text: str) -> bool:
    return text.replace(".", "", 1).isdigit()


def _zone(wall: Wall, zone: PanelZone) -> tuple[str, str, str, str, float, str]:
    boards, finishes = load.boards(), load.finishes()
    area = round(round(zone.box.width / 1000, 2) * round(zone.box.height / 1000, 2), 2)
    kind = zone.kind.replace("_", " ")
    words = [f"{zone.box.width:.0f} × {zone.box.height:.0f} mm"]
    if zone.boarded and zone.board in boards:
        words.append(boards[zone.board].name)
    if zone.finish in finishes:
        words.append(finishes[zone.finish].name)
    if zone.flutes:
        words.append(f"{zone.flutes} flutes at {zone.flute_pitch:g} mm")
    if zone.void:
        words.append(f"on battens, {zone.void:.0f} mm void behind")
    return (
        f"Panel, {kind},",
        "; ".join(words),
        "battens, cut-outs, fixing plumb",
        "making good of the wall behind",
        area,
        "m²",
    )


def _how_laid(wall: Wall) -> str:
    """What the runs lie in, as it is in the price."""
    chased = any(line.ref.startswith("chase") for line in wall.money.lines)
    shown = any(run.on_surface > 0 for run in wall.services.runs)
    return ", ".join(
        words
        for words, there in (
            ("chases and their making good", chased),
            ("trunking on the wall", shown),
            ("conduit", True),
        )
        if there
    )


def _rest(wall: Wall, ref: str, name: str) -> tuple[str, str, str, str, float, str]:
    if ref == "services":
        kinds = Counter(
            point.kind.replace("rf", "aerial").replace("_", " ") for point in wall.services.points
        )
        points = ", ".join(f"{count} nr {kind}" for kind, count in kinds.items())
        count = float(len(wall.services.points))
        says = f"{points}; {counted(len(wall.services.runs), 'run')}, {counted(len(wall.services.circuits), 'circuit')}"
        return (
            f"{name}:",
            says,
            f"{_how_laid(wall)}, boxes, cable, tests and their record",
            "a new board, new supply",
            count,
            "nr",
        )
    if ref == "wall":
        finish = next((line for line in wall.money.lines if line.ref.startswith("wall_finish_")), None)
        area = finish.quantity if finish and finish.unit == "m²" else round(wall.face.box.area / 1e6, 2)
        return (
            f"{name}:",
            finish.item if finish else "",
            "this wall to its corners",
            "other walls, ceiling",
            area,
            "m²",
        )
    if ref == "screen":
        mount = wall.sight.screen.mount
        return (
            f"{name}:",
            f"bracket ({mount}), lifted and hung by two people, plugged in",
            "fixings, pull test",
            "the screen itself",
            1.0,
            "nr",
        )
    if ref == SITE:
        return (
            f"{name}:",
            "survey, set-out, floor covered, delivery, rubbish taken away",
            "",
            "emptying the room",
            1.0,
            "item",
        )
    return f"{name}:", "", "", "", 1.0, "nr"
