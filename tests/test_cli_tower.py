"""The tower command: worked out, printed, as JSON, written; a change rolled out and accepted; bad input told."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from wallwright import cli
from wallwright.tower.demo import demo_files

FLOORS = 2


def run(*args: str) -> int:
    return cli.app(list(args), exit_on_error=False, print_error=False)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two floors: one built, one set."""
    files = demo_files(floors=FLOORS, on_a_floor=2)
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text.replace('state = "set"', 'state = "drawn"'), "utf-8")
    return tmp_path


@pytest.fixture
def unmeasured(folder: Path) -> Path:
    """The same, and nobody measured: what a change does to a flat goes by how far it is, and no range is searched."""
    for name in ("tower.toml", "tower-b.toml"):
        text = (folder / name).read_text("utf-8")
        kept = re.sub(r"\[flats\.measured\]\n(?:\w+ = .*\n)+", "", text)
        assert "[flats.measured]" not in kept
        (folder / name).write_text(kept, "utf-8")
    return folder


def test_worked_out_and_printed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("tower", str(folder), "--workers", "1", "--steps", "0") == 0
    text = capsys.readouterr().out
    assert "4 flats of 1 type(s)" in text
    assert "What takes the unit as drawn" in text
    assert "Cut together:" in text


def test_as_json(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("tower", str(folder / "tower.toml"), "--workers", "1", "--steps", "0", "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["flats"], told["failed"], told["asks"]) == (4, [], [])
    assert told["cutting"]["sheets"] <= told["cutting"]["sheets_flat_by_flat"]
    assert [row["Flat"] for row in told["lists"]["flats"]["rows"]] == ["0101", "0102", "0201", "0202"]
    row = next(row for row in told["lists"]["measured"]["rows"] if row["Size"] == "width, narrowest")
    assert row["Least"] <= row["Mean"] <= row["Most"]
    assert {"Least in flat", "Most in flat"} <= row.keys()


def test_a_change_asks_by_state_and_is_accepted(unmeasured: Path, capsys: pytest.CaptureFixture[str]) -> None:
    new, old = str(unmeasured / "tower-b.toml"), str(unmeasured / "tower.toml")
    plain = ("--workers", "1", "--steps", "0", "--json")
    assert run("tower", new, "--since", old, "--accept", "N. N.", "--only", "0102", *plain) == 1
    told = json.loads(capsys.readouterr().out)
    assert told["asks"] == ["0101"]
    what = {row["Flat"]: row["What to do"] for row in told["lists"]["change"]["rows"]}
    assert what == {"0101": "ask", "0102": "accepted", "0201": "issue again", "0202": "issue again"}
    assert 'accepted_by = "N. N."' in Path(new).read_text("utf-8")
    assert run("tower", new, "--since", old, "--accept", "N. N.", "--on", "2026-04-01", *plain) == 0
    assert json.loads(capsys.readouterr().out)["asks"] == []


def test_written_and_written_again(
    unmeasured: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "set"
    for _ in range(2):
        assert (
            run("tower", str(unmeasured), "--out", str(out), "--no-sheets", "--workers", "1", "--steps", "0")
            == 0
        )
    names = {path.name for path in out.iterdir()}
    assert {"lists.xlsx", "lists.pdf", "bulk_bill.csv", "orders.csv", "manifest.json"} <= names
    assert "Written to" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("--accept", "N. N."), "name the tower as it is out with --since"),
        (("--on", "2026-04-01"), "goes with --accept"),
        (("--workers", "-1"), "must be from 0"),
        (("--steps", "-1"), "must be 0 or more"),
    ],
)
def test_bad_input_is_told(folder: Path, args: tuple[str, ...], says: str) -> None:
    with pytest.raises(Exception, match=says):
        run("tower", str(folder), *args)


def test_only_flats_that_ask_can_be_accepted(unmeasured: Path) -> None:
    since = (
        "--since",
        str(unmeasured / "tower.toml"),
        "--accept",
        "N. N.",
        "--only",
        "0201",
        "--workers",
        "1",
    )
    with pytest.raises(Exception, match="does not ask to be accepted"):
        run("tower", str(unmeasured / "tower-b.toml"), *since)


def test_the_demo_is_written_and_nothing_else_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    worked: list[Any] = []
    monkeypatch.setattr(
        "wallwright.tower.run.run", lambda *rest: worked.append(rest) or (_ for _ in ()).throw(SystemExit(0))
    )
    with pytest.raises(SystemExit):
        run("tower", str(tmp_path), "--demo")
    assert len(worked[0][0].file.flats) == 120
    assert all("INVENTED" in path.read_text("utf-8") for path in tmp_path.rglob("*.toml"))
    (tmp_path / "tower.toml").write_text("mine")
    with pytest.raises(Exception, match="is there and is not the demo"):
        run("tower", str(tmp_path), "--demo")
    assert (tmp_path / "tower.toml").read_text() == "mine"
