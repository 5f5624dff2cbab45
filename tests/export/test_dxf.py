"""DXF read back: ezdxf's audit, the dimensions' own measure, layers, layout, scale; and a second program."""

from __future__ import annotations

import io
import itertools
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from wallwright.core.drawing import Dim
from wallwright.export.dxf import drawings_dxf, dxf_text, sheet_dxf
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.ink import figure


@pytest.fixture(scope="module", params=["elevation.dxf", "services.dxf"])
def read(request: pytest.FixtureRequest, issued: tuple[Path, Any]) -> Any:
    return ezdxf.readfile(issued[0] / request.param)


def test_audit_is_clean(read: Any) -> None:
    audit = read.audit()
    assert audit.errors == []
    assert audit.fixes == []


def test_every_sheet_writes_a_clean_file(any_wall: Any) -> None:
    for sheet in drawing_set(any_wall):
        doc = ezdxf.read(io.StringIO(sheet_dxf(sheet).decode()))
        audit = doc.audit()
        assert (audit.errors, audit.fixes) == ([], []), sheet.name


def test_version_and_units(read: Any) -> None:
    assert read.dxfversion == "AC1024"  # R2010
    assert read.units == ezdxf.units.MM
    assert read.header["$MEASUREMENT"] == 1


def test_dimensions_are_true_ones_and_measure_the_wall(issued: tuple[Path, Any], living: Any) -> None:
    doc = ezdxf.readfile(issued[0] / "elevation.dxf")
    measured = sorted(round(d.get_measurement(), 3) for d in doc.modelspace().query("DIMENSION"))
    sheet = next(s for s in drawing_set(living) if s.name == "elevation")
    ours = sorted(round(m.value, 3) for m in sheet.views[0].drawing.marks if isinstance(m, Dim))
    assert measured == pytest.approx(ours)
    assert max(measured) == pytest.approx(living.face.width)
    assert len(measured) > 15


def test_chains_close(issued: tuple[Path, Any]) -> None:
    """Parts of every chain on one line touch one another and add up from its first to its last point."""
    doc = ezdxf.readfile(issued[0] / "elevation.dxf")
    lines: dict[tuple[float, float], list[tuple[float, float]]] = {}
    for d in doc.modelspace().query("DIMENSION"):
        axis = 1 if d.dxf.angle == 90 else 0
        across = round(d.dxf.defpoint[1 - axis], 3)
        lines.setdefault((d.dxf.angle, across), []).append(
            tuple(sorted((d.dxf.defpoint2[axis], d.dxf.defpoint3[axis])))
        )
    assert len(lines) >= 5
    for parts in lines.values():
        parts.sort()
        for (_, end), (start, _) in itertools.pairwise(parts):
            assert end == pytest.approx(start, abs=1e-6)
        assert sum(b - a for a, b in parts) == pytest.approx(parts[-1][1] - parts[0][0], abs=1e-6)


def test_layout_is_a3_with_a_viewport_at_scale(read: Any) -> None:
    """ISO 5455: 1:20; the window shows twenty times its own height."""
    names = [name for name in read.layouts.names() if name != "Model"]
    assert names and names[0].startswith("A3")
    layout = read.layout(names[0])
    assert (layout.dxf.paper_width, layout.dxf.paper_height) == (420, 297)
    windows = [v for v in layout.viewports() if v.dxf.id != 1]
    assert [round(v.dxf.view_height / v.dxf.height, 6) for v in windows] == [20.0]


def test_layers_have_weights_and_hold_what_they_say(read: Any) -> None:
    weights = {layer.dxf.name: layer.dxf.lineweight for layer in read.layers}
    assert weights["I-WALL--E-"] == 50
    assert weights["I-DIMS--D-"] == 25
    used = {entity.dxf.layer for entity in read.modelspace()}
    assert {"I-WALL--E-", "I-DIMS--D-", "I-SCRN--E-"} <= used
    assert used <= set(weights)


def test_layers_are_named_as_the_standard_says(read: Any) -> None:
    """ISO 13567-2: agent 2, element 6, presentation 2: ten characters, filled up with hyphens; the agents and presentations it has."""
    ours = {layer.dxf.name for layer in read.layers} - {"0", "Defpoints"}
    assert len(ours) > 30
    for name in ours:
        agent, element, presentation = name[:2], name[2:8], name[8:]
        assert (
            len(name) == 10
            and agent in ("I-", "E-", "W-")
            and presentation[0] in "ETHDJKGUBV"
            and presentation[1] == "-"
        ), name
        assert element.rstrip("-").isalpha() and element.isupper() and len(element.rstrip("-")) == 4, name


def test_hatches_keep_their_patterns(issued: tuple[Path, Any]) -> None:
    doc = ezdxf.readfile(issued[0] / "services.dxf")
    kinds = {h.dxf.pattern_name for h in doc.modelspace().query("HATCH") if not h.dxf.solid_fill}
    assert {"NO_DRILL", "ALLOWED"} <= kinds


@pytest.fixture(scope="module")
def whole(issued: tuple[Path, Any]) -> Any:
    """The file with every sheet, read back."""
    return ezdxf.readfile(issued[0] / "drawings.dxf")


