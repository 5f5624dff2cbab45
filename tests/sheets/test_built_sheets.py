"""Nothing runs through a text of the sheets that a workshop builds from, on the demo walls and on walls of every kind made."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

import pytest

from wallwright.core.drawing import PEN_WIDTH, Dim, Text
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import (
    details,
    elevation,
    exploded,
    fixings,
    flute_rod,
    joinery,
    pack_out,
    panels,
    section,
)
from wallwright.sheets.crossed import crossed
from wallwright.sheets.ink import inked
from wallwright.sheets.paper import SCALES, Sheet, numbered

MADE = Path(__file__).parent / "made"
WALLS = ("living", "bedroom", "living_faults", "every_unit", "every_panel")


@lru_cache(maxsize=len(WALLS))
def made(name: str) -> Wall:
    jobs = demo_jobs()
    return derive(read_job(jobs[name] if name in jobs else (MADE / f"{name}.toml").read_text()))


@lru_cache(maxsize=len(WALLS))
def built(name: str) -> tuple[Sheet, ...]:
    wall = made(name)
    return numbered(
        (
            *elevation.sheets(wall),
            section.sheet(wall),
            *fixings.sheets(wall),
            *pack_out.sheets(wall),
            *joinery.sheets(wall),
            *exploded.sheets(wall),
            *panels.sheets(wall),
            *flute_rod.sheets(wall),
            *details.sheets(wall),
        )
    )


def test_the_walls_have_every_kind() -> None:
    """What is not there cannot be drawn wrong: each kind of unit, front and panel stands on one of them."""
    units = {unit.kind for name in WALLS for unit in made(name).setout.units}
    assert units == {
        "console", "tower", "shelf", "loft", "open_shelves", "niche", "arched_niche", "ledge", "desk",
    }  # fmt: skip
    fronts = {bay.front for name in WALLS for bay in made(name).carcass.bays}
    assert fronts >= {"drawers", "shutter", "glass", "slatted", "cloth", "flap", "pull_out", "open"}
    zones = {zone.kind for name in WALLS for zone in made(name).setout.zones}
    assert zones == {
        "flat", "fluted", "framed", "moulding", "stone_veneer", "slab", "tile", "mirror", "glass",
    }  # fmt: skip
    assert any(zone.arch for zone in made("every_panel").setout.zones)


@pytest.mark.parametrize("name", WALLS)
def test_nothing_runs_through_a_text(name: str) -> None:
    found = {sheet.name: crossed(sheet) for sheet in built(name)}
    assert {sheet: hits for sheet, hits in found.items() if hits} == {}


@pytest.mark.parametrize("name", WALLS)
def test_no_text_over_another_or_off_the_sheet(name: str, sheet_faults: Callable[[Sheet], list[str]]) -> None:
    assert {sheet.name: faults for sheet in built(name) if (faults := sheet_faults(sheet))} == {}


@pytest.mark.parametrize("name", WALLS)
def test_scales_and_lettering(name: str) -> None:
    """ISO 5455 scales alone, and no text below 2.5 mm."""
    for sheet in built(name):
        for view in sheet.layers:
            assert view.drawing.scale in SCALES
            for mark in view.drawing.marks:
                for part in inked(mark, view.drawing.scale):
                    assert not isinstance(part, Text) or part.height >= 2.5, sheet.name


@pytest.mark.parametrize("name", WALLS)
def test_every_chain_closes(name: str) -> None:
    """The figures of a chain add up to the whole of it, rounded."""
    for sheet in built(name):
        for view in sheet.views:
            chains: dict[tuple[str, str, float, float], list[Dim]] = {}
            for mark in view.drawing.marks:
                if isinstance(mark, Dim) and mark.shown is not None:
                    chains.setdefault((mark.ref, mark.along, mark.at, mark.offset), []).append(mark)
            for own in chains.values():
                ends = [e[0 if own[0].along == "x" else 1] for dim in own for e in (dim.start, dim.end)]
                assert abs(sum(dim.shown or 0 for dim in own) - (max(ends) - min(ends))) <= 0.5 + 1e-6


def test_pens_are_of_the_line_group() -> None:
    assert set(PEN_WIDTH.values()) <= {0.0, 0.25, 0.35, 0.5, 1.0}
