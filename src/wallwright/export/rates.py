"""Rates files: the book written out to be edited in any editor, and an edited one read back."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from wallwright.export.files import read_bytes
from wallwright.job.problem import fail, nearest
from wallwright.job.slip import slip
from wallwright.library.load import Rate
from wallwright.library.rates import METRIC

KEY = "wallwright-rates"
LARGEST = 1_000_000
HEAD = """\
# Rates to be edited: all that is known of each stands on its line. amount: for one unit, supply and fix, before overhead, margin,
# reserve and tax. unit: {units}. hours: of work in one unit, at the hour rate of its trade (hour_<trade>).
# Leave out what you have no rate for: the book keeps its own. Lay them into a job with: wallwright rates JOB --use THIS-FILE
{key} = 1
"""


def rates_text(book: Mapping[str, Rate]) -> str:
    """The book as a rates file, by trade."""
    lines = [HEAD.format(key=KEY, units=", ".join(METRIC))]
    for trade in dict.fromkeys(row.trade for row in book.values()):
        lines.append(f"\n# --- {trade}")
        for key, row in book.items():
            if row.trade == trade:
                name = key if all(c.isalnum() or c in "_-" for c in key) else json.dumps(key)
                said = f"name = {json.dumps(row.name, ensure_ascii=False)}, trade = {json.dumps(row.trade)}"
                lines.append(
                    f'{name} = {{ amount = {row.amount:g}, unit = "{row.unit}", hours = {row.hours:g}, {said} }}'
                )
    return "\n".join(lines) + "\n"


def read_rates_file(path: str | Path) -> dict[str, Any]:
    """The rates of a file as plain tables, for the edit that lays them in. JobError, naming the file, where it is no rates file."""
    name = str(path)
    text = ""
    try:
        text = read_bytes(path, LARGEST, "rates file").decode("utf-8-sig")
        tables = tomllib.loads(text)
    except UnicodeDecodeError:
        raise fail("file", None, "is not UTF-8 text; save it again as UTF-8", name) from None
    except tomllib.TOMLDecodeError as problem:
        where, says = slip(text, problem)
        raise fail(where, None, says, name) from None
    if not tables:
        raise fail("file", None, f"is empty: write one with `wallwright rates --out {name}`", name)
    if tables.pop(KEY, None) != 1:
        says = f"does not begin with {KEY} = 1; write one with `wallwright rates --out FILE`; {nearest(KEY, tables)}"
        raise fail("file", None, says, name)
    if not tables:
        raise fail("file", None, "holds no rate", name)
    return tables
