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
from wallwright.export.dxf import dxf_text, sheet_dxf
from wallwright.sheets.drawing_set import drawing_set


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
    assert weights["WALL"] == 50
    assert weights["DIMS"] == 25
    used = {entity.dxf.layer for entity in read.modelspace()}
    assert {"WALL", "DIMS", "SCRN"} <= used
    assert used <= set(weights)


def test_hatches_keep_their_patterns(issued: tuple[Path, Any]) -> None:
    doc = ezdxf.readfile(issued[0] / "services.dxf")
    kinds = {h.dxf.pattern_name for h in doc.modelspace().query("HATCH") if not h.dxf.solid_fill}
    assert {"NO_DRILL", "ALLOWED"} <= kinds


def test_signs_old_readers_lose_become_codes() -> None:
    assert dxf_text("Ø17 × 45° ±2") == "%%c17 x 45%%d %%p2"
    assert dxf_text("पैनल") == "पैनल"


def test_same_input_same_bytes(living: Any) -> None:
    sheet = drawing_set(living)[0]
    assert sheet_dxf(sheet) == sheet_dxf(sheet)


def test_a_second_program_draws_it(
    issued: tuple[Path, Any], program: Callable[[str], str], tmp_path: Path
) -> None:
    shutil.copy(issued[0] / "elevation.dxf", tmp_path)
    quiet = {
        **os.environ,
        "QT_QPA_PLATFORM": "offscreen",
        "HOME": str(tmp_path),
        "XDG_RUNTIME_DIR": str(tmp_path),
    }
    call = [program("librecad"), "dxf2pdf", "-a", "elevation.dxf"]
    subprocess.run(call, cwd=tmp_path, env=quiet, capture_output=True, check=True, timeout=120)
    assert (tmp_path / "elevation.pdf").stat().st_size > 20_000
