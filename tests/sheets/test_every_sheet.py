"""Every sheet of every job there is: nothing written over anything, nothing run through, chains that close, scales of ISO 5455.

Measured on the paper as printed. The jobs: the demos, walls with every kind of unit and of panel, and the scenarios.
"""

from __future__ import annotations

import importlib.util
import itertools
import re
from collections import defaultdict
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

import pytest

from wallwright.change.impact import Document
from wallwright.core.drawing import Dim, Drawing, Hatch, Level, Line, Symbol, Text
from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.sheets import labels, transmittal
from wallwright.sheets.chains import chain
from wallwright.sheets.crossed import crossed
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.ink import figure, inked
from wallwright.sheets.paper import SCALES, Sheet
from wallwright.sheets.roles import ROLES, index, sheets_for, tables_for
from wallwright.sheets.templates import templates
from wallwright.tables import all_tables

HERE = Path(__file__).parent
MADE = sorted(path.stem for path in (HERE / "made").glob("*.toml"))
SCENARIOS = ("s1", "s5_towers", "s7", "s12")
JOBS = (*demo_jobs(), *MADE, *SCENARIOS)


def job_text(name: str) -> str:
    """The job file of that name: a demo, one of `made`, or a scenario's."""
    if name in demo_jobs():
        return demo_jobs()[name]
    if name in MADE:
        return (HERE / "made" / f"{name}.toml").read_text(encoding="utf-8")
    spec = importlib.util.spec_from_file_location(name, HERE.parent / "scenarios" / f"test_{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    text = module.JOB
    assert isinstance(text, str)
    return text


@lru_cache(maxsize=1)  # the tests of one job run together
def drawn(name: str) -> tuple[Wall, tuple[Sheet, ...]]:
    wall = derive(read_job(job_text(name), name))
    sheets, lists = drawing_set(wall), all_tables(wall, check(wall))
    readers = tuple(
        index(
            wall, role, sheets_for(role, sheets), tables_for(role, lists), SHOTS if role == "client" else ()
        )
        for role in ROLES
    )
    documents = [
        Document(sheet.name, sheet.title, "sheet", ROLES[:2], "changed", sheet.number) for sheet in sheets
    ]
    sent = transmittal.sheets(wall, documents, "A", 0, ("C1-L (cut): shorter",))
    return wall, (*sheets, *templates(wall), *labels.sheets(wall), *readers, *sent)


SHOTS = tuple(
    (f"By {when}", b"", "Computed from this design, for choosing and not for measuring. " * 3)
    for when in ("day", "night")
)
"""Stands for the client's pictures: where they hang and what is said below them does not depend on their dots."""


@pytest.fixture(scope="module", params=JOBS)
def every(request: pytest.FixtureRequest) -> tuple[Wall, tuple[Sheet, ...]]:
    return drawn(request.param)


def test_nothing_is_written_over_anything(
    every: tuple[Wall, tuple[Sheet, ...]], sheet_faults: Callable[[Sheet], list[str]]
) -> None:
    """Texts over one another, outside the frame, or in the title block: none."""
    assert len(every[1]) > 20
    assert {sheet.name: found for sheet in every[1] if (found := sheet_faults(sheet))} == {}


def test_nothing_runs_through_a_text(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """Lines, leaders, dimensions, hatches and dark grounds through a text: none."""
    assert {sheet.name: found for sheet in every[1] if (found := crossed(sheet))} == {}


def test_scales_are_of_the_list(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """ISO 5455: 1, 2 and 5 times a power of ten; 1:25 and 1:40 are none."""
    assert {
        (sheet.name, view.drawing.scale) for sheet in every[1] if not sheet.pictured for view in sheet.views
        if view.drawing.scale not in SCALES
    } == set()  # fmt: skip
    assert {sheet.scale for sheet in every[1] if sheet.pictured} == {"none"}


def chains_of(drawing: Drawing) -> list[list[Dim]]:
    """The dimensions that stand on one line and go on from one another, in order."""
    lines: dict[tuple[str, float, float, str], list[Dim]] = defaultdict(list)
    for mark in drawing.marks:
        if isinstance(mark, Dim):
            lines[mark.along, round(mark.at, 3), round(mark.offset, 3), mark.ref].append(mark)
    out: list[list[Dim]] = []
    for dims in lines.values():
        axis = 0 if dims[0].along == "x" else 1
        dims.sort(key=lambda dim: min(dim.start[axis], dim.end[axis]))
        for dim in dims:
            low = min(dim.start[axis], dim.end[axis])
            if (
                out
                and out[-1][0] in dims
                and abs(max(out[-1][-1].start[axis], out[-1][-1].end[axis]) - low) < 0.01
            ):
                out[-1].append(dim)
            else:
                out.append([dim])
    return out


def open_chains(drawing: Drawing) -> list[str]:
    """The chains whose figures, as written, do not add up to the length from end to end as it would be written."""
    found: list[str] = []
    for dims in chains_of(drawing):
        axis = 0 if dims[0].along == "x" else 1
        ends = [e for dim in dims for e in (dim.start[axis], dim.end[axis])]
        whole = figure(chain([min(ends), max(ends)], "x", 0.0, 8.0)[0])
        written = [int(figure(dim)) for dim in dims]
        if sum(written) != int(whole):
            found.append(f"{dims[0].ref}: {' + '.join(map(str, written))} is not {whole}")
    return found


def test_chains_close(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """The figures of a chain, as written, make its overall to the millimetre (ISO 129-1 practice)."""
    found = {
        sheet.name: one for sheet in every[1] for view in sheet.views if (one := open_chains(view.drawing))
    }
    assert found == {}
    longest = max(len(dims) for sheet in every[1] for view in sheet.views for dims in chains_of(view.drawing))
    assert longest >= 3  # there are chains to close


def test_the_measure_of_chains_finds_one_that_is_open() -> None:
    good = chain([0.0, 333.4, 666.8, 1000.2], "x", 0.0, -8.0)
    bad = [Dim(dim.start, dim.end, "x", 0.0, -8.0, "dims", "chain", shown=334) for dim in good]
    assert open_chains(Drawing("good", "", 10.0, tuple(good))) == []
    assert open_chains(Drawing("bad", "", 10.0, tuple(bad))) == ["chain: 334 + 334 + 334 is not 1000"]


def test_elevations_count_from_the_left_corner_and_from_ffl(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """One datum an axis: every chain of the whole wall begins at the left corner or at FFL and ends at the wall's other end."""
    wall, sheets = every
    for name in ("elevation", "services", "setting_out"):
        for sheet in sheets:
            if sheet.name != name:
                continue
            for dims in chains_of(sheet.views[0].drawing):
                axis = 0 if dims[0].along == "x" else 1
                far = wall.face.width if axis == 0 else wall.face.height
                ends = [e for dim in dims for e in (dim.start[axis], dim.end[axis])]
                assert min(ends) == pytest.approx(0.0, abs=0.01), (name, dims[0].ref)
                assert any(end == pytest.approx(far, abs=0.01) for end in ends), (name, dims[0].ref)


def test_every_sheet_has_its_foot(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """Revision, date, check line of exactly 100 mm, the note on FFL on every A3, and words of caution."""
    for sheet in every[1]:
        marks = sheet.paper.marks
        words = " ".join(mark.text for mark in marks if isinstance(mark, Text))
        assert sheet.fields.date in words, sheet.name
        rev = sheet.fields.revision
        assert any(isinstance(m, Text) and (m.text == rev or f"rev. {rev} " in m.text) for m in marks), (
            sheet.name
        )
        line = next(mark for mark in marks if isinstance(mark, Line) and mark.ref == "check-100")
        assert line.points[1][0] - line.points[0][0] == pytest.approx(100.0, abs=1e-9)
        assert sheet.cautions, sheet.name
        if sheet.size[0] > 400:
            assert "FFL (finished floor level)" in words, sheet.name
            if sheet.views and not sheet.pictured:
                assert f"mm at 1:{sheet.views[0].drawing.scale:g}" in words, sheet.name


SAID_TWICE = re.compile(r"\b(\d+(?:\.\d+)?) mm,? \1(?: mm)?[,.;]")


def test_nothing_is_cut_short_or_said_twice(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """What is too long for its place is wrapped or led out: an ellipsis stands only within a span of names, or for none of them.
    A board of "12 mm" is not 12 mm thick a second time; a legend tells of no light that is not there.
    """
    wall, sheets = every
    found: list[tuple[str, str]] = []
    for sheet in sheets:
        for view in sheet.layers:
            for mark in view.drawing.marks:
                for part in inked(mark, view.drawing.scale):
                    words = part.text if isinstance(part, Text) else ""
                    dark = not wall.light.runs and words.startswith("LED strip")
                    if SAID_TWICE.search(words) or dark or (words.endswith("…") and not words.endswith(" …")):
                        found.append((sheet.name, words))
    assert found == []


PLAIN_FILES = re.compile(r"(cutting_plan|drawings|picture_day|picture_night)\.(csv|dxf|pdf|png)")


def coded(words: str) -> list[str]:
    """Words of a program's kind: small letters with underscores and short for aerial, but for the names of files of the set."""
    return re.findall(r"\b(?:[a-z]+_[a-z_0-9]+|rf)\b", PLAIN_FILES.sub("", words))


def test_no_word_of_a_program_is_printed(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """Boards, finishes, fittings and kinds of things by their names, on sheets and in lists; rules alone go by the name that
    `wallwright why` takes, in a column of their own.
    """
    wall, sheets = every
    found = {
        (sheet.name, word) for sheet in sheets for view in sheet.layers for mark in view.drawing.marks
        for part in inked(mark, view.drawing.scale) if isinstance(part, Text) for word in coded(part.text)
    }  # fmt: skip
    for table in all_tables(wall):
        cells = (cell for row in table.rows for cell in row if isinstance(cell, str))
        found |= {
            (table.name, word) for words in (*cells, *table.notes, table.title) for word in coded(words)
        }
    assert found == set()


def test_the_measure_of_program_words() -> None:
    assert coded("shelf_pin in laminate_oak, see cutting_plan.csv; rf") == ["shelf_pin", "laminate_oak", "rf"]
    assert SAID_TWICE.search("Tile, grey stone look, 8 mm 8 mm.") and SAID_TWICE.search(
        "slab, 6 mm, 6 mm, 14 kg"
    )
    assert not SAID_TWICE.search("battens 12 mm, board 18 mm, 12 mm; 8 mm; 18 mm")


PLAIN = frozenset({"light", "dark", "screen"})
"""Tints and the like that say what they are by what they lie on."""
HATCHED = (
    "services",
    "hidden_services",
    "no_drill_map",
    "fixings",
    "battens",
    "setting_out",
    "stone_",
    "storage",
    "details_",
)


def test_hatches_are_in_a_legend(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """Of the drawings that hatch where one may drill or set, every pattern stands in the legend of its sheet."""
    for sheet in every[1]:
        if not sheet.name.startswith(HATCHED):
            continue
        drawn_ = {
            mark.pattern
            for view in sheet.views[:1]
            for mark in view.drawing.marks
            if isinstance(mark, Hatch) and mark.pattern not in PLAIN
        }
        told = {mark.pattern for mark in sheet.marks if isinstance(mark, Hatch)}
        assert drawn_ <= told, (sheet.name, drawn_ - told)


def test_levels_say_their_own_height(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    """A level mark stands where it says, in metres with three decimals (ISO 129-1 practice)."""
    seen = 0
    for sheet in every[1]:
        for view in sheet.views:
            for mark in view.drawing.marks:
                if isinstance(mark, Level):
                    seen += 1
                    written = " ".join(
                        part.text for part in inked(mark, view.drawing.scale) if isinstance(part, Text)
                    )
                    assert f"{abs(mark.mm) / 1000:.3f}" in written
                    if sheet.name in ("elevation", "services", "setting_out"):
                        assert mark.at[1] == pytest.approx(mark.mm)
    assert seen > 5


def test_every_point_stands_on_the_sheets_by_sign_and_schedule(every: tuple[Wall, tuple[Sheet, ...]]) -> None:
    wall, sheets = every
    named = {sheet.name: sheet for sheet in sheets}
    signs = {mark.ref for mark in named["services"].views[0].drawing.marks if isinstance(mark, Symbol)}
    assert {point.ref for point in wall.services.points} <= signs


def test_boxes_that_touch_are_told_apart() -> None:
    """The measure's own geometry: boxes side by side do not overlap, boxes one in the other do."""
    pairs = itertools.combinations([Box(0, 0, 10, 3), Box(10, 0, 10, 3), Box(2, 1, 3, 1)], 2)
    assert [a.meets(b) for a, b in pairs] == [False, True, False]
