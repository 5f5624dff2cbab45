"""The pages under docs/ say what the code does today."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path

from wallwright import cli
from wallwright.library import load
from wallwright.rules import RULES

ROOT = Path(__file__).parents[1]


def test_the_rules_page_is_fresh() -> None:
    spec = importlib.util.spec_from_file_location("make_rules", ROOT / "docs" / "make_rules.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    written = (ROOT / "docs" / "rules.md").read_text("utf-8")
    assert written == module.page(), "run: python docs/make_rules.py"
    assert all(f"`{name}`" in written for name in RULES)


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
