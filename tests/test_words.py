"""docs/words.md holds every field of the job document, under its own heading, and none that is not there."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass
from pathlib import Path
from types import ModuleType

import pytest

from wallwright.job import brief, design, document, progress, survey, terms

WORDS = (Path(__file__).parent.parent / "docs/words.md").read_text(encoding="utf-8")


def records(*modules: ModuleType) -> dict[str, list[str]]:
    """The dataclasses that these modules define, with their fields."""
    return {
        name: [item.name for item in fields(thing)]
        for module in modules
        for name, thing in vars(module).items()
        if is_dataclass(thing) and isinstance(thing, type) and thing.__module__ == module.__name__
    }


RECORDS = records(document, survey, brief, design, terms, progress)


def section(name: str) -> str:
    found = re.search(rf"^### {name}\n(.*?)(?=^#|\Z)", WORDS, re.MULTILINE | re.DOTALL)
    assert found, f"docs/words.md has no heading ### {name}"
    return found[1]


@pytest.mark.parametrize("name", RECORDS)
def test_every_field_has_its_word(name: str) -> None:
    rows = re.findall(r"^\| `(\w+)` \| ([^|]+) \|", section(name), re.MULTILINE)
    assert {field for field, _ in rows} == set(RECORDS[name])
    assert len(rows) == len(RECORDS[name])
    assert all(meaning.strip() for _, meaning in rows)


def test_no_heading_without_its_record() -> None:
    assert set(re.findall(r"^### (\w+)$", WORDS, re.MULTILINE)) == set(RECORDS)


def test_one_row_a_word() -> None:
    trade = WORDS.split("## The trade's words")[1].split("\n## ")[0]
    words = re.findall(r"^\| ([^|]+) \|", trade, re.MULTILINE)
    assert len(words) > 80
    assert len(words) == len(set(words))
