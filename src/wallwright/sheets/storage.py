"""The storage picture: the elevation opened, with what lives on each level, how much of it is free, and who reaches how high."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Drawing, Hatch, Level, Line, Mark, Pattern, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.core.units import show_level
from wallwright.sheets.beside import LINE, Block, Legend, Notes
from wallwright.sheets.ink import extent_of
from wallwright.sheets.lettering import text_width, wrap
from wallwright.sheets.long_table import beside_and_after
from wallwright.sheets.paper import Fields, Sheet, centred, raised
from wallwright.sheets.place import settle
from wallwright.sheets.room import about, layout
from wallwright.storage.demand import CLASS_ASKS
from wallwright.tables.storage import held_words, storage_levels

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.storage.record import Level as Place
    from wallwright.storage.record import Reach

BAR = 1.8
"""Height of the bar that shows the run taken, paper mm."""
ROD = (-26.0, -20.0)
"""Where the reach rod stands left of the wall, paper mm."""
CAUTION = (
    "What breaks or hurts: out of children's reach, and locked. A climbing child pulls loose towers over: fix them to the wall.",
    "Do not load a level with more than is written on it.",
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The sheet, where there is anything to keep and a level to keep it on."""
    return _picture(wall) if wall.storage.demands and wall.storage.levels else ()


def _picture(wall: Wall) -> tuple[Sheet, ...]:
    """The storage picture on its sheet, its list beside it or on the next one."""
    on = layout(wall.face.width, wall.face.height, alone=True)
    made, rooms = drawing(wall, on.scale), on.beside
    view = centred(made, on.view)
    if len(rooms) > 1:
        view, rooms = raised(made, on.view, rooms)
    first = Sheet(
        "storage", "Where your things live", "Storage picture", (view,), (), Fields.of(wall.job), CAUTION,
        job_title=wall.job.title,
    )  # fmt: skip
    return beside_and_after(first, _beside(wall), rooms)


def drawing(wall: Wall, scale: float) -> Drawing:
    """The elevation at 1:`scale` with its fronts taken off."""
    face = wall.face.box
    beyond = 6.0 * scale
    still: list[Mark] = [
        *_rod(wall.storage.reach, wall.face.height, scale),
        *(
            Line(((0.0, z), (face.right, z)), "dashed", layer="reach", ref=name)
            for z, name in heights(wall.storage.reach)
            if z < face.top
        ),
        rectangle(face, "wide", layer="wall", ref="wall"),
        Line(((-beyond, 0.0), (face.right + beyond, 0.0)), "extra", layer="wall", ref="ffl"),
        rectangle(wall.sight.screen.frame, "medium", fill="#fff", layer="screen", ref="screen"),
    ]
    still += [
        rectangle(unit.box, "wide", fill="#fff", layer="units", ref=unit.ref) for unit in wall.setout.units
    ]
    for number, level in enumerate(wall.storage.levels, 1):
        still += _level(wall, number, level, scale)
    labels: list[Mark] = [
        Level((face.right, z), z, name, layer="levels", ref=f"level {name}", reach=2.5)
        for z, name in (*heights(wall.storage.reach), (0.0, "FFL"), (face.top, "ceiling"))
        if z <= face.top
    ]
    middle = wall.sight.screen.centre
    labels.append(Text(middle, "screen", TEXT_SMALL, "middle", layer="text", ref="screen"))
    marks = (*still, *settle(labels, scale, about(face, scale), lines=still))
    return Drawing("storage", "Where your things live", scale, marks, extent_of(marks, scale))


def heights(reach: Reach) -> tuple[tuple[float, str], ...]:
    """The heights that part the reach zones, with their names."""
    named = [
        (reach.easy[0], "knee"),
        (reach.easy[1], "shoulder"),
        (reach.standing, "highest reach"),
        (reach.step, "with a step"),
    ]
    if reach.out:
        named += [(reach.child, "a child's reach"), (reach.out, "out of reach")]
    if reach.seated:
        named += [(reach.seated[0], "seated, low"), (reach.seated[1], "seated, high")]
    return tuple(sorted(named))


