"""What is seen of a zone: fields, tiles, slabs or panes with their joints; and what lies behind, layer by layer."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.carcass import stock, tiling, wall_fields
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.job.design import Panel
from wallwright.library import load

STRIP_BOARD = "mdf9"
STRIP_FINISH = "sprayed_neutral"
GLUED = frozenset({"tile", "slab"})
PANES = frozenset({"mirror", "glass"})
FIELDS = frozenset({"framed", "moulding"})


@dataclass(frozen=True, slots=True)
class FaceLay:
    """Joints, levels and fields of a zone's face [mm]."""

    joints: tuple[float, ...] = ()
    levels: tuple[float, ...] = ()
    joint: float = 0.0
    fields: tuple[Box, ...] = ()
    columns: int = 0
    strip: float = 0.0


def lay(panel: Panel, field: str, box: Box, screen: Box, limits: Limits) -> FaceLay:
    """The face of a zone set out. ValueError, naming the field, where pieces or fields would be slivers."""
    if panel.kind in FIELDS:
        return _fields(panel, field, box, screen, limits)
    if panel.kind == "tile":
        return _tiles(panel, field, box, limits)
    if panel.kind == "slab" or panel.kind in PANES:
        return _sheets(panel, box, limits)
    return FaceLay()


def _fields(panel: Panel, field: str, box: Box, screen: Box, limits: Limits) -> FaceLay:
    v = limits.value
    framed = panel.kind == "framed"
    strip = (
        panel.strip.mm if panel.strip else v("carcass.strip_width" if framed else "carcass.moulding_width")
    )
    between = strip if framed else v("carcass.field_margin")
    least = v("carcass.field_least")
    rows, asked = panel.rows or 1, panel.columns or 1
    smallest = LEAST_FIELD if framed else max(LEAST_FIELD, 2 * strip + 20.0)
    for name, size, count in (("width", box.width, asked), ("height", box.height, rows)):
        need = count * smallest + (count + 1) * between
        if size < need:
            fewer = f" or fewer {'columns' if name == 'width' else 'rows'}" if count > 1 else ""
            raise ValueError(
                f"{field}.{name}: {size:.0f} mm holds no {count} field{'s' if count > 1 else ''} with {between:g} mm beside each; "
                f"give it at least {need:.0f} mm{fewer}"
            )
    margin = v("carcass.field_screen_margin")
    count, wide = wall_fields.automatic(
        box, screen, between, margin, v("carcass.field_ratio") * rows, min(least, box.width / 2)
    )
    if panel.columns:
        count = panel.columns
        room = box.width - (count + 1) * between
        wants = screen.width + 2 * margin
        spare = (room - wants) / (count - 1) if count > 1 else 0.0
        wide = wants if box.meets(screen) and count % 2 and count > 1 and spare >= LEAST_FIELD else None
    return FaceLay(fields=wall_fields.fields(box, count, rows, between, wide), columns=count, strip=strip)


LEAST_FIELD = 60.0
"""The smallest field anybody frames [mm]."""


def _tiles(panel: Panel, field: str, box: Box, limits: Limits) -> FaceLay:
    v = limits.value
    wide = panel.tile_width.mm if panel.tile_width else v("carcass.tile_width")
    high = panel.tile_height.mm if panel.tile_height else v("carcass.tile_height")
    if min(wide, high) < LEAST_TILE:
        raise ValueError(
            f"{field}.tile_width: a tile of {wide:g} × {high:g} mm; use at least {LEAST_TILE:g} mm each way"
        )
    joint = _joint(panel, wide, high, limits)
    across = tiling.centred(box.width, wide, joint)
    up = tiling.courses(box.height, high, joint, v("carcass.tile_cut_least"))
    return FaceLay(across.joints(box.x), up.joints(box.z), joint)


LEAST_TILE = 20.0
"""The smallest tile that is set one by one [mm]; below it they come on sheets."""


def _sheets(panel: Panel, box: Box, limits: Limits) -> FaceLay:
    v = limits.value
    kind = "pane" if panel.kind in PANES else "slab"
    wide = panel.tile_width.mm if panel.tile_width else v(f"carcass.{kind}_width")
    high = panel.tile_height.mm if panel.tile_height else v(f"carcass.{kind}_height")
    joint = _joint(panel, wide, high, limits)
    across = tiling.even(box.width, wide, joint, pairs=panel.match == "book")
    return FaceLay(across.joints(box.x), tiling.even(box.height, high, joint).joints(box.z), joint)


def _joint(panel: Panel, wide: float, high: float, limits: Limits) -> float:
    if panel.joint is not None:
        return panel.joint.mm
    v = limits.value
    if panel.kind in PANES:
        return v("carcass.pane_joint")
    return tiling.joint_width(
        wide, high, v("carcass.tile_joint"), v("carcass.tile_joint_large"), v("carcass.tile_joint_slab")
    )


def _bed(kind: str, limits: Limits) -> float:
    """The bed of adhesive that a zone's face lies in [mm]."""
    return (
        limits.value("carcass.tile_bed")
        if kind in GLUED
        else limits.value("carcass.pane_bed")
        if kind in PANES
        else 0.0
    )


def layers(kind: str, board: str, finish: str, void: float, limits: Limits) -> tuple[tuple[str, float], ...]:
    """What lies between the wall and the eye (what, mm), from the wall outwards. board : "" where there is none."""
    face = load.finishes()[finish]
    out: list[tuple[str, float]] = []
    if void > 0:
        out.append(("battens", void))
    if board:
        out.append((load.boards()[board].name, load.boards()[board].thickness))
    if kind == "moulding":
        return (*out, ("moulding", limits.value("carcass.moulding_depth")))
    bed = _bed(kind, limits)
    if bed:
        out.append(("adhesive bed", bed))
    out.append((face.name, face.thickness))
    if kind == "framed":
        out.append(("strips", stock.stock(STRIP_BOARD, STRIP_FINISH).thickness))
    return tuple(out)


def mass(  # noqa: PLR0913
    kind: str, board: str, finish: str, lay_: FaceLay, box: Box, fluted: bool, limits: Limits
) -> float:
    """Mass of a zone's board and face [kg/m²]; battens not counted."""
    face = load.finishes()[finish]
    row = load.boards()[board] if board else None
    total = row.thickness * row.density / 1000 if row else 0.0
    if kind == "moulding":
        run = sum(2 * (one.width + one.height) for one in lay_.fields)
        section = lay_.strip * limits.value("carcass.moulding_depth")
        return total + run * section * limits.value("carcass.moulding_density") / 1e3 / box.area
    total += face.mass
    if kind in GLUED:
        total += _bed(kind, limits) * limits.value("carcass.tile_bed_density") / 1000
    if kind == "framed":
        share = 1 - sum(one.area for one in lay_.fields) / box.area
        total += share * stock.stock(STRIP_BOARD, STRIP_FINISH).mass_per_m2
    if fluted and row:
        groove = limits.value("carcass.flute_depth") * (1 - limits.value("carcass.flute_rib"))
        total -= row.density / 1000 * groove
    return total
