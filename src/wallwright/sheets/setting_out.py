"""For the site engineer: every thing that is marked on the bare wall, numbered, from two datums, with what is checked before it is closed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Drawing, Leader, Line, Mark, Symbol, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.programme.calendar import working_day
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.chains import chain
from wallwright.sheets.figures import DATUM, ROW, bare_wall
from wallwright.sheets.figures import levels as level_marks
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.long_table import beside_and_after, listed, parted, stands
from wallwright.sheets.paper import Fields, Sheet, raised
from wallwright.sheets.place import settle
from wallwright.sheets.room import about, layout
from wallwright.sheets.words import point_words, unit_words

if TYPE_CHECKING:
    from wallwright.derive import Wall

CAUTIONS = (
    "Isolate and prove dead, detect both ways before any hole; never chase beams, columns, lintels. Unknown wall: stop and ask.",
    "Nothing is closed before its hold is signed: circuits tested, runs photographed with a tape, draw wires pulled.",
)
NEAR = 5.0
"""How far a box or a corner may stand off its mark [mm] (common practice); the screen's middle within this too."""
NEAREST = 2.0
"""Of plate and fixings [mm] (common practice)."""


@dataclass(frozen=True, slots=True)
class Peg:
    """A thing marked on the wall: its number, what it is, where (x, z), within what [mm], and which it is by reference."""

    number: int
    what: str
    at: Point2
    within: float
    ref: str


