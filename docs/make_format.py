"""Write docs/format.md: every field of the job file, what may stand there and what stands there when nothing is said, from its schema."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from wallwright.job.schema import job_schema

HEAD = """# The job file

Written by `docs/make_format.py` from the schema of the job file (`wallwright schema` prints it as JSON Schema); a test fails when it is
stale. A job is one TOML file: `[survey]` is what is there, `[brief]` what is wanted, `[design]` what was decided. **A value that is left
out is automatic**: it is derived, and says why. A value that is given is pinned and never moved in silence. A field that is not known is
refused with its place and the nearest that is.

**A length** is a number of millimetres (`2853`) or text as the tape was read: `"285.3 cm"`, `"1.2 m"`, `"9'-4 3/8\\""`, `"4 ft 6"`. Where a
reading has a state it is a table: `{ value = "9'-4 3/8\\"", state = "measured", tolerance = 3 }`. It is kept as it was typed.

**Axes**: x to the right from the wall's left corner, z up from the finished floor, depth into the room from the wall's face.

**Version**: `wallwright-job = 1`. A file of a later version is refused by an earlier program; an earlier file is always read.
"""


def page() -> str:
    """The page as Markdown."""
    schema = job_schema()
    kinds: dict[str, Any] = schema["$defs"]
    lines = [HEAD, "## The document\n", *_table(schema, kinds, _words("Job"))]
    for name in _in_order(schema, kinds):
        if "properties" in kinds[name]:
            lines += [
                f"## {name}\n",
                kinds[name].get("description", ""),
                "",
                *_table(kinds[name], kinds, _words(name)),
            ]
    return "\n".join(lines) + "\n"


def _words(name: str) -> dict[str, str]:
    """What the vocabulary says of each field of a table."""
    text = Path(__file__).with_name("words.md").read_text("utf-8")
    part = re.search(rf"^### {name}\n(.*?)(?=^#|\Z)", text, re.MULTILINE | re.DOTALL)
    return dict(re.findall(r"^\| `(\w+)` \| ([^|]+) \|", part[1], re.MULTILINE)) if part else {}


def _in_order(schema: dict[str, Any], kinds: dict[str, Any]) -> list[str]:
    """The kinds of table as a reader of the document meets them."""
    met: list[str] = []

    def read(part: Any) -> None:
        if isinstance(part, dict):
            for key, value in part.items():
                if key == "$ref":
                    name = str(value).rsplit("/", 1)[-1]
                    if name not in met:
                        met.append(name)
                        read(kinds[name])
                elif key != "default":
                    read(value)
        elif isinstance(part, list):
            for one in part:
                read(one)

    read(schema["properties"])
    return met


def _table(schema: dict[str, Any], kinds: dict[str, Any], words: dict[str, str]) -> Iterator[str]:
    needed = set(schema.get("required", ()))
    yield "| field | may be | left out | is |\n|---|---|---|---|"
    for name, field in schema["properties"].items():
        left_out = "**must be given**" if name in needed else _left_out(field)
        says = (
            field.get("description") or words.get(name) or kinds.get(_kind(field), {}).get("description", "")
        )
        yield f"| `{name}` | {_may_be(field, kinds)} | {left_out} | {_cell(says)} |"
    yield ""


def _kind(field: dict[str, Any]) -> str:
    return str(field.get("$ref", "")).rsplit("/", 1)[-1]


def _left_out(field: dict[str, Any]) -> str:
    if "default" not in field:
        return ""
    value = field["default"]
    if value is None:
        return "automatic"
    if isinstance(value, dict):
        return "the table's own"
    if value == "":
        return "empty"
    if value == []:
        return "none"
    return f"`{str(value).lower() if isinstance(value, bool) else value}`"


def _may_be(field: dict[str, Any], kinds: dict[str, Any]) -> str:
    """In words: the words allowed, the numbers allowed, or the kind of table."""
    if "$ref" in field:
        kind = kinds[_kind(field)]
        return f"[{_kind(field)}](#{_kind(field).lower()})" if "properties" in kind else _may_be(kind, kinds)
    if "anyOf" in field:
        each = dict.fromkeys(_may_be(one, kinds) for one in field["anyOf"] if one.get("type") != "null")
        return " or ".join(each)
    if "const" in field:
        return f"`{field['const']}`"
    if "enum" in field:
        return ", ".join(f"`{word}`" for word in field["enum"])
    if field.get("type") == "array":
        return f"list of {_may_be(field.get('items', {}), kinds) or 'values'}"
    if field.get("type") == "object":
        inner = field.get("additionalProperties")
        return f"table of {_may_be(inner, kinds)}" if isinstance(inner, dict) else "table"
    return _plain_kind(field)


def _plain_kind(field: dict[str, Any]) -> str:
    words = {"string": "text", "number": "number", "integer": "whole number", "boolean": "`true`, `false`"}
    word = words.get(str(field.get("type")), "value")
    bounds = [
        f"{sign} {field[key]:g}"
        for key, sign in (
            ("minimum", "≥"),
            ("exclusiveMinimum", ">"),
            ("maximum", "≤"),
            ("exclusiveMaximum", "<"),
        )
        if key in field
    ]
    if "maxLength" in field:
        bounds.append(f"to {field['maxLength']} letters")
    return " ".join([word, *bounds])


def _cell(text: str) -> str:
    return text.replace("\n", " ").replace("|", "∣")


if __name__ == "__main__":
    Path(__file__).with_name("format.md").write_text(page(), "utf-8")
