"""Edits of what dresses and serves the wall: panels, points, lights and finishes."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from wallwright.job.design import Backing, Light, Panel, PanelKind, Point
from wallwright.job.document import Job
from wallwright.job.edit import add, change, change_in, edit, remove
from wallwright.job.edits_units import unkept, unlit
from wallwright.job.fields import (
    BoardName,
    Clear,
    Colour,
    Count,
    FinishName,
    Offset,
    Positive,
    Ref,
    Share,
    Size,
    Words,
)
from wallwright.job.problem import fail, nearest
from wallwright.library import load

PANELS, POINTS, LIGHTS = "design.panels", "design.points", "design.lights"
PointKind = Literal["twin_socket", "socket", "switched_spur", "data", "rf", "conduit", "switch"]
Along = Literal["behind_panel", "behind_screen", "under_console", "under_shelf", "tower_side"]
Feed = Literal["one_end", "both_ends", "centre"]
DriverPlace = Literal["cabinet", "ceiling", "behind_panel"]
RoundCurve = Literal["pieces", "bendable"]


@edit
def add_panel(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: PanelKind = "flat",
    x: Offset | None = None,
    z: Clear | None = None,
    width: Size | None = None,
    height: Size | None = None,
    board: BoardName | None = None,
    finish: FinishName | None = None,
    void: Clear | None = None,
    flute_pitch: Size | None = None,
) -> Job:
    """Add a panelled zone."""
    return add(job, PANELS, Panel(ref, kind, x, z, width, height, board, finish, void, flute_pitch))


@edit
def remove_panel(job: Job, ref: Ref) -> Job:
    """Take a panel out; a light that belonged to it goes to the first that fits."""
    return unkept(unlit(remove(job, PANELS, ref), ref), ref)


@edit
def move_panel(job: Job, ref: Ref, x: Offset | None = None, z: Clear | None = None) -> Job:
    """Move a panel on the wall."""
    return change_in(job, PANELS, ref, x=x, z=z)


@edit
def resize_panel(job: Job, ref: Ref, width: Size | None = None, height: Size | None = None) -> Job:
    """Set a panel's width or height."""
    return change_in(job, PANELS, ref, width=width, height=height)


@edit
def set_panel_kind(job: Job, ref: Ref, kind: PanelKind, flute_pitch: Size | None = None) -> Job:
    """Choose what a panel is: flat, fluted, framed, moulding, stone veneer, slab, tile, mirror or glass."""
    return change_in(job, PANELS, ref, kind=kind, flute_pitch=flute_pitch)


@edit
def set_panel_flutes(
    job: Job, ref: Ref, pitch: Size | None = None, centre: Literal["groove", "rib"] | None = None
) -> Job:
    """Choose the pitch of a panel's flutes, and what stands on its middle."""
    return change_in(job, PANELS, ref, flute_pitch=pitch, flute_centre=centre)


@edit
def set_panel_fields(
    job: Job, ref: Ref, columns: Count | None = None, rows: Count | None = None, strip: Size | None = None
) -> Job:
    """Divide a framed zone or its mouldings into fields."""
    return change_in(job, PANELS, ref, columns=columns, rows=rows, strip=strip)


@edit
def set_panel_tiles(
    job: Job, ref: Ref, width: Size | None = None, height: Size | None = None, joint: Clear | None = None
) -> Job:
    """Choose the size and the joint of a zone's tiles, slabs or panes."""
    return change_in(job, PANELS, ref, tile_width=width, tile_height=height, joint=joint)


@edit
def set_panel_match(job: Job, ref: Ref, match: Literal["slip", "book", "random"]) -> Job:
    """Choose how the leaves of a veneer, or slabs, follow one another."""
    return change_in(job, PANELS, ref, match=match)


@edit
def set_panel_head(
    job: Job, ref: Ref, head: Literal["straight", "round", "segment"], rise: Size | None = None,
    bend: Literal["kerf", "flexible"] | None = None,
) -> Job:  # fmt: skip
    """Choose the form of a zone's top, and how the edge of an arch is bent."""
    return change_in(job, PANELS, ref, head=head, head_rise=rise, bend=bend)


@edit
def set_panel_board(job: Job, ref: Ref, board: BoardName) -> Job:
    """Choose the board of a panel."""
    return change_in(job, PANELS, ref, board=board)


@edit
def set_panel_finish(job: Job, ref: Ref, finish: FinishName) -> Job:
    """Choose the finish of a panel."""
    return change_in(job, PANELS, ref, finish=finish)


@edit
def set_panel_void(job: Job, ref: Ref, void: Clear) -> Job:
    """Set the depth of the void behind a panel."""
    return change_in(job, PANELS, ref, void=void)


@edit
def add_point(job: Job, ref: Ref, kind: PointKind, x: Offset, z: Clear, note: Words = "") -> Job:
    """Place an electrical or data point."""
    return add(job, POINTS, Point(ref, kind, x, z, note))


