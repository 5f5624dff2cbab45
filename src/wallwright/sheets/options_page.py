"""Options side by side for the client: each wall as it will look, in its colours, and under it what you get, give up and pay.

All pictures are as large and of one manner, names are in one height, and none is marked as favourite.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.carcass.panel_lines import edge, face_lines
from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, TEXT_TITLE, Drawing, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.job.dress import front_dress, panel_dress, wall_dress
from wallwright.job.face import obstacle_box
from wallwright.sheets.fronts import leaves, unit_marks
from wallwright.sheets.lettering import fitted, printable, wrap
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.room import FULL
from wallwright.sheets.words import count

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, UnitBox
    from wallwright.derive import Wall
    from wallwright.options.finish_sets import Option
    from wallwright.options.propose import Options

A_SHEET = 3
"""Options on one sheet, at most."""
GAP, HEAD, LINE = 6.0, 14.0, 4.1
"""Between columns, over the pictures, and from one line of words to the next, paper mm."""
PICTURE = 0.5
"""Share of the sheet's height that a picture takes at most."""
INSIDE, BLACK, PLINTH, SKIRTING, FLOOR = "#cfc8bb", "#202124", "#6f6a62", "#e4ded2", "#b9ab97"
"""Shades of what has no finish of its own: the inside of an open bay, the screen, plinth, skirting, floor."""
HEADINGS = ("What you get", "What you give up", "What it costs")
CAUTIONS = (
    "Colours on paper only point the way: judge finishes on samples. Prices hold as the quote says.",
    "Electrical work by the locally licensed electrician.",
)
INVENTED = ("The rates are invented: these prices are no offer.",)


@dataclass(frozen=True, slots=True)
class Choice:
    """A wall to choose, in the client's words: what one gets, gives up and pays."""

    name: str
    wall: Wall
    get: str
    give_up: str
    cost: str


def options_sheet(found: Options) -> tuple[Sheet, ...]:
    """The proposals compared, three on an A3 sheet; () where there is none."""
    return side_by_side([Choice(one.name, one.wall, one.get, one.give_up, one.cost) for one in found.options])


def schemes_sheet(wall: Wall, schemes: Sequence[Option]) -> tuple[Sheet, ...]:
    """Other schemes for a wall's brief, priced against the wall as it stands; () where there is none."""
    return side_by_side(
        [Choice(one.name, one.wall, one.gain, one.give_up, _price(wall, one)) for one in schemes]
    )


def _price(wall: Wall, option: Option) -> str:
    """What an option costs, against the wall as it stands, and how long it takes."""
    money, own = wall.money, option.wall
    change = money.notation.change(option.price - money.total)
    days = count(own.programme.days, "working day")
    return f"{money.shown(option.price)}: {change} against the wall of this set ({money.shown(money.total)}). {days} from the survey."


def side_by_side(choices: Sequence[Choice]) -> tuple[Sheet, ...]:
    """The choices, three on an A3 sheet; numbered by themselves: they are no drawings to build from."""
    groups = [choices[at : at + A_SHEET] for at in range(0, len(choices), A_SHEET)]
    return tuple(_sheet(group, number, len(groups)) for number, group in enumerate(groups, 1))


def _sheet(group: Sequence[Choice], number: int, of: int) -> Sheet:
    width = (FULL.width - GAP * (A_SHEET + 1)) / A_SHEET
    rooms = [Box(FULL.x + GAP + k * (width + GAP), FULL.z, width, FULL.height) for k in range(len(group))]
    face = group[0].wall.face
    scale = max(face.width / width, (face.height + FLOOR_DEEP) / (FULL.height * PICTURE))
    foot = FULL.top - HEAD - (face.height + FLOOR_DEEP) / scale
    views = tuple(
        View(
            picture_of(one.wall, scale),
            room.x + (width - face.width / scale) / 2,
            FULL.top - HEAD - face.height / scale,
        )
        for one, room in zip(group, rooms, strict=True)
    )
    title = "Options compared" if of == 1 else f"Options compared, {number} of {of}"
    job = group[0].wall.job
    marks = (*_names(group, rooms), *_words(group, rooms, foot - 7.0))
    cautions = (*CAUTIONS, *(INVENTED if any(one.wall.money.invented for one in group) else ()))
    return Sheet(
        "options", title, "Options", views, marks, Fields.of(job), cautions, number=number, of=of, job_title=job.title, pictured=True,
        series="O",
    )  # fmt: skip


