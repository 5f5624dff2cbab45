"""A change told before it is accepted, the way back into the budget, and what the site found, as the page asks for them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.change.plain import surveyed
from wallwright.change.asfound import as_found
from wallwright.change.impact import impact
from wallwright.derive import derive
from wallwright.job.read import read_job
from wallwright.job.site import read_site
from wallwright.studio import answering, studies


@pytest.fixture
def wall(page_of: Any) -> Any:
    """A page with its job's address, and studies that are answered at once, in this process."""
    page_of.base = f"jobs/{page_of.http.get('/api/here').json()['first']}"
    studio = page_of.app.state.studio
    object.__setattr__(studio, "worker", None)  # it is frozen; nothing else shall take a study up

    def ask(kind: str, expect: int = 200, **question: Any) -> Any:
        body = {"position": page_of.state()["position"], "kind": kind, "question": question}
        study = page_of.post(f"{page_of.base}/studies", body, expect)
        if expect != 200:
            return study
        if study["state"] == "queued":
            assert studies.claim(studio.store, "here") == study["id"]
            try:
                answering.answer(studio.store, study["id"])
            except ValueError as problem:
                studies.fail_with(studio.store, study["id"], str(problem))
        return page_of.http.get(f"/api/{page_of.base}/studies/{study['id']}").json()

    def answer(study: Any) -> Any:
        assert study["state"] == "done", study
        return page_of.http.get(f"/api/{page_of.base}/studies/{study['id']}/answer").json()["answer"]

    page_of.ask, page_of.answer = ask, answer
    return page_of


SMALL = (
    surveyed("Invented small wall", 2400, 3000)
    + """[design.screen]
diagonal = 65
centre_height = 1100
centre_x = 1800
"""
)


@pytest.fixture
def small(wall: Any) -> Any:
    """The same with a wall that has few sheets: what is asked of the change, not what it is drawn in, takes the time."""
    wall.path.write_text(SMALL, encoding="utf-8")
    wall.state()
    return wall


def moments(wall: Any) -> list[Any]:
    return wall.http.get(f"/api/{wall.base}/history").json()["moments"]


def decide(wall: Any, word: str, study: Any, expect: int = 200, **more: Any) -> Any:
    body = {
        "position": wall.state()["position"],
        "study": study["id"],
        "by": "Invented client",
        "on": "2026-03-01",
        **more,
    }
    return wall.post(f"{wall.base}/change/{word}", body, expect)


def test_a_change_is_told_and_accepted_with_the_next_revision(wall: Any) -> None:
    first = moments(wall)[0]
    before = wall.job()
    wall.change(edit="set_screen_height", **{"with": {"centre_height": 1190}})
    told = wall.answer(study := wall.ask("impact", since=first["sha256"]))
    found = impact(derive(before), derive(wall.job()))
    assert [one["ref"] for one in told["points"]] == [one.change.ref for one in found.points] != []
    assert {one["title"] for one in told["documents"]} and told["days"]["added"] == found.days
    assert told["fields"][0]["to"] == "1190 mm"
    made = decide(wall, "accept", study, reason="sits lower")
    job = wall.job()
    (variation,) = job.progress.variations
    assert (variation.ref, variation.state, variation.by, variation.date) == (
        "V1", "approved", "Invented client", "2026-03-01",
    )  # fmt: skip
    assert variation.reason == "sits lower" and len(variation.documents) > 3
    assert (before.revision, job.revision) == ("A", "B") and job.design.screen.centre_height.mm == 1190
    assert made["undo"] == "Variation V1 accepted by Invented client: sits lower"
    wall.change(name="undo")
    assert wall.job().revision == "A" and not wall.job().progress.variations


def test_a_refused_change_goes_back_and_leaves_what_was_measured_and_built(small: Any) -> None:
    first = moments(small)[0]
    before = small.job()
    small.change(edit="set_screen_height", **{"with": {"centre_height": 1300}})
    small.change(edit="set_progress", **{"with": {"points": "set"}})
    small.change(edit="set_wall_reading", **{"with": {"which": "width", "at": 1500, "value": 4201}})
    study = small.ask("impact", since=first["sha256"])
    decide(small, "refuse", study, reason="too dear")
    job = small.job()
    assert job.design == before.design and job.brief == before.brief and job.revision == before.revision
    assert job.progress.points == "set" and any(one.at.mm == 1500 for one in job.survey.wall.widths)
    (variation,) = job.progress.variations
    assert (variation.state, variation.reason) == ("refused", "too dear")
    assert variation.price == pytest.approx(0, abs=1e6) and "1300" in variation.says


