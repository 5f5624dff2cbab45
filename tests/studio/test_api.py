"""The API of the local page: what it tells, what it changes, what it refuses."""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Any

import pytest

from wallwright.derive import derive
from wallwright.rules import check
from wallwright.studio.app import application

ROOT = Path(__file__).parents[2]


def test_state_is_what_the_engine_derives(page_of: Any) -> None:
    state, wall = page_of.state(), derive(page_of.job())
    assert state["wall"]["width"] == pytest.approx(wall.face.width, abs=0.01)
    assert state["screen"]["centre_height"] == pytest.approx(wall.sight.heights.used, abs=0.01)
    assert {unit["ref"] for unit in state["units"]} == {unit.ref for unit in wall.setout.units}
    assert state["money"]["total"] == wall.money.total
    assert sum(line["amount"] for line in state["money"]["trades"]) == wall.money.direct
    assert page_of.mark(state, "C1.top")["at"] == pytest.approx(wall.setout.unit("C1").box.top, abs=0.01)
    assert [stage["name"] for stage in state["stages"]][:4] == ["Brief", "Wall", "Screen", "Heights"]
    assert (
        state["svg"].startswith("<svg")
        and 'data-ref="screen"' in state["svg"]
        and 'data-ref="C1"' in state["svg"]
    )
    assert not state["can_undo"] and not state["can_redo"]


def test_cures_that_take_a_trial_of_the_wall_are_told_when_they_are_asked_for(page_of: Any) -> None:
    state, every = page_of.state(), check(derive(page_of.job()))
    told = page_of.http.get("/api/cures").json()
    assert told["position"] == state["position"] and told["cures"]
    for one in told["cures"]:
        bare, full = state["findings"][one["finding"]], every[one["finding"]]
        assert (bare["rule"], bare["where"], bare["cure"], bare["edits"]) == (full.rule, full.where, "", [])
        assert (one["cure"], one["edits"]) == (full.cure, [call.as_dict() for call in full.edits])
        assert bool(one["does"]) == bool(full.edits)
    late = {one["finding"] for one in told["cures"]}
    assert all(item["cure"] for at, item in enumerate(state["findings"]) if at not in late)


def test_the_drawings_view_box_is_the_view_told(page_of: Any) -> None:
    state = page_of.state()
    left, top, width, height = (float(n) for n in state["svg"].split('viewBox="')[1].split('"')[0].split())
    view = state["view"]
    assert (left, -top, width, height) == pytest.approx(
        (view["x"], view["z"] + view["height"], view["width"], view["height"]), abs=0.02
    )
    assert left < 0 and left + width > state["wall"]["width"]


def test_an_edit_is_on_the_disk_before_the_answer_and_keeps_remarks(page_of: Any) -> None:
    state = page_of.change(edit="set_screen_height", **{"with": {"centre_height": "4 ft 2"}})
    assert state["screen"]["centre_height"] == pytest.approx(1270)  # 4 ft 2 in = 50 in × 25.4 mm
    text = page_of.path.read_text(encoding="utf-8")
    assert '"4 ft 2"' in text and text.startswith("# measured twice")
    assert page_of.job().design.screen.centre_height.mm == pytest.approx(1270)  # type: ignore[union-attr]
    assert "centre_height" in state["screen"]["pinned"] and state["can_undo"] and "4 ft 2" in state["undo"]


@pytest.mark.parametrize(
    "name",
    [
        "screen.centre_height",
        "screen.bottom",
        "screen.top",
        "screen.centre_x",
        "C1.z",
        "C1.top",
        "C1.middle",
        "C1.left",
        "C1.right",
        "T1.right",
        "T1.top",
    ],
)
@pytest.mark.parametrize("pin_first", [False, True])
def test_a_mark_stands_where_it_was_put(page_of: Any, name: str, pin_first: bool) -> None:
    if pin_first:
        for ref in ("C1", "T1"):
            unit = next(u for u in page_of.state()["units"] if u["ref"] == ref)
            page_of.change(edit="move_unit", **{"with": {"ref": ref, "x": unit["x"]}})
    before = page_of.mark(page_of.state(), name)
    assert before["editable"]
    to = round(before["at"]) - 15 if name != "C1.left" else round(before["at"]) + 15
    after = page_of.change(marks={name: to})
    assert page_of.mark(after, name)["at"] == pytest.approx(to, abs=0.11)
    assert (
        page_of.mark(after, name)["standing"] in ("pinned", "follows")
        and page_of.mark(after, name)["release"]
    )