def _names(group: Sequence[Choice], rooms: Sequence[Box]) -> Iterator[Mark]:
    """All names in one height: the largest in which each fits."""
    sizes = (TEXT_TITLE, TEXT_LABEL, TEXT_SMALL)
    height = min(fitted(printable(one.name), rooms[0].width, sizes, bold=True)[1] for one in group)
    for one, room in zip(group, rooms, strict=True):
        name, _ = fitted(printable(one.name), room.width, (height,), bold=True)
        yield Text((room.x, room.top - 9.0), name, height, bold=True, layer="notes")


def _words(group: Sequence[Choice], rooms: Sequence[Box], top: float) -> Iterator[Mark]:
    """What you get, give up and pay, the same headings level with one another."""
    each = [
        [wrap(printable(words), rooms[0].width, TEXT_SMALL) for words in (one.get, one.give_up, one.cost)]
        for one in group
    ]
    for k, heading in enumerate(HEADINGS):
        for room, texts in zip(rooms, each, strict=True):
            yield Text((room.x, top), heading, TEXT_LABEL, bold=True, layer="notes")
            for i, line in enumerate(texts[k]):
                yield Text((room.x, top - 1.4 * LINE - i * LINE), line, TEXT_SMALL, layer="notes")
        top -= 2.2 * LINE + LINE * max(len(texts[k]) for texts in each)


FLOOR_DEEP = 120.0
"""Strip of floor drawn below the wall [mm]."""


def picture_of(wall: Wall, scale: float) -> Drawing:
    """The wall straight on, in its colours, without a dimension: what the client sees. Real mm."""
    box = wall.face.box
    marks = (
        rectangle(box, "thin", fill=wall_dress(wall.job).colour, layer="wall"),
        rectangle(Box(box.x, -FLOOR_DEEP, box.width, FLOOR_DEEP), "none", fill=FLOOR, layer="wall"),
        *_there(wall),
        *_panels(wall),
        *(mark for unit in wall.setout.units for mark in _unit(wall, unit)),
        rectangle(wall.sight.screen.frame, "medium", fill=BLACK, layer="screen"),
        rectangle(box, "medium", layer="wall"),
    )
    return Drawing(
        "picture", "The wall", scale, marks, Box(box.x, -FLOOR_DEEP, box.width, box.height + FLOOR_DEEP)
    )


def _there(wall: Wall) -> Iterator[Mark]:
    """What stands out of the wall already: beams, columns, pipes, air conditioners, the skirting."""
    for thing in wall.face.obstacles:
        if thing.kind in ("socket", "switch", "data_point", "cable"):
            continue
        yield rectangle(obstacle_box(thing), "thin", fill=SKIRTING, layer="obstacles", ref=thing.ref)


def _panels(wall: Wall) -> Iterator[Mark]:
    for zone in wall.setout.zones:
        colour = panel_dress(wall.job, zone.ref, zone.finish).colour
        yield Line(edge(zone), "thin", closed=True, fill=colour, layer="panels", ref=zone.ref)
        for line in face_lines(zone):
            yield Line((line.a, line.b), "thin", layer="panels", ref=zone.ref)


def _unit(wall: Wall, unit: UnitBox) -> Iterator[Mark]:
    """A unit: its body, its fronts in their colour, what is open darker, with the shelves one sees."""
    colour = front_dress(wall.job, unit.ref, unit.front_finish).colour
    yield rectangle(unit.box, "medium", fill=colour, layer="units", ref=unit.ref)
    for part in wall.carcass.parts:
        if part.unit == unit.ref and part.role == "plinth":
            yield rectangle(part.block.face, "none", fill=PLINTH, layer="units", ref=unit.ref)
    bays = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
    for bay in bays:
        if not unit.rise:
            yield from _bay(wall, bay, unit, bays, colour)
    if unit.rise:
        yield from unit_marks(wall, unit)


def _bay(wall: Wall, bay: BayBox, unit: UnitBox, bays: list[BayBox], colour: str) -> Iterator[Mark]:
    if bay.front == "open":
        yield rectangle(bay.box, "thin", fill=INSIDE, layer="units", ref=bay.ref)
        for shelf in wall.carcass.shelves:
            if shelf.unit == bay.unit and bay.box.meets(shelf.box):
                yield rectangle(shelf.box, "thin", fill=colour, layer="units", ref=bay.ref)
        return
    for box in leaves(wall, bay, unit, bays):
        yield rectangle(box, "thin", fill=colour, layer="units", ref=bay.ref)
