"""The late change of screen in full: 55 in in a cut niche, first fix done, the client buys 75 in. What it touches before he accepts.

Invented; worked by hand beforehand. By hand: the niche goes (2 cheeks, head, sill); the box at (250, 1280) lies behind the new plate
and is set again at (430, 1280); the backer grows round the new middle; flutes keep their centres; no light is touched; heights,
elevation, electrical, backer, cut list, cost, client's page and delivery are issued again. Money and days are said before he
accepts; it is signed and logged.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path
from typing import Any

import pytest

from wallwright.change.impact import Impact, impact
from wallwright.change.parts import PartChange
from wallwright.change.state import held
from wallwright.change.variation import accepted
from wallwright.derive import Wall, derive
from wallwright.export.since import Since, since
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.sheets import variation

spec = importlib.util.spec_from_file_location("s12", Path(__file__).with_name("test_s12.py"))
assert spec and spec.loader
s12: Any = importlib.util.module_from_spec(spec)
spec.loader.exec_module(s12)
MIDDLE = s12.MIDDLE


@pytest.fixture(scope="module")
def old() -> Wall:
    """As built: the niche as a unit whose parts are cut, behind it a fluted panel, every box of the first fix in the wall."""
    job = s12.without_niche(read_job(s12.JOB))
    for name, values in (
        (
            "add_unit",
            {"ref": "N1", "kind": "niche", "side": "centre", "width": 1400, "height": 850, "depth": 120},
        ),
        (
            "add_panel",
            {"ref": "W1", "kind": "fluted", "x": 600, "width": 2400, "z": 560, "height": 1500, "void": 60},
        ),
        ("set_progress", {"points": "set"}),
        ("set_made", {"ref": "N1", "state": "cut"}),
    ):
        job = apply(job, name, values)
    return derive(job)


@pytest.fixture(scope="module")
def wanted(old: Wall) -> Job:
    job = apply(s12.bought(old.job), "remove_unit", {"ref": "N1"})
    job = apply(job, "set_screen_height", {"centre_height": 1200})
    return held(old, apply(job, "move_point", {"ref": "PX", "x": MIDDLE + 430}))


@pytest.fixture(scope="module")
def new(wanted: Job) -> Wall:
    return derive(wanted)


@pytest.fixture(scope="module")
def told(old: Wall, new: Wall) -> Since:
    return since(old, new)


@pytest.fixture(scope="module")
def found(old: Wall, new: Wall, told: Since) -> Impact:
    return impact(old, new, told.documents)


def parts(found: Impact, fate: str) -> dict[str, PartChange]:
    return {one.change.ref: one.change for one in found.parts if one.change.fate == fate}


def test_the_niche_is_lost_and_was_cut(found: Impact) -> None:
    """2 cheeks, head and sill, and the strip that held it; the rest of the joinery is still on paper."""
    dead = [one for one in found.parts if one.change.fate == "dead" and one.state == "cut"]
    named = {one.change.ref for one in dead}
    assert named == {"N1-L", "N1-R", "N1-B", "N1-T", "N1-W"}
    assert all(one.wasted and one.worth > 0 for one in dead)
    assert not any(one.wasted for one in found.parts if one.change.ref not in named)


def test_the_backer_grows_round_the_new_middle(new: Wall, found: Impact) -> None:
    """By hand ±450 × ±300; the program takes the plate (650 × 420) and its own allowance of 50 all round: ±375 × ±260."""
    grown = parts(found, "made anew")
    backers = [one.now for ref, one in grown.items() if ref.startswith("W1-G") and one.now]
    assert backers and all((part.length, part.width) == (750, 520) for part in backers)
    assert backers[0].block.face.centre == pytest.approx((MIDDLE, 1200))


def test_the_flutes_keep_their_centres(old: Wall, new: Wall, found: Impact) -> None:
    assert old.setout.zones[0].joints == new.setout.zones[0].joints
    assert old.setout.zones[0].flutes == new.setout.zones[0].flutes > 0
    assert not {"W1-1", "W1-2", "W1-3"} & {one.change.ref for one in found.parts}


def test_only_boxes_that_lie_behind_the_new_plate_are_set_again(old: Wall, new: Wall, found: Impact) -> None:
    """The scenario names one box; the program's own outlets lie beside the old plate, some of them behind the new one."""
    plate = new.sight.screen.plate.grown(25)
    was = {point.ref: point.box for point in old.services.points}
    moved = {one.change.ref: one for one in found.points if one.worth}
    assert (moved["PX"].change.dx, moved["PX"].change.dz, moved["PX"].state) == (180, 0, "set")
    assert all(was[ref].meets(plate) for ref in moved)
    assert all(ref in moved for ref, box in was.items() if box.meets(plate))


def test_picture_and_findings(found: Impact) -> None:
    sizes = {one.says: (one.was, one.now) for one in found.change.heights}
    assert sizes["A picture angle"] == (23.7, 31.9)
    assert sizes["screen centre"] == (1100, 1200) and sizes["screen underside"] == (745, 720)
    assert sizes["screen mass"] == (16, 33)
    assert not found.must
    assert "services.behind_plate" in {item.rule for item in found.change.lost}
    (way,) = [item for item in found.change.gained if item.rule == "screen.way_in"]
    assert way.severity == "note" and "carrier" in way.cure  # upright, with the carrier's word


def test_what_is_issued_again(told: Since) -> None:
    named = {one.name: one for one in told.documents}
    assert {"heights", "elevation", "electrician", "services", "joinery_panels", "fixings", "cut_list", "quote.pdf", "view_A",
            "carton_route"} <= set(named)  # fmt: skip
    assert not {"lights", "joinery_C1", "exploded_C1", "flutes_W1"} & set(named)
    assert named["joinery_N1"].what == "withdrawn"
    assert "electrician" in named["electrician"].readers and "client" in named["view_A"].readers
    assert named["quote.pdf"].readers == ("client",)


def test_money_and_days_before_he_accepts(old: Wall, new: Wall, found: Impact) -> None:
    """The variation is the dearer wall less the old one, the niche that is thrown away, and the boxes that are set a second time."""
    worth = sum(one.worth for one in found.parts) + sum(one.worth for one in found.points)
    share = old.money.total / old.money.direct
    assert found.lost == round(worth * share) > 0
    boxes = sum(one.worth for one in found.points)
    assert found.take_out == pytest.approx(0.30 * boxes * share, abs=1)
    assert found.price == new.money.total - old.money.total + found.lost + found.take_out
    assert found.days >= 0 and found.left[0] < old.programme.days


def test_signed_and_logged(old: Wall, wanted: Job, found: Impact) -> None:
    job, number = accepted(old.job, wanted, found, "Invented client", "2026-04-20", "bought on sale")
    (one,) = job.progress.variations
    assert (number, one.state, one.by, one.date, one.reason) == (
        "V1",
        "approved",
        "Invented client",
        "2026-04-20",
        "bought on sale",
    )
    assert one.price == pytest.approx(found.price / 100) and "Elevation, finished" in one.documents
    assert (one.from_revision, job.revision) == ("A", "B")
    (sheet,) = variation.sheets(derive(job))
    assert sheet.title == "Variation V1: accepted"
