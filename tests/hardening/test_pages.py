"""The pages that are made from what was measured say what was measured."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path
from types import ModuleType

DOCS = Path(__file__).parents[2] / "docs"


def loaded(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_bench_and_capacity_pages_follow_from_the_results() -> None:
    make = loaded(DOCS / "make_bench.py")
    results = json.loads(make.RESULTS.read_text("utf-8"))
    assert (DOCS / "bench.md").read_text("utf-8") == make.page(results)
    assert (DOCS / "guide" / "capacity.md").read_text("utf-8") == make.capacity(results)


def test_what_is_over_its_budget_is_said() -> None:
    make = loaded(DOCS / "make_bench.py")
    row = {"question": "q", "figure": 3.0, "unit": "ms", "budget": 2.0, "limit": "", "peer": ""}
    script = {"name": "x", "seconds": 1, "memory": 9, "ended": 0, "rows": [row, {**row, "figure": 1.0}]}
    assert sum("**over**" in line for line in make.told(script)) == 1
    assert "it ended with -9" in "\n".join(make.told({**script, "ended": -9}))


def test_people_for_a_processor_are_reckoned_from_the_calls() -> None:
    """60 edits, 400 steps of drags, 50 weighings, 200 views and 720 questions an hour at 10 ms each are 14.3 s; 60 % of 3,600 s hold 151 of them."""
    make = loaded(DOCS / "make_bench.py")
    single = {"edit": 10.0, "drag": 10.0, "weigh": 10.0, "state": 10.0, "watch": 10.0, "sheet": 1.0}
    row = {"question": "q", "figure": 0, "unit": "", "single": single, "grows": 5000, "filled": 200, "empty": 90, "jobs": 100, "people": 200,
           "servers": 2, "seconds": 60, "calls": 9, "stale": 0, "each": 1.0, "database": "SQLite"}  # fmt: skip
    results = {"day": "d", "machine": "m", "load_before": 0, "scripts": [{"name": "load", "rows": [row]}]}
    said = make.capacity(results)
    assert "**14.3 s of processor time an hour" in said and "**151 people at work" in said
    assert (
        "| a million walls | 40,000 | 1,000,000 | 12,000 | 80 |" in said
    )  # 12,000 × 14.3 s / 3,600 s / 0.6 = 79.4
    assert "busy" not in said and make.capacity({**results, "scripts": []}) == ""


def test_rows_are_read_from_what_the_scripts_print() -> None:
    import sys

    sys.path.insert(0, str(DOCS.parent / "bench"))
    try:
        every = loaded(DOCS.parent / "bench" / "all.py")
    finally:
        sys.path.pop(0)
    said = (
        "derive + all rules, first time                         12.5 ms   budget     15 ms   ok\n"
        "demo wall  p50   40.1 ms  p95   55.0 ms  (budget 60)  processor  44.0 ms an edit\n"
        "  the same by the clock                              55.0 ms\n"
    )
    rows = [(row["question"], row["figure"], row["unit"], row["budget"]) for row in every.rows_of(said)]
    assert rows == [
        ("derive + all rules, first time", 12.5, "ms", 15.0),
        ("demo wall, p95", 55.0, "ms", 60.0),
    ]
    assert all((DOCS.parent / "bench" / f"{name}.py").is_file() for name in every.SCRIPTS)
    assert every.WHOLE <= 720  # twelve minutes