def test_an_end_of_a_pinned_unit_leaves_the_other_end(page_of: Any) -> None:
    page_of.change(edit="move_unit", **{"with": {"ref": "C1", "x": 1200}})
    before = page_of.state()
    after = page_of.change(marks={"C1.left": 1250})
    assert page_of.mark(after, "C1.right")["at"] == pytest.approx(
        page_of.mark(before, "C1.right")["at"], abs=0.11
    )


def test_released_marks_are_automatic_again(page_of: Any) -> None:
    first = page_of.mark(page_of.state(), "screen.centre_height")
    moved = page_of.mark(
        page_of.change(marks={"screen.centre_height": first["at"] + 40}), "screen.centre_height"
    )
    back = page_of.change(also=[{"edit": "release", "with": {"field": field}} for field in moved["release"]])
    assert page_of.mark(back, "screen.centre_height") == first


def test_two_marks_are_one_step(page_of: Any) -> None:
    before = page_of.state()
    x, z = (
        page_of.mark(before, "screen.centre_x")["at"] + 35,
        page_of.mark(before, "screen.centre_height")["at"] + 45,
    )
    after = page_of.change(marks={"screen.centre_x": x, "screen.centre_height": z})
    assert (after["screen"]["centre_x"], after["screen"]["centre_height"]) == pytest.approx((x, z), abs=0.11)
    assert page_of.change(name="undo")["screen"] == before["screen"]


def test_a_try_is_derived_and_not_kept(page_of: Any) -> None:
    before, text = page_of.state(), page_of.path.read_text(encoding="utf-8")
    tried = page_of.change(name="try", marks={"screen.centre_height": 1700})
    assert tried["screen"]["centre_height"] == 1700 and tried["findings"] != before["findings"]
    assert page_of.path.read_text(encoding="utf-8") == text and page_of.state() == before


def test_undo_gives_the_very_bytes_back_and_redo_them_again(page_of: Any) -> None:
    before, first = page_of.state(), page_of.path.read_bytes()
    edited = page_of.change(edit="set_screen_size", sure=True, **{"with": {"diagonal": 55}})
    second = page_of.path.read_bytes()
    undone = page_of.change(name="undo")
    assert page_of.path.read_bytes() == first
    for key in ("screen", "units", "findings", "money", "svg"):
        assert undone[key] == before[key]
    redone = page_of.change(name="redo")
    assert page_of.path.read_bytes() == second and redone["screen"] == edited["screen"]
    assert page_of.change(name="redo", expect=422)["error"]["says"] == "there is no step to redo"


def test_a_stale_position_is_answered_with_the_state(page_of: Any) -> None:
    old = page_of.state()["position"]
    now = page_of.change(edit="set_screen_size", sure=True, **{"with": {"diagonal": 55}})
    for name in ("edit", "try"):
        answer = page_of.post(
            name, {"position": old, "edit": "set_screen_size", "with": {"diagonal": 75}}, 409
        )
        assert answer["state"] == now
        assert answer["error"]["field"] == ("position" if name == "try" else "design.screen.diagonal")
    assert page_of.post("undo", {"position": old}, 409)["state"] == now
    assert page_of.job().design.screen.diagonal == 55


def test_a_change_in_the_file_and_one_on_the_page_of_different_fields_are_both_kept(page_of: Any) -> None:
    old = page_of.state()
    text = page_of.path.read_text(encoding="utf-8").replace(
        "[design.screen]", "[design.screen]\ncentre_x = 2222", 1
    )
    page_of.path.write_text(text, encoding="utf-8")
    body = {"position": old["position"], "edit": "set_screen_height", "with": {"centre_height": 1300}}
    state = page_of.post("edit", body)
    assert state["screen"]["centre_x"] == 2222 and state["screen"]["centre_height"] == 1300
    assert "change made in the file" in state["meanwhile"][0]
    job = page_of.job()
    assert (job.design.screen.centre_x.mm, job.design.screen.centre_height.mm) == (2222, 1300)


