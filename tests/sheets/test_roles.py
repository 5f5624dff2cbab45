"""Each reader gets his facts and no others; his sheets keep the numbers of the whole set."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path
from typing import get_args

import pytest

from wallwright.cli_issue import ReaderName
from wallwright.core.drawing import Dim, Symbol, Text
from wallwright.core.shape import Box
from wallwright.core.table import Table
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules import check
from wallwright.sheets import fitter, owner, setting_out, stone
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.ink import inked
from wallwright.sheets.paper import Sheet
from wallwright.sheets.roles import LEFT_OUT, READERS, ROLES, Role, missing, role_set, sheets_for, tables_for
from wallwright.tables import all_tables

MADE = Path(__file__).parent / "made"


@lru_cache(maxsize=2)
def made(name: str) -> tuple[Wall, tuple[Sheet, ...], tuple[Table, ...]]:
    text = demo_jobs()[name] if name in demo_jobs() else (MADE / f"{name}.toml").read_text(encoding="utf-8")
    wall = derive(read_job(text, name))
    return wall, drawing_set(wall), all_tables(wall, check(wall))


def words(sheet: Sheet) -> str:
    return " ".join(
        part.text
        for view in sheet.layers
        for mark in view.drawing.marks
        for part in inked(mark, view.drawing.scale)
        if isinstance(part, Text)
    )


def cells(tables: tuple[Table, ...]) -> str:
    return " ".join(
        " ".join((table.title, *table.notes, *(c.heading for c in table.columns), *(str(c) for row in table.rows for c in row)))
        for table in tables
    )  # fmt: skip


def said_to(role: Role, name: str) -> str:
    wall, sheets, tables = made(name)
    lists = tables_for(role, tables)
    return " ".join(map(words, role_set(wall, role, sheets, lists))) + " " + cells(lists)


def test_the_command_line_knows_every_role() -> None:
    assert get_args(ReaderName) == (*ROLES, "all")


@pytest.mark.parametrize("role", ROLES)
def test_prices_go_to_the_client_alone(role: Role) -> None:
    """No amount of the quote, no word of price or rate, in any other set."""
    wall, _, tables = made("living")
    priced = {"items", "quote", "cost_split", "price_range", "stages"}
    got = {table.name for table in tables_for(role, tables)} & priced
    said = said_to(role, "living")
    shown = wall.money.shown(wall.money.total).split()[-1]
    if READERS[role].money:
        assert "stages" in got
        assert "quote.pdf" in READERS[role].files
    else:
        assert got == set()
        assert shown not in said
        assert not re.search(r"\b(price|cost|rates?|margin)\b", said, re.IGNORECASE), role
        assert not {"quote.pdf", "job.toml", "schedules.xlsx", "documents.pdf"} & set(READERS[role].files)


def test_nobody_is_shown_what_the_designer_keeps() -> None:
    """Reserve and split of cost are the designer's own: in no set, not in the client's either."""
    for role in ROLES:
        assert not {"cost_split", "price_range"} & set(READERS[role].tables), role


def test_the_client_sees_no_workshop_table() -> None:
    own = set(READERS["client"].tables)
    assert not own & {"cut_list", "hardware", "boards", "fixings", "runs", "loads", "points", "no_drill"}
    names = [sheet.name for sheet in sheets_for("client", made("living")[1])]
    assert not [
        name
        for name in names
        if name.startswith(("drilling", "cutting", "joinery", "exploded", "services", "fixings"))
    ]
    assert {"view_A", "view_B", "view_C", "storage", "heights", "seat_plan"} <= set(names)
    first = words(next(sheet for sheet in made("living")[1] if sheet.name == "view_A"))
    assert "Screen black, by day" in first
    assert "Screen on" in first


@pytest.mark.parametrize("role", ROLES)
def test_sheets_keep_their_numbers(role: Role) -> None:
    wall, sheets, tables = made("every_panel")
    whole = {sheet.name: sheet.number for sheet in sheets}
    first, *own = role_set(wall, role, sheets, tables_for(role, tables))
    assert (first.number, first.of) == (0, len(sheets))
    assert {sheet.name: sheet.number for sheet in own}.items() <= whole.items()
    assert len({sheet.name for sheet in own}) == len(own) > 3
    listed = words(first)
    for sheet in own:
        assert f"{sheet.number:02d}" in listed
        assert sheet.title in listed
    for file in READERS[role].files:
        assert file in listed


def test_every_sheet_is_read_by_somebody() -> None:
    for name in ("living", "every_panel"):
        _, sheets, _ = made(name)
        read = {sheet.name for role in ROLES for sheet in sheets_for(role, sheets)}
        assert {sheet.name for sheet in sheets} - read == {"composition"}, (
            "guides to compose by are the designer's own"
        )


def columns_of(role: Role, name: str) -> set[str]:
    return {
        c.name for table in tables_for(role, made("living")[2]) if table.name == name for c in table.columns
    }


def test_the_client_is_told_colours_not_colour_science() -> None:
    """Finish, area, gloss; no L*a*b*, reflectance or colour difference, and no note about a figure that is not there."""
    assert {"Face", "Finish", "Area", "Gloss"} <= columns_of("client", "surfaces")
    said = cells(tables_for("client", made("living")[2]))
    assert not re.search(r"[Lab]\*|\bLRV\b|ΔE|blue wool|Pixels a degree|Dots to", said)
    assert "Mirrored: windows" in said, "the note of a column that stayed"


@pytest.mark.parametrize("role", [role for role in ROLES if "points" in READERS[role].tables])
def test_how_a_point_was_decided_is_the_designers_own(role: Role) -> None:
    got = columns_of(role, "points")
    assert {"Ref", "x to centre", "Height to centre", "Box depth", "Circuit"} <= got
    assert not got & {"Decided", "Why here"}
    assert "automatic" not in cells(
        tuple(t for t in tables_for(role, made("living")[2]) if t.name == "points")
    )


def test_the_owner_reads_what_a_shelf_bears_not_how_it_sags() -> None:
    said = said_to("owner", "living")
    assert "What each shelf bears" in said
    assert not re.search(r"\bsag\b|ΔE|blue wool|Strength used", said, re.IGNORECASE)
    assert len(re.findall(r"The largest that this wall takes later", said)) == 1
    assert not {"care", "later_screen"} & set(READERS["owner"].tables), "they stand in the book itself"


def test_who_fixes_and_who_feeds_a_strip_know_where_it_is_fed() -> None:
    """The composition is for who composes; the place of feed and driver goes with the strip to carpenter and electrician."""
    wall, sheets, tables = made("living")
    for role in ROLES:
        assert not [sheet for sheet in sheets_for(role, sheets) if sheet.name.startswith("composition")]
    for role in ("carpenter", "electrician"):
        table = next(table for table in tables_for(role, tables) if table.name == "lights")
        names = [column.name for column in table.columns]
        for run, row in zip(wall.light.runs, table.rows, strict=True):
            (x, z), *_ = run.feed_points
            assert row[names.index("Fed at x, z")] == f"{x:.0f}, {z:.0f}"
            assert run.driver_at is not None
            assert row[names.index("Driver at x, z")] == f"{run.driver_at[0]:.0f}, {run.driver_at[1]:.0f}"


def test_a_column_that_is_left_out_is_one_there_is() -> None:
    wall = made("living")[0]
    from wallwright.tables import EVERY

    every = {table.name: {c.name for c in table.columns} for table in (make(wall) for make in EVERY)}
    for (role, name), gone in LEFT_OUT.items():
        assert name in READERS[role].tables, (role, name)
        assert set(gone) < every[name], (role, name)


def test_every_list_that_a_role_asks_for_is_one_there_is() -> None:
    from wallwright.tables import EVERY

    wall = made("living")[0]
    known = {make(wall).name for make in EVERY} | {"findings", "options", "options_finishes"}
    for role in ROLES:
        assert set(READERS[role].tables) <= known, role


def test_no_stone_no_set() -> None:
    assert "stone" in missing("stone", made("living")[1])
    assert missing("stone", made("every_panel")[1]) == ""
    assert all(missing(role, made("living")[1]) == "" for role in ROLES if role != "stone")


# --- stone and tile -----------------------------------------------------------------------------------------------------
def test_every_piece_of_stone_stands_in_the_list_with_its_weight() -> None:
    """Pieces and joints fill the field, and a size's count times its area is what is drawn of it."""
    wall = made("every_panel")[0]
    assert stone.zones(wall)
    for zone in stone.zones(wall):
        found = stone.letters(zone)
        rows = stone.piece_table(wall, zone).rows
        assert sum(int(row[3] or 0) for row in rows) == len(found)
        face = load.finishes()[zone.finish]
        by_letter = {row[0]: row for row in rows}
        for letter, piece in found:
            assert float(str(by_letter[letter][4])) == pytest.approx(face.mass * piece.area / 1e6, abs=0.06)
        right = max(piece.right for _, piece in found)
        assert right == pytest.approx(zone.box.right, abs=0.01)
        assert min(piece.z for _, piece in found) == pytest.approx(zone.box.z, abs=0.01)


