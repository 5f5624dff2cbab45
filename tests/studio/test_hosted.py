"""The hosted studio's door: accounts, sessions, roles, other sites' pages, pace, headers, the audit log."""

from __future__ import annotations

from typing import Any

import pytest

from wallwright.job.problem import JobError
from wallwright.studio import accounts
from wallwright.studio.accounts import Who, add_person, change_person, right_password
from wallwright.studio.pace import Pace
from wallwright.studio.schema import PERSON, SIGN_IN

HOSTED = "https://studio.example"
PASSWORD = "a long and plain sentence"
COOKIE = "__Host-wallwright"
OPEN = {("get", "/api/here"), ("post", "/api/sign-in")}
"""What anybody may ask."""


def calls(app: Any) -> list[tuple[str, str]]:
    """Every address of the API, filled in with what looks right."""
    filled = {
        "{job}": "0" * 32,
        "{study}": "0" * 32,
        "{link}": "0" * 32,
        "{ident}": "0" * 32,
        "{moment}": "0",
    }
    out: list[tuple[str, str]] = []
    for path, methods in app.openapi()["paths"].items():
        for method in methods:
            address = path
            for name, value in filled.items():
                address = address.replace(name, value)
            out.append((method, address.replace("{name}", "elevation")))
    return out


def test_who_is_not_signed_in_gets_nothing(hosted_studio: Any) -> None:
    browser = hosted_studio.browser()
    asked = [call for call in calls(hosted_studio.app) if call not in OPEN]
    assert len(asked) > 40
    for method, path in asked:
        for headers in ({}, {"cookie": f"{COOKIE}=" + "x" * 43}, {"authorization": "Bearer " + "x" * 43}):
            answer = browser.request(method, path, json={}, headers=headers)
            assert answer.status_code == 401, (method, path, headers, answer.text)
    here = browser.get("/api/here").json()
    assert here == {"mode": "hosted", "name": "", "role": None, "csrf": "", "first": ""}
    assert browser.get("/api/openapi.json").status_code == 404


def test_a_session_stands_in_a_cookie_that_no_script_reads(hosted_studio: Any) -> None:
    add_person(hosted_studio.store, "Dora", PASSWORD, "designer")
    browser = hosted_studio.browser()
    answer = browser.post("/api/sign-in", json={"name": "Dora", "password": PASSWORD})
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith(f"{COOKIE}=") and "domain" not in cookie.lower()
    parts = {part.strip().lower() for part in cookie.split(";")[1:]}
    assert {"httponly", "secure", "samesite=strict", "path=/"} <= parts
    token = cookie.split(";")[0].partition("=")[2]
    assert len(token) >= 43  # 256 bits
    with hosted_studio.store.read() as db:
        rows = db.execute(SIGN_IN.select()).all()
        secrets = [row.secret for row in db.execute(PERSON.select())]
    assert token not in str(rows) and all(s.startswith("$argon2id$") and PASSWORD not in s for s in secrets)
    browser.headers["x-csrf-token"] = answer.json()["csrf"]
    assert browser.post("/api/sign-out").status_code == 200
    assert browser.get("/api/jobs").status_code == 401
    assert browser.get("/api/jobs", headers={"cookie": f"{COOKIE}={token}"}).status_code == 401


def test_passwords_in_use_are_hashed_with_argon2id_as_rfc_9106_asks() -> None:
    """RFC 9106 section 4, second recommended option: 3 passes, 64 MiB, 4 lanes."""
    hasher = accounts._hasher()
    assert (hasher.type.name, hasher.time_cost, hasher.memory_cost, hasher.parallelism) == ("ID", 3, 65536, 4)


def test_a_wrong_name_and_a_wrong_password_are_refused_alike(hosted_studio: Any) -> None:
    browser = hosted_studio.browser()
    said = [
        browser.post("/api/sign-in", json={"name": name, "password": password})
        for name, password in (("Olga Owner", "wrong"), ("nobody", PASSWORD))
    ]
    assert [one.status_code for one in said] == [401, 401] and said[0].json() == said[1].json()
    assert PASSWORD not in said[1].text
    short = browser.post("/api/sign-in", json={"name": "Olga Owner", "password": 12345, "x": 1})
    assert short.status_code == 422 and "12345" not in short.text


