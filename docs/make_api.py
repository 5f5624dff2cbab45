"""Write docs/api.md: every call of the studio's interface with what it takes and gives, from its own OpenAPI description."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
HEAD = """# The studio's interface

Written by `docs/make_api.py` from the studio's own OpenAPI description (`frontend/openapi.json`); a test fails when it is stale. All calls
take and give JSON under `/api`. Trouble is always the same table, `{"field", "says", ...}`: 422 for a value that cannot be (its field is
named), 409 for a change made on a state that is no longer the last, 404 for what is not there, 401 and 403 for who may not, 413 and 429
for too much. A call that changes something needs the `Origin` of the page itself and, where people sign in, the session's token. A length
in a body is a number of millimetres or text as it is typed in the job file.

"""


def page() -> str:
    """The page as Markdown."""
    described: dict[str, Any] = json.loads((ROOT / "frontend" / "openapi.json").read_text("utf-8"))
    kinds: dict[str, Any] = described["components"]["schemas"]
    lines = [HEAD, "| call | takes | gives | does |\n|---|---|---|---|"]
    used: list[str] = []
    for path, calls in described["paths"].items():
        lines += [_call(verb, path, call, used) for verb, call in calls.items()]
    lines += ["", "## What is taken and given", ""]
    for name in _closure(used, kinds):
        if "properties" in kinds[name]:
            lines += [
                f"### {name}\n",
                kinds[name].get("description", "").replace("\n", " "),
                "",
                *_fields(kinds[name]),
            ]
    return "\n".join(lines) + "\n"


def _call(verb: str, path: str, call: dict[str, Any], used: list[str]) -> str:
    body = _content(call.get("requestBody", {}))
    asked = [f"`{one['name']}`" for one in call.get("parameters", ()) if one["in"] == "query"]
    good = next((answer for code, answer in call["responses"].items() if code.startswith("2")), {})
    takes = ", ".join(([_named(body, used)] if body else []) + asked)
    says = call.get("description", call.get("summary", "")).replace("\n", " ").replace("|", "∣")
    return f"| `{verb.upper()} {path}` | {takes} | {_named(_content(good), used)} | {says} |"


def _content(part: dict[str, Any]) -> dict[str, Any]:
    """What a body or an answer is made of; a file where it is not JSON."""
    content: dict[str, Any] = part.get("content", {})
    if "application/json" in content:
        return dict(content["application/json"].get("schema", {}))
    return {"file": ", ".join(content)} if content else {}


def _named(schema: dict[str, Any], used: list[str]) -> str:
    if "$ref" in schema:
        name = str(schema["$ref"]).rsplit("/", 1)[-1]
        used.append(name)
        return f"[{name}](#{name.lower()})"
    if "file" in schema:
        return str(schema["file"])
    if schema.get("type") == "array":
        return f"list of {_named(schema.get('items', {}), used)}"
    if "anyOf" in schema:
        return " or ".join(_named(one, used) for one in schema["anyOf"] if one.get("type") != "null")
    return str(schema.get("const", schema.get("type", "")))


def _closure(used: list[str], kinds: dict[str, Any]) -> list[str]:
    """What is named by the calls, and what that names in turn, by name."""
    met = list(dict.fromkeys(used))
    for name in met:
        text = json.dumps(kinds[name])
        met += [other for other in kinds if f'"#/components/schemas/{other}"' in text and other not in met]
    return sorted(met)


def _fields(kind: dict[str, Any]) -> Iterator[str]:
    yield "| field | is | says |\n|---|---|---|"
    needed = kind.get("required", ())
    for name, field in kind["properties"].items():
        word = _named(field, []) + ("" if name in needed else " (may be left out)")
        yield f"| `{name}` | {word} | {field.get('description', '').replace('|', '∣')} |"
    yield ""


if __name__ == "__main__":
    Path(__file__).with_name("api.md").write_text(page(), "utf-8")