def test_a_piece_with_a_box_behind_it_says_so() -> None:
    wall = made("living_faults")[0]
    for zone in stone.zones(wall):
        behind = [
            p for p in wall.services.points if (c := p.box.shared(zone.box)) and min(c.width, c.height) > 0.5
        ]
        said = " ".join(stone.notes(wall, zone))
        for point in behind:
            assert f"{point.ref} " in said
        assert ("opening" in said) == bool(behind)
        noted = {row[0] for row in stone.piece_table(wall, zone).rows if row[5]}
        assert bool(noted) == bool(behind)


def test_stone_says_joint_gap_bed_seal_and_weight() -> None:
    wall = made("every_panel")[0]
    for zone in stone.zones(wall):
        said = " ".join(stone.notes(wall, zone))
        assert f"{wall.limits.value('carcass.tile_gap_edge'):g} mm at floor" in said
        check_ = next(one for one in wall.structure.cladding if one.ref == zone.ref)
        assert f"{check_.mass_per_m2:.1f} kg/m²" in said
        assert ("Seal with" in said) == load.finishes()[zone.finish].seal
        if zone.joint:
            assert f"Joints {zone.joint:g} mm" in said


# --- screen fitter ------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("mass", "people"), [(9, 1), (25, 1), (25.1, 2), (33.3, 2), (33.4, 3), (37.5, 3), (37.6, 4), (60, 5)]
)
def test_people_for_a_lift(mass: float, people: int) -> None:
    """25 kg a man close at knuckle height; two keep 2/3 of the sum (33.3 kg), three 1/2 (37.5 kg): guidance on team lifting, HSE."""
    assert fitter.people(mass) == people


