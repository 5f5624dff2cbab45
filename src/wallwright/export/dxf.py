"""A sheet as DXF (R2010): its views in model space at 1:1 with true dimensions, its paper as an A3 layout whose viewports
are at scale.

Texts keep their letters; signs that old readers lose go as DXF codes (%%c, %%d, %%p). No clock goes in: same input, same bytes.
"""

from __future__ import annotations

import io
from math import cos, radians, sin
from typing import Any

from wallwright.core.drawing import HATCH, PEN_DASH, PEN_WIDTH, TINT, Circle, Dim, Hatch, Line, Mark, Text
from wallwright.sheets.ink import GAP, OVERSHOOT, TICK, Plain, extent, figure, inked
from wallwright.sheets.paper import Sheet, View

# Layer of a mark -> layer of the file: the short names that workshops use, with a line weight [1/100 mm].
LAYERS: dict[str, tuple[str, int]] = {
    "wall": ("WALL", 50),
    "obstacles": ("OBST", 35),
    "panels": ("PANL", 35),
    "units": ("CABN", 35),
    "screen": ("SCRN", 25),
    "lights": ("LITE", 35),
    "points": ("OUTL", 35),
    "runs": ("COND", 35),
    "zones": ("ZONE", 25),
    "fixings": ("FIXG", 35),
    "outlines": ("FURN", 25),
    "hatch": ("HATC", 25),
    "dims": ("DIMS", 25),
    "levels": ("LEVL", 25),
    "text": ("TEXT", 25),
    "notes": ("NOTE", 25),
    "frame": ("SHEE", 50),
    "sheet": ("BORD", 50),
    "parts": ("PART", 35),
    "offcuts": ("OFFC", 25),
    "bands": ("EDGE", 100),
    "sight": ("SITE", 25),
}
OTHER = ("MISC", 25)
VIEWPORTS = "VPRT"
_CODES = {
    "×": "x",
    "°": "%%d",
    "Ø": "%%c",
    "⌀": "%%c",
    "±": "%%p",
    "²": "2",
    "−": "-",
    "–": "-",
    "…": "...",
    "≤": "<=",
    "≥": ">=",
    "’": "'",
}


def sheet_dxf(sheet: Sheet) -> bytes:
    """The sheet as a DXF file's bytes."""
    from ezdxf import units
    from ezdxf._options import options
    from ezdxf.filemanagement import new

    options.write_fixed_meta_data_for_testing = True  # no clock and no random marks in the header
    doc = new("R2010")
    doc.units = units.MM
    doc.header["$MEASUREMENT"] = 1
    doc.header["$PSLTSCALE"] = (
        0  # dashes are scaled entity by entity: right in both spaces and in simple readers
    )
    _tables(doc)
    model = doc.modelspace()
    paper = doc.layouts.new(f"A3 {sheet.number:02d}")
    paper.page_setup(size=sheet.size, margins=(0, 0, 0, 0), units="mm")
    doc.layouts.delete("Layout1")
    _draw(paper, View(sheet.paper, 0, 0), (0.0, 0.0), doc)
    left = 0.0
    for view in sheet.views:
        box = extent(view.drawing)
        move = (0.0, 0.0) if len(sheet.views) == 1 else (left - box.x, 0.0)
        _draw(model, view, move, doc)
        _viewport(paper, view, move)
        left += box.width + 20 * view.drawing.scale
    doc.classes.add_required_classes(
        doc.dxfversion
    )  # now, and sorted: left alone they come in the order of a set
    doc.classes.classes = dict(sorted(doc.classes.classes.items()))
    out = io.StringIO()
    doc.write(out)
    return out.getvalue().encode("utf-8")


def _tables(doc: Any) -> None:
    """Line types in paper mm, layers with weights, and the two text styles."""
    for pen, dashes in PEN_DASH.items():
        lengths = [d * PEN_WIDTH[pen] * (1 if i % 2 == 0 else -1) for i, d in enumerate(dashes)]
        doc.linetypes.add(f"WW_{pen.upper()}", [sum(abs(n) for n in lengths), *lengths], description=pen)
    for name, weight in dict.fromkeys((*LAYERS.values(), OTHER)):
        layer = doc.layers.add(name)
        layer.dxf.lineweight = weight
    doc.layers.add(VIEWPORTS).dxf.plot = 0
    doc.styles.add("WW", font="NotoSans-Regular.ttf")
    doc.styles.add("WW_BOLD", font="NotoSans-Bold.ttf")


def _dimension_style(doc: Any, scale: float) -> str:
    """Our own style in mm: figures of 2.5 paper mm above the line, oblique strokes, one decimal only where it is not nought."""
    name = f"WW_{scale:g}"
    if name not in doc.dimstyles:
        style = doc.dimstyles.duplicate_entry("Standard", name)
        d = style.dxf
        d.dimscale, d.dimtxt, d.dimasz, d.dimexo, d.dimexe, d.dimgap = (
            scale,
            2.5,
            2 * TICK,
            GAP,
            OVERSHOOT,
            0.8,
        )
        d.dimdec, d.dimtad, d.dimzin, d.dimtih, d.dimtoh, d.dimtix, d.dimlfac = 1, 1, 8, 0, 0, 1, 1.0
        d.dimtxsty, d.dimlwd, d.dimlwe = "WW", 25, 25
        style.set_arrows(blk="ARCHTICK")
    return name


def _draw(space: Any, view: View, move: tuple[float, float], doc: Any) -> None:
    scale = view.drawing.scale
    for mark in view.drawing.marks:
        if isinstance(mark, Dim):
            _dimension(space, mark, move, scale, doc)
            continue
        for part in inked(mark, scale):
            _plain(space, part, mark, move, scale)


