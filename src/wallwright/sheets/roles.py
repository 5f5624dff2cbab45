"""Who reads what: the sheets, lists and files of each trade's own set, and the index that stands before them.

A reader gets his facts and no others: prices go to the client alone, boring to the carpenter, circuits to the electrician. The
sheets keep the numbers that they have in the whole set, so that two trades speak of the same sheet.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, get_args

from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Mark, Text
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.sheets.beside import Block, Notes, column
from wallwright.sheets.lettering import printable, wrap
from wallwright.sheets.long_table import columns
from wallwright.sheets.paper import Fields, Photo, Sheet

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from wallwright.derive import Wall

Role = Literal["client", "carpenter", "electrician", "stone", "screen_fitter", "site_engineer", "owner"]
ROLES: tuple[Role, ...] = get_args(Role)


@dataclass(frozen=True, slots=True)
class Reader:
    """A trade's set. sheets : how the names of its sheets begin, in the order in which it reads them · tables : names of its lists ·
    files : what else of the issue set goes to it · says : what it does first, in its own words · money : whether it sees prices
    """

    title: str
    sheets: tuple[str, ...]
    tables: tuple[str, ...]
    files: tuple[str, ...]
    says: tuple[str, ...]
    money: bool = False


READERS: dict[Role, Reader] = {
    "client": Reader(
        "Client's set",
        ("elevation", "view_", "heights", "seat_plan", "reflections", "sun_", "storage", "programme", "variation_",
         "snags"),
        ("screens_by_seats", "storage", "surfaces", "care", "options", "options_finishes", "scope", "stages",
         "variations", "snag_list"),
        ("quote.pdf",),
        (
            "Look at the pictures first: each seat by day with the screen black, and with screen and light on.",
            "Say what you would change before anything is ordered. A change after that is priced and signed first.",
            "Sign with date: ______________________________",
        ),
        money=True,
    ),
    "carpenter": Reader(
        "Carpenter's set",
        ("elevation", "section", "joinery_", "cuts_", "exploded_", "drilling_", "flutes_", "set_out_", "details_", "fixings",
         "battens", "pack_out", "no_drill_map", "cutting_", "programme"),
        ("cut_list", "sheets", "boards", "edge_bands", "hardware", "hardware_order", "shelves", "fixings", "lights", "no_drill"),
        ("cutlist.csv", "cutting_plan.csv", "holes.csv", "labels.pdf", "templates.pdf", "elevation.dxf", "wall.glb"),
        (
            "Measure the wall again before a board is cut. Finished sizes on drawings; cut sizes in the cut list alone.",
            "Within: parts 1 mm, assembled 2 mm, on site 3 mm.",
            "The boxes in the wall are checked against the back's openings before the back is cut.",
        ),
    ),
    "electrician": Reader(
        "Electrician's set",
        ("services", "services_close", "electrician", "cable_map", "hidden_services", "no_drill_map", "setting_out", "first_fix",
         "programme", "commissioning"),
        ("points", "loads", "circuits", "runs", "no_drill", "cable_map", "lights", "switch_legend", "commissioning"),
        ("services.dxf", "templates.pdf"),
        (
            "A design aid: you check, size, install and test it to the local code, and sign for it.",
            "Isolate, lock off, prove dead. Boxes stand by their middles, from FFL and the left corner.",
            "Photograph every run with a tape before the wall is closed; mark on the hidden services what was laid otherwise.",
        ),
    ),
    "stone": Reader(
        "Stone and tile set",
        ("elevation", "stone_", "section", "details_", "no_drill_map", "programme"),
        ("no_drill",),
        ("elevation.dxf",),
        (
            "Template the wall as it stands before a piece is cut; boxes as found, not as drawn.",
            "Nothing is set before its hold is signed: the ground is flat, dry and bears the weight that the sheet says.",
        ),
    ),
    "screen_fitter": Reader(
        "Screen fitter's set",
        ("screen_fitter", "section", "fixings", "no_drill_map", "cable_map"),
        ("carton_route", "cable_map", "no_drill"),
        ("templates.pdf",),
        (
            "Walk the way in with the carton's size. Two people.",
            "Measure the screen and its holes before the plate is drilled.",
        ),
    ),
    "site_engineer": Reader(
        "Site engineer's set",
        ("setting_out", "first_fix", "services", "services_close", "fixings", "battens", "pack_out", "section", "no_drill_map", "stone_", "programme",
         "commissioning", "snags"),
        ("findings", "commissioning", "snag_list", "survey_measures", "points", "runs", "no_drill", "fixings", "programme"),
        ("programme.ics", "templates.pdf", "services.dxf", "elevation.dxf", "wall.ifc"),
        (
            "Set out from two datums alone: left corner and FFL. The level line goes up first.",
            "A hold is a signature. Nothing is closed, hung or set before it.",
        ),
    ),
    "owner": Reader(
        "Owner's handover book",
        ("owner_", "hidden_services", "no_drill_map", "cable_map", "storage", "elevation",
         "commissioning", "snags"),
        ("points", "circuits", "runs", "no_drill", "cable_map", "lights", "switch_legend", "dusting"),
        ("wall.glb",),
        (
            "Keep this book where the next one who drills into the wall will find it.",
            "As built only when the electrician has marked and signed the hidden services.",
        ),
    ),
}  # fmt: skip

_HOW_FOUND = ("Why here", "Decided")
LEFT_OUT: dict[tuple[Role, str], tuple[str, ...]] = {
    ("client", "screens_by_seats"): ("Pixels a degree", "Dots to", "Centre up", "Top up", "Off by", "Panel bears"),
    ("client", "surfaces"): ("L*", "a*", "b*", "LRV"),
    ("client", "care"): ("Light fastness",),
    ("carpenter", "shelves"): (
        "Sag at once", "Sag after years", "Span over sag", "Load in its middle", "Sag under it", "Strength used",
    ),
    ("carpenter", "lights"): ("Current", "Drop", "Driver loaded", "Dim to"),
    ("electrician", "points"): _HOW_FOUND,
    ("electrician", "lights"): ("Output", "Diodes apart", "Diffuser off", "Seen from"),
    ("site_engineer", "points"): _HOW_FOUND,
    ("owner", "points"): _HOW_FOUND,
    ("owner", "lights"): ("Current", "Lead", "Lead length", "Drop", "Driver loaded", "Diodes apart", "Diffuser off", "Seen from"),
    ("owner", "dusting"): ("Times a flat face",),
}  # fmt: skip
"""Columns of a list that a reader does without: how the designer found a thing, and figures of another trade."""


def sheets_for(role: Role, drawings: Iterable[Sheet]) -> tuple[Sheet, ...]:
    """The sheets of a set, in the order in which that trade reads them, with the numbers of the whole set."""
    starts = READERS[role].sheets
    whole = tuple(drawings)
    return tuple(sheet for start in starts for sheet in whole if _is(sheet.name, start))


def _is(name: str, start: str) -> bool:
    """Whether a sheet's name is that one, one of its lists (`services2`), or of its kind (`view_A`)."""
    rest = name.removeprefix(start)
    return name.startswith(start) and (start.endswith("_") or not rest or rest.isdigit())


