"""The command line as a user runs it: contracts, exit codes, and a sentence instead of a traceback for every bad input."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job

Ran = subprocess.CompletedProcess[str]


def run(*words: str | Path, cwd: Path | None = None) -> Ran:
    done = subprocess.run(
        [sys.executable, "-m", "wallwright", *map(str, words)],
        capture_output=True,
        text=True,
        cwd=cwd,
        check=False,
    )
    assert "Traceback" not in done.stderr + done.stdout
    return done


@pytest.fixture
def living(tmp_path: Path) -> Path:
    path = tmp_path / "living.toml"
    path.write_text(demo_jobs()["living"], "utf-8")
    return path


@pytest.fixture
def faults(tmp_path: Path) -> Path:
    path = tmp_path / "faults.toml"
    path.write_text(demo_jobs()["living_faults"], "utf-8")
    return path


@pytest.mark.parametrize("room", ["living", "bedroom", "studio"])
def test_new_writes_a_job_that_can_be_checked_and_never_overwrites(tmp_path: Path, room: str) -> None:
    assert run("new", tmp_path / "a", "--room", room).returncode == 0
    path = tmp_path / "a" / "job.toml"
    assert read_job(path.read_bytes()).survey.room.kind == room
    assert run("check", tmp_path / "a").returncode == 1  # furnished, and wrong in useful ways
    before = path.read_bytes()
    again = run("new", tmp_path / "a")
    assert again.returncode == 2
    assert "there already" in again.stderr
    assert path.read_bytes() == before


def test_check_exit_codes_and_json(living: Path, faults: Path) -> None:
    assert run("check", living).returncode == 0
    done = run("check", faults, "--json")
    assert done.returncode == 1
    found = json.loads(done.stdout)
    assert found["job"]
    assert found["gate"].startswith("G0")
    keys = {"rule", "severity", "where", "measured", "limit", "unit", "source", "certainty", "cure"}
    assert all(keys <= set(item) for item in found["findings"])
    assert found["findings"][0]["severity"] == "danger"


def test_wall_json_holds_the_contract(living: Path) -> None:
    wall = json.loads(run("wall", living, "--json").stdout)
    assert {"diagonal", "centre_height", "outline"} <= set(wall["screen"])
    part = {"id", "name", "board", "length", "width", "thickness", "quantity", "grain", "edges", "mass"}
    assert wall["parts"]
    assert all(part <= set(item) for item in wall["parts"])
    assert {"seats", "units", "points", "runs", "light_runs", "totals"} <= set(wall)
    # common practice: a twin socket behind the screen at its centre height, spare points inside the cabinet
    behind = [
        item for item in wall["points"] if item["zone"] == "behind_screen" and item["kind"] == "twin_socket"
    ]
    assert [item["z"] for item in behind] == [wall["screen"]["centre_height"]]
    assert any(item["zone"] == "cabinet" and item["kind"] == "twin_socket" for item in wall["points"])
    assert "Screen sizes compared" in run("wall", living).stdout


def test_cut_holds_the_contract(tmp_path: Path) -> None:
    parts, sheets = tmp_path / "parts.csv", tmp_path / "sheets.csv"
    parts.write_text(
        'name,material,length,width,quantity,grain\nside,ply,700,400,4,length\nshelf,ply,35 1/2",300,2,none\n'
    )
    sheets.write_text("name,material,length,width,price,quantity\nfull,ply,2440,1220,50,\n")
    done = run("cut", parts, sheets, "--kerf", "4", "--trim", "10", "--seconds", "0.2", "--json")
    assert done.returncode == 0
    plan = json.loads(done.stdout)
    assert {"sheets", "lower_bound", "used", "seconds"} <= set(plan)
    sheet = plan["sheets"][0]
    assert {"sheet", "x", "parts", "cuts", "offcuts"} <= set(sheet)
    assert {"name", "x", "y", "length", "width", "turned"} <= set(sheet["parts"][0])
    assert sum(len(item["parts"]) * item["x"] for item in plan["sheets"]) == 6
    assert run("cut", parts, sheets, "--seconds", "0.1").stdout.startswith("1 sheets")


def test_cut_ended_by_the_clock_is_made_again_from_its_own_record(tmp_path: Path) -> None:
    parts, sheets = tmp_path / "parts.csv", tmp_path / "sheets.csv"
    rows = [f"p{i},ply,{200 + 137 * i % 700},{150 + 91 * i % 450},3,none" for i in range(25)]
    parts.write_text("name,material,length,width,quantity,grain\n" + "\n".join(rows) + "\n")
    sheets.write_text("name,material,length,width,price,quantity\nfull,ply,2440,1220,50,\n")
    for seconds in ("2", "8", "40"):  # on a busy machine the kernels may come too late for a record
        first = json.loads(run("cut", parts, sheets, "--seconds", seconds, "--seed", "4", "--json").stdout)
        if first.get("replay"):
            break
    again = json.loads(run("cut", parts, sheets, "--replay", first["replay"], "--seed", "4", "--json").stdout)
    assert again["sheets"] == first["sheets"]
    assert again["iterations"] == first["iterations"]
    bad = run("cut", parts, sheets, "--replay", "soon")
    assert bad.returncode == 2
    assert "--replay soon: write it as" in bad.stderr + bad.stdout


@pytest.mark.parametrize(("stock", "placed"), [(2, 2), (0, 0)])
def test_cut_names_the_parts_that_no_sheet_is_left_for(tmp_path: Path, stock: int, placed: int) -> None:
    """One part a sheet: 600 less trim is 580, and two of 300 with a kerf are more."""
    parts, sheets = tmp_path / "parts.csv", tmp_path / "sheets.csv"
    parts.write_text("name,material,length,width,quantity,grain\nside,ply,300,400,10,none\n")
    sheets.write_text(f"name,material,length,width,price,quantity\nsmall,ply,600,600,5,{stock}\n")
    done = run("cut", parts, sheets, "--seconds", "0.1")
    assert done.returncode == 1
    assert f"{stock} sheets, and {10 - placed} of 10 parts NOT PLACED" in done.stdout
    assert f"not placed: {10 - placed} of side, 300 × 400, ply" in done.stdout
    assert "at least" not in done.stdout
    as_json = run("cut", parts, sheets, "--seconds", "0.1", "--json")
    assert as_json.returncode == 1
    assert json.loads(as_json.stdout)["unplaced"] == [
        {"name": "side", "material": "ply", "quantity": 10 - placed}
    ]


SIZES = ((720, 380), (1800, 400), (655, 333), (481, 290), (902, 217), (377, 351), (1230, 512))
TWO_SIZES = "full,ply,2440,1220,50,\nlarge,ply,2800,2070,110,\n"


@pytest.mark.skipif(os.name == "nt", reason="no SIGINT for one process there")
@pytest.mark.parametrize("as_json", [False, True])
def test_ctrl_c_shows_the_best_plan_so_far(tmp_path: Path, as_json: bool) -> None:
    parts, sheets = tmp_path / "parts.csv", tmp_path / "sheets.csv"
    rows = "".join(f"part {i},ply,{a},{b},{7 + i},length\n" for i, (a, b) in enumerate(SIZES))
    parts.write_text(f"name,material,length,width,quantity,grain\n{rows}")
    sheets.write_text(f"name,material,length,width,price,quantity\n{TWO_SIZES}")
    words = ["cut", str(parts), str(sheets), "--seconds", "600", *(["--json"] if as_json else [])]
    done = _interrupted(words)
    assert done.returncode == 0, done.stderr
    assert "Traceback" not in done.stderr
    wanted = sum(7 + i for i in range(len(SIZES)))
    if as_json:
        plan = json.loads(done.stdout)
        assert plan["stopped"] is True and plan["seconds"] < 120
        assert sum(len(sheet["parts"]) * sheet["x"] for sheet in plan["sheets"]) == wanted
    else:
        first = done.stdout.splitlines()[0]
        assert "stopped after" in first and "replayed and verified" in first
        assert "Sheet 1:" in done.stdout


def _interrupted(words: list[str]) -> Ran:
    """A run that gets SIGINT as from Ctrl-C, once the search has begun: it says so, for the search itself is silent."""
    begin = (
        "import sys, wallwright.cutting.solve as s\n"
        "shared = s._Run.shared\n"
        "def told(*args):\n print('searching', file=sys.stderr, flush=True)\n return shared(*args)\n"
        "s._Run.shared = told\n"
        "from wallwright.cli import main\nmain()\n"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", begin, *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=lambda: signal.signal(
            signal.SIGINT, signal.default_int_handler
        ),  # not deaf, whoever runs the tests
    )
    assert process.stderr and process.stderr.readline() == "searching\n"
    time.sleep(0.5)
    process.send_signal(signal.SIGINT)
    try:
        out, err = process.communicate(timeout=60)
    finally:
        process.kill()
    return subprocess.CompletedProcess(words, process.returncode, out, err)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name,material,length,width,quantity,grain\nside,ply,-700,400,4,length\n", "-700"),
        ("name,material,length,width,quantity,grain\nside,ply,700,400,4,upwards\n", "upwards"),
        ("name,material,length,width,quantity,grain\nside,ply,7000,400,4,length\n", "7000"),
        ("name,length\nside,3\n", "width"),
        ("", "name"),
    ],
)
def test_cut_says_what_is_wrong_with_its_tables(tmp_path: Path, text: str, says: str) -> None:
    parts, sheets = tmp_path / "parts.csv", tmp_path / "sheets.csv"
    parts.write_text(text)
    sheets.write_text("name,material,length,width,price,quantity\nfull,ply,2440,1220,50,\n")
    done = run("cut", parts, sheets, "--seconds", "0.1")
    assert done.returncode == 2
    assert says in done.stderr


def test_why_explains_values_rules_and_limits_and_offers_the_nearest_name(living: Path) -> None:
    said = run("why", living, "screen.centre_height").stdout
    assert "eye" in said
    assert "source:" in said
    why = json.loads(run("why", living, "screen.centre_height", "--json").stdout)["whys"][0]
    assert why["unit"] == "mm"
    assert why["inputs"]
    assert "straight" in run("why", living, "structure.shelf_sag").stdout
    assert "your" not in run("why", living, "rule.centre_up_consider").stdout
    wrong = run("why", living, "screen.center_height")
    assert wrong.returncode == 2
    assert "screen.centre_height" in wrong.stderr
    assert "screen.diagonal" in run("why", living).stdout


def test_schema_is_json_schema() -> None:
    assert json.loads(run("schema").stdout)["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_completion_is_a_script() -> None:
    assert "wallwright" in run("completion", "bash").stdout


def test_issue_appears_whole_and_leaves_what_is_not_ours_alone(living: Path, tmp_path: Path) -> None:
    out = tmp_path / "set"
    done = run("issue", living, "--out", out, "--json")
    assert done.returncode == 0, done.stderr
    names = {path.name for path in out.iterdir()}
    assert {
        "drawings.pdf",
        "documents.pdf",
        "wall.glb",
        "schedules.xlsx",
        "cutlist.csv",
        "programme.ics",
        "manifest.json",
    } <= names
    other = tmp_path / "mine"
    other.mkdir()
    (other / "letter.txt").write_text("keep me")
    refused = run("issue", living, "--out", other)
    assert refused.returncode == 2
    assert (other / "letter.txt").read_text() == "keep me"
    assert not list(tmp_path.glob(".*"))  # no half-written folder is left about


def test_demo_writes_jobs_issues_one_and_says_what_it_found(tmp_path: Path) -> None:
    done = run("demo", tmp_path / "demo")
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "demo" / "living.toml").is_file()
    assert (tmp_path / "demo" / "living-issue" / "manifest.json").is_file()
    assert "danger" in done.stdout
    assert "files in" in done.stdout


BAD_FILES = {
    "binary": (b"\x00\x01\x02\xff" * 50, "binary"),
    "not utf-8": (b'title = "caf\xe9"\n', "UTF-8"),
    "large": (b"#" + b"x" * 10_000_000, "MB"),
    "not toml": (b"wallwright-job = 1\ntitle = \n", "line 2"),
    "no version": (b"title = 'x'\n", "wallwright-job"),
}


@pytest.mark.parametrize("name", BAD_FILES)
def test_bad_files_are_said_in_a_sentence(tmp_path: Path, name: str) -> None:
    data, says = BAD_FILES[name]
    path = tmp_path / "job.toml"
    path.write_bytes(data)
    done = run("check", path)
    assert done.returncode == 2
    assert says in done.stderr
    answer = json.loads(run("check", path, "--json").stdout)
    assert answer["error"]


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("diagonal = 65", "diagonall = 65", "diagonal"),
        ("diagonal = 65", "diagonal = -65", "design.screen.diagonal"),
        ("diagonal = 65", "diagonal = nan", "design.screen.diagonal"),
        ('distance = { value = "3.3 m"', 'distance = { value = "3.3 kg"', "survey.seats[0].distance"),
        ('distance = { value = "3.3 m"', "distance = { value = -3300", "survey.seats[0].distance"),
    ],
)
def test_bad_values_name_the_field(living: Path, old: str, new: str, field: str) -> None:
    text = living.read_text("utf-8")
    assert old in text
    living.write_text(text.replace(old, new, 1), "utf-8")
    done = run("check", living)
    assert done.returncode == 2
    assert field in done.stderr


def test_a_pipe_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    done = run("check", tmp_path / "pipe")
    assert done.returncode == 2
    assert "a pipe" in done.stderr


def test_cut_names_the_file_it_speaks_of(tmp_path: Path) -> None:
    parts, sheets = tmp_path / "parts.csv", tmp_path / "sheets.csv"
    missing = run("cut", parts, sheets)
    assert missing.returncode == 2
    assert str(parts) in missing.stderr
    assert "wallwright new" not in missing.stderr
    parts.write_text("name,material,length,width,quantity,grain\nside,ply,700,400,4,length\n")
    sheets.write_text("name,material,length,width,price,quantity\nfull,ply,wide,1220,50,\n")
    wrong = run("cut", parts, sheets)
    assert wrong.returncode == 2
    assert f"{sheets}: line 2" in wrong.stderr


def test_what_cannot_be_written_is_said_in_a_sentence(tmp_path: Path, living: Path) -> None:
    file = tmp_path / "file"
    file.write_text("not a folder")
    for words in (
        ("new", file), ("new", file / "in"), ("demo", file), ("demo", file / "in"),
        ("issue", living, "--out", file), ("issue", living, "--out", file / "in"), ("new", tmp_path / ("x" * 300)),
    ):  # fmt: skip
        done = run(*words)
        assert done.returncode == 2, words
        assert "Errno" not in done.stderr
        assert "choose" in done.stderr, (words, done.stderr)
    assert file.read_text() == "not a folder"


def test_a_limit_out_of_range_is_named(living: Path) -> None:
    text = living.read_text("utf-8")
    living.write_text(f'{text}\n[rules]\n"carcass.batten_pitch" = 1e-9\n', "utf-8")
    done = run("check", living)
    assert done.returncode == 2
    assert "rules.carcass.batten_pitch = 1e-09: must be 100 to 2000 mm" in done.stderr


def test_missing_file_folder_and_command_leave_with_two(tmp_path: Path) -> None:
    assert run("check", tmp_path / "nowhere.toml").returncode == 2
    assert run("check", tmp_path).returncode == 2
    assert run("chek", tmp_path).returncode == 2
    assert run("check").returncode == 2


def test_a_construction_set_is_refused_while_a_danger_is_open(faults: Path, tmp_path: Path) -> None:
    preliminary = run("issue", faults, "--out", tmp_path / "set")
    assert preliminary.returncode == 0
    assert "NOT FOR CONSTRUCTION" in preliminary.stderr
    text = faults.read_text("utf-8")
    faults.write_text(text.replace("\ntitle = ", '\nstatus = "construction"\ntitle = ', 1), "utf-8")
    refused = run("issue", faults, "--out", tmp_path / "other")
    assert refused.returncode == 1
    assert "nothing was written" in refused.stderr
    assert not (tmp_path / "other").exists()