def test_of_two_changes_of_one_field_the_second_is_refused_and_shown_the_first(page_of: Any) -> None:
    old = page_of.state()
    page_of.change(marks={"screen.centre_height": 1300})
    for body in (
        {"edit": "set_screen_height", "with": {"centre_height": 1350}},
        {"marks": {"screen.bottom": 700}},
    ):
        answer = page_of.post("edit", {"position": old["position"], **body}, 409)
        assert answer["state"]["screen"]["centre_height"] == 1300
        assert answer["error"]["field"] == "design.screen.centre_height"
        assert "screen centre height" in answer["error"]["says"]
    assert page_of.job().design.screen.centre_height.mm == 1300
    again = {"edit": "set_screen_height", "with": {"centre_height": 1300}}  # both said the same
    assert page_of.post("edit", {"position": old["position"], **again})["screen"]["centre_height"] == 1300


def test_a_cure_is_one_press(page_of: Any) -> None:
    before = page_of.change(marks={"screen.centre_height": 1900})
    finding = next(f for f in before["findings"] if f["rule"] == "sight.height" and f["edits"])
    assert finding["at"] is not None and finding["severity"] in ("fix", "consider")
    after = page_of.change(also=finding["edits"])
    assert not [
        f for f in after["findings"] if (f["rule"], f["where"]) == (finding["rule"], finding["where"])
    ]


@pytest.mark.parametrize(
    ("body", "field", "part"),
    [
        ({"edit": "set_screen_heigth", "with": {}}, "edit", "set_screen_height"),
        ({"edit": "set_screen_height", "with": {"centre_height": "4 fathoms"}}, "centre_height", "fathoms"),
        ({"edit": "set_screen_height", "with": {"centre_height": -5}}, "centre_height", "more than 0"),
        ({"edit": "set_screen_height", "with": {}}, "centre_height", "missing"),
        ({"edit": "move_unit", "with": {"ref": "C9", "x": 5}}, "ref", "C1"),
        ({"marks": {"C1.middel": 5}}, "marks", "C1.middle"),
        ({"marks": {"ceiling": 5}}, "marks.ceiling", "surveyed"),
        ({"marks": {"C1.z": "high"}}, "marks.C1.z", "cannot read|not a unit"),
        ({"marks": {"C1.z": True}}, "marks.C1.z", "true"),
        ({}, "edit", "nothing to change"),
        (
            {"edit": "set_screen_height", "with": {"centre_height": 1000}, "shout": 1},
            "shout",
            "xtra|permitted",
        ),
    ],
)
def test_a_refusal_names_field_and_what_would_do(page_of: Any, body: Any, field: str, part: str) -> None:
    text = page_of.path.read_bytes()
    error = page_of.change(expect=422, **body)["error"]
    assert error["field"] == field and any(
        word in error["says"] + error["value"] for word in part.split("|")
    ), error
    assert page_of.path.read_bytes() == text


@pytest.mark.parametrize("position", [None, "1", True, -1, 1.5, 10**12])
def test_a_position_is_a_whole_number(page_of: Any, position: Any) -> None:
    assert page_of.post("undo", {"position": position}, 422)["error"]["field"] == "position"


@pytest.mark.parametrize(
    "body", [b"", b"{", b"[]", b"null", b'"x"', b"\xff\xfe", b"[" * 3000, b'{"position": 1e400}']
)
def test_a_broken_body_is_refused_politely(page_of: Any, body: bytes) -> None:
    answer = page_of.http.post("/api/edit", content=body, headers={"content-type": "application/json"})
    assert 400 <= answer.status_code < 500 and answer.json()["error"]["says"]


@pytest.mark.parametrize("scale", ["0", "-3", "nan", "inf", "x", "1e9", ""])
def test_the_scale_is_bounded(page_of: Any, scale: str) -> None:
    assert page_of.http.get(f"/api/state?scale={scale}").status_code == 422


