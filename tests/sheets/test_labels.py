"""Labels: one for each part, true to its edges and grain, in sawing order; nothing over anything."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from wallwright.core.drawing import Line, Text
from wallwright.core.shape import Box
from wallwright.cutting.model import Cut, Placed
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import labels
from wallwright.sheets.crossed import crossed
from wallwright.sheets.paper import Sheet


@pytest.fixture(scope="module", params=["living", "bedroom", "living_faults"])
def wall(request: pytest.FixtureRequest) -> Wall:
    return derive(read_job(demo_jobs()[request.param]))


def test_every_part_has_one_label_inside_its_page(wall: Wall) -> None:
    pages = labels.sheets(wall)
    frames = [m for page in pages for m in page.marks if isinstance(m, Line) and m.layer == "frame"]
    assert sorted(m.ref for m in frames) == sorted(part.id for part in wall.carcass.parts)
    for frame in frames:
        xs, zs = zip(*frame.points, strict=True)
        assert min(xs) >= 10 and max(xs) <= 200 and min(zs) >= 30 and max(zs) <= 292


def test_the_order_is_the_saws(wall: Wall) -> None:
    refs = [
        m.ref
        for page in labels.sheets(wall)
        for m in page.marks
        if isinstance(m, Line) and m.layer == "frame"
    ]
    plan = [p.name for _, made in wall.cuts.plans for sheet in made.sheets for p in sheet.placed]
    assert set(refs[: len(plan)]) == set(plan)
    boards = [board for board, made in wall.cuts.plans for sheet in made.sheets for _ in sheet.placed]
    by = {p.name: board for board, made in wall.cuts.plans for sheet in made.sheets for p in sheet.placed}
    assert [by[ref] for ref in refs[: len(plan)]] == boards


def test_on_a_sheet_the_part_that_is_sawn_free_first_comes_first(wall: Wall) -> None:
    """Told by the cuts alone: the last one whose line runs along a part frees it."""
    kerf = round(wall.job.design.saw.kerf.mm * 10)
    order = list(labels.sawn(wall.cuts))
    unlike_places = 0
    for _, plan in wall.cuts.plans:
        for sheet in plan.sheets:
            last = {p.name: _last_cut(sheet.cuts, p, kerf) for p in sheet.placed}
            mine = [name for name in order if name in last]
            assert [last[name] for name in mine] == sorted(last.values())
            unlike_places += mine != [p.name for p in sorted(sheet.placed, key=lambda p: (p.x, p.y))]
    assert unlike_places  # else this says nothing against an order of places


def _last_cut(cuts: tuple[Cut, ...], part: Placed, kerf: int) -> int:
    spans = {"x": (part.x, part.x + part.length), "y": (part.y, part.y + part.width)}
    along = [0]
    for number, cut in enumerate(cuts, 1):
        low, high = spans[cut.axis]
        start, end = spans["y" if cut.axis == "x" else "x"]
        if (cut.at == high or cut.at + kerf == low) and cut.start <= start and end <= cut.end:
            along.append(number)
    return along[-1]


def test_bands_and_grain_are_the_parts_own(wall: Wall) -> None:
    for part in wall.carcass.parts:
        marks = labels.picture(part, Box(0, 0, 20, 20))
        outline = next(m for m in marks if isinstance(m, Line) and m.layer == "parts")
        x0, x1 = min(x for x, _ in outline.points), max(x for x, _ in outline.points)
        z0, z1 = min(z for _, z in outline.points), max(z for _, z in outline.points)
        assert x0 >= -0.01 and x1 <= 20.01 and z0 >= -0.01 and z1 <= 20.01
        wide = {m.points for m in marks if isinstance(m, Line) and m.pen == "extra"}
        assert (((x0, z0), (x1, z0)) in wide) == bool(part.edges[0])
        assert (((x0, z1), (x1, z1)) in wide) == bool(part.edges[1])
        assert (((x0, z0), (x0, z1)) in wide) == bool(part.edges[2])
        assert (((x1, z0), (x1, z1)) in wide) == bool(part.edges[3])
        shafts = [m for m in marks if isinstance(m, Line) and m.ref == "grain" and len(m.points) == 2]
        assert len(shafts) == (part.grain != "none")
        if shafts:
            (ax, az), (bx, bz) = shafts[0].points
            assert (az == bz) if part.grain == "length" else (ax == bx)


def test_sizes_are_printed(wall: Wall) -> None:
    part = max(wall.carcass.parts, key=lambda p: p.length)
    marks = labels.label(part, Box(0, 0, labels.WIDE, labels.HIGH), "ply18 sheet 1", "TVW-1 A")
    words = [m.text for m in marks if isinstance(m, Text)]
    assert any(w.startswith(f"{part.length:.0f}"[:3]) for w in words)
    assert any(w.startswith("cut ") for w in words)
    assert any(w.endswith(", ply18 sheet 1") for w in words)


def test_no_size_is_cut_short(wall: Wall) -> None:
    """A label whose last figure is gone sends a wrong part to the bench."""
    for part in wall.carcass.parts:
        marks = labels.label(part, Box(0, 0, labels.WIDE, labels.HIGH), "ply18 sheet 12", "TVW-1 A")
        words = [m.text for m in marks if isinstance(m, Text)]
        assert words[0] == part.id
        assert any(w.count("×") == 2 and not w.endswith("…") for w in words), words
        assert not any(w.startswith(("cut", "edges")) and w.endswith("…") for w in words), words


def test_nothing_over_anything_and_nothing_cut_short(
    wall: Wall, sheet_faults: Callable[[Sheet], list[str]]
) -> None:
    """What is too long for a line goes on the next one: no word of a label ends in an ellipsis."""
    for page in labels.sheets(wall):
        assert not [m.text for m in page.marks if isinstance(m, Text) and m.text.endswith("…")]
        assert crossed(page) == ()
        assert sheet_faults(page) == []


def test_matched_fronts_carry_their_mark_and_place_and_parted_ones_do_not() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    marked = [part for part in wall.carcass.parts if part.match]
    assert len(marked) == 2
    said: dict[str, list[str]] = {part.id: [] for part in wall.carcass.parts}
    for page in labels.sheets(wall):
        for m in page.marks:
            if isinstance(m, Text) and m.ref in said:
                said[m.ref].append(m.text)
    for i, part in enumerate(marked, 1):
        assert sum(words.endswith(f"{part.match}, {i} of 2") for words in said[part.id]) == 1
        assert any(words.startswith("Laminate, light oak, 0.8 mm") for words in said[part.id])
    parted = replace(wall.cuts, parted=((marked[0].match, "no sheet gives it"),))
    assert not any(
        isinstance(m, Text) and " of 2" in m.text for page in labels.sheets(wall, parted) for m in page.marks
    )
