"""The panels' sheets: every zone once, side by side where that makes none smaller, each under its name."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from wallwright.core.drawing import Text
from wallwright.derive import derive
from wallwright.job.read import read_job
from wallwright.sheets.panels import panel_sheet, sheets


def test_zones_share_a_sheet_and_none_is_smaller_for_it() -> None:
    """Nine zones with a sheet each stood on nine that were mostly white; those of one scale stand together."""
    path = Path(__file__).parent / "made" / "every_panel.toml"
    wall = derive(read_job(path.read_text(encoding="utf-8")))
    zones = {zone.ref: zone for zone in wall.setout.zones}
    made = sheets(wall)
    own = [part for part in wall.carcass.parts if part.unit in zones]
    assert sorted(view.drawing.name for sheet in made for view in sheet.views) == [
        f"panels {r}" for r in sorted(zones)
    ]
    assert len(made) < len(zones) / 2
    for sheet in made:
        spans = sorted(
            (
                view.x + view.drawing.extent.x / view.drawing.scale,
                view.x + view.drawing.extent.right / view.drawing.scale,
            )
            for view in sheet.views
        )
        assert all(right < left for (_, right), (left, _) in pairwise(spans))
        for view in sheet.views:
            ref = view.drawing.name.removeprefix("panels ")
            alone = panel_sheet(wall, own, (zones[ref],)).views[0].drawing.scale
            assert view.drawing.scale == alone
            title = f"{ref} 1:{alone:g}"
            named = [m for m in view.drawing.marks if isinstance(m, Text) and m.text == title]
            assert len(named) == (len(sheet.views) > 1)