def marked(wall: Wall) -> tuple[Peg, ...]:
    """Screen, plate, boxes, units and panels, from the left; each once."""
    screen = wall.sight.screen
    found: list[tuple[str, Point2, float, str]] = [
        ("screen", screen.centre, NEAREST, "screen"),
        ("plate", screen.plate.centre, NEAREST, "plate"),
    ]
    found += [(f"{p.ref} {point_words(p.kind)}", (p.x, p.z), NEAR, p.ref) for p in wall.services.points]
    for unit in wall.setout.units:
        found.append((f"{unit.ref} {unit_words(unit.kind)}", (unit.box.x, unit.box.z), NEAR, unit.ref))
    found += [(f"{z.ref} panel", (z.box.x, z.box.z), NEAR, z.ref) for z in wall.setout.zones]
    found.sort(key=lambda row: (round(row[1][0]), round(row[1][1]), row[0]))
    return tuple(Peg(i, *row) for i, row in enumerate(found, 1))


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The sheet with its marks, and its list on sheets of its own where it is long; then holds and first fix."""
    on = layout(wall.face.width, wall.face.height, alone=True)
    view, rooms = raised(drawing(wall, on.scale), on.view, on.beside)
    if len(rooms) == 2:  # below the view there is room for as many columns as go in
        below = rooms[1]
        over = int((on.view.right - below.x) // (below.width + 6.0))
        rooms = (
            rooms[0],
            *(
                Box(below.x + i * (below.width + 6.0), below.z, below.width, below.height)
                for i in range(max(over, 1))
            ),
        )
    blocks: list[Block] = [_legend(), Notes("Datums", datums(wall))]
    table = mark_table(wall)
    name = "setting_out", "Setting-out, bare wall"
    first = Sheet(*name, "Setting-out", (view,), (), Fields.of(wall.job), CAUTIONS, job_title=wall.job.title)
    told = column([*blocks, Notes(table.title, ("Each mark is on the sheet that follows.",))], rooms)
    if parted([*blocks, table], rooms) or not stands(told, rooms):
        made = beside_and_after(first, [*blocks, table], rooms)
    else:
        made = replace(first, marks=told), *listed(wall, name, "Setting-out", CAUTIONS, table)
    return *made, *listed(
        wall, ("first_fix", "First fix and holds"), "Check list", CAUTIONS, checks(wall), first=1
    )


def drawing(wall: Wall, scale: float) -> Drawing:
    """The bare wall with a cross and a number at each mark, the screen's and the units' outlines, levels and the main chains."""
    face, screen = wall.face.box, wall.sight.screen
    still: list[Mark] = [*bare_wall(wall, scale)]
    still += [
        Line(unit.box.corners, "phantom", closed=True, layer="outlines", ref=unit.ref)
        for unit in wall.setout.units
    ]
    still += [
        Line(screen.frame.corners, "phantom", closed=True, layer="screen", ref="screen"),
        rectangle(screen.plate, "thin", layer="screen", ref="plate"),
    ]
    still += [rectangle(point.box, "thin", layer="points", ref=point.ref) for point in wall.services.points]
    numbered: dict[Point2, list[Peg]] = {}
    for one in marked(wall):
        near = next(
            (at for at in numbered if abs(at[0] - one.at[0]) + abs(at[1] - one.at[1]) < 1.5 * scale), one.at
        )
        numbered.setdefault(near, []).append(one)
    crosses: list[Mark] = [
        Symbol("datum", at, layer="marks", ref=group[0].ref) for at, group in numbered.items()
    ]
    labels: list[Mark] = list(crosses)
    for at, group in numbered.items():
        words = ", ".join(str(one.number) for one in group)
        labels.append(
            Leader(
                (at, (at[0] + 4 * scale, at[1] + 4 * scale)),
                words,
                TEXT_SMALL,
                layer="marks",
                ref=group[0].ref,
            )
        )
    labels += level_marks(wall)
    x, z = screen.centre
    units = [e for unit in wall.setout.units if not unit.board_only for e in (unit.box.x, unit.box.right)]
    labels += chain([0.0, *units, face.width], "x", 0.0, -ROW, "units")
    labels += chain([0.0, x, face.width], "x", 0.0, -2 * ROW, "screen across")
    labels += chain([0.0, face.width], "x", 0.0, -3 * ROW, "overall")
    labels += chain([0.0, DATUM, z, face.height], "z", 0.0, -ROW, "screen up")
    labels += chain([0.0, face.height], "z", 0.0, -2 * ROW, "overall")
    boxes = [point.box for point in wall.services.points]
    marks = grounded(still, settle(labels, scale, about(face, scale), boxes, lines=still), scale)
    return Drawing("setting_out", "Setting-out", scale, marks, extent_of(marks, scale))


def datums(wall: Wall) -> tuple[str, ...]:
    """From what everything is measured."""
    return (
        "Across: the left corner of the wall, x 0, on the finish or on its line: write here which. Up: FFL, finished floor level, z 0.",
        f"Level line at FFL +{show_mm(DATUM)} all along the wall, by level and not by tape; screen's middle line plumb at x "
        f"{show_mm(wall.sight.screen.centre[0])}.",
        "Marks: screen, plate and boxes by their middles; units and panels by their lower left corners.",
        "Check: the diagonals of two marks on each line agree within 3 mm.",
        f"Wall {show_mm(wall.face.width)} wide and {show_mm(wall.face.height)} high: measure again; tell the designer from 5 mm.",
    )


def mark_table(wall: Wall) -> Table:
    """Every mark: number, what, x from the corner, z from FFL, from the level line, within, and a box for the check."""
    cols = (
        Column("No", "", 0, "right"), Column("Mark"), Column("x", "", 0, "right"), Column("z", "", 0, "right"),
        Column("From +1000", "", 0, "right"), Column("Within", "", 0, "right"), Column("Found"),
    )  # fmt: skip
    rows = tuple(
        (
            str(one.number), one.what, show_mm(one.at[0]), show_mm(one.at[1]), f"{one.at[1] - DATUM:+.0f}",
            f"± {one.within:g}", "____",
        )
        for one in marked(wall)
    )  # fmt: skip
    return Table("set_out_marks", "Marks", cols, rows)


def checks(wall: Wall) -> Table:
    """What is checked at first fix and at each hold of the programme, on which day, with room for a signature."""
    start = date.fromisoformat(wall.job.date)
    set_out = next(
        (max(task.early_finish - 1, 0) for task in wall.programme.tasks if task.ref == "protect"), 0
    )
    rows: list[tuple[str, str, str, str]] = [
        ("Set-out", "level line, screen's middle and every mark of the list", _day(start, set_out), ""),
        *(
            ("First fix", f"{p.ref} {point_words(p.kind)}: box level, {show_mm(p.box_depth)} deep, flush to 3 mm behind the finish", "", "")
            for p in wall.services.points
        ),
        *(
            ("First fix", f"{run.ref}: {run.cable}, {run.length / 1000:.1f} m, bends {run.bends}; draw wire in it, photographed with a tape", "", "")
            for run in wall.services.runs
        ),
        *(
            ("Fixings", f"{one.ref}: {one.count} × {one.anchor}, pull test on this wall; plumb and flat within 1 mm in 2 m", "", "")
            for one in wall.structure.fixings
        ),
    ]  # fmt: skip
    rows += [
        ("HOLD", f"{task.name}: {task.hold}", _day(start, max(task.early_finish - 1, 0)), "")
        for task in sorted(wall.programme.tasks, key=lambda task: task.early_finish)
        if task.hold
    ]
    cols = (Column("At"), Column("Check"), Column("Day, earliest"), Column("Signed, date"))
    return Table(
        "first_fix_checks", "Checks and holds", cols,
        tuple((at, what, day, signed or "______________") for at, what, day, signed in rows),
    )  # fmt: skip


def _day(start: date, after: int) -> str:
    return working_day(start, after).isoformat()


def _legend() -> Legend:
    return Legend(
        (
            ("sign:datum", "mark on the wall, by its number"),
            ("pen:phantom", "screen and units to come"),
            ("pen:thin", "box in the wall; plate"),
            ("pen:chain", f"level line, FFL +{show_mm(DATUM)}"),
        )
    )
