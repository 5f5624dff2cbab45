"""The owner's handover book: finish codes and their care, what each shelf bears, what comes next, and the list signed without snags."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import Mark
from wallwright.core.table import Cell, Column, Table
from wallwright.core.units import show_mm
from wallwright.library import load
from wallwright.sheets.beside import Block, Notes, column
from wallwright.sheets.long_table import columns, listed, whole
from wallwright.sheets.paper import Fields, Sheet
from wallwright.sheets.words import board_name, count, finish_name, unit_words
from wallwright.tables.materials import care
from wallwright.tables.screen_room import later_screen

if TYPE_CHECKING:
    from wallwright.derive import Wall

CAUTIONS = (
    "Before any hole or nail in this wall: look at the no-drill map, scan both ways with a detector. Cables are hidden here.",
    "Work on mains only by the licensed electrician. Keep towers fixed to the wall: children climb.",
)
CARE = (
    "Screen: switched off and cool, a dry microfibre cloth; never spray, never glass cleaner.",
    "Nothing hot or wet stands on the unit; no steam on boards, veneer or edges.",
    "Air the room: vents and the gap above the set-top stay free; dust them as the care list says.",
    "After the first month and the first winter: hinges and fixings tightened, cracks from drying closed, by the maker.",
)
CHECKED: tuple[tuple[str, str], ...] = (
    ("Room", "protection taken away, floor and walls without damage"),
    ("Screen", "level, no pixel fault, picture and sound from each seat, remote reaches every box"),
    ("Electric", "test certificate handed over, leakage device tripped, every outlet live, breaker labelled"),
    ("Cables", "every cable numbered at both ends, spare draw wires left in their conduits"),
    ("Papers", "as-built services with photographs, mount's load, warranties, this book"),
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """Care and codes, what comes next, and the snag list."""
    return (
        *_book(wall),
        *listed(wall, ("owner_snags", "Handover, no snag open"), "Handover", CAUTIONS, snags(wall), first=1),
    )


def _book(wall: Wall) -> tuple[Sheet, ...]:
    """Finishes and care at the left; what comes next, power and what each shelf bears at the right, or on a sheet that follows."""
    left, right = columns(2)
    marks = column([finish_codes(wall), _short(care(wall)), Notes("Care", CARE)], (left,))
    after: list[Block] = [
        Notes("A larger screen later", _later(wall)),
        Notes("Light and power", _power(wall)),
    ]
    beside = column([*after, bearing(wall)], (right,))
    name = "owner_book", "Owner's book"
    lists: tuple[Sheet, ...] = ()
    if not whole(beside):
        beside = column(
            [*after, Notes("What each shelf bears", ("Each shelf is on the sheet that follows.",))], (right,)
        )
        lists = listed(wall, name, "Handover", CAUTIONS, bearing(wall))
    return _sheet(wall, *name, (*marks, *beside)), *lists


def _sheet(wall: Wall, name: str, title: str, marks: tuple[Mark, ...]) -> Sheet:
    return Sheet(name, title, "Handover", (), marks, Fields.of(wall.job), CAUTIONS, job_title=wall.job.title)


def finish_codes(wall: Wall) -> Table:
    """Every finish on the wall with its code in the library, its colour, and where it is: to order a spare or a touch-up."""
    known = load.finishes()
    keys = {row.name: key for key, row in known.items()}
    where: dict[str, list[str]] = {}
    for seen in wall.look.surfaces:
        if seen.area > 0 and seen.name in keys:
            where.setdefault(keys[seen.name], []).append(seen.ref)
    rows = tuple(
        (
            key.replace("_", "-"),
            finish_name(key),
            known[key].colour,
            known[key].gloss,
            ", ".join(dict.fromkeys(refs)),
        )
        for key, refs in sorted(where.items())
    )
    cols = (Column("Code"), Column("Finish"), Column("Colour"), Column("Gloss"), Column("Where"))
    boards = sorted({board_name(part.board) for part in wall.carcass.parts if part.board in load.boards()})
    return Table(
        "finish_codes", "Finish codes", cols, rows, (f"Boards: {'; '.join(boards)}. Keep the makers' batch numbers with this sheet.",)
    )  # fmt: skip


def _short(table: Table) -> Table:
    """The care list in the columns that an owner reads."""
    keep = [
        i
        for i, col in enumerate(table.columns)
        if col.name in ("Finish", "Where", "Clean with", "Heat to", "Seal")
    ]
    return Table(
        table.name, "How each is cleaned", tuple(table.columns[i] for i in keep), tuple(tuple(row[i] for i in keep) for row in table.rows)
    )  # fmt: skip


def _later(wall: Wall) -> tuple[str, ...]:
    table = later_screen(wall)
    if not table.rows:
        return ("Not worked out: ask the designer before a larger screen is bought.",)
    now, largest, following, stops, wide, high = table.rows[0]
    out = [
        f"Now {_inch(now)}. The largest that this wall takes later: {_inch(largest)}. {_inch(following)}: {stops}."
        if following
        else f"Now {_inch(now)}. The largest that this wall takes later: {_inch(largest)}.",
        f"A frame about the same middle may be up to {wide:.0f} wide or {high:.0f} high, each taken alone."
        if isinstance(wide, float) and isinstance(high, float)
        else "",
        *table.notes[:1],
        "Its mass, holes and mount are checked against the fixings sheet first; two people lift it.",
    ]
    return tuple(line for line in out if line)


def _inch(value: Cell) -> str:
    return f"{value:g} in" if isinstance(value, (int, float)) else str(value)


def bearing(wall: Wall) -> Table:
    """What each shelf carries, as it was reckoned with."""
    rows = tuple(
        (s.ref, s.unit, show_mm(s.span), f"{s.load_kg_per_m * s.span / 1000:.0f}")
        for s in wall.carcass.shelves
    )
    cols = (
        Column("Shelf"),
        Column("In"),
        Column("Wide, clear", "", 0, "right"),
        Column("kg, spread evenly", "", 0, "right"),
    )
    return Table(
        "bearing", "What each shelf bears", cols, rows,
        ("Heavy things low and near the sides; nobody sits or climbs on drawers or shelves.",),
    )  # fmt: skip


def _power(wall: Wall) -> tuple[str, ...]:
    out = [
        f"{c.ref}: {c.name}, breaker {c.rating:g} A, about {c.diversified:.0f} W at once."
        for c in wall.services.circuits
    ]
    for run in wall.light.runs:
        place = (
            f", driver at x {show_mm(run.driver_at[0])}, z {show_mm(run.driver_at[1])}"
            if run.driver_at
            else ""
        )
        out.append(
            f"{run.ref}: LED {run.volts} V, {run.watts:.0f} W, {run.colour:g} K{place}; dim it, never cover it."
        )
    out.append("Spare sockets stay on their breaker: no heater, no kettle on them.")
    return tuple(out)


def snags(wall: Wall) -> Table:
    """What is gone through at handover, thing by thing: a tick or a snag with its date; done when every line is ticked."""
    rows: list[tuple[str, str, str, str]] = [(what, says, "[  ]", "") for what, says in CHECKED]
    for unit in wall.setout.units:
        fronts = [part for part in wall.carcass.parts if part.unit == unit.ref and part.role == "front"]
        gaps = f"; {count(len(fronts), 'front')} even, opening and closing softly" if fronts else ""
        rows.append(
            (
                f"{unit.ref} {unit_words(unit.kind)}",
                f"level within 1 mm a metre, fixed to the wall, edges whole{gaps}",
                "[  ]",
                "",
            )
        )
    rows += [
        (f"{z.ref} panel", "flat, joints even, no scratch seen from 1.5 m in daylight", "[  ]", "")
        for z in wall.setout.zones
    ]
    rows += [
        (f"{run.ref} light", "even, no dots in view, dims to its least without flicker", "[  ]", "")
        for run in wall.light.runs
    ]
    rows += [
        (f"{one.ref} fixing", f"{one.count} × {one.anchor}: pull test recorded", "[  ]", "")
        for one in wall.structure.fixings
    ]
    rows.append(("Signed", "no snag is open: client ____________ designer ____________", "[  ]", ""))
    cols = (Column("Thing"), Column("Gone through"), Column("Good"), Column("Snag, put right on"))
    return Table("snags", "Snag list", cols, tuple((a, b, c, d or "______________") for a, b, c, d in rows))
