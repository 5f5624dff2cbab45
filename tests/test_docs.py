"""The pages under docs/ say what the code does today."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path

import pytest

from wallwright import cli
from wallwright.library import load
from wallwright.rules import RULES

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("name", ["rules", "handbook", "format", "api"])
def test_a_written_page_is_fresh(name: str) -> None:
    """What is written from the data says what the data says today."""
    spec = importlib.util.spec_from_file_location(f"make_{name}", ROOT / "docs" / f"make_{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    written = (ROOT / "docs" / f"{name}.md").read_text("utf-8")
    assert written == module.page(), f"run: python docs/make_{name}.py"


def test_the_handbook_has_every_rule_every_limit_is_on_its_page_and_most_rules_have_an_example() -> None:
    handbook = (ROOT / "docs" / "handbook.md").read_text("utf-8")
    rules = (ROOT / "docs" / "rules.md").read_text("utf-8")
    assert all(f"### `{name}`" in handbook and f"`{name}`" in rules for name in RULES)
    assert all(f"| `{limit.name}` |" in rules for limit in load.limits())
    assert handbook.count("*Example* (") > 0.9 * len(RULES)


def test_pictures_that_the_pages_show_are_there() -> None:
    for page in (ROOT / "docs").rglob("*.md"):
        for target in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", page.read_text("utf-8")):
            assert (page.parent / target).exists(), f"{page.name}: {target}"


def test_the_readme_names_every_command_and_no_other() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    named = set(re.findall(r"^wallwright ([\w-]+)", readme, re.MULTILINE))
    commands = {name for name in cli.app if not name.startswith("-")}
    assert named == commands


def test_the_readme_leads_to_pages_that_are_there() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    for target in re.findall(r"\]\(([^)#]+)\)", readme):
        assert (ROOT / target).exists(), target


def test_every_limit_says_where_it_comes_from_and_how_sure_it_is() -> None:
    sure = {"published", "computed", "derived", "common practice", "from memory"}
    for limit in load.limits():
        assert limit.source, limit.name
        assert limit.certainty in sure, limit.name
        assert limit.unit or limit.note, f"{limit.name}: a bare number says in its note what it is"
