"""A command line that cannot be taken is answered with what is missing or too much, and how it is written."""

from __future__ import annotations

import pytest
from cyclopts import CycloptsError

from wallwright.cli import app
from wallwright.cli_wrong import wrong


def said(*words: str) -> str:
    with pytest.raises(CycloptsError) as error:
        app([*words], exit_on_error=False, print_error=False)
    return wrong(error.value)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("check", "wallwright check: JOB is missing, the job file, or the folder it is in: write wallwright check JOB;"),
        ("diff a.toml", "wallwright diff: NEW is missing, the job as it is wanted: write wallwright diff OLD NEW;"),
        ("issue a.toml", "wallwright issue: --out is missing, the folder to write: write wallwright issue JOB --out OUT;"),
        ("issue a.toml --out", "wallwright issue: --out has nothing after it, the folder to write: write"),
        ("cut", "wallwright cut: PARTS is missing, CSV with name,material"),
        ("photo boxes a.toml", "wallwright photo boxes: MARKED is missing, the photo file"),
        ("check a.toml b.toml", "wallwright check: b.toml is more than it takes: leave it out;"),
        ("check a.toml b c", "wallwright check: b c are more than it takes: leave them out;"),
    ],
)  # fmt: skip
def test_what_is_missing_or_too_much_is_said(words: str, says: str) -> None:
    found = said(*words.split())
    assert found.startswith(says)
    assert "--job" not in found and "requires" not in found and found.endswith("--help` says more")


def test_what_is_told_well_already_is_left() -> None:
    assert said("chek").startswith('Unknown command "chek". Did you mean "check"?')
    assert "Choose from" in said("issue", "a.toml", "--out", "o", "--role", "nobody")