def test_why_tells_inputs_formula_source_and_certainty(page_of: Any) -> None:
    (why,) = page_of.http.get("/api/why?name=screen.centre_height").json()["whys"]
    assert why["value"] == pytest.approx(page_of.state()["screen"]["centre_height"], abs=0.5)
    assert why["source"] and why["certainty"] and why["says"]
    limit = page_of.http.get("/api/why?name=rule.side_gap").json()["whys"][0]
    assert limit["unit"] == "mm" and limit["source"]
    unknown = page_of.http.get("/api/why?name=screen.centre_hight")
    assert unknown.status_code == 422 and "screen.centre_height" in unknown.json()["error"]["says"]


def test_every_name_offered_can_be_asked(page_of: Any) -> None:
    state = page_of.state()
    named = {m["why"] for rod in state["rods"].values() for m in rod if m["why"]} | {state["money"]["why"]}
    assert len(named) > 10
    for name in named:
        answer = page_of.http.get("/api/why", params={"name": name})
        assert answer.status_code == 200 and answer.json()["whys"], name


def test_job_file_model_and_sheets(page_of: Any) -> None:
    assert page_of.http.get("/api/job.toml").content == page_of.path.read_bytes()
    glb = page_of.http.get("/api/wall.glb")
    assert glb.content[:4] == b"glTF" and glb.headers["content-type"] == "model/gltf-binary"
    names = [sheet["name"] for sheet in page_of.http.get("/api/sheets").json()["sheets"]]
    assert "elevation" in names
    for name in names:
        sheet = page_of.http.get(f"/api/sheet/{name}.svg")
        assert (
            sheet.status_code == 200
            and sheet.text.startswith("<svg")
            and "image/svg+xml" in sheet.headers["content-type"]
        )
    missing = page_of.http.get("/api/sheet/nothing.svg")
    assert missing.status_code == 404 and "elevation" in missing.json()["error"]["says"]


def test_the_issue_set_is_written_in_the_background(page_of: Any) -> None:
    assert page_of.http.get("/api/issue").json()["state"] == "none"
    began = page_of.change(name="issue")
    assert began["state"] == "running"
    until = time.monotonic() + 120
    while (now := page_of.http.get("/api/issue").json())["state"] == "running" and time.monotonic() < until:
        time.sleep(0.05)
    assert now["state"] == "done", now["error"]
    folder = Path(now["folder"])
    assert folder.parent == page_of.path.parent and (folder / "manifest.json").is_file()
    assert all((folder / name).is_file() for name in now["files"]) and len(now["files"]) > 3
    base = f"/api/jobs/{page_of.http.get('/api/here').json()['first']}/studies"
    (study,) = page_of.http.get(base).json()["studies"]  # the same files may be fetched one by one
    assert study["kind"] == "issue" and set(study["files"]) == {*now["files"], "manifest.json"}
    drawings = page_of.http.get(f"{base}/{study['id']}/file/drawings.pdf")
    assert drawings.content == (folder / "drawings.pdf").read_bytes()
    assert drawings.headers["content-type"] == "application/pdf"


# --- asked before it is made ---------------------------------------------------------------------------------------------


def test_a_size_that_drops_the_makers_drawing_is_asked_about_and_undo_restores_it(page_of: Any) -> None:
    before, text = page_of.state(), page_of.path.read_bytes()
    assert before["screen"]["drops"] == "drops the maker's frame, mass and hole group"
    asked = page_of.change(edit="set_screen_size", **{"with": {"diagonal": 55}})
    assert set(asked) == {"ask"}
    for part in ("the maker's frame 1448 × 830 × 60 mm", "mass 22 kg", "hole group 400 × 300 mm", "65″"):
        assert part in asked["ask"]
    assert page_of.path.read_bytes() == text and page_of.state()["position"] == before["position"]
    made = page_of.change(edit="set_screen_size", sure=True, **{"with": {"diagonal": 55}})
    assert made["screen"]["diagonal"] == 55 and made["screen"]["drops"] == ""
    assert page_of.job().design.screen.frame_width is None
    again = page_of.change(edit="set_screen_size", **{"with": {"diagonal": 50}})
    assert again["screen"]["diagonal"] == 50  # nothing is lost any more: nothing is asked
    for _ in range(2):
        page_of.change(name="undo")
    assert page_of.path.read_bytes() == text and page_of.state()["screen"] == before["screen"]


