"""What is drawn at every step of a drag is what the wall then comes to: the quick look against the whole wall."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.studio import answers, view
from wallwright.studio.session import Session, StaleError, open_file
from wallwright.studio.things import things

MADE = Path(__file__).parents[1] / "sheets" / "made"
SCALE = 20.0


def job_text(name: str) -> str:
    demos = demo_jobs()
    return demos[name] if name in demos else (MADE / f"{name}.toml").read_text(encoding="utf-8")


@pytest.fixture(params=["living", "bedroom", "every_unit", "every_panel"])
def session(request: pytest.FixtureRequest, tmp_path: Path) -> Any:
    path = tmp_path / "job.toml"
    path.write_text(job_text(request.param), encoding="utf-8")
    opened = open_file(path)
    yield opened
    opened.store.close()


def changes(session: Session) -> list[list[tuple[str, dict[str, Any]]]]:
    """The screen raised and moved, and one of each kind of thing that can be dragged, moved by the edit that moves it."""
    wall = session.view().wall
    x, z = wall.sight.screen.centre
    out: list[list[tuple[str, dict[str, Any]]]] = [
        [("set_screen_height", {"centre_height": z + 35}), ("set_screen_x", {"centre_x": x - 20})]
    ]
    seen: set[str] = set()
    unit = wall.setout.units[0]
    out.append([("resize_unit", {"ref": unit.ref, "width": unit.box.width - 30})])
    for thing in things(wall).wall:
        if thing.move is None or thing.kind in seen:
            continue
        seen.add(thing.kind)
        move = thing.move
        values = dict(move.values)
        values |= {move.across: move.at_across + 5} if move.across else {}
        values |= {move.up: move.at_up + 5} if move.up else {}
        out.append([(move.edit, values)])
    return out


def laid_over(kept: answers.State, look: answers.Look) -> dict[str, list[Any]]:
    """Both rods as a page has them: marks of what stays are kept."""
    rods: dict[str, list[Any]] = {}
    for rod in ("heights", "widths"):
        told = getattr(look.rods, rod)
        of = {mark.of for mark in told}
        rods[rod] = sorted(
            [*(m for m in getattr(kept.rods, rod) if m.of not in of), *told], key=lambda m: (m.at, m.name)
        )
    return rods


def test_what_is_looked_at_is_what_the_change_comes_to(session: Session) -> None:
    position = session.view().position
    before = view.state(session.view(), SCALE)
    different = 0
    for wanted in changes(session):
        kept, changed = session.looked(wanted, position)
        look = view.look(changed, kept, SCALE)
        made = view.state(session.tried(wanted, position), SCALE, before.whys)
        for name in ("screen", "units", "points", "moved", "view", "svg"):
            assert getattr(look, name) == getattr(made, name), (wanted, name)
        rods = laid_over(before, look)
        for rod in ("heights", "widths"):
            assert rods[rod] == sorted(getattr(made.rods, rod), key=lambda m: (m.at, m.name)), wanted
        assert len(look.rods.heights) <= len(made.rods.heights)
        different += look.svg != before.svg
    assert different >= 2
    assert view.state(session.view(), SCALE) == before  # nothing of it was kept


def test_a_look_keeps_nothing_and_knows_the_state_it_is_of(page_of: Any) -> None:
    before = page_of.state()
    text = page_of.path.read_bytes()
    seen = page_of.change(name="look", marks={"screen.centre_height": 1234})
    assert seen["screen"]["centre_height"] == 1234 and seen["svg"] != before["svg"]
    tried = page_of.change(name="try", marks={"screen.centre_height": 1234})
    kept = page_of.change(marks={"screen.centre_height": 1234})
    assert seen["svg"] == tried["svg"] == kept["svg"] and seen["points"] == kept["points"]
    assert page_of.path.read_bytes() != text
    page_of.post("look", {"position": before["position"], "marks": {"screen.centre_height": 1}}, 409)
    page_of.change(422, name="look", marks={"C1.width": 1})
    told = page_of.change(422, name="look", edit="resize_unit", **{"with": {"ref": "C1", "width": 1}})
    assert told["error"]["says"]


def test_looking_at_an_older_wall_is_refused(page_of: Any) -> None:
    session = page_of.app.state.studio.session(page_of.app.state.studio.first)
    with pytest.raises(StaleError):
        session.looked([("set_screen_height", {"centre_height": 1200})], session.view().position + 1)


def test_a_cure_is_priced_by_the_wall_it_makes(page_of: Any) -> None:
    from wallwright.derive import derive
    from wallwright.job.edits import apply

    state = page_of.state()
    job = page_of.job()
    before = derive(job).money
    signs: set[str] = set()
    fan = {"edit": "add_device", "with": {"ref": "fan1", "kind": "cabinet_fan", "place": "cabinet"}}
    out = {"edit": "remove_unit", "with": {"ref": "S1"}} if any(u["ref"] == "S1" for u in state["units"]) else {
        "edit": "remove_unit", "with": {"ref": "T2"}
    }  # fmt: skip
    name = {"edit": "set_title", "with": {"title": "Another name"}}
    for call in (fan, out, name):
        told = page_of.change(name="price", also=[call])
        more = derive(apply(job, call["edit"], call["with"])).money.total - before.total
        assert told["difference"] == more
        signs.add(told["shown"][0])
        assert told["shown"] == (
            "at the same price" if not more else f"{'+' if more > 0 else '−'} {before.shown(abs(more))}"
        )
    assert signs == {"+", "−", "a"}
    assert page_of.state()["position"] == state["position"]
