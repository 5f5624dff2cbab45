"""Links: what each opens and nothing else; comments, approvals that hold for just what was seen, checks and as-found."""

from __future__ import annotations

from typing import Any

import pytest

from wallwright.sheets.roles import ROLES
from wallwright.studio import links as module
from wallwright.studio.schema import LINK


def give(studio: Any, job: str, role: str = "client", **more: Any) -> tuple[dict[str, Any], Any]:
    """A link, and the browser of whom it was sent to."""
    answer = studio.owner.post(f"/api/jobs/{job}/links", json={"role": role, "label": "For them", **more})
    assert answer.status_code == 200, answer.text
    given = answer.json()
    guest = studio.browser()
    guest.headers["authorization"] = f"Bearer {given['token']}"
    return given, guest


def test_a_link_cannot_be_guessed_and_is_kept_as_its_hash(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    given, _ = give(hosted_studio, job)
    assert len(given["token"]) >= 43 and given["address"] == f"https://studio.example/link#{given['token']}"
    assert give(hosted_studio, job)[0]["token"] != given["token"]
    with hosted_studio.store.read() as db:
        assert given["token"] not in str(db.execute(LINK.select()).all())
    assert given["token"] not in hosted_studio.owner.get(f"/api/jobs/{job}/links").text


def test_a_link_reaches_nothing_else(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    for role in ROLES:
        hosted_studio.app.state.studio.knocks.__init__(60, 1)
        reaches_nothing_else(hosted_studio, job, role)


def reaches_nothing_else(hosted_studio: Any, job: str, role: str) -> None:
    """Every address of the API but its own, tried with the link's token in every place where a token may stand."""
    given, guest = give(hosted_studio, job, role)
    filled = {
        "{job}": job,
        "{study}": "0" * 32,
        "{link}": given["link"]["id"],
        "{ident}": "0" * 32,
        "{moment}": "0",
    }
    asked = 0
    for path, methods in hosted_studio.app.openapi()["paths"].items():
        if path.startswith("/api/link") or path in ("/api/here", "/api/sign-in"):
            continue
        for name, value in filled.items():
            path = path.replace(name, value)
        for method in methods:
            for way in ({}, {"cookie": f"__Host-wallwright={given['token']}", "x-csrf-token": "x"}):
                answer = guest.request(method, path.replace("{name}", "elevation"), json={}, headers=way)
                assert answer.status_code in (401, 403, 404), (method, path, answer.text)
                asked += 1
    assert asked > 80
    assert guest.get("/api/here").json()["role"] is None
    shown = guest.get("/api/link").json()
    own = {sheet["name"] for sheet in shown["sheets"]}
    everything = hosted_studio.owner.get(f"/api/jobs/{job}/sheets").json()["sheets"]
    others = [sheet["name"] for sheet in everything if sheet["name"] not in own]
    assert others and guest.get(f"/api/link/sheet/{others[0]}.svg").status_code == 404
    if own:
        assert guest.get(f"/api/link/sheet/{sorted(own)[0]}.svg").text.startswith("<svg")
    if role != "client":
        approve = {"name": "T", "revision": "A", "sha256": "0" * 64}
        assert guest.post("/api/link/approve", json=approve).status_code == 403
        assert shown["price"] == "" and shown["sha256"] == ""


def test_a_link_ends_and_can_be_taken_back(hosted_studio: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    job = hosted_studio.job()
    given, guest = give(hosted_studio, job, days=2)
    short, other = give(hosted_studio, job, days=30)
    assert guest.get("/api/link").status_code == 200
    real = module.now()
    monkeypatch.setattr(module, "now", lambda: real + 2 * 86400 + 5)
    assert guest.get("/api/link").status_code == 401 and other.get("/api/link").status_code == 200
    monkeypatch.setattr(module, "now", lambda: real)
    answer = hosted_studio.owner.post(f"/api/jobs/{job}/links/{short['link']['id']}/revoke")
    assert answer.status_code == 200 and other.get("/api/link").status_code == 401
    for end in ("comment", "approve", "tick"):
        assert other.post(f"/api/link/{end}", json={}).status_code == 401
    another = hosted_studio.job()
    foreign = hosted_studio.owner.post(f"/api/jobs/{another}/links/{given['link']['id']}/revoke")
    assert foreign.status_code == 404 and guest.get("/api/link").status_code == 200


def test_an_approval_holds_for_what_was_seen_and_never_for_another_revision(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    _, guest = give(hosted_studio, job)
    seen = guest.get("/api/link").json()
    body = {"name": "Cleo Client", "revision": seen["revision"], "sha256": seen["sha256"]}
    agreed = guest.post("/api/link/approve", json=body).json()
    assert agreed["holds"] and agreed["sha256"] == seen["sha256"] and agreed["revision"] == "A"

    def kept() -> list[tuple[str, bool]]:
        told = hosted_studio.owner.get(f"/api/jobs/{job}/links").json()["approvals"]
        return [(one["revision"], one["holds"]) for one in told]

    assert kept() == [("A", True)]
    hosted_studio.edit(job, "set_revision", revision="B")
    assert kept() == [("A", False)]
    late = guest.post("/api/link/approve", json=body)
    assert late.status_code == 409 and "look again" in late.json()["error"]["says"]
    mixed = guest.post("/api/link/approve", json={**body, "revision": "B"})
    assert mixed.status_code == 409
    hosted_studio.edit(job, "set_revision", revision="A")
    assert kept() == [("A", True)]  # the very same is shown again
    hosted_studio.edit(job, "set_screen_height", centre_height=1333)
    assert kept() == [("A", False)] and guest.post("/api/link/approve", json=body).status_code == 409
    now = guest.get("/api/link").json()
    assert now["sha256"] != seen["sha256"]
    assert guest.post("/api/link/approve", json={**body, "sha256": now["sha256"]}).status_code == 200
    assert kept() == [("A", True), ("A", False)]
    lines = [(line["who"], line["what"]) for line in hosted_studio.owner.get("/api/audit").json()["lines"]]
    assert lines.count(("Cleo Client", "approved")) == 2


def test_a_client_sees_the_price_only_where_it_was_meant_to(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    _, without = give(hosted_studio, job)
    _, priced = give(hosted_studio, job, price=True)
    total = hosted_studio.state(job)["money"]["total_shown"]
    a, b = without.get("/api/link").json(), priced.get("/api/link").json()
    assert a["price"] == "" and b["price"] == total and a["sha256"] != b["sha256"]


def test_comments_go_both_ways_and_stay_text(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    _, client = give(hosted_studio, job)
    _, trade = give(hosted_studio, job, "carpenter")
    said = "<img src=x onerror=alert(1)>\nCan the shelf go lower?"
    assert client.post("/api/link/comment", json={"name": "Cleo", "text": said}).status_code == 200
    position = hosted_studio.state(job)["position"]
    answer = hosted_studio.owner.post(
        f"/api/jobs/{job}/comments", json={"position": position, "text": "Yes."}
    )
    assert answer.status_code == 200
    read = client.get("/api/link")
    assert read.headers["content-type"] == "application/json"
    assert [(c["name"], c["text"]) for c in read.json()["comments"]] == [
        ("Cleo", said),
        ("Olga Owner", "Yes."),
    ]
    assert trade.get("/api/link").json()["comments"] == []  # what a client says is not a trade's to read
    for bad in ({"name": "", "text": "x"}, {"name": "x", "text": ""}, {"name": "x\n", "text": "\0"},
                {"name": "x", "text": "y" * 2001}, {"name": "x", "text": "y", "job": job}):  # fmt: skip
        assert client.post("/api/link/comment", json=bad).status_code == 422


def test_a_trade_ticks_its_checks_and_enters_what_it_found(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    _, guest = give(hosted_studio, job, "electrician")
    checks = guest.get("/api/link").json()["checks"]
    points = {point["ref"]: point for point in hosted_studio.state(job)["points"]}
    assert {one["key"] for one in checks} == set(points)
    assert any(
        one["title"].endswith("aerial outlet: middle of its box") for one in checks
    )  # in the sheets' own words
    one = checks[0]
    drawn = points[one["key"]]
    assert one["drawn"] == pytest.approx({"x": drawn["x"], "z": drawn["z"]}, abs=0.06) and not one["done"]
    low = {"x": one["drawn"]["x"], "z": one["drawn"]["z"] - 30}
    body = {"check": one["key"], "name": "Elia", "done": True, "found": low}
    told = guest.post("/api/link/tick", json=body).json()
    assert told["done"] and told["says"] == "30 mm low" and told["name"] == "Elia"
    again = guest.post("/api/link/tick", json={**body, "found": {"z": f"{one['drawn']['z'] / 10} cm"}}).json()
    assert again["says"] == "as drawn" and set(again["found"]) == {"z"}
    kept = {c["key"]: c for c in hosted_studio.owner.get(f"/api/jobs/{job}/links").json()["checks"]}
    assert kept[one["key"]]["done"] and kept[one["key"]]["found"] == again["found"]
    for bad, status in (
        ({"check": "Z9"}, 404), ({"found": {"depth": 3}}, 422), ({"found": {"x": "3 fathoms"}}, 422),
        ({"found": {"x": True}}, 422), ({"done": "yes"}, 422), ({"name": ""}, 422),
    ):  # fmt: skip
        assert guest.post("/api/link/tick", json={**body, **bad}).status_code == status, bad


def test_a_link_that_cannot_be_is_refused(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    good = {"role": "client", "label": "x"}
    for bad in (
        {"days": 0},
        {"days": 366},
        {"days": -1},
        {"role": "owner!"},
        {"label": ""},
        {"price": 1},
        {"job": job},
    ):
        answer = hosted_studio.owner.post(f"/api/jobs/{job}/links", json={**good, **bad})
        assert answer.status_code == 422, bad
    assert hosted_studio.owner.get(f"/api/jobs/{job}/links").json()["links"] == []


def test_knocking_with_guessed_links_is_slowed_down(hosted_studio: Any) -> None:
    hosted_studio.app.state.studio.knocks.__init__(5, 1e-6)
    guest = hosted_studio.browser()
    codes = [
        guest.get("/api/link", headers={"authorization": "Bearer " + f"{i:043d}"}).status_code
        for i in range(7)
    ]
    assert codes == [401] * 5 + [429] * 2
