"""Every limit of the library is read by something: else overriding it would change nothing, and say nothing of that.

A name is read where it stands in the source as a whole, or where a text with gaps (an f-string) makes it: then each gap must be filled
by a text or number that itself stands in the source or in the library's other data.
"""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import wallwright

SRC = Path(wallwright.__file__).parent
Template = tuple[str | None, ...]
"""The pieces of a text; None stands for a gap."""


def limit_names() -> list[str]:
    return [
        name
        for path in sorted((SRC / "library" / "limits").glob("*.toml"))
        for name in tomllib.loads(path.read_text("utf-8"))
    ]


def words_of(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield str(key)
            yield from words_of(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from words_of(inner)
    elif isinstance(value, str | int | float):
        yield str(value)


@cache
def said() -> tuple[frozenset[str], frozenset[Template]]:
    """Every text of the source and of the library's other data, and every text with gaps."""
    words, templates = set[str](), set[Template]()
    for path in sorted(SRC.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str | int | float):
                words.add(str(node.value))
            elif isinstance(node, ast.JoinedStr):
                templates.add(
                    tuple(part.value if isinstance(part, ast.Constant) else None for part in node.values)
                )
    for path in sorted((SRC / "library").rglob("*.toml")):
        if path.parent.name != "limits":
            words.update(words_of(tomllib.loads(path.read_text("utf-8"))))
    return frozenset(words), frozenset(templates)


def makes(template: Template, name: str, fills: Callable[[str], bool]) -> bool:
    """Whether the template gives the name, each of its gaps filled."""
    if not template:
        return not name
    head, rest = template[0], template[1:]
    if head is not None:
        return name.startswith(head) and makes(rest, name[len(head) :], fills)
    return any(makes(rest, name[k:], fills) and (not k or fills(name[:k])) for k in range(len(name) + 1))


def unread(names: list[str]) -> list[str]:
    words, templates = said()
    words |= {word.lower().replace(".", "_") for word in words}  # as in {rules.lower()}, {size}
    useful = [one for one in templates if any(part and part.strip("._ ") for part in one)]
    useful += [tuple(part and part.lower() for part in one) for one in useful]  # as in {method.lower()}
    useful = [*dict.fromkeys(useful)]
    wholes = [one for one in useful if one[0] and "." in one[0]]
    whole = set(wholes)
    parts = [(one, max((part for part in one if part), key=len)) for one in useful if one not in whole]

    def word(text: str) -> bool:
        """Said as a whole, or of two letters put side by side, as "B" + "1"."""
        return text in words or (len(text) == 2 and text[0] in words and text[1] in words)

    @cache
    def fills(text: str) -> bool:
        """A gap may hold a word, or what another template makes of words."""
        return word(text) or any(longest in text and makes(one, text, word) for one, longest in parts)

    return [
        name for name in names if name not in words and not any(makes(one, name, fills) for one in wholes)
    ]


def test_every_limit_is_read() -> None:
    assert unread(limit_names()) == []


def test_a_limit_that_nothing_reads_is_found() -> None:
    names = ["services." + "nobody_reads_this", "carcass.hinge_mass_" + "77777", "cooling.rise_max"]
    assert unread(names) == names[:2]