def test_the_fitter_gets_every_cable_at_the_screen_and_every_box_behind_it() -> None:
    wall = made("living")[0]
    said = words(fitter.sheet(wall))
    ends = [plug for plug in wall.services.plugs if "screen" in (plug.start.lower(), plug.end.lower())]
    assert len(ends) >= 3
    for plug in ends:
        assert plug.ref in said
    drawn = fitter.drawing(wall, 10.0)
    signs = {mark.ref: mark.at for mark in drawn.marks if isinstance(mark, Symbol) and mark.label}
    assert signs == {p.ref: (p.x, p.z) for p in wall.services.points if p.zone == "behind_screen"}
    dims = [mark.value for mark in drawn.marks if isinstance(mark, Dim)]
    assert any(value == pytest.approx(wall.sight.screen.frame.width) for value in dims)
    assert f"{wall.sight.screen.mass:g} kg" in said


# --- site engineer ------------------------------------------------------------------------------------------------------
def test_every_box_unit_and_panel_is_a_mark_with_its_place() -> None:
    wall = made("living")[0]
    pegs = {peg.ref: peg for peg in setting_out.marked(wall)}
    assert [peg.number for peg in setting_out.marked(wall)] == list(range(1, len(pegs) + 1))
    for point in wall.services.points:
        assert pegs[point.ref].at == (point.x, point.z)
    for unit in wall.setout.units:
        assert pegs[unit.ref].at == (unit.box.x, unit.box.z)
    for _, what, x, z, above, *_ in setting_out.mark_table(wall).rows:
        assert float(str(z)) - 1000 == pytest.approx(float(str(above)), abs=0.6), what
        assert 0 <= float(str(x)) <= wall.face.width


