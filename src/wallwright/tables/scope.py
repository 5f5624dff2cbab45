"""The scope matrix: who supplies, who fixes and who connects each thing of this wall, and what of it is in the price."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.core.table import Cell, Column, Table
from wallwright.library import terms

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.library.terms import ScopeRow


def scope(wall: Wall) -> Table:
    """Every thing that the wall has, or that is asked about on every wall; lines of the bill that no row names stand last."""
    columns = (
        Column("Thing"),
        Column("Supplies"),
        Column("Fixes"),
        Column("Connects"),
        Column("In the price"),
        Column("Says"),
    )
    return Table(
        "scope", "Who supplies, fixes and connects what", columns, tuple(_rows(wall)),
        ("A thing that stands here under nobody is nobody's: ask before it is needed.",),
    )  # fmt: skip


def on_wall(wall: Wall, row: ScopeRow) -> bool:
    """Whether a row of the matrix concerns this wall."""
    return not row.lines or any(line.ref.startswith(row.lines) for line in wall.money.lines)


def _rows(wall: Wall) -> Iterator[tuple[Cell, ...]]:
    own = wall.job.terms.scope
    rows = terms.scope()
    for key, row in rows.items():
        if not on_wall(wall, row):
            continue
        said = own.get(key)
        supply, fix, connect = (
            (said.supply or row.supply, said.fix or row.fix, said.connect or row.connect)
            if said
            else (row.supply, row.fix, row.connect)
        )
        yield row.name, supply, fix, connect, _priced(row, supply, fix), row.says
    named = tuple(start for row in rows.values() for start in row.lines)
    for line in wall.money.lines:
        if not line.ref.startswith(named):
            yield line.item, "?", "?", "?", "yes" if line.amount else "no", "nobody is named for it yet"


def _priced(row: ScopeRow, supply: str, fix: str) -> str:
    """What of a thing is in the price: what the client supplies or fixes is not."""
    if not row.lines:
        return "no"
    if supply == fix == "client":
        return "no"
    return "fixing only" if supply == "client" else "supply only" if fix == "client" else "yes"