def test_every_sheet_is_a_layout_with_its_views_at_scale(whole: Any, living: Any) -> None:
    sheets = drawing_set(living)
    audit = whole.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert [n for n in whole.layouts.names_in_taborder() if n != "Model"] == [
        f"{sheet.number:02d} {sheet.name}" for sheet in sheets
    ]
    for sheet in sheets:
        layout = whole.layout(f"{sheet.number:02d} {sheet.name}")
        assert (layout.dxf.paper_width, layout.dxf.paper_height) == sheet.size
        windows = [v for v in layout.viewports() if v.dxf.id != 1]
        assert [round(v.dxf.view_height / v.dxf.height, 6) for v in windows] == [
            view.drawing.scale for view in sheet.views
        ]
        assert all(v.dxf.flags & 16384 for v in windows)  # locked
        assert len(list(layout)) > 20  # frame, title block, notes


def test_views_do_not_lie_on_one_another_in_model_space(whole: Any) -> None:
    """What a viewport shows is its own view and no other's."""
    seen = [
        (c.x - h * w / 2, c.x + h * w / 2, c.y - h / 2, c.y + h / 2)
        for layout in whole.layouts
        if layout.name != "Model"
        for v in layout.viewports()
        if v.dxf.id != 1
        for c, h, w in [(v.dxf.view_center_point, v.dxf.view_height, v.dxf.width / v.dxf.height)]
    ]
    assert len(seen) > 40
    for a, b in itertools.combinations(seen, 2):
        assert a[1] <= b[0] + 1e-3 or b[1] <= a[0] + 1e-3 or a[3] <= b[2] + 1e-3 or b[3] <= a[2] + 1e-3


def test_all_dimensions_measure_and_are_pictured_as_on_the_sheet(whole: Any, living: Any) -> None:
    """Each is measured by the reader from its own points; a text is written only where a chain was rounded together."""
    ours = [m for s in drawing_set(living) for v in s.views for m in v.drawing.marks if isinstance(m, Dim)]
    theirs = list(whole.modelspace().query("DIMENSION"))
    assert len(theirs) == len(ours) > 300
    for mark, dim in zip(ours, theirs, strict=True):
        assert dim.get_measurement() == pytest.approx(mark.value, abs=1e-3)
        assert dim.dxf.actual_measurement == pytest.approx(mark.value, abs=1e-3)
        assert dim.dxf.text in ("", figure(mark))
        assert dim.dxf.text or f"{mark.value:.0f}" == figure(mark)
        assert dim.dxf.dimstyle in whole.dimstyles
        block = whole.blocks[dim.dxf.geometry]
        assert [t.dxf.text for t in block.query("TEXT")] == [figure(mark)]
        assert len(block.query("LWPOLYLINE")) >= 5
    assert sum(not dim.dxf.text for dim in theirs) > 0.9 * len(theirs)
    style = whole.dimstyles.get("WW_20").dxf
    assert (style.dimscale, style.dimtxt, style.dimlfac, style.dimdec) == (20, 2.5, 1.0, 0)


def test_handles_are_given_once_and_the_next_is_free(issued: tuple[Path, Any]) -> None:
    text = (issued[0] / "drawings.dxf").read_text("utf-8")
    lines = text.splitlines()
    pairs = list(zip(lines[::2], lines[1::2], strict=True))
    seed = next(pairs[i + 1][1] for i, pair in enumerate(pairs) if pair == ("  9", "$HANDSEED"))
    handles = [v for c, v in pairs if c == "  5"][1:]  # the first is the seed itself
    assert len(handles) == len(set(handles)) > 5000
    assert max(int(h, 16) for h in handles) < int(seed, 16)


def test_the_whole_set_same_bytes(living: Any) -> None:
    sheets = drawing_set(living)[:6]
    assert drawings_dxf(sheets) == drawings_dxf(sheets)


def test_signs_old_readers_lose_become_codes() -> None:
    assert dxf_text("Ø17 × 45° ±2") == "%%c17 x 45%%d %%p2"
    assert dxf_text("पैनल") == "पैनल"


def test_same_input_same_bytes(living: Any) -> None:
    sheet = drawing_set(living)[0]
    assert sheet_dxf(sheet) == sheet_dxf(sheet)


@pytest.mark.parametrize("name", ["elevation", "drawings"])
def test_a_second_program_draws_it(
    name: str, issued: tuple[Path, Any], program: Callable[[str], str], tmp_path: Path
) -> None:
    shutil.copy(issued[0] / f"{name}.dxf", tmp_path)
    quiet = {
        **os.environ,
        "QT_QPA_PLATFORM": "offscreen",
        "HOME": str(tmp_path),
        "XDG_RUNTIME_DIR": str(tmp_path),
    }
    call = [program("librecad"), "dxf2pdf", "-a", f"{name}.dxf"]
    subprocess.run(call, cwd=tmp_path, env=quiet, capture_output=True, check=True, timeout=120)
    assert (tmp_path / f"{name}.pdf").stat().st_size > (20_000 if name == "elevation" else 200_000)
