"""Write docs/rules.md: every rule with what it says, and every limit with its value, source and certainty."""

from __future__ import annotations

from pathlib import Path

from wallwright.library import load
from wallwright.rules import RULES

HEAD = """# Rules and limits

Written by `docs/make_rules.py` from the rules and the library; a test fails when it is stale. Each rule is tested on a wall that has its
fault, a wall that has not, and a wall to which its own cure was applied. Certainty: *published* means read in a text; *computed* and
*derived* are arithmetic; *common practice* and *from memory* are defaults to be edited.
"""


def page() -> str:
    """The page as Markdown."""
    lines = [HEAD, "## Rules", "", "| rule | says |", "|---|---|"]
    lines += [f"| `{rule.name}` | {rule.says} |" for rule in RULES.values()]
    lines += ["", "## Limits", "", "| limit | value | unit | source | certainty |", "|---|---|---|---|---|"]
    lines += [
        f"| `{limit.name}` | {limit.value:g} | {limit.unit} | {limit.source.replace('|', '/')} | {limit.certainty} |"
        for limit in load.limits()
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    Path(__file__).with_name("rules.md").write_text(page(), "utf-8")
