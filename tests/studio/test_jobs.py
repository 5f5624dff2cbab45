"""The list of jobs: new walls, job files brought in and taken out, copies, the archive; in a folder and in the database alone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.rules.check import check
from wallwright.studio.app import application
from wallwright.studio.studio import of_folder

ADDRESS = "http://127.0.0.1:8470"
TOML = {"content-type": "application/toml"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "living.toml").write_text(demo_jobs()["living"])
    (tmp_path / "bed").mkdir()
    (tmp_path / "bed" / "job.toml").write_text(demo_jobs()["bedroom"])
    (tmp_path / "other.toml").write_text('[tool]\nname = "no job"\n')
    (tmp_path / "broken.toml").write_text("wallwright-job = 1\ntitle = [\n")
    return tmp_path


@pytest.fixture
def http(folder: Path) -> Iterator[TestClient]:
    studio = of_folder(folder, worker=False)
    yield TestClient(application(studio), base_url=ADDRESS, raise_server_exceptions=False)
    studio.store.close()


def listed(http: TestClient, **asked: Any) -> dict[str, Any]:
    answer = http.get("/api/jobs", params=asked)
    assert answer.status_code == 200, answer.text
    return {card["file"]: card for card in answer.json()["jobs"]}


def test_the_list_says_whether_anything_was_put_away(http: TestClient, folder: Path) -> None:
    assert http.get("/api/jobs").json()["put_away"] is False
    living = listed(http)["living.toml"]["id"]
    assert http.post(f"/api/jobs/{living}/archive", json={"archived": True}).status_code == 200
    assert http.get("/api/jobs").json()["put_away"] is True
    assert http.get("/api/jobs?archived=true").json()["put_away"] is True
    (folder / "living.toml").unlink()
    assert http.get("/api/jobs").json()["put_away"] is False  # a file that is gone cannot be brought back


def test_a_folder_of_job_files_is_a_list_of_jobs(http: TestClient, folder: Path) -> None:
    cards = listed(http)
    assert set(cards) == {"living.toml", "bed/job.toml", "broken.toml"}
    card, wall = cards["living.toml"], derive(read_job(demo_jobs()["living"]))
    must = [item for item in check(wall) if item.severity in ("danger", "fix")]
    assert (card["title"], card["revision"], card["must"]) == (wall.job.title, wall.job.revision, len(must))
    assert card["gate"].startswith("G") and card["next"] and not card["trouble"] and not card["archived"]
    assert "line 3" in cards["broken.toml"]["trouble"] or "TOML" in cards["broken.toml"]["trouble"]
    assert http.get("/api/here").json() | {"csrf": ""} == {
        "mode": "local", "name": "you", "role": "owner", "csrf": "", "first": "",
    }  # fmt: skip
    assert http.get("/api/state").status_code == 404
    picture = http.get(card["thumbnail"])
    assert (
        picture.text.startswith("<svg")
        and 'data-ref="screen"' in picture.text
        and len(picture.content) < 20_000
    )
    state = http.get(f"/api/jobs/{card['id']}/state").json()
    assert state["job"]["title"] == card["title"] and state["job"]["path"] == str(folder / "living.toml")


def test_the_list_follows_the_files(http: TestClient, folder: Path) -> None:
    before = listed(http)
    text = (folder / "living.toml").read_text().replace('title = "', 'title = "Changed ', 1)
    (folder / "living.toml").write_text(text)
    (folder / "bed" / "job.toml").unlink()
    after = listed(http)
    assert set(after) == {"living.toml", "broken.toml"}
    assert after["living.toml"]["title"].startswith("Changed ")
    assert after["living.toml"]["id"] == before["living.toml"]["id"]
    assert after["living.toml"]["thumbnail"] != before["living.toml"]["thumbnail"]


@pytest.mark.parametrize("room", ["living", "bedroom", "studio"])
def test_a_new_wall_is_furnished_and_wrong_in_useful_ways(http: TestClient, folder: Path, room: str) -> None:
    made = http.post("/api/jobs", json={"room": room, "title": "  Wall of Room 7 "}).json()["id"]
    state = http.get(f"/api/jobs/{made}/state").json()
    assert state["job"]["title"] == "Wall of Room 7" and state["units"] and state["screen"]["diagonal"]
    assert state["gate"].startswith("G0") and any(f["cure"] for f in state["findings"])
    kept = (folder / "wall-of-room-7.toml").read_text()
    assert read_job(kept).title == "Wall of Room 7" and "# Lengths" in kept  # with its comments
    card = next(card for card in listed(http).values() if card["id"] == made)
    assert card["next"] and card["must"] + card["consider"] > 0


def test_a_job_goes_out_and_comes_in_as_its_file(http: TestClient) -> None:
    one = listed(http)["living.toml"]["id"]
    text = http.get(f"/api/jobs/{one}/job.toml")
    assert "attachment" in text.headers["content-disposition"]
    made = http.post("/api/jobs/import", content=text.content, headers=TOML).json()["id"]
    assert made != one
    assert http.get(f"/api/jobs/{made}/job.toml").content == text.content


def test_a_copy_has_a_life_of_its_own(http: TestClient) -> None:
    one = listed(http)["living.toml"]["id"]
    copy = http.post(f"/api/jobs/{one}/duplicate").json()["id"]
    state = http.get(f"/api/jobs/{copy}/state").json()
    assert state["job"]["title"].endswith("(copy)")
    body = {"position": state["position"], "edit": "set_screen_height", "with": {"centre_height": 1300}}
    assert http.post(f"/api/jobs/{copy}/edit", json=body).json()["screen"]["centre_height"] == 1300
    assert http.get(f"/api/jobs/{one}/state").json()["screen"]["centre_height"] != 1300


def test_what_is_put_away_can_be_brought_back(http: TestClient, folder: Path) -> None:
    one = listed(http)["living.toml"]["id"]
    assert http.post(f"/api/jobs/{one}/archive", json={"archived": True}).status_code == 200
    assert "living.toml" not in listed(http) and set(listed(http, archived=True)) == {"living.toml"}
    assert (folder / "living.toml").exists()
    http.post(f"/api/jobs/{one}/archive", json={"archived": False})
    assert "living.toml" in listed(http)


# --- hostile ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "title",
    ["../../etc/passwd", "..", "/abs/olute", "CON", "a\\b", "💥", "<script>alert(1)</script>", "x" * 80],
)
def test_a_title_leads_to_no_other_folder(http: TestClient, folder: Path, title: str) -> None:
    before = {path for path in folder.parent.rglob("*") if path.is_file()}
    made = http.post("/api/jobs", json={"room": "living", "title": title})
    assert made.status_code == 200, made.text
    new = {path for path in folder.parent.rglob("*") if path.is_file()} - before
    files = [path for path in new if path.suffix == ".toml"]
    assert len(files) == 1 and files[0].parent == folder and not files[0].name.startswith(".")
    assert read_job(files[0].read_bytes()).title == title


@pytest.mark.parametrize("title", ["", " ", "a\nb", "\x00", "x" * 81, 5, None, ["a"]])
def test_a_title_that_is_none_is_refused(http: TestClient, title: Any) -> None:
    answer = http.post("/api/jobs", json={"room": "living", "title": title})
    assert answer.status_code == (422 if title is not None else 200)


def test_script_in_names_is_text_in_every_drawing(http: TestClient) -> None:
    bad = "<script>alert(1)</script>"
    text = demo_jobs()["living"].replace('name = "', f'name = "{bad}', 1)
    text = text.replace('title = "', f'title = "{bad}', 1).replace('client = "', f'client = "{bad}', 1)
    one = http.post("/api/jobs/import", content=text.encode(), headers=TOML).json()["id"]
    base = f"/api/jobs/{one}"
    state = http.get(f"{base}/state")
    assert (
        state.json()["job"]["title"].startswith(bad) and state.headers["content-type"] == "application/json"
    )
    drawn = [
        state.json()["svg"],
        http.get(f"{base}/thumbnail.svg").text,
        http.get(f"{base}/sheet/elevation.svg").text,
    ]
    assert all("<script" not in svg for svg in drawn) and "&lt;script" in drawn[2]


def _deep() -> bytes:
    return b"wallwright-job = 1\nx = " + b"[" * 5000 + b"]" * 5000


HOSTILE = {
    "nothing": b"", "binary": b"PK\x03\x04" + b"\0" * 100, "a zip": b"PK\x05\x06" + b"x" * 18, "not UTF-8": b"title = \"\xff\"",
    "deep": _deep(), "no job": b'title = "x"', "SVG": b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>",
    "an entity": b"<!DOCTYPE x [<!ENTITY a 'b'>]><x>&a;</x>", "huge number": b"wallwright-job = 1\ntitle = \"x\"\nx = " + b"9" * 4000,
    "long line": b"wallwright-job = 1\ntitle = \"" + b"x" * 5000 + b"\"", "another version": b"wallwright-job = 99\ntitle = \"x\"",
    "many keys": b"wallwright-job = 1\n" + b"".join(b"k%d = 1\n" % i for i in range(60_000)),
    "a dotted trick": b"wallwright-job = 1\ntitle = \"x\"\n__class__.__init__ = 1",
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_a_file_that_is_no_job_is_refused(http: TestClient, folder: Path, name: str) -> None:
    before = set(folder.rglob("*.toml"))
    answer = http.post("/api/jobs/import", content=HOSTILE[name], headers=TOML)
    assert answer.status_code in (413, 422), answer.text
    assert answer.json()["error"]["says"] and len(answer.text) < 60_000
    assert set(folder.rglob("*.toml")) == before


def test_a_packed_body_is_never_unpacked(http: TestClient) -> None:
    """50 MB of noughts packed to 50 kB stay packed: what is told of them is that they are no job, and no JSON."""
    import gzip

    bomb = gzip.compress(b"0" * 50_000_000)
    assert len(bomb) < 64_000
    for kind, path in (("application/toml", "/api/jobs/import"), ("application/json", "/api/jobs")):
        answer = http.post(path, content=bomb, headers={"content-type": kind, "content-encoding": "gzip"})
        assert answer.status_code in (400, 415, 422) and len(answer.text) < 4000


def test_a_file_too_large_or_of_another_kind_is_refused(http: TestClient) -> None:
    assert http.post("/api/jobs/import", content=b"#" * 2_000_001, headers=TOML).status_code == 413
    good = demo_jobs()["living"].encode()
    for kind in ("application/zip", "text/html", "multipart/form-data; boundary=x"):
        answer = http.post("/api/jobs/import", content=good, headers={"content-type": kind})
        assert answer.status_code in (415, 422), kind


@pytest.mark.parametrize(
    "job", ["..", "..%2f..", "0" * 31, "0" * 32, "g" * 32, "%00", "0" * 33, "living.toml"]
)
def test_no_other_name_opens_a_job(http: TestClient, job: str) -> None:
    for end in ("state", "job.toml", "history", "links", "thumbnail.svg"):
        assert http.get(f"/api/jobs/{job}/{end}").status_code in (404, 422)


def test_a_link_out_of_the_folder_is_no_job_of_it(
    folder: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    secret = tmp_path_factory.mktemp("elsewhere") / "secret.toml"
    secret.write_text(demo_jobs()["bedroom"])
    (folder / "mine.toml").symlink_to(secret)
    studio = of_folder(folder, worker=False)
    http = TestClient(application(studio), base_url=ADDRESS)
    assert "mine.toml" not in listed(http)
    studio.store.close()