def test_every_hold_of_the_programme_is_on_the_list() -> None:
    wall = made("living")[0]
    said = " ".join(str(row[1]) for row in setting_out.checks(wall).rows if row[0] == "HOLD")
    holds = [task.hold for task in wall.programme.tasks if task.hold]
    assert len(holds) >= 4
    assert all(hold in said for hold in holds)
    for run in wall.services.runs:
        assert any(str(row[1]).startswith(f"{run.ref}:") for row in setting_out.checks(wall).rows)


# --- owner --------------------------------------------------------------------------------------------------------------
def test_the_owner_finds_every_finish_he_sees_by_its_code() -> None:
    wall = made("living")[0]
    names = {row.name: key for key, row in load.finishes().items()}
    seen = {names[s.name] for s in wall.look.surfaces if s.area > 0 and s.name in names}
    assert {str(row[0]) for row in owner.finish_codes(wall).rows} == {key.replace("_", "-") for key in seen}


def test_a_shelf_bears_what_it_was_reckoned_with() -> None:
    wall = made("living")[0]
    for shelf, row in zip(wall.carcass.shelves, owner.bearing(wall).rows, strict=True):
        assert float(str(row[3])) == pytest.approx(shelf.load_kg_per_m * shelf.span / 1000, abs=0.51)


def test_the_snag_list_goes_through_every_unit_panel_light_and_fixing() -> None:
    wall = made("living")[0]
    first = [str(row[0]) for row in owner.snags(wall).rows]
    for ref in (
        *(u.ref for u in wall.setout.units), *(z.ref for z in wall.setout.zones), *(r.ref for r in wall.light.runs),
        *(f.ref for f in wall.structure.fixings),
    ):  # fmt: skip
        assert any(name.startswith(f"{ref} ") for name in first), ref
    assert first[-1] == "Signed"


def test_section_a_a_is_marked_where_it_is_cut() -> None:
    """Two wide strokes on the line of the section, with its letter at both, on the elevation (ISO 128 practice)."""
    wall, sheets, _ = made("living")
    marks = next(sheet for sheet in sheets if sheet.name == "elevation").views[0].drawing.marks
    x = wall.sight.screen.centre[0]
    strokes = [m for m in marks if getattr(m, "layer", "") == "section" and getattr(m, "pen", "") == "extra"]
    assert len(strokes) == 2
    assert all(px == pytest.approx(x) for stroke in strokes for px, _ in stroke.points)  # type: ignore[union-attr]
    face: Box = wall.face.box
    assert not any(face.z < z < face.top for stroke in strokes for _, z in stroke.points)  # type: ignore[union-attr]
    letters = [m for m in marks if isinstance(m, Text) and m.layer == "section"]
    assert [m.text for m in letters] == ["A", "A"]
    assert all(m.height == 3.5 for m in letters)  # the next height of ISO 3098 above the figures' 2.5
    assert f"x = {round(x)}" in words(next(sheet for sheet in sheets if sheet.name == "section"))