def _look(layer: str, scale: float, pen: str = "thin") -> dict[str, Any]:
    look: dict[str, Any] = {"layer": LAYERS.get(layer, OTHER)[0], "lineweight": round(PEN_WIDTH[pen] * 100)}  # type: ignore[index]
    if pen in PEN_DASH:
        look |= {"linetype": f"WW_{pen.upper()}", "ltscale": scale}
    return look


def _plain(space: Any, part: Plain, mark: Mark, move: tuple[float, float], scale: float) -> None:
    layer = part.layer or mark.layer
    dx, dz = move
    match part:
        case Line():
            points = [(x + dx, z + dz) for x, z in part.points]
            if part.closed and part.fill == "#fff" and _has_area(points):
                space.add_wipeout(points, dxfattribs={"layer": LAYERS.get(layer, OTHER)[0]})
            elif part.closed and part.fill:
                space.add_hatch(
                    color=7, dxfattribs={"layer": LAYERS.get(layer, OTHER)[0]}
                ).paths.add_polyline_path(points, is_closed=True)
            if part.pen != "none":
                space.add_lwpolyline(points, close=part.closed, dxfattribs=_look(layer, scale, part.pen))
        case Circle():
            centre = (part.centre[0] + dx, part.centre[1] + dz)
            if part.end - part.start >= 360:
                space.add_circle(centre, part.radius, dxfattribs=_look(layer, scale, part.pen))
            else:
                space.add_arc(
                    centre, part.radius, part.start, part.end, dxfattribs=_look(layer, scale, part.pen)
                )
        case Text():
            _text(space, part, layer, move, scale)
        case Hatch():
            _hatch(space, part, layer, move, scale)


def _has_area(points: list[tuple[float, float]]) -> bool:
    """Whether it covers anything: a front of a bay of no height does not."""
    xs, zs = zip(*points, strict=True)
    return max(xs) - min(xs) > 0.01 and max(zs) - min(zs) > 0.01


def _text(space: Any, text: Text, layer: str, move: tuple[float, float], scale: float) -> None:
    from ezdxf.enums import TextEntityAlignment as Align

    align = {"start": Align.LEFT, "middle": Align.CENTER, "end": Align.RIGHT}[text.anchor]
    look = {
        "layer": LAYERS.get(layer, OTHER)[0],
        "style": "WW_BOLD" if text.bold else "WW",
        "rotation": text.turn,
    }
    entity = space.add_text(dxf_text(text.text), height=text.height * scale, dxfattribs=look)
    entity.set_placement((text.at[0] + move[0], text.at[1] + move[1]), align=align)


def dxf_text(text: str) -> str:
    """The text with signs that old readers lose written as DXF codes; a percent sign of its own is kept."""
    text = text.replace("%%", "%%%%%%") if "%%" in text else text
    return "".join(_CODES.get(c, c) for c in text.replace("\n", " "))


def _hatch(space: Any, hatch: Hatch, layer: str, move: tuple[float, float], scale: float) -> None:
    points = [(x + move[0], z + move[1]) for x, z in hatch.points]
    entity = space.add_hatch(color=7, dxfattribs={"layer": LAYERS.get(layer, OTHER)[0], "lineweight": 25})
    entity.paths.add_polyline_path(points, is_closed=True)
    if hatch.pattern in TINT:
        tint = TINT[hatch.pattern]
        entity.rgb = (int(tint[1:3], 16), int(tint[3:5], 16), int(tint[5:7], 16))
        return
    lines: list[list[Any]] = []
    for rays in HATCH[hatch.pattern]:
        a = radians(rays.angle)
        step = rays.spacing * scale
        dashes = [d * scale * (1 if i % 2 == 0 else -1) for i, d in enumerate(rays.dashes)]
        lines.append([rays.angle, (0.0, 0.0), (-step * sin(a), step * cos(a)), dashes])
    entity.set_pattern_fill(hatch.pattern.upper(), color=7, definition=lines)


def _dimension(space: Any, dim: Dim, move: tuple[float, float], scale: float, doc: Any) -> None:
    """A true DIMENSION; where its figure was moved, the figure's own place goes with it."""
    dx, dz = move
    line = dim.at + dim.offset * scale
    base = (line + dx, dim.start[1] + dz) if dim.along == "z" else (dim.start[0] + dx, line + dz)
    first, second = sorted((dim.start, dim.end), key=lambda p: p[1] if dim.along == "z" else p[0])
    location = None
    if abs(dim.shift) > 0.1 or abs(dim.lift - 0.8) > 0.05:
        text = next(part for part in inked(dim, scale) if isinstance(part, Text))
        up = 1.25 * scale
        location = (
            (text.at[0] - up + dx, text.at[1] + dz)
            if dim.along == "z"
            else (text.at[0] + dx, text.at[1] + up + dz)
        )
    made = space.add_linear_dim(
        base=base,
        p1=(first[0] + dx, first[1] + dz),
        p2=(second[0] + dx, second[1] + dz),
        angle=90 if dim.along == "z" else 0,
        location=location,
        text=figure(dim),
        dimstyle=_dimension_style(doc, scale),
        dxfattribs={"layer": LAYERS["dims"][0]},
    )
    made.render()


def _viewport(paper: Any, view: View, move: tuple[float, float]) -> None:
    """A window on the model at the view's scale, just as large as what it shows."""
    scale = view.drawing.scale
    box = extent(view.drawing).grown(2.0 * scale)
    cx, cz = box.centre
    window = paper.add_viewport(
        center=view.on_paper(box.centre),
        size=(box.width / scale, box.height / scale),
        view_center_point=(cx + move[0], cz + move[1]),
        view_height=box.height,
        status=2,
    )
    window.dxf.layer = VIEWPORTS
    window.dxf.flags |= 16384  # locked: no accidental zoom changes the scale