def test_guessing_passwords_is_slowed_down(hosted_studio: Any) -> None:
    browser = hosted_studio.browser()
    codes = [
        browser.post("/api/sign-in", json={"name": "Olga Owner", "password": f"guess {i}"}).status_code
        for i in range(12)
    ]
    assert codes[:7] == [401] * 7 and codes[-1] == 429
    answer = browser.post("/api/sign-in", json={"name": "Olga Owner", "password": PASSWORD})
    assert answer.status_code == 429 and int(answer.headers["retry-after"]) >= 1
    assert f"try again in {answer.headers['retry-after']} s" in answer.json()["error"]["says"]


def test_edits_that_come_too_fast_are_slowed_down(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    hosted_studio.app.state.studio.edits.__init__(3, 0.01)
    codes = [
        hosted_studio.owner.post(f"/api/jobs/{job}/archive", json={"archived": False}).status_code
        for _ in range(5)
    ]
    assert codes == [200, 200, 200, 429, 429]
    assert hosted_studio.owner.get(f"/api/jobs/{job}/watch").status_code == 200


def test_a_measure_fills_again_with_time(monkeypatch: pytest.MonkeyPatch) -> None:
    clock = [100.0]
    monkeypatch.setattr("wallwright.studio.pace.time.monotonic", lambda: clock[0])
    pace = Pace(2, 0.5)
    assert [pace.wait("a"), pace.wait("a"), pace.wait("a")] == [0, 0, 2.0]
    assert pace.wait("b") == 0  # each by itself
    clock[0] += 2.0
    assert [pace.wait("a"), pace.wait("a")] == [0, 2.0]


@pytest.mark.parametrize("given", [None, "", "x", "0" * 64])
def test_a_change_needs_the_word_of_its_own_page(hosted_studio: Any, given: str | None) -> None:
    owner = hosted_studio.owner
    headers = {**owner.headers, "x-csrf-token": given} if given is not None else dict(owner.headers)
    if given is None:
        headers.pop("x-csrf-token")
    browser = hosted_studio.browser()
    browser.cookies = owner.cookies
    answer = browser.post(
        "/api/jobs", json={}, headers={k: v for k, v in headers.items() if k == "x-csrf-token"}
    )
    assert answer.status_code == 403 and answer.json()["error"]["field"] == "X-CSRF-Token"
    assert owner.get("/api/jobs").json()["jobs"] == []


@pytest.mark.parametrize(
    "origin",
    ["https://evil.example", "null", "http://studio.example", "https://studio.example.evil.example", ""],
)
def test_another_sites_page_changes_nothing(hosted_studio: Any, origin: str) -> None:
    owner = hosted_studio.owner
    answer = owner.post("/api/jobs", json={}, headers={"origin": origin})
    assert answer.status_code == 403 and answer.json()["error"]["field"] == "Origin"
    fetched = owner.get("/api/jobs", headers={"sec-fetch-site": "cross-site"})
    assert fetched.status_code == 403
    assert owner.get("/", headers={"sec-fetch-site": "cross-site"}).status_code == 200  # a link in a letter
    assert owner.get("/api/jobs").json()["jobs"] == []


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1:8470", "studio.example:8443", ""])
def test_another_host_is_refused(hosted_studio: Any, host: str) -> None:
    assert hosted_studio.owner.get("/api/jobs", headers={"host": host}).status_code == 421


def test_roles(hosted_studio: Any) -> None:
    designer, reader = (hosted_studio.signed_in(name, name) for name in ("designer", "reader"))
    job = designer.post("/api/jobs", json={"room": "studio"}).json()["id"]
    for person in (designer, reader, hosted_studio.owner):
        assert person.get(f"/api/jobs/{job}/state").status_code == 200
        assert len(person.get("/api/jobs").json()["jobs"]) == 1
    changing = [call for call in calls(hosted_studio.app) if call[0] == "post" and "/api/link" not in call[1]]
    may = {"/api/sign-in", "/api/sign-out", "/api/password"}
    for _, path in changing:
        if path not in may:
            answer = reader.post(path.replace("0" * 32, job), json={})
            assert answer.status_code == 403 and answer.json()["error"]["field"] == "role", path
    for path in ("/api/people", "/api/audit"):
        assert designer.get(path).status_code == 403 and hosted_studio.owner.get(path).status_code == 200
    person = {"name": "Mallory", "password": PASSWORD, "role": "owner"}
    assert designer.post("/api/people", json=person).status_code == 403


def test_an_account_that_is_closed_is_out_at_once(hosted_studio: Any) -> None:
    owner, dora = hosted_studio.owner, hosted_studio.signed_in("Dora", "designer")
    people = {one["name"]: one for one in owner.get("/api/people").json()["people"]}
    assert people["Dora"]["role"] == "designer" and people["Dora"]["active"]
    owner.post(f"/api/people/{people['Dora']['id']}", json={"active": False})
    assert dora.get("/api/jobs").status_code == 401
    again = hosted_studio.browser().post("/api/sign-in", json={"name": "Dora", "password": PASSWORD})
    assert again.status_code == 401
    last = owner.post(f"/api/people/{people['Olga Owner']['id']}", json={"role": "reader"})
    assert last.status_code == 422 and "last owner" in last.json()["error"]["says"]
    assert owner.post(f"/api/people/{'0' * 32}", json={"active": False}).status_code == 404


def test_a_new_password_ends_the_other_sessions(hosted_studio: Any) -> None:
    one = hosted_studio.signed_in("Dora", "designer")
    two = hosted_studio.browser()
    two.post("/api/sign-in", json={"name": "Dora", "password": PASSWORD})
    wrong = one.post("/api/password", json={"old": "not it, not it", "new": "another long sentence"})
    assert wrong.status_code == 403
    changed = one.post("/api/password", json={"old": PASSWORD, "new": "another long sentence"})
    assert changed.status_code == 200 and one.get("/api/jobs").status_code == 200
    assert two.get("/api/jobs").status_code == 401
    assert right_password(hosted_studio.store, "Dora", PASSWORD) is None


def test_a_session_ends_by_itself(hosted_studio: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    ident = add_person(hosted_studio.store, "Dora", PASSWORD, "designer")
    token = accounts.begin_session(hosted_studio.store, ident)
    real, passed = accounts.now(), [0.0]
    monkeypatch.setattr(accounts, "now", lambda: real + passed[0])
    assert accounts.whose(hosted_studio.store, token) == Who(
        ident, "Dora", "designer", accounts.csrf_of(token)
    )
    passed[0] = accounts.IDLE - 60
    assert accounts.whose(hosted_studio.store, token)
    passed[0] = 2 * accounts.IDLE - 180  # seen meanwhile, so the idle time counts anew
    assert accounts.whose(hosted_studio.store, token)
    passed[0] += accounts.IDLE + 120
    assert accounts.whose(hosted_studio.store, token) is None
    passed[0] = accounts.LONGEST + 1
    assert accounts.whose(hosted_studio.store, token) is None


def test_accounts_that_cannot_be_are_refused(hosted_studio: Any) -> None:
    store = hosted_studio.store
    for name, password in (
        ("", PASSWORD),
        ("x" * 65, PASSWORD),
        ("Short", "12345678901"),
        ("Olga Owner", PASSWORD),
    ):
        with pytest.raises(JobError):
            add_person(store, name, password, "reader")
    with pytest.raises(LookupError):
        change_person(store, "0" * 32, "reader", None, None)


def test_what_was_done_stands_in_the_audit_log(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    hosted_studio.browser().post("/api/sign-in", json={"name": "Olga Owner", "password": "wrong"})
    lines = hosted_studio.owner.get("/api/audit").json()["lines"]
    said = [(line["who"], line["what"], line["job"]) for line in lines]
    assert said == [
        ("Olga Owner", "sign-in refused", ""), ("Olga Owner", "made a job", job), ("Olga Owner", "signed in", ""),
    ]  # fmt: skip
    assert all(line["address"] and line["at"] > 1.7e9 for line in lines)
    older = hosted_studio.owner.get(f"/api/audit?before={lines[0]['id']}").json()["lines"]
    assert older == lines[1:]


def test_every_answer_carries_its_headers(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    for path in ("/", "/link", "/api/here", "/api/nothing", f"/api/jobs/{job}/state"):
        headers = hosted_studio.owner.get(path).headers
        policy = headers["content-security-policy"]
        assert "script-src 'self'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
        assert (
            headers["strict-transport-security"].startswith("max-age=")
            and headers["x-content-type-options"] == "nosniff"
        )
        assert "access-control-allow-origin" not in headers


def test_edits_say_who_made_them(hosted_studio: Any) -> None:
    job = hosted_studio.job()
    hosted_studio.edit(job, "set_screen_height", centre_height=1300)
    dora = hosted_studio.signed_in("Dora", "designer")
    position = hosted_studio.state(job)["position"]
    dora.post(
        f"/api/jobs/{job}/edit", json={"position": position, "edit": "set_title", "with": {"title": "Hers"}}
    )
    made = dora.get(f"/api/jobs/{job}/history").json()["moments"]
    assert [one["who"] for one in made] == ["Dora", "Olga Owner", "Olga Owner"]