def tables_for(role: Role, tables: Iterable[Table]) -> tuple[Table, ...]:
    """The lists of a set, in the order of `READERS`, without the columns that are not for this reader."""
    named = {table.name: table for table in tables}
    return tuple(
        _without(named[name], LEFT_OUT.get((role, name), ()))
        for name in READERS[role].tables
        if name in named
    )


def _without(table: Table, left_out: tuple[str, ...]) -> Table:
    """The list without these columns, and without the notes that tell of one: those begin with its name."""
    keep = [i for i, column in enumerate(table.columns) if column.name not in left_out]
    return replace(
        table,
        columns=tuple(table.columns[i] for i in keep),
        rows=tuple(tuple(row[i] for i in keep) for row in table.rows),
        notes=tuple(note for note in table.notes if not left_out or not note.startswith(left_out)),
    )


def missing(role: Role, drawings: Iterable[Sheet]) -> str:
    """Why a set is not made: a wall without stone has no stone set; "" where there is one."""
    if role == "stone" and not any(sheet.name.startswith("stone_") for sheet in drawings):
        return "nothing on this wall is set in stone or tile"
    return ""


Shot = tuple[str, bytes, str]
"""What a picture shows, its PNG, and how it was made."""


def role_set(
    wall: Wall, role: Role, drawings: Iterable[Sheet], tables: Iterable[Table] = (), shots: Sequence[Shot] = (),
    besides: Sequence[Sheet] = (),
) -> tuple[Sheet, ...]:  # fmt: skip
    """An index and then the sheets of a role. drawings : the whole numbered set · tables : the lists that go with it · shots : as
    for `index` · besides : sheets that only this reader gets, counted by themselves
    """
    own = sheets_for(role, drawings)
    of, dangers = (own[0].of, own[0].dangers) if own else (0, 0)
    own = (*own, *besides)
    return replace(index(wall, role, own, tables, shots), number=0, of=of, dangers=dangers), *own


