"""A tower's answers as JSON: every list by name, each row by its headings; the savings and the counts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wallwright.core.table import Table
    from wallwright.tower.pooled import Pooled
    from wallwright.tower.rollout import Rollout
    from wallwright.tower.run import Worked
    from wallwright.tower.sample import Sample


def tower_json(
    worked: Worked, samples: Sequence[Sample], cut: Pooled, rolled: Rollout | None, tables: Sequence[Table]
) -> dict[str, Any]:  # fmt: skip
    """Everything that is told of the tower, as plain values."""
    file = worked.tower.file
    return {
        "tower": {"title": file.title, "number": file.number, "revision": file.revision, "date": file.date},
        "flats": len(worked.flats),
        "walls": worked.walls,
        "checks": worked.checks,
        "failed": [{"flat": done.flat.id, "says": done.failed} for done in worked.failed],
        "samples": [{"type": one.type, "says": list(one.says)} for one in samples],
        "cutting": {
            "sheets": cut.used,
            "sheets_flat_by_flat": cut.alone,
            "price": round(cut.price, 2),
            "price_flat_by_flat": round(cut.alone_price, 2),
        },
        "asks": [one.flat.id for one in rolled.asks] if rolled else [],
        "lists": {table.name: _rows(table) for table in tables},
    }


def _rows(table: Table) -> dict[str, Any]:
    heads = _apart([column.name for column in table.columns])
    return {
        "title": table.title,
        "units": {
            head: column.unit for head, column in zip(heads, table.columns, strict=True) if column.unit
        },
        "rows": [dict(zip(heads, row, strict=True)) for row in table.rows],
        "notes": list(table.notes),
    }


def _apart(heads: list[str]) -> list[str]:
    """Headings that occur twice are told apart by the one before: `in flat` behind `Most` is `Most in flat`."""
    return [f"{heads[i - 1]} {head}" if heads.count(head) > 1 and i else head for i, head in enumerate(heads)]