@pytest.mark.parametrize(
    ("mark", "at", "parts"),
    [
        ("screen.centre_height", "9 in", ("228.6 mm", "It is 1165 mm now")),
        ("C1.top", 2700, ("C1 height", "It is 397 mm now")),
        ("C1.z", 4000, ("C1 underside", "The room has 2750 mm")),
        ("C1.middle", 9000, ("C1 left end", "The room has 4201 mm")),
    ],
)  # fmt: skip
def test_a_length_of_another_scale_is_asked_about(
    page_of: Any, mark: str, at: Any, parts: tuple[str, ...]
) -> None:
    text = page_of.path.read_bytes()
    ask = page_of.change(marks={mark: at})["ask"]
    assert all(part in ask for part in parts), ask
    assert page_of.path.read_bytes() == text


@pytest.mark.parametrize(
    ("mark", "at"), [("screen.centre_height", 1400), ("C1.top", 900), ("C1.z", 0), ("C1.right", 2500)]
)
def test_a_length_of_the_rooms_scale_is_not_asked_about(page_of: Any, mark: str, at: float) -> None:
    assert "ask" not in page_of.change(marks={mark: at})


@pytest.mark.parametrize(("written", "meant"), [("3.5", "3.5 m"), ("1.2", "1.2 m or 1.2 ft")])
def test_a_height_of_a_few_millimetres_is_never_made_unasked(page_of: Any, written: str, meant: str) -> None:
    """Whether the job itself refuses it or the page asks: the answer says what may have been meant."""
    text = page_of.path.read_bytes()
    body = {"position": page_of.state()["position"], "marks": {"screen.centre_height": written}}
    answer = page_of.http.post("/api/edit", json=body).json()
    said = answer["ask"] if "ask" in answer else answer["error"]["says"]
    assert f"{written} mm" in said and f"id you mean {meant}" in said and page_of.path.read_bytes() == text


def test_while_one_drags_nothing_is_asked(page_of: Any) -> None:
    assert page_of.change(name="try", marks={"C1.z": 20})["svg"]
    assert (
        page_of.change(name="try", edit="set_screen_size", **{"with": {"diagonal": 55}})["screen"]["diagonal"]
        == 55
    )


def test_a_length_is_refused_in_plain_words(page_of: Any) -> None:
    comma = page_of.change(expect=422, marks={"screen.centre_height": "1,2 m"})["error"]["says"]
    assert "use a point for decimals (1.2 m)" in comma
    for mark in ("screen.centre_height", "C1.z"):
        below = page_of.change(expect=422, marks={mark: "-50"})["error"]["says"]
        assert ("more than 0" in below or "negative" in below) and "{" not in below and "4 ft 2" in below


# --- what moved, what is one cause, what a step is -----------------------------------------------------------------------


def test_what_moved_along_is_told_and_what_was_asked_for_is_not(page_of: Any) -> None:
    before = page_of.state()
    assert before["moved"] == []
    tried = page_of.change(name="try", marks={"screen.centre_height": 1380})
    after = page_of.change(marks={"screen.centre_height": 1380})
    assert tried["moved"] == after["moved"] and after["moved"]
    told = {(m["ref"], m["name"]): (m["from"], m["to"]) for m in after["moved"]}
    for unit in after["units"]:
        was = next(u for u in before["units"] if u["ref"] == unit["ref"])
        for name in ("x", "z", "width", "height", "depth"):
            moved = abs(unit[name] - was[name]) >= 0.5
            assert ((unit["ref"], name) in told) == moved, (unit["ref"], name)
            if moved:
                assert told[unit["ref"], name] == (was[name], unit[name])
    assert told["C1", "z"] and ("screen", "centre_height") not in told
    assert ("P1", "z") in told  # an outlet behind the screen goes with it
    back = page_of.change(name="undo")  # undo moves what was asked for as well, and all of it back
    told["screen", "centre_height"] = (before["screen"]["centre_height"], 1380.0)
    assert {(m["ref"], m["name"]): (m["to"], m["from"]) for m in back["moved"]} == told


