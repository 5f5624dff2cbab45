"""The commands about money, as a person runs them."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "wallwright", *map(str, words)], capture_output=True, text=True, check=False
    )


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(demo_jobs()["bedroom"], encoding="utf-8")
    return path


def test_back_into_a_budget(job: Path) -> None:
    done = run("budget", job, "--amount", "1000", "--json")
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["reached"]
    assert told["proven"]
    assert told["after"] <= 1000 < told["price"]
    assert told["swaps"]
    assert told["swaps"][-1]["price_then"] == told["after"]
    kept = json.loads(run("budget", job, "--amount", "1000", "--keep", "lights", "--json").stdout)
    assert all("light" not in swap["key"] for swap in kept["swaps"])


def test_a_budget_nothing_reaches_leaves_with_one(job: Path) -> None:
    done = run("budget", job, "--amount", "50")
    assert done.returncode == 1
    said = " ".join(done.stdout.split())  # notes run over lines as wide as the terminal
    assert "No set of the swaps that may be made alone reaches it" in said
    assert "The least price they reach" in said


def test_finish_options_each_a_whole_job(job: Path, tmp_path: Path) -> None:
    done = run("options", job, "--finishes", "--json", "--out", tmp_path / "out")
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)["options"]
    assert [option["key"] for option in told] == ["saving", "balanced", "rich"]
    assert all(option["sound"] and option["job"]["wallwright-job"] == 1 for option in told)
    for option in told:
        read_job((tmp_path / "out" / f"{option['key']}.toml").read_text("utf-8"))
    assert len(json.loads(run("options", job, "--finishes", "-n", "1", "--json").stdout)["options"]) == 1


def test_walls_proposed_each_a_whole_job(job: Path, tmp_path: Path) -> None:
    done = run("options", job, "--fresh", "--json", "--out", tmp_path / "out")
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert len({option["shape"] for option in found["options"]}) == 3
    for option in found["options"]:
        assert option["sound"]
        assert set(option["words"]) == {"get", "give_up", "cost"}
        assert not [item for item in option["findings"] if item["severity"] in ("danger", "fix")]
        assert option["money"]["total"] <= found["budget"]
        text = (tmp_path / "out" / f"{option['key']}.toml").read_text("utf-8")
        assert option["toml"] == text
        assert read_job(text).design.units
        assert run("check", tmp_path / "out" / f"{option['key']}.toml").returncode == 0
    assert len(json.loads(run("options", job, "-n", "1", "--json").stdout)["options"]) == 1


def test_three_styles_and_the_first_wall_told_at_once(job: Path) -> None:
    done = run("options", job, "--styles", "--fresh", "--json")
    assert [one["name"] for one in json.loads(done.stdout)["options"]] == [
        "Plain and clean",
        "Stone or fluted",
        "Warm wood",
    ]
    shown = run("options", job, "--fresh", "-n", "1")
    assert shown.stderr.startswith("first: ")
    assert "Walls for this brief" in shown.stdout
    assert run("options", job, "--hold", "--fresh").returncode == 2


def test_rates_out_edited_and_in_again(job: Path, tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    assert run("rates", "--out", mine).returncode == 0
    assert run("rates", "--out", mine).returncode == 2  # never over a file that is there
    text = mine.read_text("utf-8")
    assert "board_ply18 = { amount = 8.4," in text
    mine.write_text(text.replace("board_ply18 = { amount = 8.4,", "board_ply18 = { amount = 16.8,"), "utf-8")
    before = json.loads(run("wall", job, "--json").stdout)["totals"]["direct"]
    once = json.loads(run("wall", job, "--rates", mine, "--json").stdout)["totals"]["direct"]
    assert once > before
    assert "[rates]" not in job.read_text("utf-8")
    assert run("rates", job, "--use", mine).returncode == 0
    assert json.loads(run("wall", job, "--json").stdout)["totals"]["direct"] == once
    assert job.read_text("utf-8").startswith(demo_jobs()["bedroom"][:60])  # the user's own text stays
    wrong = tmp_path / "wrong.toml"
    wrong.write_text('wallwright-rates = 1\nboard_ply18 = { amount = 1, unit = "nr" }\n', "utf-8")
    bad = run("check", job, "--rates", wrong)
    assert bad.returncode == 2
    assert "wrong.toml: rates.board_ply18" in bad.stderr
    assert "Traceback" not in bad.stderr


def test_the_quote_is_a_pdf_and_warns(job: Path, tmp_path: Path) -> None:
    done = run("quote", job, "--out", tmp_path / "quote.pdf")
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "quote.pdf").read_bytes().startswith(b"%PDF")
    assert "no offer" in done.stdout


def test_what_cannot_be_kept_is_refused_with_the_nearest_word(job: Path) -> None:
    done = run("budget", job, "--keep", "frontz")
    assert done.returncode == 2 and "did you mean 'fronts'?" in done.stderr and "Traceback" not in done.stderr
