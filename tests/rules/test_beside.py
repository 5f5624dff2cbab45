"""What lies in the band of light round the screen, not what the screen hides, tints and brightens; a size offered can be carried in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES

Edit = tuple[str, dict[str, object]]
BIAS: Edit = ("add_light", {"ref": "GX", "along": "behind_screen"})


def living(*edits: Edit) -> Wall:
    job = read_job(demo_jobs()["living"])
    for name, values in edits:
        job = apply(job, name, values)
    return derive(job)


def panel_of(margin: float, finish: str) -> tuple[Edit, ...]:
    """The panel as large as the screen's frame and a margin about it, in this finish."""
    frame = living().sight.screen.frame
    return (
        ("move_panel", {"ref": "W1", "x": frame.x - margin, "z": frame.z - margin}),
        (
            "resize_panel",
            {"ref": "W1", "width": frame.width + 2 * margin, "height": frame.height + 2 * margin},
        ),
        ("set_panel_kind", {"ref": "W1", "kind": "flat"}),
        ("set_panel_finish", {"ref": "W1", "finish": finish}),
        ("set_finish", {"which": "wall", "finish": "paint_stone_grey"}),
        ("set_limit", {"name": "rule.bias_tint", "value": 10}),
    )


def test_a_coloured_panel_that_the_screen_hides_tints_nothing() -> None:
    hidden = living(*panel_of(-60, "laminate_oak"), BIAS)
    assert hidden.look.behind is not None and hidden.look.behind.ref == "W1"
    assert [surface.ref for surface, _ in hidden.look.faces_beside] == ["wall"]
    assert not list(RULES["light.bias_tint"].find(hidden))
    shown = living(*panel_of(200, "laminate_oak"), BIAS)
    assert [surface.ref for surface, _ in shown.look.faces_beside] == ["W1"]
    (item,) = RULES["light.bias_tint"].find(shown)
    assert item.where == "W1"


def test_part_of_the_band_counts_for_its_share() -> None:
    """A panel that stands 75 beyond the frame has about half of a band of 150; its colour counts by half."""
    wall = living(*panel_of(75, "laminate_oak"))
    frame = wall.sight.screen.frame
    zone = wall.setout.zones[0].box
    shares = {surface.ref: (surface, share) for surface, share in wall.look.faces_beside}
    band = frame.grown(150).area - frame.area
    assert shares["W1"][1] == pytest.approx((zone.area - frame.area) / band, rel=1e-6)
    assert sum(share for _, share in shares.values()) == pytest.approx(1)
    mean = [sum(share * surface.lab[k] for surface, share in shares.values()) for k in (1, 2)]
    assert wall.look.behind_chroma == pytest.approx((mean[0] ** 2 + mean[1] ** 2) ** 0.5)
    evening = next(state for state in wall.light.beside if state.when == "evening")
    grey = sum(share * surface.reflectance for surface, share in shares.values()) / 100
    assert evening.room == pytest.approx(evening.room_lux * grey / 3.14159265, rel=1e-3)


def test_a_smaller_size_is_offered_only_where_it_can_be_carried_in() -> None:
    wall = living(("set_screen_x", {"centre_x": 500}))
    (item,) = RULES["sight.fits_wall"].find(wall)
    offered = next(dict(edit.values)["diagonal"] for edit in item.edits if edit.edit == "set_screen_size")
    rows = tuple(
        replace(row, niche_short=1.0) if row.diagonal == offered else row for row in wall.sight.candidates
    )
    stuck = replace(wall, sight=replace(wall.sight, candidates=rows))
    (item,) = RULES["sight.fits_wall"].find(stuck)
    instead = [dict(edit.values)["diagonal"] for edit in item.edits if edit.edit == "set_screen_size"]
    assert instead and instead[0] < offered
