"""A short run of the fuzzing that `bench/fuzz.py` does at length, with a seed of its own; and that the driver sees what it looks for."""

from __future__ import annotations

import importlib.util
import random
import subprocess
import sys
import tomllib
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from wallwright.job.demos import demo_jobs

BENCH = Path(__file__).parents[2] / "bench"
CASES = {"length": 800, "job": 80, "wall": 8, "cutting": 400, "site": 40, "ifc": 8, "api": 20}


def loaded(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, BENCH / f"{name}.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def fuzz() -> ModuleType:
    loaded("mutate")
    loaded("results")
    return loaded("fuzz")


@pytest.mark.parametrize("target", CASES)
def test_spoiled_input_is_read_or_refused_in_words(
    fuzz: ModuleType, target: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    if target == "ifc":
        pytest.importorskip("ifcopenshell")
    monkeypatch.setattr(
        fuzz, "SECONDS", 60.0
    )  # a guard against standing still; how fast it is, the bench says
    found = fuzz.run(target, range(CASES[target]), 2)
    assert not found.faults, {
        fault: f"--target {target} --seed 2 --case {case}" for fault, case in found.example.items()
    }
    assert found.cases == CASES[target] and found.refused > 0 and found.read > 0


def test_the_targets_are_those_of_the_full_run_and_make_200_000_cases(fuzz: ModuleType) -> None:
    assert fuzz.TARGETS.keys() == fuzz.CASES.keys() == CASES.keys()
    assert sum(fuzz.CASES.values()) >= 200_000
    assert fuzz.SECONDS == 2.0 and fuzz.MEMORY <= 10**9


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        (lambda: {}["x"], "KeyError"), (lambda: 1 / 0, "ZeroDivisionError"), (lambda: int("x"), ""),
        (lambda: _raise(ValueError("")), "says nothing"), (lambda: _raise(ValueError("a\n  File \"x\", line 1")), "traceback"),
        (lambda: _spin(), "too slow"), (lambda: _raise(MemoryError()), "MemoryError"), (lambda: sys.exit(3), "SystemExit"),
        (lambda: _raise(AssertionError("x")), "AssertionError"),
    ],
)  # fmt: skip
def test_a_fault_is_seen(fuzz: ModuleType, fault: Any, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fuzz, "SECONDS", 0.05)
    monkeypatch.setitem(fuzz.TARGETS, "x", lambda: lambda draw: fault())
    found = fuzz.run("x", range(2), 1)
    assert (found.cases, found.read) == (2, 0)
    assert [said in one for one in found.faults] == ([True] if said else []) and sum(
        found.faults.values()
    ) == (2 if said else 0)


def _raise(problem: BaseException) -> None:
    raise problem


def _spin() -> None:
    while True:
        pass


def test_a_process_that_stands_still_is_ended_and_told(
    fuzz: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fuzz, "STILL", 0.5)
    beat = tmp_path / "beat"
    beat.write_bytes(bytes(fuzz.BEAT.size))
    still = subprocess.Popen(
        [sys.executable, "-c", "import time; time.sleep(600)"], stderr=subprocess.PIPE, text=True
    )
    assert fuzz._watch(still, beat) == "stood still" and still.returncode is not None
    dies = subprocess.Popen(
        [sys.executable, "-c", "import os; os._exit(7)"], stderr=subprocess.PIPE, text=True
    )
    assert fuzz._watch(dies, beat) == "ended with 7"


def test_a_spoilt_document_is_another_one_and_follows_from_the_seed(fuzz: ModuleType) -> None:
    import mutate  # type: ignore[import-not-found]

    plain = tomllib.loads(demo_jobs()["bedroom"])
    assert tomllib.loads(mutate.toml(plain)) == plain  # what is not spoilt is written as it was
    made = [mutate.toml(mutate.spoilt(plain, random.Random(seed))) for seed in range(60)]
    assert made == [mutate.toml(mutate.spoilt(plain, random.Random(seed))) for seed in range(60)]
    assert len(set(made)) > 50
    torn = {mutate.torn(b"abcdef\nghi\n", random.Random(seed)) for seed in range(60)}
    assert len(torn) > 40


def test_a_model_that_ends_the_reading_library_is_refused_in_words(
    fuzz: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The library is not ours: what it does to its process on a spoiled file must not be what the user sees."""
    pytest.importorskip("ifcopenshell")
    from wallwright.export.ifc_read import read_room, read_room_apart
    from wallwright.job.problem import JobError

    assert read_room_apart(fuzz.ROOM) == read_room(fuzz.ROOM)
    with pytest.raises(JobError, match="is no wall of this file"):
        read_room_apart(fuzz.ROOM, "no such wall")
    broken = tmp_path / "sitecustomize.py"  # a reading process that dies as by a fault of the library's
    broken.write_text(
        "import sys, os\nif 'wallwright.export.ifc_read' in sys.orig_argv: os.abort()\n", encoding="utf-8"
    )
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    with pytest.raises(JobError, match="came to grief"):
        read_room_apart(fuzz.ROOM)


def test_an_element_that_refers_to_nothing_has_no_name() -> None:
    from wallwright.export.ifc_shapes import named

    assert named(None) == ""


def test_a_device_of_more_power_than_a_flat_can_give_is_refused() -> None:
    """Found by the driver (`wall`): 1 GW in a bay has no rise of the air that could be told, and a rule ended in an OverflowError."""
    from wallwright.job.problem import JobError
    from wallwright.job.read import read_job

    text = demo_jobs()["bedroom"].replace("watts = 12", "watts = 1e9", 1)
    with pytest.raises(JobError, match=r"devices\[\d\].watts = 1000000000.0: must be 20000 or less"):
        read_job(text)
