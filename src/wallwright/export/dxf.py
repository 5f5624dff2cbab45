"""Sheets as DXF (R2010): their views in model space at 1:1 with true dimensions, each paper a layout whose viewports are at scale.

The frame of the file (header, tables, layouts) is a CAD library's; the entities are written plainly into it, which is ten times as
fast. Texts keep their letters; signs that old readers lose go as DXF codes. No clock goes in: same input, same bytes.
"""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from wallwright.core.drawing import PEN_DASH, PEN_WIDTH, Drawing
from wallwright.core.shape import Box, Point2
from wallwright.export.dxf_marks import LAYERS, OTHER, Marks, Space, dxf_text, style_name
from wallwright.sheets.ink import GAP, OVERSHOOT, TICK, extent
from wallwright.sheets.paper import Sheet, View

__all__ = ["drawings_dxf", "dxf_text", "sheet_dxf"]

VIEWPORTS = "I-VPRT--U-"
_PLACE = "WW_PLACE"  # of the block that stands where the dimensions' blocks go
_APART = 20.0  # between views in model space, paper mm


def sheet_dxf(sheet: Sheet) -> bytes:
    """One sheet as a DXF file's bytes; a sheet of one view has the wall's own coordinates in model space."""
    return _written((sheet,), [f"A3 {sheet.number:02d}"])


def drawings_dxf(sheets: Sequence[Sheet]) -> bytes:
    """All sheets in one file: a layout each, named by number and name, and their views below one another in model space.

    The first sheet's first view keeps the wall's own coordinates.
    """
    return _written(sheets, [f"{sheet.number:02d} {sheet.name}" for sheet in sheets])


def _written(sheets: Sequence[Sheet], names: Sequence[str]) -> bytes:
    doc, model = _document()
    papers = [doc.layouts.new(name) for name in names]
    doc.layouts.delete("Layout1")
    boxes = [[extent(view.drawing) for view in sheet.views] for sheet in sheets]
    places = [_moves(sheet, own) for sheet, own in zip(sheets, boxes, strict=True)]
    down = 0.0
    for i, (sheet, paper) in enumerate(zip(sheets, papers, strict=True)):
        paper.page_setup(size=sheet.size, margins=(0, 0, 0, 0), units="mm")
        if i:  # below all that came before
            tops = zip(sheet.views, boxes[i], strict=True)
            top = max((box.top + _APART * view.drawing.scale for view, box in tops), default=0.0)
            places[i] = [(x, z + down - top) for x, z in places[i]]
        for view, box, move in zip(sheet.views, boxes[i], places[i], strict=True):
            _viewport(paper, view, box, move)
            down = min(down, box.z + move[1] - _APART * view.drawing.scale)
    marks = Marks(0x100000, doc.block_records.head.dxf.handle)
    texts = {_marker(model): _in_model(marks, sheets, places, Space(model.layout_key))}
    for sheet, paper in zip(sheets, papers, strict=True):
        texts[_marker(paper)] = marks.drawing(_paper(sheet), Space(paper.layout_key, paper=True))
    for scale in sorted(marks.scales):
        _dimension_style(doc, scale)
    if marks.scales:
        _current_style(doc, next(s for s in _scales(sheets) if s in marks.scales))
    return _spliced(doc, marks, texts)


def _paper(sheet: Sheet) -> Drawing:
    """All that stands on the paper itself, the clouds of a revision last."""
    return replace(sheet.paper, marks=(*sheet.paper.marks, *sheet.over))


def _moves(sheet: Sheet, boxes: Sequence[Box]) -> list[Point2]:
    """How far each view of a sheet is moved in model space: side by side; one alone stays where it is."""
    if len(sheet.views) == 1:
        return [(0.0, 0.0)]
    left, out = 0.0, list[Point2]()
    for view, box in zip(sheet.views, boxes, strict=True):
        gap = (
            _APART * view.drawing.scale if out else 0.0
        )  # a window shows more about a view of a smaller scale
        out.append((left + gap - box.x, 0.0))
        left += gap + box.width + _APART * view.drawing.scale
    return out


def _in_model(marks: Marks, sheets: Sequence[Sheet], places: list[list[Point2]], space: Space) -> str:
    return "".join(
        marks.drawing(view.drawing, space, move)
        for sheet, moves in zip(sheets, places, strict=True)
        for view, move in zip(sheet.views, moves, strict=True)
    )


