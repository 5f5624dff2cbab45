"""The bench counts as proved what the run itself has proved, not what a bound stored from a longer run would prove."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from wallwright.cutting.model import Plan, Problem

BENCH = Path(__file__).parents[2] / "bench" / "cutting.py"


@pytest.fixture
def bench() -> ModuleType:
    spec = importlib.util.spec_from_file_location("bench_cutting", BENCH)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize(
    ("own_bound", "stored", "said"),
    [
        (10.0, 9.0, "1 of 1 proved by this run (100.0 %), 0 more"),
        (9.0, 10.0, "0 of 1 proved by this run (0.0 %), 1 more"),
        (9.0, 9.0, "0 of 1 proved by this run (0.0 %), 0 more"),
    ],
)
def test_proved_by_the_run_stands_apart(
    bench: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    own_bound: float,
    stored: float,
    said: str,
) -> None:
    instance: dict[str, Any] = {
        "parts": [[4, 3, 2]],
        "sheets": [[9, 9, 10, None]],
        "bound": {"turning": stored},
    }
    plan = Plan((), 1, 1, 10.0, own_bound)

    def run(_problem: Problem, _seconds: float) -> tuple[Plan, float, float]:
        return plan, 0.0, 0.0

    monkeypatch.setattr(bench, "public", lambda: {"one": instance})
    monkeypatch.setattr(bench, "searched", run)
    monkeypatch.setattr(bench, "library", lambda _problem, _seconds: None)  # pyright: ignore[reportUnknownLambdaType]
    bench.show_public(["one"], 1.0)
    assert said in capsys.readouterr().out