def test_a_shrunk_console_says_that_it_lost_a_bay(page_of: Any) -> None:
    def bays() -> int:
        return sum(bay.unit == "C1" for bay in derive(page_of.job()).carcass.bays)

    page_of.change(edit="set_unit_bays", **{"with": {"ref": "C1", "bays": []}})
    before, wide = page_of.state(), bays()
    after = page_of.change(marks={"C1.right": page_of.mark(before, "C1.right")["at"] - 500})
    told = {(m["ref"], m["name"]): (m["from"], m["to"]) for m in after["moved"]}
    assert ("C1", "x") in told and ("C1", "width") not in told  # it shrinks about its middle
    assert bays() < wide and told["C1", "bays"] == (wide, bays())


def test_findings_of_one_cause_are_together_worst_first(faulty: Any) -> None:
    state = faulty.state()
    members = [i for group in state["groups"] for i in group["findings"]]
    assert sorted(members) == list(range(len(state["findings"])))  # each once, none lost
    order = ["danger", "fix", "consider", "note"]
    ranks = [order.index(group["severity"]) for group in state["groups"]]
    assert ranks == sorted(ranks)
    for group in state["groups"]:
        assert group["severity"] == state["findings"][group["findings"][0]]["severity"]
        assert bool(group["why"]) == (len(group["findings"]) > 1)
    rails = [
        g
        for g in state["groups"]
        if any(state["findings"][i]["rule"] == "services.behind_rail" for i in g["findings"])
    ]
    of_rails = [i for i, one in enumerate(state["findings"]) if one["rule"] == "services.behind_rail"]
    assert len(rails) == 1 and len(of_rails) >= 4 and set(of_rails) <= set(rails[0]["findings"])
    assert "the height of C1" in rails[0]["why"]


def test_a_button_says_every_edit_it_makes(faulty: Any) -> None:
    for finding in faulty.state()["findings"]:
        assert bool(finding["does"]) == bool(finding["edits"])
        said = finding["does"]
        for edit in finding["edits"]:
            ref = edit["with"].get("ref") or str(edit["with"].get("field", "")).split(".")[-2:][0]
            assert not ref or ref in said, finding
    outside = next(f for f in faulty.state()["findings"] if f["rule"] == "carcass.outside_wall")
    assert outside["does"] == "make T1 height and width automatic"


def test_how_a_mark_stands_does_not_contradict_itself(page_of: Any) -> None:
    state = page_of.state()
    given = page_of.job().design

    def standing(name: str) -> str:
        return page_of.mark(state, name)["standing"]

    assert given.screen.centre_height is None and standing("screen.centre_height") == "automatic"
    assert standing("screen.top") == standing("screen.bottom") == "follows"
    assert {standing(f"T1.{end}") for end in ("left", "middle", "right")} == {"automatic"}
    assert standing("ceiling") == "surveyed" and standing("C1.top") == "automatic"
    state = page_of.change(marks={"C1.z": 300})
    assert standing("C1.z") == "pinned" and standing("C1.top") == "follows"
    assert page_of.mark(state, "C1.top")["follows"] == "the underside"
    state = page_of.change(edit="move_unit", **{"with": {"ref": "C1", "x": 1200}})
    assert [standing(f"C1.{end}") for end in ("left", "middle", "right")] == ["pinned", "follows", "follows"]
    assert page_of.mark(state, "C1.right")["release"] == ["design.units.C1.x"]


def test_money_says_whose_rates_and_what_is_left_out(page_of: Any) -> None:
    money = page_of.state()["money"]
    assert money["invented"] and money["rates"].startswith("invented rates") and "screen" in money["without"]
    margin = next(step for step in money["steps"] if step["name"] == "margin")
    assert margin["of"].startswith("of the price")


# --- the file under the page ---------------------------------------------------------------------------------------------


