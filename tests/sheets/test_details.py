"""Details: drawn of the parts where they stand, every layer named and measured from the wall, at 1:2 and 1:5."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import pytest

from wallwright.carcass.niche import arch_of
from wallwright.core.drawing import Dim, Drawing, Hatch, Line, Text
from wallwright.core.shape import Block
from wallwright.derive import Wall, derive
from wallwright.job.read import read_job
from wallwright.sheets.chains import joined
from wallwright.sheets.details import drawings, sheets
from wallwright.sheets.details_cut import cut_through
from wallwright.sheets.details_hung import bevelled
from wallwright.sheets.details_panel import edge_drawings
from wallwright.sheets.ink import inked
from wallwright.sheets.words import finish_name


@lru_cache(maxsize=2)
def made(name: str) -> Wall:
    return derive(read_job((Path(__file__).parent / "made" / f"{name}.toml").read_text()))


def words(drawing: Drawing) -> Iterator[str]:
    for mark in drawing.marks:
        yield from (part.text for part in inked(mark, drawing.scale) if isinstance(part, Text))


def test_every_build_up_is_dimensioned_from_the_wall() -> None:
    """The chain at each panel's edge has a stop at every layer of half a millimetre or more, from the wall's face outwards."""
    wall = made("every_panel")
    found = list(edge_drawings(wall))
    assert len(found) == len(wall.setout.zones)  # no two are built alike here
    for zone, drawing in zip(wall.setout.zones, found, strict=True):
        dims = [m for m in drawing.marks if isinstance(m, Dim) and m.ref == "build-up from the wall"]
        stops = {round(e[1], 3) for dim in dims for e in (dim.start, dim.end)}
        deep, wanted = 0.0, [0.0]
        for _, mm in zone.layers:
            deep -= mm
            wanted += [deep] if mm >= 0.5 else []
        assert stops == {round(v, 3) for v in joined(wanted)}, zone.ref
        text = " | ".join(words(drawing))
        for what, mm in zone.layers:
            assert what.split(",")[0].split(" (")[0] in text and f"{mm:g}" in text, (zone.ref, what)
        assert finish_name(zone.finish).split(",")[0].lower() in text.lower() or zone.kind == "moulding"


def test_a_fluted_edge_shows_whole_grooves() -> None:
    wall = made("every_panel")
    zone = next(z for z in wall.setout.zones if z.flutes)
    drawing = next(d for d in edge_drawings(wall) if d.title.startswith(zone.ref))
    outline = max((m.points for m in drawing.marks if isinstance(m, Hatch) and m.ref == zone.ref), key=len)
    face = min(z for _, z in outline)
    runs = [
        (a, b)
        for a, b in pairwise(outline)
        if a[1] > face + 1 and b[1] > face + 1 and a[1] == b[1] and a[1] < -zone.void - 1
    ]
    rib = zone.flute_pitch * wall.limits.value("carcass.flute_rib")
    assert len(runs) >= 3
    assert [abs(a[0] - b[0]) for a, b in runs] == pytest.approx([zone.flute_pitch - rib] * len(runs))


def test_the_kerfs_are_drawn_and_counted() -> None:
    """Half round of radius r: π · depth / kerf cuts close it, π · r / √(8 · r · 0.3) leave flats of 0.3 mm (plane geometry)."""
    wall = made("every_unit")
    drawing = next(d for d in drawings(wall) if d.title.startswith("N2: edge of the arch"))
    left, kerf = wall.limits.value("carcass.arch_kerf_left"), wall.job.design.saw.kerf.mm
    radius = arch_of(wall.setout.unit("N2")).radius
    closing, smooth = math.pi * (12.0 - left) / kerf, math.pi * radius / math.sqrt(8 * radius * 0.3)
    count = math.ceil(max(closing, smooth))
    assert any(f"{count} saw cuts of {kerf:g}" in text for text in words(drawing))
    outline = next(m.points for m in drawing.marks if isinstance(m, Line) and m.closed and len(m.points) > 8)
    floors = sorted(a[0] for a, b in pairwise(outline) if a[1] == b[1] == left)
    assert len(floors) == 3 and floors[1] - floors[0] == pytest.approx(floors[2] - floors[1])


def test_rail_and_cleat_hook_and_meet_at_45_degrees() -> None:
    rail, cleat = Block(0, -18, 70, 900, 18, 70), Block(0, -18, 0, 900, 18, 70)
    up, down = bevelled(rail, cleat)
    front, rear = down[0], down[1]
    assert front[0] == -18 and rear[0] == 0
    assert front[1] - rear[1] == pytest.approx(
        18
    )  # 45°: as high as it is thick, the cleat's front edge the higher
    assert up[:2] == down[:2]


def test_what_each_wall_has_is_detailed() -> None:
    titles = [d.title for d in drawings(made("every_unit"))]
    for wanted in (
        "rail on cleat", "fixing strip", "hidden rods", "foot, on legs", "foot, on a plinth", "front, inset", "front, finger gap",
        "front, overlay", "light and lip", "edge of the arch",
    ):  # fmt: skip
        assert any(wanted in title for title in titles), wanted
    panels = [d.title for d in drawings(made("every_panel"))]
    for kind in ("fluted", "flat", "framed", "moulding", "tile", "slab", "mirror", "glass", "stone veneer"):
        assert any(f"{kind}, edge in plan" in title for title in panels), kind
    assert any("behind W1: light" in title for title in panels)
    assert {d.scale for name in ("every_unit", "every_panel") for d in drawings(made(name))} == {2.0, 5.0}


def test_a_detail_is_cut_of_the_parts_themselves() -> None:
    """Each hatched board of the front's detail stands where its part stands."""
    wall = made("every_unit")
    unit = wall.setout.unit("C1")
    drawing = next(d for d in drawings(wall) if d.title.startswith("C1: front"))
    front = next(p for p in wall.carcass.parts if p.unit == "C1" and p.role == "front")
    shown = next(
        m for m in drawing.marks if isinstance(m, Hatch) and m.ref.startswith("C1") and "-F" in m.ref
    )
    xs = [y for y, _ in shown.points]
    assert (min(xs), max(xs)) == pytest.approx((front.block.y, front.block.y + front.block.dy))
    assert front.block.y == pytest.approx(-unit.depth)  # inset: flush with the carcass's front edge
    top = next(p for p in wall.carcass.parts if p.id == "C1-T")
    gap = next(m for m in drawing.marks if isinstance(m, Dim) and m.ref == "heights" and m.value < 5)
    assert gap.value == pytest.approx(top.block.z - front.block.z - front.block.dz)


def test_nothing_is_laid_off_the_sheet() -> None:
    for name in ("every_unit", "every_panel"):
        seen = [view.drawing.title for sheet in sheets(made(name)) for view in sheet.views]
        assert sorted(seen) == sorted(d.title for d in drawings(made(name)))


def test_a_cut_meets_only_what_is_there() -> None:
    from wallwright.core.shape import Box

    wall = made("every_unit")
    unit = wall.setout.unit("C1")
    window = Box(-unit.depth - 1, unit.box.z, unit.depth + 1, unit.box.height)
    found = {part.id for part, _ in cut_through(wall, unit.box.x + 5.0, window)}
    assert "C1-L" in found and "C1-R" not in found and "C1-B" not in found