def test_only_the_change_that_was_shown_is_decided_and_only_of_this_job(small: Any) -> None:
    first = moments(small)[0]
    small.change(edit="set_screen_height", **{"with": {"centre_height": 1190}})
    study = small.ask("impact", since=first["sha256"])
    small.change(edit="set_screen_height", **{"with": {"centre_height": 1200}})
    assert "state" in decide(small, "accept", study, expect=409)
    assert decide(small, "accept", {"id": "0" * 32}, expect=404)["error"]["field"] == "study"
    other = small.ask("budget")
    decide(small, "accept", other, expect=404)
    body = {"position": small.state()["position"], "kind": "impact", "question": {"since": "a" * 64}}
    assert small.post(f"{small.base}/studies", body, 404)["error"]["field"] == "since"
    for since in ("", "../x", "A" * 64):
        body["question"] = {"since": since}
        small.post(f"{small.base}/studies", body, 404)
    assert not small.job().progress.variations


def test_a_change_that_brings_something_to_put_right_is_not_accepted(small: Any) -> None:
    first = moments(small)[0]
    small.change(edit="set_screen_height", sure=True, **{"with": {"centre_height": 2300}})
    told = small.answer(study := small.ask("impact", since=first["sha256"]))
    assert told["must"] > 0
    error = decide(small, "accept", study, expect=422)["error"]
    assert error["field"] == "change" and "put right first" in error["says"]
    decide(small, "refuse", study)


def test_the_way_back_into_the_budget_is_listed_with_prices_and_taken(wall: Any) -> None:
    total = derive(wall.job(), searched=True).money
    aim = int(total.major(total.total) * 0.93)
    wall.change(edit="set_budget", **{"with": {"amount": aim}})
    told = wall.answer(wall.ask("budget"))
    assert told["reached"] and not told["within"] and told["edits"]
    chosen = [swap for swap in told["swaps"] if swap["chosen"]]
    assert chosen and len(told["swaps"]) > len(chosen)
    assert all(swap["saves_shown"] and swap["edits"] for swap in told["swaps"])
    assert any(swap["brings"] or swap["takes_away"] for swap in told["swaps"])
    wall.change(also=told["edits"], sure=True)
    money = derive(wall.job(), searched=True).money
    assert money.shown(money.total) == told["after_shown"] and money.total <= money.budget
    assert wall.answer(wall.ask("budget"))["within"]


def test_without_a_budget_the_way_back_says_so(wall: Any) -> None:
    text = wall.path.read_text(encoding="utf-8")
    start = text.index("[brief.budget]")
    end = text.index("\n[", start + 1)
    wall.path.write_text(text[:start] + text[end + 1 :], encoding="utf-8")
    study = wall.ask("budget")
    assert study["state"] == "failed" and "no budget" in study["error"]


FOUND = {
    "by": "Site", "date": "2026-04-02", "boxes": [{"ref": "P1", "x": "1.7 m", "z": 1165, "sunk": 2}], "out_of_plumb": 6,
    "widths": [{"at": 1000, "value": 4199}],
}  # fmt: skip


def test_what_the_site_found_is_answered_as_the_engine_does_and_taken_in_one_step(wall: Any) -> None:
    told = wall.post(f"{wall.base}/asfound", FOUND)
    toml = (
        'wallwright-site = 1\nby = "Site"\ndate = "2026-04-02"\nout_of_plumb = 6\nwidths = [{ at = 1000, value = 4199 }]\n'
        '[[boxes]]\nref = "P1"\nx = "1.7 m"\nz = 1165\nsunk = 2\n'
    )
    same = as_found(derive(wall.job()), read_site(toml))
    assert [(v["ref"], v["answer"], v["says"], v["tolerance"]) for v in told["verdicts"]] == [
        (v.ref, v.answer, v.says, v.tolerance) for v in same.verdicts
    ]
    assert told["answer"] == same.answer and told["takes"]
    position = wall.state()["position"]
    state = wall.post(f"{wall.base}/asfound/take", {"position": position, "found": FOUND})
    assert state["position"] == position + 1
    job = read_job(wall.path.read_bytes())
    reading = next(one for one in job.survey.wall.widths if one.at.mm == 1000)
    assert (reading.value.mm, reading.value.state, job.survey.date) == (4199, "verified", "2026-04-02")