def index(
    wall: Wall, role: Role, own: tuple[Sheet, ...], tables: Iterable[Table] = (), shots: Sequence[Shot] = ()
) -> Sheet:  # fmt: skip
    """The first page: the sheets with number, title, scale and revision; the lists and files that go with them.

    shots : two pictures at most, which take the page's right half
    """
    reader, fields = READERS[role], Fields.of(wall.job)
    cols = (
        Column("Sheet", "", 0, "right"),
        Column("Title"),
        Column("Kind"),
        Column("Scale"),
        Column("Rev."),
        Column("Date"),
    )
    rows = tuple((s.counted, s.title, s.kind, s.scale, fields.revision, fields.date) for s in own)
    listed = ", ".join(table.title.split(":")[0].lower() for table in tables)
    lines = [f"Lists that follow the sheets: {listed}."] if listed else []
    if reader.files:
        lines.append(f"Files beside this one: {', '.join(reader.files)}.")
    lines.append(
        "Sheets keep their numbers of the whole set. A sheet of an older revision is void: mark it so, and keep it apart."
    )
    blocks: list[Block] = [
        Notes("First", reader.says),
        Notes("With it", tuple(lines)),
        Table("index", f"{reader.title}: sheets", cols, rows),
    ]
    left, right = columns(2)
    photos, said = _hung(shots, right)
    return Sheet(
        f"index_{role}", reader.title, "Index", (), (*column(blocks, (left,) if shots else (left, right)), *said), fields,
        ("Design aid. What can hurt (mains, anchors, stone, glass, dust) is the licensed trade's, to the local code.",),
        job_title=wall.job.title, photos=photos,
    )  # fmt: skip


WIDEST = 150.0
"""A picture prints no wider: 960 dots across are 160 to the inch [mm]."""


def _hung(shots: Sequence[Shot], room: Box) -> tuple[tuple[Photo, ...], list[Mark]]:
    """The pictures one below another, each with what it shows above it and how it was made below."""
    photos: list[Photo] = []
    marks: list[Mark] = []
    top = room.top
    words = sum(len(wrap(printable(made), room.width, TEXT_SMALL)) for _, _, made in shots)
    high = (room.height - 4.1 * words) / max(len(shots), 1) - 10.5
    wide = min(WIDEST, room.width, 1.5 * high)  # two high, three wide
    for shows, png, made in shots:
        marks.append(Text((room.x, top - 4.0), shows, TEXT_LABEL, bold=True, layer="notes"))
        box = Box(room.x, top - 6.5 - wide / 1.5, wide, wide / 1.5)
        photos.append(Photo(png, box, shows))
        top = box.z - 1.0
        for line in wrap(printable(made), room.width, TEXT_SMALL):
            top -= 4.1
            marks.append(Text((room.x, top), line, TEXT_SMALL, layer="notes"))
        top -= 3.0
    return tuple(photos), marks