def test_a_file_broken_under_the_page_keeps_the_last_good_wall(page_of: Any) -> None:
    before, text = page_of.state(), page_of.path.read_text(encoding="utf-8")
    lines = text.splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("diagonal"))
    lines[at] = "diagonal = = 65"
    page_of.path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    watch = page_of.http.get("/api/watch").json()
    assert watch["position"] == before["position"]
    trouble = watch["trouble"]
    assert (trouble["file"], trouble["line"], trouble["text"]) == (
        str(page_of.path),
        at + 1,
        "diagonal = = 65",
    )
    assert trouble["column"] > 0 and "TOML" in trouble["says"]
    state = page_of.state()
    assert state["trouble"] == trouble
    assert {k: v for k, v in state.items() if k != "trouble"} == {
        k: v for k, v in before.items() if k != "trouble"
    }
    refused = page_of.change(expect=422, marks={"screen.centre_height": 1400})["error"]["says"]
    assert f"line {at + 1}" in refused
    assert "= = 65" in page_of.path.read_text(encoding="utf-8")  # nobody's work is written over
    page_of.path.write_text(text, encoding="utf-8")
    assert page_of.state() == before


def test_a_value_that_cannot_be_is_found_in_its_line(page_of: Any) -> None:
    text = page_of.path.read_text(encoding="utf-8").replace("diagonal = 65", "diagonal = -65", 1)
    page_of.path.write_text(text, encoding="utf-8")
    trouble = page_of.http.get("/api/watch").json()["trouble"]
    assert trouble["field"] == "design.screen.diagonal" and trouble["text"].startswith("diagonal = -65")
    assert text.splitlines()[trouble["line"] - 1].startswith("diagonal = -65")
    page_of.path.unlink()
    assert "job.toml" in page_of.state()["trouble"]["file"]


def test_a_good_change_of_the_file_is_seen_by_the_watch(page_of: Any) -> None:
    before = page_of.http.get("/api/watch").json()
    text = page_of.path.read_text(encoding="utf-8").replace(
        "[design.screen]", "[design.screen]\ncentre_x = 2222", 1
    )
    page_of.path.write_text(text, encoding="utf-8")
    after = page_of.http.get("/api/watch").json()
    assert after["position"] > before["position"] and after["from_file"] and not before["from_file"]
    assert not page_of.change(marks={"C1.z": 250})["trouble"]
    assert not page_of.http.get("/api/watch").json()["from_file"]


# --- the door ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "evil.example:8470",
        "127.0.0.1",
        "127.0.0.1:80",
        "127.0.0.1:8470.evil.example",
        "localhost.evil.example:8470",
        "",
        "127.0.0.1:8470:8470",
        "[::1]",
    ],
)
def test_another_host_is_refused(page_of: Any, host: str) -> None:
    for path in ("/", "/api/state"):
        assert page_of.http.get(path, headers={"host": host}).status_code == 421


@pytest.mark.parametrize("host", ["127.0.0.1:8470", "localhost:8470", "LOCALHOST:8470", "[::1]:8470"])
def test_this_machine_by_any_of_its_names_is_let_in(page_of: Any, host: str) -> None:
    assert page_of.http.get("/api/state", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "origin",
    ["http://evil.example", "null", "http://127.0.0.1", "http://127.0.0.1:8471", "https://127.0.0.1:8470"],
)
@pytest.mark.parametrize("name", ["edit", "try", "undo", "redo", "issue"])
def test_another_sites_page_changes_nothing(page_of: Any, origin: str, name: str) -> None:
    text = page_of.path.read_bytes()
    body = {
        "position": page_of.state()["position"],
        "edit": "set_screen_size",
        "with": {"diagonal": 55},
        "sure": True,
    }
    error = page_of.post(name, body, 403, origin=origin)["error"]
    assert error["field"] == "Origin" and page_of.path.read_bytes() == text


def test_another_sites_page_reads_nothing(page_of: Any) -> None:
    answer = page_of.http.get("/api/state", headers={"sec-fetch-site": "cross-site"})
    assert answer.status_code == 403 and "svg" not in answer.json()