@pytest.mark.parametrize(
    ("found", "field"),
    [
        ({"boxes": [{"ref": "P99", "x": 1, "z": 1}]}, "boxes[0].ref"),
        ({"boxes": [{"ref": "P1", "x": "a hand", "z": 1}]}, "boxes[0].x"),
        ({"boxes": [{"ref": "P1", "x": 1, "z": -4}]}, "boxes[0].z"),
        ({"things": [{"ref": "NEW", "x": 1}]}, "things"),
        ({"secret": 1}, "secret"),
        ({"plumb": [{"x": 1, "z": 1, "out": True}]}, "plumb"),
    ],
)
def test_what_cannot_be_read_of_the_site_is_named_by_its_field(wall: Any, found: Any, field: str) -> None:
    error = wall.post(f"{wall.base}/asfound", found, 422)["error"]
    assert field in error["field"] and error["says"]
    wall.post(f"{wall.base}/asfound/take", {"position": 0, "found": found}, 422)


def test_what_stops_is_not_written_into_the_job(wall: Any) -> None:
    lean = {"out_of_plumb": 90}
    told = wall.post(f"{wall.base}/asfound", lean)
    assert told["answer"] == "stop" and not told["takes"]
    text = wall.path.read_bytes()
    wall.post(f"{wall.base}/asfound/take", {"position": wall.state()["position"], "found": lean}, 422)
    both = {"out_of_plumb": 90, "boxes": FOUND["boxes"]}
    wall.post(f"{wall.base}/asfound/take", {"position": wall.state()["position"], "found": both})
    assert wall.path.read_bytes() != text and wall.job().survey.wall.out_of_plumb.mm == 4


def test_nothing_to_take_is_said(wall: Any) -> None:
    assert wall.post(f"{wall.base}/asfound", {})["verdicts"] == []
    error = wall.post(f"{wall.base}/asfound/take", {"position": wall.state()["position"], "found": {}}, 422)[
        "error"
    ]
    assert "nothing" in error["says"]


def test_an_outlet_that_the_program_placed_is_pinned_where_it_is_put(wall: Any) -> None:
    placed = {point.ref for point in wall.job().design.points}
    things = wall.http.get("/api/things").json()["wall"]
    outlet = next(
        one for one in things if one["kind"] == "point" and one["ref"] not in placed and one["move"]
    )
    move = outlet["move"]
    values = {**move["with"], move["across"]: move["at_across"] + 40, move["up"]: move["at_up"] + 20}
    wall.change(edit=move["edit"], sure=True, **{"with": values})
    point = next(one for one in wall.job().design.points if one.ref == outlet["ref"])
    assert (point.x.mm, point.z.mm) == (move["at_across"] + 40, move["at_up"] + 20)
    again = next(one for one in wall.http.get("/api/things").json()["wall"] if one["ref"] == outlet["ref"])
    assert again["move"]["edit"] == "move_point" and again["move"]["at_across"] == move["at_across"] + 40
    others = {p["ref"] for p in wall.state()["points"]}
    assert len(others) == len(wall.state()["points"])  # none stands there twice


def test_a_reader_decides_nothing_and_what_is_decided_stands_in_the_audit_log(hosted_studio: Any) -> None:
    made = hosted_studio.owner.post(
        "/api/jobs/import", content=SMALL.encode(), headers={"content-type": "application/toml"}
    )
    job = made.json()["id"]
    first = hosted_studio.owner.get(f"/api/jobs/{job}/history").json()["moments"][0]
    hosted_studio.edit(job, "set_screen_height", centre_height=1150)
    body = {"position": 1, "kind": "impact", "question": {"since": first["sha256"]}}
    study = hosted_studio.owner.post(f"/api/jobs/{job}/studies", json=body).json()["id"]
    assert studies.claim(hosted_studio.store, "here") == study
    answering.answer(hosted_studio.store, study)
    reader = hosted_studio.signed_in("Rita Reader", "reader")
    say = {"position": 1, "study": study, "by": "Rita", "on": "2026-03-01"}
    for word in ("accept", "refuse"):
        assert reader.post(f"/api/jobs/{job}/change/{word}", json=say).status_code == 403
    assert (
        reader.post(f"/api/jobs/{job}/asfound/take", json={"position": 1, "found": FOUND}).status_code == 403
    )
    other = hosted_studio.job()  # another job's moment is none of this one's
    stolen = {"position": 0, "kind": "impact", "question": {"since": first["sha256"]}}
    assert hosted_studio.owner.post(f"/api/jobs/{other}/studies", json=stolen).status_code == 404
    assert (
        hosted_studio.owner.post(f"/api/jobs/{other}/change/accept", json={**say, "position": 0}).status_code
        == 404
    )
    assert hosted_studio.owner.post(f"/api/jobs/{job}/change/accept", json=say).status_code == 200
    lines = hosted_studio.owner.get("/api/audit").json()["lines"]
    line = next(one for one in lines if one["what"] == "accepted a change")
    assert line["who"] == "Olga Owner" and line["detail"].startswith("V1, by Rita")
