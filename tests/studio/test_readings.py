"""Readings taken without signal: each counts once, the later of two of one thing stands, and one that is wrong spoils no other."""

from __future__ import annotations

import time
from typing import Any

import pytest

T = 1.76e9


def reading(ident: str, taken: float, edit: str = "set_wall_reading", **values: Any) -> dict[str, Any]:
    return {"id": ident, "taken": taken, "call": {"edit": edit, "with": values}}


def width(ident: str, taken: float, at: float, mm: Any) -> dict[str, Any]:
    value = {"value": mm, "state": "measured", "tolerance": 2}
    return reading(ident, taken, which="width", at=at, value=value)


@pytest.fixture
def site(page_of: Any) -> Any:
    page_of.base = f"jobs/{page_of.http.get('/api/here').json()['first']}"
    return page_of


def send(site: Any, *readings: dict[str, Any], expect: int = 200) -> dict[str, Any]:
    return site.post(f"{site.base}/readings", {"readings": list(readings)}, expect)


def fates(answer: dict[str, Any]) -> dict[str, str]:
    return {one["id"]: one["state"] for one in answer["readings"]}


def widths(site: Any) -> dict[float, float]:
    return {one.at.mm: one.value.mm for one in site.job().survey.wall.widths}


def test_a_batch_is_one_step_and_counts_once(site: Any) -> None:
    before = site.state()["position"]
    batch = [width("p-1", T, 1000, "4207 mm"), width("p-2", T + 5, 2200, 4204)]
    answer = send(site, *batch)
    assert fates(answer) == {"p-1": "made", "p-2": "made"} and answer["state"]["position"] == before + 1
    assert widths(site)[1000] == 4207 and widths(site)[2200] == 4204
    site.change(edit="set_wall_reading", **{"with": {"which": "width", "at": 1000, "value": 4150}})
    again = send(site, *batch)
    assert fates(again) == {"p-1": "made", "p-2": "made"} and widths(site)[1000] == 4150  # not made twice
    assert again["state"]["position"] == before + 2
    undone = site.change(name="undo")
    assert undone["undo"].count("Measure the wall's width") == 2


def test_what_the_desk_enters_later_stands_against_an_older_reading(site: Any) -> None:
    site.change(edit="set_wall_reading", **{"with": {"which": "width", "at": "1 m", "value": 4150}})
    at_desk = time.time()
    late = send(site, width("d-1", at_desk - 600, 1000, 4210), width("d-2", at_desk - 600, 2200, 4204))
    assert fates(late) == {"d-1": "older", "d-2": "made"}
    assert (widths(site)[1000], widths(site)[2200]) == (4150, 4204)
    assert (
        fates(send(site, width("d-3", at_desk + 60, 1000, 4210))) == {"d-3": "made"}
        and widths(site)[1000] == 4210
    )
    bad = send(site, width("d-4", at_desk, 100, "three hands"))["readings"][0]
    assert (
        bad["state"] == "refused"
        and bad["says"].startswith("'three' in the length")
        and "{" not in bad["says"]
    )


def test_of_two_phones_the_later_reading_stands_whichever_comes_first(site: Any) -> None:
    assert fates(send(site, width("a-1", T + 60, 1000, 4210))) == {"a-1": "made"}
    late = send(site, width("b-1", T, 1000, 4190), width("b-2", T + 1, 2200, 4191))
    assert fates(late) == {"b-1": "older", "b-2": "made"}
    assert widths(site)[1000] == 4210 and widths(site)[2200] == 4191
    one = send(site, width("c-2", T + 90, 1000, 4222), width("c-1", T + 80, 1000, 4111))
    assert set(fates(one).values()) == {"made"} and widths(site)[1000] == 4222


def test_a_wrong_reading_spoils_no_other(site: Any) -> None:
    answer = send(
        site,
        width("x-1", T, 1000, "4 fathoms"),
        width("x-2", T, 2200, 4199),
        reading("x-3", T, "set_screen_size", diagonal=55),
        reading("x-4", T, "no_such_edit"),
        reading("x-5", T, "move_obstacle", ref="NONE", x=1),
    )
    told = {one["id"]: one for one in answer["readings"]}
    assert {ident: one["state"] for ident, one in told.items()} == {
        "x-1": "refused", "x-2": "made", "x-3": "refused", "x-4": "refused", "x-5": "refused",
    }  # fmt: skip
    assert "fathoms" in told["x-1"]["says"] and "survey" in told["x-3"]["says"]
    assert widths(site)[2200] == 4199 and site.job().design.screen.diagonal != 55
    assert fates(send(site, width("x-1", T, 1000, 4200))) == {"x-1": "refused"}  # its id is used up


def test_an_obstacle_met_on_site_is_added_once(site: Any) -> None:
    found = reading("o-1", T, "add_obstacle", ref="OX", kind="pipe", x=100, z=100, width=50, height=50)
    send(site, found)
    send(site, found, found)
    assert [o.ref for o in site.job().survey.obstacles].count("OX") == 1
    moved = reading("o-2", T + 1, "move_obstacle", ref="OX", x=120)
    raised = reading("o-3", T, "move_obstacle", ref="OX", z=140)
    assert set(fates(send(site, moved, raised)).values()) == {"made"}  # of different fields, neither is older
    thing = next(o for o in site.job().survey.obstacles if o.ref == "OX")
    assert (thing.x.mm, thing.z.mm) == (120, 140)


@pytest.mark.parametrize(
    "bad",
    [
        {"id": ""}, {"id": "../x"}, {"id": "x" * 65}, {"taken": -1}, {"taken": "now"}, {"taken": 1e300},
        {"call": {"edit": "set_diagonals", "with": {}, "also": 1}}, {"more": 1},
    ],
)  # fmt: skip
def test_what_is_no_reading_is_refused(site: Any, bad: dict[str, Any]) -> None:
    text = site.path.read_bytes()
    send(site, {**width("g-1", T, 1000, 4200), **bad}, expect=422)
    send(site, expect=422)
    assert site.path.read_bytes() == text


def test_a_batch_too_large_is_refused(site: Any) -> None:
    many = [width(f"m-{i}", T, 1000, 4200) for i in range(501)]
    send(site, *many, expect=422)
    huge = b'{"readings": [' + b" " * 400_001 + b"]}"
    answer = site.http.post(
        f"/api/{site.base}/readings", content=huge, headers={"content-type": "application/json"}
    )
    assert answer.status_code == 413