def _document() -> tuple[Any, Any]:
    """An empty file in mm with our line types, layers and text styles."""
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
    for pen, dashes in PEN_DASH.items():
        lengths = [d * PEN_WIDTH[pen] * (1 if i % 2 == 0 else -1) for i, d in enumerate(dashes)]
        doc.linetypes.add(f"WW_{pen.upper()}", [sum(abs(n) for n in lengths), *lengths], description=pen)
    for name, weight in dict.fromkeys((*LAYERS.values(), OTHER)):
        layer = doc.layers.add(name)
        layer.dxf.lineweight = weight
    doc.layers.add(VIEWPORTS).dxf.plot = 0
    doc.styles.add("WW", font="NotoSans-Regular.ttf")
    doc.styles.add("WW_BOLD", font="NotoSans-Bold.ttf")
    doc.set_wipeout_variables(frame=0)
    return doc, doc.modelspace()


def _dimension_style(doc: Any, scale: float) -> None:
    """Our own style in mm: figures of 2.5 paper mm above the line in whole mm, oblique strokes."""
    style = doc.dimstyles.duplicate_entry("Standard", style_name(scale))
    d = style.dxf
    d.dimscale, d.dimtxt, d.dimasz = scale, 2.5, 2 * TICK
    d.dimexo, d.dimexe, d.dimgap = GAP, OVERSHOOT, 0.8
    d.dimdec, d.dimtad, d.dimzin, d.dimtih, d.dimtoh, d.dimtix, d.dimlfac = 0, 1, 8, 0, 0, 1, 1.0
    d.dimtxsty, d.dimlwd, d.dimlwe = "WW", 25, 25
    style.set_arrows(blk="ARCHTICK")


def _current_style(doc: Any, scale: float) -> None:
    """What a reader that knows no styles takes for its dimensions, and what the next dimension drawn by hand gets."""
    style = doc.dimstyles.get(style_name(scale)).dxf
    doc.header["$DIMSTYLE"] = style_name(scale)
    for name in (
        "dimscale",
        "dimtxt",
        "dimasz",
        "dimexo",
        "dimexe",
        "dimgap",
        "dimdec",
        "dimtad",
        "dimzin",
        "dimtih",
        "dimtoh",
    ):
        doc.header[f"${name.upper()}"] = style.get(name)


def _scales(sheets: Sequence[Sheet]) -> list[float]:
    """The scales of all views, the commonest first."""
    return [scale for scale, _ in Counter(v.drawing.scale for s in sheets for v in s.views).most_common()]


def _viewport(paper: Any, view: View, inked: Box, move: Point2) -> None:
    """A window on the model at the view's scale, just as large as what it shows."""
    scale = view.drawing.scale
    box = inked.grown(2.0 * scale)
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


def _marker(space: Any) -> str:
    """A point that stands where a space's entities go; its handle."""
    return space.add_point((0, 0)).dxf.handle


_POINT = re.compile(r"  0\nPOINT\n  5\n([0-9A-F]+)\n(?:(?!  0\n).*\n)*")
_TABLE = re.compile(r"(  2\nBLOCK_RECORD\n(?:(?!  0\n).*\n)*? 70\n)(\d+)\n")


def _spliced(doc: Any, marks: Marks, texts: dict[str, str]) -> bytes:
    """The file with the entities in the places of their markers."""
    block = doc.blocks.new(_PLACE)
    record, start = block.block_record_handle, block.block.dxf.handle
    doc.classes.add_class("WIPEOUT")
    doc.classes.add_class("WIPEOUTVARIABLES")
    doc.classes.add_required_classes(
        doc.dxfversion
    )  # now, and sorted: left alone they come in the order of a set
    doc.classes.classes = dict(sorted(doc.classes.classes.items()))
    doc.entitydb.handles.reset(f"{marks.next:X}")
    out = io.StringIO()
    doc.write(out)
    text = out.getvalue()
    text = _TABLE.sub(lambda m: f"{m[1]}{int(m[2]) + len(marks.records) - 1}\n", text, count=1)
    entry = re.compile(rf"  0\nBLOCK_RECORD\n  5\n{record}\n(?:(?!  0\n).*\n)*")
    text = entry.sub(lambda m: "".join(marks.records), text, count=1)
    body = re.compile(rf"  0\nBLOCK\n  5\n{start}\n(?:(?!  0\n).*\n)*  0\nENDBLK\n(?:(?!  0\n).*\n)*")
    text = body.sub(lambda m: "".join(marks.blocks), text, count=1)
    text = _POINT.sub(lambda m: texts.get(m[1], m[0]), text)
    return text.encode("utf-8")
