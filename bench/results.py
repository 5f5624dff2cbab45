"""What the bench scripts found, a row a question, kept for the page of the docs. Nothing is kept unless $WALLWRIGHT_BENCH names a file."""

from __future__ import annotations

import json
import os
import resource
from pathlib import Path
from typing import Any

WHERE = "WALLWRIGHT_BENCH"


def keep(  # noqa: PLR0913
    question: str,
    figure: float,
    unit: str,
    *,
    budget: float | None = None,
    limit: str = "",
    peer: str = "",
    group: str = "",
    **more: Any,
) -> None:
    """A row of the table.

    budget : the most it may be · limit : what it cannot be better than, and why · peer : what others need for the same
    more : further figures by name, for the pages that reckon on with them
    """
    target = os.environ.get(WHERE)
    if not target:
        return
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    row = {"group": group, "question": question, "figure": figure, "unit": unit, "budget": budget, "limit": limit, "peer": peer,
           "memory": round(peak), **more}  # fmt: skip
    with Path(target).open("a", encoding="utf-8") as file:
        file.write(json.dumps(row, ensure_ascii=False) + "\n")
