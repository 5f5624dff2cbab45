"""The tower command: worked out, printed, as JSON, written; a change rolled out and accepted; bad input told."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright import cli, cli_tower
from wallwright.core.finding import Finding
from wallwright.core.units import Length
from wallwright.job.problem import JobError
from wallwright.job.survey import Reading
from wallwright.money.show import Notation
from wallwright.tower.demo import demo_files
from wallwright.tower.fit import Ends, Fit
from wallwright.tower.made import Checked, Made
from wallwright.tower.pooled import Pooled
from wallwright.tower.record import Flat, Measured, Tower, TowerFile
from wallwright.tower.rollout import Rolled, Rollout
from wallwright.tower.run import Done, Worked

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
    """The same, all of one hand, and nobody measured: what a change does to a flat goes by how far it is, no range is searched."""
    for name in ("tower.toml", "tower-b.toml"):
        text = (folder / name).read_text("utf-8")
        kept = re.sub(r"\[flats\.measured\]\n(?:\w+ = .*\n)+", "", text).replace(
            'hand = "right"', 'hand = "left"'
        )
        assert "[flats.measured]" not in kept
        (folder / name).write_text(kept, "utf-8")
    return folder


def test_worked_out_and_printed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("tower", str(folder), "--workers", "1", "--steps", "0") == 0
    text = capsys.readouterr().out
    assert "4 flats of 1 type, " in text
    assert "What takes the unit as drawn" in text
    assert "Cut together:" in text
    assert text.count("Rates are the demo book's: invented.") == 2  # below the totals and below the cutting
    assert "Stands against" not in text


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
        (
            ("--since", "old.toml", "--accept", "N. N.", "--on", "2026-13-45"),
            "--on = '2026-13-45': is no day",
        ),
        (("--workers", "-1"), "must be from 0"),
        (("--steps", "-1"), "must be 0 or more"),
        (("--scheduler", "foo"), "must be the address that the scheduler printed"),
    ],
)
def test_bad_input_is_told(folder: Path, args: tuple[str, ...], says: str) -> None:
    with pytest.raises(Exception, match=says):
        run("tower", str(folder), *args)


def test_only_flats_that_ask_can_be_accepted() -> None:
    asks = tuple(Rolled(Flat(ident, "1", "A"), "ask", None, ()) for ident in ("0101", "0102"))
    rolled = Rollout((*asks, Rolled(Flat("0201", "2", "A"), "issue again", None, ())), 0)
    assert cli_tower._accepted(rolled, "") == ["0101", "0102"]
    assert cli_tower._accepted(rolled, " 0102,") == ["0102"]
    with pytest.raises(JobError, match="--only = '0201': does not ask to be accepted"):
        cli_tower._accepted(rolled, "0102,0201")
    with pytest.raises(JobError, match="no flat asks to be accepted"):
        cli_tower._accepted(Rollout((), 3), "0101")


def test_a_change_under_the_revision_that_is_out_is_refused(make_tower: Any) -> None:
    """An acceptance is of a revision: two changes of one letter could not be told apart."""
    asks = Rollout((Rolled(Flat("0101", "1", "A"), "ask", None, ()),), 0)
    with pytest.raises(
        JobError,
        match=r"revision = 'B': is that of the tower as it is out.*0101.*give the changed tower the next",
    ):
        cli_tower._revised(make_tower("B"), make_tower("B"), asks)
    cli_tower._revised(make_tower("A"), make_tower("B"), asks)
    cli_tower._revised(make_tower("B"), make_tower("B"), Rollout((), 3))


@pytest.fixture
def make_tower() -> Any:
    return lambda revision: Tower(TowerFile("T", (), (), revision=revision), {})


def test_what_stands_against_going_on_is_named_with_its_flats() -> None:
    """Each sort alone gives exit 1, and none gives 0."""

    def done(ident: str, takes: bool | None = None, **more: Any) -> Done:
        measured = Measured(
            widths=(Reading(Length(1.0), Length(4000.0)),), heights=(Reading(Length(1.0), Length(2700.0)),)
        )
        flat = replace(
            Flat(ident, "1", "A"), **({} if takes is None else {"measured": measured}), **more.pop("of", {})
        )
        checked = (
            None if takes is None else Checked("", Fit(takes, (), (), ()), more.pop("found", ()), (), None)
        )
        wall = (
            None
            if more.get("failed")
            else Made("A", 1, 1, Ends(None, None), (), (), (), 0, 0, Notation(), (), (), 0)
        )
        return Done(flat, wall, more.pop("series", True), checked, more.pop("failed", ""))

    wrong = Finding("r", "fix", "T1", "says", 0, 0, "", "", "computed", "", ())
    flats = {
        "nothing could be made of them": done("F1", failed="why"),
        "it is not said by what their boards were made (to_measure)": done(
            "F2", takes=False, series=False, of={"state": "cut"}
        ),
        "they do not take their unit, which is made as drawn": done(
            "F3", takes=False, of={"to_measure": False}
        ),
        "they have something to put right": done("F4", takes=True, found=(wrong,)),
    }
    nothing = Pooled((), (), ())

    def worked(*of: Done) -> Worked:
        return Worked(Tower(TowerFile("T", (), ()), {}), of, {}, {}, {}, 0, 0)

    assert cli_tower.against(worked(done("F0"), done("F9", takes=True)), nothing, None) == ()
    for says, one in flats.items():
        assert cli_tower.against(worked(done("F0"), one), nothing, None) == (f"{says}: {one.flat.id}",)
    assert cli_tower.against(worked(), Pooled((), (("F5", "C1-L", "too long"),), ()), None) == (
        "no sheet gives a part of theirs: F5",
    )
    gone = Rollout((Rolled(Flat("F6", "1", "A", state="cut"), "gone", None, (), "cut"),), 0)
    assert cli_tower.against(worked(), nothing, gone) == (
        "they are not in the file any more, though something was made for them: F6",
    )


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