def _zones(reach: Reach, top: float) -> Iterator[tuple[float, float, Pattern | None]]:
    """The reach zones from the floor up, each with its pattern."""
    cuts: tuple[tuple[float, Pattern | None], ...] = (
        (reach.easy[0], "light"), (reach.easy[1], None), (reach.standing, "allowed"), (reach.step, "cut"), (top, "dark"),
    )  # fmt: skip
    low = 0.0
    for high, pattern in cuts:
        high = min(high, top)
        if high > low:
            yield low, high, pattern
        low = max(low, high)


def _rod(reach: Reach, top: float, scale: float) -> Iterator[Mark]:
    """The rod left of the wall with the reach zones."""
    left, right = ROD[0] * scale, ROD[1] * scale
    for low, high, pattern in _zones(reach, top):
        box = Box(left, low, right - left, high - low)
        if pattern:
            yield Hatch(box.corners, pattern, layer="reach", ref="rod")
        yield rectangle(box, "thin", layer="reach", ref="rod")


def _level(wall: Wall, number: int, level: Place, scale: float) -> Iterator[Mark]:
    """A level: its outline, the bar of its run, its number and height, and what is on it in words where there is room."""
    store, box = wall.storage, level.box
    free = store.free_on(level)
    crowded = any(one.failing == "room" for one in store.missing) and free < level.run * 0.1
    yield rectangle(box, "extra" if crowded else "thin", fill="#fff", layer="levels", ref=level.ref)
    tall = min(BAR * scale, box.height / 3)
    gone = max(0.0, min(1.0, 1.0 - free / box.width)) * box.width
    if gone > 0:
        yield Hatch(Box(box.x, box.z, gone, tall).corners, "dark", layer="levels", ref=level.ref)
    yield rectangle(Box(box.x, box.z, box.width, tall), "thin", layer="levels", ref=level.ref)
    wide = box.width / scale - 2.0
    room = (box.height - tall) / scale - 0.8
    words = [name.lower() for name in level.devices] + list(held_words(store, level))
    lines = _words(number, show_level(level.z), words, wide, int(room / LINE))
    at = box.top - (TEXT_SMALL + 1.0) * scale
    for i, line in enumerate(lines):
        yield Text((box.x + scale, at), line, TEXT_SMALL, bold=i == 0, layer="text", ref=level.ref)
        at -= LINE * scale


def _words(number: int, height: str, words: list[str], wide: float, most: int) -> list[str]:
    """What is written on a level, in at most so many lines: its number, its height and what it holds, as far as that fits."""
    ways = (
        [f"{number}  {height}", *(line for word in words for line in wrap(word, wide, TEXT_SMALL))],
        wrap(f"{number}: " + ", ".join(words), wide, TEXT_SMALL, bold=True),
        [f"{number}  {height}", *(["see table"] if words else [])],
        [f"{number}"],
    )
    for lines in ways:
        broken = any(line.startswith(",") for line in lines)
        fits = all(text_width(line, TEXT_SMALL, i == 0) <= wide for i, line in enumerate(lines))
        if len(lines) <= most and fits and not broken:
            return lines
    return []


def no_place(wall: Wall) -> Table:
    """What found no place, and why."""
    names = {demand.kind: demand.name for demand in wall.storage.demands}
    rows = tuple((one.count, names[one.kind], one.says) for one in wall.storage.missing)
    return Table(
        "no_place", "No place for", (Column("No", "", 0, "right"), Column("Things"), Column("Because")), rows
    )


def _beside(wall: Wall) -> list[Block]:
    store = wall.storage
    rows = [
        ("hatch:dark", "bar: run taken; white is free"),
        ("hatch:light", "rod: below the knee"),
        ("hatch:allowed", "rod: above the shoulder, still reached"),
        ("hatch:cut", "rod: only with a step, light things"),
        ("pen:dashed", "heights of reach"),
    ]
    if any(one.failing == "room" for one in store.missing):
        rows.append(("pen:extra", "full, while something has no place"))
    need = f"{store.needed / 1000:.1f} m of shelf run needed, {store.capacity / 1000:.1f} m there, {store.free:.0%} free"
    notes = Notes(
        "Storage",
        (f"{need}.", f"{store.storage_class.capitalize()} storage: {CLASS_ASKS[store.storage_class]}."),
    )
    lacking = [no_place(wall)] if store.missing else []
    return [Legend(tuple(rows)), notes, *lacking, storage_levels(wall)]
