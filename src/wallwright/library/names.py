"""Boards and finishes by the name a person says: a key, the row's own name, or what the trade of some country calls it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from wallwright.library import load

USUAL = 18.0
"""Thickness meant where a board is named without one [mm]."""
_NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)\s*(?:mm)?(?!\w)")


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[\s_\-,/]+", " ", text.casefold()).split())


@cache
def _board_names() -> Mapping[str, str]:
    """Plain name → key. A kind named alone means its thickness nearest the usual one; named with one, that thickness."""
    found: dict[str, str] = {}
    rows = sorted(load.boards().values(), key=lambda row: abs(row.thickness - USUAL))
    for row in rows:
        for name in (row.key, row.name, *row.synonyms):
            found.setdefault(_plain(name), row.key)
    for row in rows:
        kind = load.board_kinds()[row.kind]
        for name in (kind.key, kind.name, *kind.synonyms):
            found.setdefault(_plain(name), row.key)
            found.setdefault(f"{_plain(name)} {row.thickness:g}", row.key)
    return found


@cache
def _finish_names() -> Mapping[str, str]:
    """Plain name → key. A face named alone means the first finish of it in the library."""
    found: dict[str, str] = {}
    for row in load.finishes().values():
        for name in (row.key, row.name):
            found.setdefault(_plain(name), row.key)
    for row in load.finishes().values():
        face = load.face_of(row.key)
        for name in (face.key, face.name, *face.synonyms):
            found.setdefault(_plain(name), row.key)
    return found


def board_key(said: str) -> str:
    """The board that is meant by `chipboard`, `MR-MDF 25 mm`, `18 mm BWR ply` or a key; "" where the library has none."""
    names, text = _board_names(), _plain(said)
    if text in names:
        return names[text]
    number = _NUMBER.search(text)
    if not number:
        return ""
    kind = " ".join((text[: number.start()] + " " + text[number.end() :]).split())
    return names.get(f"{kind} {float(number[1]):g}", "")


def finish_key(said: str) -> str:
    """The finish that is meant by a key, its name, or a name of its face (`HPL`, `vinyl wrap`); "" where there is none."""
    return _finish_names().get(_plain(said), "")


def board_words() -> tuple[str, ...]:
    """Every name a board may be called by, for a message that offers the nearest."""
    return (*load.boards(), *(name for kind in load.board_kinds().values() for name in kind.synonyms))


def finish_words() -> tuple[str, ...]:
    """Every name a finish may be called by."""
    return (*load.finishes(), *(name for face in load.faces().values() for name in face.synonyms))
