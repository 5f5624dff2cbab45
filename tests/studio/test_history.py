"""History: moments that are never lost, named, compared, returned to; edits of many laid over one another."""

from __future__ import annotations

from typing import Any


def moments(page: Any, job: str) -> list[dict[str, Any]]:
    return page.http.get(f"/api/jobs/{job}/history").json()["moments"]


def first(page: Any) -> str:
    return page.http.get("/api/here").json()["first"]


def test_what_was_undone_and_left_can_be_returned_to(page_of: Any) -> None:
    job = first(page_of)
    page_of.change(marks={"screen.centre_height": 1300})
    page_of.change(name="undo")
    page_of.change(marks={"screen.centre_height": 1350})
    made = moments(page_of, job)
    assert [one["number"] for one in made] == [2, 1, 0] and made[0]["here"] and made[0]["back"] == 0
    assert "1300" in made[1]["says"] and made[1]["who"] == "you" and made[1]["at"] > 1.7e9
    position = page_of.state()["position"]
    back = page_of.post(f"jobs/{job}/history/1/return", {"position": position})
    assert back["screen"]["centre_height"] == 1300 and back["undo"].startswith("back to: ")
    assert page_of.job().design.screen.centre_height.mm == 1300
    assert page_of.change(name="undo")["screen"]["centre_height"] == 1350
    page_of.post(f"jobs/{job}/history/1/return", {"position": position}, 409)
    page_of.post(f"jobs/{job}/history/99/return", {"position": page_of.state()["position"]}, 422)


def test_a_moment_has_a_name(page_of: Any) -> None:
    job = first(page_of)
    page_of.change(marks={"screen.centre_height": 1300})
    page_of.post(f"jobs/{job}/history/1/name", {"name": "As agreed with the client"})
    assert moments(page_of, job)[0]["name"] == "As agreed with the client"
    page_of.post(f"jobs/{job}/history/1/name", {"name": ""})
    assert moments(page_of, job)[0]["name"] == ""
    page_of.post(f"jobs/{job}/history/7/name", {"name": "x"}, 422)
    page_of.post(f"jobs/{job}/history/1/name", {"name": "x\n"}, 422)


def test_the_history_comes_page_by_page(page_of: Any) -> None:
    job = first(page_of)
    for mm in (1300, 1310, 1320):
        page_of.change(marks={"screen.centre_height": mm})
    one = page_of.http.get(f"/api/jobs/{job}/history?most=3").json()
    two = page_of.http.get(f"/api/jobs/{job}/history?most=3&before={one['older']}").json()
    assert [m["number"] for m in one["moments"] + two["moments"]] == [3, 2, 1, 0] and two["older"] is None


def test_two_moments_side_by_side(page_of: Any) -> None:
    job, before = first(page_of), page_of.state()
    after = page_of.change(marks={"screen.centre_height": 1380})
    page_of.change(edit="set_title", **{"with": {"title": "Another"}})
    told = page_of.http.get(f"/api/jobs/{job}/compare?first=0&second=2").json()
    fields = {one["field"]: (one["says"], one["from"], one["to"]) for one in told["fields"]}
    assert fields["title"] == ("title", before["job"]["title"], "Another")
    assert fields["design.screen.centre_height"] == (
        "screen centre height",
        "automatic or not given",
        "1380 mm",
    )
    assert len(fields) == 2
    assert {(m["ref"], m["name"]) for m in told["moved"]} >= {("P1", "z")}
    old, new = ({(f["where"], f["says"]) for f in state["findings"]} for state in (before, after))
    assert told["come"] and {tuple(line.split(": ", 1)) for line in told["come"]} <= new - old
    back = page_of.http.get(f"/api/jobs/{job}/compare?first=2&second=0").json()
    assert (back["gone"], back["come"]) == (told["come"], told["gone"])
    assert {(one["field"], one["from"], one["to"]) for one in back["fields"]} == {
        (field, to, was) for field, (_, was, to) in fields.items()
    }
    same = page_of.http.get(f"/api/jobs/{job}/compare?first=1&second=1").json()
    assert not same["fields"] and not same["moved"] and not same["gone"] and not same["come"]
    assert page_of.http.get(f"/api/jobs/{job}/compare?first=0&second=9").status_code == 422


def test_a_stale_edit_of_another_field_is_laid_over_and_tells_what_happened_meanwhile(page_of: Any) -> None:
    old = page_of.state()["position"]
    page_of.change(marks={"screen.centre_height": 1300})
    title = page_of.post("edit", {"position": old, "edit": "set_title", "with": {"title": "Mine"}})
    assert title["job"]["title"] == "Mine" and title["screen"]["centre_height"] == 1300
    assert len(title["meanwhile"]) == 1 and "1300" in title["meanwhile"][0]
    assert page_of.change(edit="set_title", **{"with": {"title": "More"}})["meanwhile"] == []


def test_a_stale_edit_of_what_was_taken_away_is_refused(page_of: Any) -> None:
    old = page_of.state()["position"]
    now = page_of.change(edit="remove_unit", sure=True, **{"with": {"ref": "T1"}})
    error = page_of.post("edit", {"position": old, "edit": "move_unit", "with": {"ref": "T1", "x": 10}}, 409)
    assert error["state"] == now and "changed" in error["error"]["says"]


def test_a_position_that_never_was_is_stale(page_of: Any) -> None:
    answer = page_of.post("edit", {"position": 999, "edit": "set_title", "with": {"title": "x"}}, 409)
    assert answer["state"]["position"] == page_of.state()["position"]