def test_its_own_page_may(page_of: Any) -> None:
    body = {
        "position": page_of.state()["position"],
        "edit": "set_screen_size",
        "with": {"diagonal": 55},
        "sure": True,
    }
    assert page_of.post("edit", body, 200, origin="http://127.0.0.1:8470")["screen"]["diagonal"] == 55


def test_a_body_too_large_is_not_read_to_its_end(page_of: Any) -> None:
    big = b'{"position": 1, "edit": "' + b"x" * 70_000 + b'"}'
    assert (
        page_of.http.post("/api/edit", content=big, headers={"content-type": "application/json"}).status_code
        == 413
    )

    def dribbled() -> Any:
        for _ in range(100):
            yield b"x" * 1000

    assert page_of.http.post("/api/edit", content=dribbled()).status_code == 413


@pytest.mark.parametrize(
    "path",
    [
        "/assets/../../app.py",
        "/assets/..%2f..%2fapp.py",
        "/assets/%2e%2e/%2e%2e/app.py",
        "/assets//etc/passwd",
        "/static/index.html",
        "/api/sheet/..%2f..%2fjob.svg",
        "/app.py",
        "/api/../app.py",
    ],
)
def test_no_path_leads_out_of_the_pages_own_files(page_of: Any, path: str) -> None:
    answer = page_of.http.get(path)
    assert answer.status_code in (404, 422), answer.text
    assert "def create_app" not in answer.text and "root:" not in answer.text


def test_every_answer_carries_its_headers(page_of: Any) -> None:
    for path in ("/", "/api/state", "/api/nothing", "/api/sheet/x.svg"):
        headers = page_of.http.get(path).headers
        policy = headers["content-security-policy"]
        assert "script-src 'self'" in policy and "unsafe" not in policy and "default-src 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff" and "access-control-allow-origin" not in headers


def test_a_fault_of_the_program_shows_no_inside_and_keeps_the_headers(
    page_of: Any, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: Any) -> None:
        raise RuntimeError("inside story")

    text = page_of.path.read_bytes()
    monkeypatch.setattr("wallwright.studio.view.state", broken)
    answer = page_of.http.get("/api/state")
    assert answer.status_code == 500 and "fault" in answer.json()["error"]["says"]
    assert "inside" not in answer.text and "content-security-policy" in answer.headers
    assert "inside story" in capfd.readouterr().err and page_of.path.read_bytes() == text


def test_an_issue_set_that_fails_says_why(page_of: Any) -> None:
    folder = page_of.path.with_name("job-issue")
    folder.mkdir()
    (folder / "mine.txt").write_text("not to be written over")
    page_of.change(name="issue")
    until = time.monotonic() + 120
    while (now := page_of.http.get("/api/issue").json())["state"] == "running" and time.monotonic() < until:
        time.sleep(0.05)
    assert now["state"] == "failed" and "job-issue" in now["error"]
    assert [file.name for file in folder.iterdir()] == ["mine.txt"]


def test_a_wrong_method_is_told_so(page_of: Any) -> None:
    for answer in (page_of.http.get("/api/edit"), page_of.http.delete("/api/state")):
        assert answer.status_code == 405 and answer.json()["error"]["says"]


# --- its own description -------------------------------------------------------------------------------------------------


def test_the_description_is_the_one_the_page_was_made_for() -> None:
    """When this fails, write it anew: `python -m wallwright.studio.describe > frontend/openapi.json`, then `npm run api`."""
    kept = json.loads((ROOT / "frontend/openapi.json").read_text(encoding="utf-8"))
    assert application(None).openapi() == kept


def test_every_answer_is_described() -> None:
    described = application(None).openapi()
    for path, methods in described["paths"].items():
        for method, operation in methods.items():
            assert {"200", "422", "403", "421", "413"} <= set(operation["responses"]), (path, method)
            for parameter in operation.get("parameters", []):
                schema = parameter["schema"]
                for kind in schema.get("anyOf", [schema]):
                    bounded = {"maxLength", "maximum", "exclusiveMaximum", "enum"} & set(kind) or kind.get(
                        "type"
                    ) in (
                        "boolean",
                        "null",
                    )
                    assert bounded, (path, parameter["name"])
