"""Older job documents brought forward, one version at a time; newer ones refused."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from wallwright.job.document import VERSION
from wallwright.job.problem import fail, nearest

KEY = "wallwright-job"
Document = dict[str, Any]
Step = Callable[[Document], Document]

STEPS: Mapping[int, Step] = {}
"""From version n to n + 1. Empty while version 1 is the first; a step takes and gives plain tables and never looks ahead."""


def brought_forward(
    document: Mapping[str, Any], steps: Mapping[int, Step] = STEPS, version: int = VERSION
) -> Document:
    """The document's tables in today's form, without the version key. JobError where the version is missing or unknown."""
    tables = dict(document)
    if not tables:
        raise fail(
            "file", None, f"is empty: a job begins with the line `{KEY} = {version}`; `wallwright new FOLDER` writes one to start from"
        )  # fmt: skip
    if KEY not in tables:
        near = nearest(KEY, tables) if any(key.lower().startswith("wallwright") for key in tables) else ""
        raise fail(
            KEY,
            None,
            f"is missing: a job begins with the line `{KEY} = {version}`{f'; {near}' if near else ''}",
        )
    found = tables.pop(KEY)
    if isinstance(found, bool) or not isinstance(found, int) or found < 1:
        raise fail(KEY, found, f"is not a version; this program writes `{KEY} = {version}`")
    if found > version:
        raise fail(KEY, found, f"was written by a newer program; this one reads versions up to {version}")
    for number in range(found, version):
        if number not in steps:
            raise fail(KEY, found, f"is too old: there is no way from version {number} to {number + 1}")
        tables = steps[number](tables)
    return tables
