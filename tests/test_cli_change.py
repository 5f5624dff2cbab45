"""The commands about change and site, as they are typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from wallwright import cli
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.job.write import merge_into

LIVING = demo_jobs()["living"]


@pytest.fixture
def old(tmp_path: Path) -> Path:
    path = tmp_path / "a.toml"
    job = apply(read_job(LIVING), "set_progress", {"joinery": "cut", "points": "set"})
    path.write_text(merge_into(LIVING, job), "utf-8")
    return path


def changed(old: Path, name: str = "b.toml", **height: float) -> Path:
    path, text = old.with_name(name), old.read_text("utf-8")
    path.write_text(merge_into(text, apply(read_job(text), "resize_unit", {"ref": "C1", **height})), "utf-8")
    return path


def run(*words: str) -> int:
    return int(cli.app([str(word) for word in words], exit_on_error=False) or 0)


def test_a_change_is_told_as_json(old: Path, capsys: pytest.CaptureFixture[str]) -> None:
    new = changed(old, height=380)
    assert run("diff", str(old), str(new), "--hold", "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert told["may_be_accepted"] and not told["same"] and told["variation"] == ""
    assert {p["part"]: (p["what"], p["state"]) for p in told["parts"]}["C1-L"] == ("cut down", "cut")
    assert {"elevation", "cut_list", "quote.pdf"} <= {d["name"] for d in told["documents"]}
    money = told["money"]
    assert money["variation"] == pytest.approx(
        money["to"] - money["from"] + money["thrown_away"] + money["take_out"], abs=0.02
    )
    assert run("diff", str(old), str(old), "--json") == 0
    assert json.loads(capsys.readouterr().out)["same"]


def test_what_must_be_put_right_exits_1_and_is_not_entered(
    old: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = old.read_text("utf-8")
    bad = old.with_name("bad.toml")
    bad.write_text(
        merge_into(text, apply(read_job(text), "set_screen_height", {"centre_height": 1900})), "utf-8"
    )
    assert run("diff", str(old), str(bad), "--no-documents") == 1
    assert "Not to be accepted as it stands" in capsys.readouterr().out
    before = bad.read_bytes()
    with pytest.raises(ValueError, match="put right first"):
        run("diff", str(old), str(bad), "--no-documents", "--accept", "N. N.")
    assert bad.read_bytes() == before


def test_accepting_keeps_the_files_own_comments(old: Path) -> None:
    new = changed(old, height=380)
    assert (
        run(
            "diff",
            str(old),
            str(new),
            "--no-documents",
            "--hold",
            "--accept",
            "N. N.",
            "--on",
            "2026-04-01",
            "--reason",
            "lower",
        )
        == 0
    )
    text = new.read_text("utf-8")
    assert text.startswith("# Demo job: a living-room wall. INVENTED")
    job = read_job(text)
    assert [(v.ref, v.state, v.by, v.date) for v in job.progress.variations] == [
        ("V1", "approved", "N. N.", "2026-04-01")
    ]
    assert job.revision == "B" and read_job(old.read_text("utf-8")).progress.variations == ()


def test_refusing_is_logged_in_the_old_job(old: Path) -> None:
    new = changed(old, height=380)
    before = new.read_bytes()
    assert (
        run(
            "diff",
            str(old),
            str(new),
            "--no-documents",
            "--refuse",
            "N. N.",
            "--on",
            "2026-04-01",
            "--reason",
            "too dear",
        )
        == 0
    )
    (one,) = read_job(old.read_text("utf-8")).progress.variations
    assert (one.state, one.reason) == ("refused", "too dear") and new.read_bytes() == before


def test_as_found_is_written_only_when_it_is_taken(old: Path, capsys: pytest.CaptureFixture[str]) -> None:
    site = old.with_name("site.toml")
    site.write_text(
        'wallwright-site = 1\ndate = "2026-04-02"\nout_of_plumb = 25\n[[boxes]]\nref = "P1"\nx = 1700\nz = 1165\n',
        "utf-8",
    )
    before = old.read_bytes()
    assert run("asfound", str(old), str(site), "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert told["answer"] == "adjust" and {v["ref"]: v["answer"] for v in told["verdicts"]} == {
        "wall": "adjust",
        "P1": "accept",
    }
    assert old.read_bytes() == before
    assert run("asfound", str(old), str(site), "--take") == 0
    assert "pack at" in capsys.readouterr().out
    job = read_job(old.read_text("utf-8"))
    assert job.survey.wall.out_of_plumb.mm == 25 and job.survey.date == "2026-04-02"
    assert next(p for p in job.design.points if p.ref == "P1").x.state == "verified"


def test_what_stops_exits_1(old: Path) -> None:
    site = old.with_name("site.toml")
    site.write_text("wallwright-site = 1\nout_of_plumb = 90\n", "utf-8")
    assert run("asfound", str(old), str(site)) == 1


def test_issue_since_an_issued_folder(old: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    new = changed(old, height=380)
    assert (
        run("diff", str(old), str(new), "--no-documents", "--hold", "--accept", "N. N.", "--on", "2026-04-01")
        == 0
    )
    assert run("issue", str(new), "--since", str(old), "--out", str(tmp_path / "b")) == 0
    assert "sheets are void as they were" in capsys.readouterr().out
    again = changed(new, "c.toml", height=385)
    again.write_text(again.read_text("utf-8").replace('revision = "B"', 'revision = "C"'), "utf-8")
    assert (
        run("issue", str(again), "--since", str(tmp_path / "b"), "--out", str(tmp_path / "c"), "--json") == 0
    )
    told = json.loads(capsys.readouterr().out)["since"]
    first = json.loads((tmp_path / "b" / "manifest.json").read_text("utf-8"))["since"]
    assert told["revision"] == "B"
    numbers = {one["name"]: one["number"] for one in first["sheets"]}
    assert all(numbers.get(one["name"], one["number"]) == one["number"] for one in told["sheets"])


def test_sheets_are_named_by_the_numbers_of_the_set_that_is_out(
    old: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new = changed(old, height=380)
    assert run("issue", str(old), "--out", str(tmp_path / "set"), "--json") == 0
    files = [one["name"] for one in json.loads(capsys.readouterr().out)["files"]]
    issued = {name[3:-4]: int(name[:2]) for name in files if name.endswith(".svg")}
    run("diff", str(tmp_path / "set"), str(new), "--json")
    told = [one for one in json.loads(capsys.readouterr().out)["documents"] if one["kind"] == "sheet"]
    known = {one["name"]: one["sheet"] for one in told if one["what"] != "new"}
    assert known and known == {name: issued[name] for name in known}
    assert any(name.startswith("cutting") for name in issued)
    assert all(one["sheet"] > max(issued.values()) for one in told if one["what"] == "new")


def test_a_survey_is_told_and_its_outline_taken(old: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("survey", str(old)) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Most likely [mm]" in told and "Drawn by the smallest readings" in told
    assert run("survey", str(old), "--take", "--json") == 0
    outline = json.loads(capsys.readouterr().out)
    assert outline["drawn_by"] == "outline" and outline["suspects"] == [] and len(outline["measures"]) == 8
    assert all(
        one["residual"] == pytest.approx(one["likely"] - one["read"], abs=0.02) for one in outline["measures"]
    )
    assert read_job(old.read_text("utf-8")).survey.wall.adjusted


def test_a_measure_that_does_not_close_exits_1(old: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = apply(
        read_job(old.read_text("utf-8")),
        "set_wall_reading",
        {"which": "width", "at": 1000, "value": {"value": 4140, "state": "measured"}},
    )
    old.write_text(merge_into(old.read_text("utf-8"), job), "utf-8")
    assert run("survey", str(old)) == 1
    said = capsys.readouterr().out
    assert "MEASURE AGAIN" in said and "about 61 mm too small" in " ".join(said.split())
    before = old.read_bytes()
    assert run("survey", str(old), "--take") == 1
    assert "Nothing was written" in capsys.readouterr().out and old.read_bytes() == before


def test_the_new_job_goes_on_from_the_old_ones_record(old: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A change drawn in a copy from before anything was cut: what is set is held, a refused variation keeps its number."""
    new = old.with_name("fresh.toml")
    new.write_text(
        merge_into(LIVING, apply(read_job(LIVING), "resize_unit", {"ref": "C1", "height": 380})), "utf-8"
    )
    assert run("diff", str(old), str(new), "--no-documents", "--refuse", "N. N.", "--reason", "too low") == 0
    assert "V1 refused" in capsys.readouterr().out
    assert run("diff", str(old), str(new), "--no-documents", "--hold", "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert not [one for one in told["points"] if one["point"] in ("P1", "D1", "K1")] and told["lost"] == []
    assert run("diff", str(old), str(new), "--no-documents", "--accept", "N. N.", "--on", "2026-04-01") == 0
    after = read_job(new.read_text("utf-8")).progress
    assert [(one.ref, one.state) for one in after.variations] == [("V1", "refused"), ("V2", "approved")]
    assert (after.joinery, after.points) == ("cut", "set")


def test_a_site_file_that_tells_nothing_is_no_acceptance(old: Path, tmp_path: Path) -> None:
    site = tmp_path / "site.toml"
    site.write_text('wallwright-site = 1\nby = "N. N."\n', "utf-8")
    with pytest.raises(ValueError, match="nothing to answer"):
        run("asfound", str(old), str(site))


def test_what_stops_is_said_not_to_be_written(
    old: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    site, before = tmp_path / "site.toml", old.read_bytes()
    site.write_text('wallwright-site = 1\ndate = "2026-05-05"\nout_of_plumb = 80\n', "utf-8")
    assert run("asfound", str(old), str(site), "--take") == 1
    assert "nothing to write" in capsys.readouterr().out and old.read_bytes() == before
