"""The electrician's page: one A3 sheet with the points, the circuits, what to order, what the rule set asks, and the tests."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.drawing import Drawing, Leader, Mark, Symbol, SymbolKind
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.library import load
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.figures import bare_wall
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.place import settle
from wallwright.sheets.point_table import point_table
from wallwright.sheets.room import FULL
from wallwright.sheets.services import CAUTIONS
from wallwright.sheets.services_marks import (
    SIGN,
    SIGN_WORDS,
    box_marks,
    come_in_marks,
    incoming,
    outlines,
    run_lines,
    signs,
)
from wallwright.sheets.taken import SIGN as SIGN_HALF
from wallwright.tables.circuits import circuit_notes, load_notes

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import Circuit

SCALES = (20.0, 50.0, 100.0, 200.0)
THIRD, GAP, EDGE = 122.6, 5.0, 5.0
A_TABLE = 5
"""Circuits side by side in one table."""


def drawing(wall: Wall, scale: float) -> Drawing:
    """The wall with its boxes and runs, without figures: those stand in the table beside it."""
    still = (
        *bare_wall(wall, scale),
        *outlines(wall),
        *run_lines(wall),
        *come_in_marks(wall, scale),
        *box_marks(wall),
    )
    labels: tuple[Mark, ...] = (*_signs_apart(wall, scale), *_come_in_words(wall, scale))
    face = wall.face.box
    within = Box(face.x - 16 * scale, face.z - 16 * scale, face.width + 32 * scale, face.height + 28 * scale)
    boxes = [point.box for point in wall.services.points]
    marks = grounded(still, settle(labels, scale, within, boxes, lines=still), scale)
    return Drawing("electrician", "Points and runs", scale, marks, extent_of(marks, scale))


def _signs_apart(wall: Wall, scale: float) -> list[Mark]:
    """The signs as on the services sheet; where two would lie over one another at this scale, references led to dots instead."""
    near = 2 * SIGN_HALF * scale
    every = [sign for sign in signs(wall) if isinstance(sign, Symbol)]
    out: list[Mark] = []
    for sign in every:
        (x, z), others = sign.at, (other.at for other in every if other is not sign)
        if any(abs(a - x) < near and abs(b - z) < near for a, b in others):
            end = (x + 4 * scale, z + 4 * scale)
            out.append(Leader((sign.at, end), sign.label, layer=sign.layer, ref=sign.ref))
        else:
            out.append(sign)
    return out


def _come_in_words(wall: Wall, scale: float) -> list[Mark]:
    """Supply and signals, named above the wall."""
    words = {"supply": "SUPPLY", "entry": "SIGNALS"}
    return [
        Leader(
            ((x, z), (x + (5 if x < wall.face.width / 2 else -5) * scale, wall.face.height + 5 * scale)),
            words[name],
            layer="runs",
            ref=name,
        )
        for name, (x, z) in incoming(wall)
    ]


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The page; nothing where nothing is wired."""
    return (_page(wall),) if wall.services.points else ()


def _page(wall: Wall) -> Sheet:
    rooms = tuple(Box(FULL.x + EDGE + i * (THIRD + GAP), FULL.z, THIRD, FULL.height - 2) for i in range(3))
    view = _view(wall, rooms[0])
    below = extent(view.drawing).z / view.drawing.scale + view.y - 5.0
    under = Box(rooms[0].x, rooms[0].z, THIRD, below - rooms[0].z)
    return Sheet(
        "electrician",
        "Electrician's page",
        "Electrical",
        (view,),
        (
            *column(
                [
                    _legend(wall),
                    _asks(wall),
                    Notes("Tests, in this order", _tests(wall)),
                ],
                (under,),
            ),
            *column(
                [point_table(wall), *_orders(wall), _figures(wall), Notes("Not checked here", NOT_CHECKED)],
                rooms[1:2],
            ),
            *column([*_circuits(wall), _loads(wall), _reckoned(wall)], rooms[2:]),
        ),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
    )


def _view(wall: Wall, room: Box) -> View:
    """The drawing at the largest scale that fits the room's width and 90 mm of its height, at the room's top."""
    made = drawing(wall, SCALES[-1])
    for scale in SCALES:
        made = drawing(wall, scale)
        box = extent(made)
        if box.width / scale <= room.width and box.height / scale <= 90.0:
            break
    box, s = extent(made), made.scale
    x = room.x + (room.width - box.width / s) / 2 - box.x / s
    return View(made, round(x, 3), round(room.top - 3.0 - box.top / s, 3))


def _legend(wall: Wall) -> Block:
    kinds: list[SymbolKind] = list(
        dict.fromkeys(SIGN.get(point.kind, "socket") for point in wall.services.points)
    )
    return Legend(
        (*((f"sign:{kind}", SIGN_WORDS[kind]) for kind in kinds), ("pen:dashed", "conduit or cable"))
    )