@edit
def move_point(job: Job, ref: Ref, x: Offset | None = None, z: Clear | None = None) -> Job:
    """Move a point on the wall."""
    return change_in(job, POINTS, ref, x=x, z=z)


@edit
def set_point(job: Job, ref: Ref, kind: PointKind | None = None, note: Words | None = None) -> Job:
    """Change what a point is for."""
    return change_in(job, POINTS, ref, kind=kind, note=note)


@edit
def remove_point(job: Job, ref: Ref) -> Job:
    """Take a point out."""
    return remove(job, POINTS, ref)


@edit
def add_light(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    along: Along,
    of: Ref | None = None,
    watts_per_m: Positive | None = None,
    volts: Literal[12, 24] = 24,
    colour: Positive | None = None,
    feed: Feed | None = None,
    lumens_per_m: Positive | None = None,
    pitch: Size | None = None,
    depth: Clear | None = None,
    dimmable: bool = True,
    driver_place: DriverPlace = "cabinet",
    setback: Clear | None = None,
    lip: Clear | None = None,
    profile: bool | None = None,
    dim_low: Share | None = None,
    flicker_hz: Positive | None = None,
    flicker_depth: Share = 1.0,
    circuit: Ref | None = None,
    round_curve: RoundCurve | None = None,
) -> Job:
    """Add a run of LED strip."""
    run = Light(
        ref, along, of, watts_per_m, volts, colour, feed, lumens_per_m, pitch, depth, dimmable, driver_place,
        setback, lip, profile, dim_low, flicker_hz, flicker_depth, circuit, round_curve,
    )  # fmt: skip
    return add(job, LIGHTS, run)


@edit
def set_light(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    along: Along | None = None,
    of: Ref | None = None,
    watts_per_m: Positive | None = None,
    volts: Literal[12, 24] | None = None,
    colour: Positive | None = None,
    feed: Feed | None = None,
    lumens_per_m: Positive | None = None,
    pitch: Size | None = None,
    depth: Clear | None = None,
    dimmable: bool | None = None,
    driver_place: DriverPlace | None = None,
    setback: Clear | None = None,
    lip: Clear | None = None,
    profile: bool | None = None,
    dim_low: Share | None = None,
    flicker_hz: Positive | None = None,
    flicker_depth: Share | None = None,
    circuit: Ref | None = None,
    round_curve: RoundCurve | None = None,
) -> Job:
    """Change a run of LED strip: its feed, colour, power, depth, hiding, driver, dimming, circuit or bend."""
    return change_in(
        job, LIGHTS, ref,
        along=along, of=of, watts_per_m=watts_per_m, volts=volts, colour=colour, feed=feed, lumens_per_m=lumens_per_m,
        pitch=pitch, depth=depth, dimmable=dimmable, driver_place=driver_place, setback=setback, lip=lip, profile=profile,
        dim_low=dim_low, flicker_hz=flicker_hz, flicker_depth=flicker_depth, circuit=circuit,
        round_curve=round_curve,
    )  # fmt: skip


@edit
def remove_light(job: Job, ref: Ref) -> Job:
    """Take a run of LED strip out."""
    return unkept(remove(job, LIGHTS, ref), ref)


@edit
def set_finish(job: Job, which: Literal["wall", "fronts", "panel", "carcass_board"], finish: Words) -> Job:
    """Choose what the wall, the fronts, the panels or the carcasses are made in."""
    return change(job, "design.finishes", **{which: finish})


@edit
def set_colour(job: Job, which: Literal["wall", "fronts", "panel"], colour: Colour) -> Job:
    """Choose the colour of the wall, the fronts or the panels."""
    field = {"wall": "wall_colour", "fronts": "front_colour", "panel": "panel_colour"}[which]
    return change(job, "design.finishes", **{field: colour})


@edit
def apply_palette(job: Job, palette: Ref) -> Job:
    """Finish wall, fronts and panels after a palette of the library; their own finishes give way."""
    rows = load.palettes()
    if palette not in rows:
        raise fail("palette", palette, f"the library has no such palette; {nearest(palette, rows)}")
    row = rows[palette]
    plain = replace(
        job.design.finishes,
        wall=row.wall, fronts=row.fronts, panel=row.panel, wall_colour=None, front_colour=None, panel_colour=None,
    )  # fmt: skip
    units = tuple(replace(unit, front_finish=None) for unit in job.design.units)
    panels = tuple(replace(panel, finish=None) for panel in job.design.panels)
    return replace(job, design=replace(job.design, finishes=plain, units=units, panels=panels))


@edit
def set_backing(job: Job, backing: Backing) -> Job:
    """Choose what backs fixings that miss the studs: noggings, boards between them, or plywood on the face."""
    return change(job, "design", backing=backing)