def _asks(wall: Wall) -> Block:
    """What the rule set of the place asks besides figures."""
    rules = load.electrical()[wall.job.survey.place.rules.lower()]
    said = tuple(f"{row.text} ({row.source})" for row in rules.says)
    return Notes(
        "Rule set", (f"{rules.name}: {rules.edition}. Check it against the edition in force.", *said)
    )


def _tests(wall: Wall) -> tuple[str, ...]:
    """The tests before the supply is put on, then those after."""
    v = wall.limits.value
    out = [
        "Continuity of the protective conductors, and of each ring.",
        f"Insulation: at least {v('circuits.test_insulation'):g} MΩ at {v('circuits.test_volts'):g} V direct current, electronics and "
        "LED drivers unplugged.",
        "Polarity; then earth fault loop impedance.",
    ]
    if any(circuit.leak_most for circuit in wall.services.circuits):
        out.append(
            f"Residual-current device: trips within {v('circuits.trip_once'):g} ms at its rated current, "
            f"{v('circuits.trip_five'):g} ms at five times that."
        )
    return (*out, "Function of every outlet, switch and driver. Enter the readings in the certificate.")


NOT_CHECKED = (
    "The curve and breaking capacity of each protective device, and whether one trips before the other.",
    "Earth fault loop impedance and the disconnection time it gives; size of the protective conductors.",
    "Prospective fault current at the board, and what a fault heats the cable to.",
    "The earthing system, bonding, surge protection and the load on the board and the supply.",
    "The licensed electrician works these out and measures them on site; nothing on this page stands for them.",
)


def _circuits(wall: Wall) -> list[Block]:
    """The circuits side by side, a line a figure: so the heads keep the trade's full words."""
    made = wall.services.circuits
    return [
        _circuit_table(made[n : n + A_TABLE], "Circuits" if n == 0 else "Circuits, continued")
        for n in range(0, len(made), A_TABLE)
    ]


def _circuit_table(made: Sequence[Circuit], title: str) -> Table:
    lines = (
        ("Protective device [A]", [f"{c.rating:.0f}" for c in made]),
        ("Draws after diversity [A]", [f"{c.current:.1f}" for c in made]),
        ("Outlets or light feeds", [f"{c.points}" for c in made]),
        ("Cable", [c.cable for c in made]),
        ("Reference method", [c.method or "-" for c in made]),
        ("Ambient [°C]", [f"{c.air:.0f}" for c in made]),
        ("Circuits grouped", [f"{c.beside}" for c in made]),
        ("Rating there [A]", [f"{c.carries:.1f}" for c in made]),
        ("Run from the board [m]", [f"{c.length / 1000:.1f}" for c in made]),
        ("Longest run [m]", [f"{c.longest / 1000:.1f}" for c in made]),
        ("Voltage drop [%]", [f"{c.drop_percent:.1f}" for c in made]),
    )
    cols = (Column("Circuit"), *(Column(c.ref, "", 0, "right") for c in made))
    return Table("circuits_on_sheet", title, cols, tuple((name, *values) for name, values in lines))


def _loads(wall: Wall) -> Table:
    """The loads, those alike in one row."""
    cols = (
        Column("Circ."), Column("Load"), Column("W", "", 0, "right"), Column("%", "", 0, "right"),
        Column("Reckoned", "W", 0, "right"), Column("Standby", "W", 1, "right"),
    )  # fmt: skip
    rows: dict[tuple[str, str], list[float]] = {}
    for circuit in wall.services.circuits:
        for item in circuit.items:
            row = rows.setdefault((circuit.ref, item.what or "outlets to spare"), [0.0, 0.0, 0.0, 0.0])
            row[0] += item.watts
            row[1] = 100 * item.factor
            row[2] += item.watts * item.factor
            row[3] += item.standby
    return Table("loads_on_sheet", "Loads", cols, tuple((*key, *row) for key, row in rows.items()))


def _reckoned(wall: Wall) -> Block:
    return Notes("How they are reckoned", (*circuit_notes(wall)[1:], *load_notes(wall)))


def _orders(wall: Wall) -> list[Block]:
    """What to order of cable and conduit, where the order list is made."""
    if not wall.services.orders:
        return []
    cols = (Column("Cable or conduit"), Column("m", "", 1, "right"), Column("Pieces", "", 0, "right"))
    rows = tuple((o.name, o.metres, len(o.pieces)) for o in wall.services.orders)
    return [Table("orders_on_sheet", "Order", cols, rows)]


def _figures(wall: Wall) -> Block:
    """How many boxes of each kind."""
    counts: dict[str, int] = {}
    for point in wall.services.points:
        kind = SIGN_WORDS[SIGN.get(point.kind, "socket")]
        counts[kind] = counts.get(kind, 0) + 1
    return Notes("Boxes", ("; ".join(f"{n} × {kind}" for kind, n in counts.items()) + ".",))
