"""Proposals from the brief side by side as a table, with what was dropped and the wishes that cannot all be met."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.core.table import Cell, Column, Table

if TYPE_CHECKING:
    from wallwright.options.propose import Options


def proposals_table(found: Options, title: str) -> Table:
    """Each proposal with what one gets, what one gives up, what it costs, and why; then the notes of the search."""
    columns = (
        Column("Option"), Column("You get"), Column("You give up"), Column("Cost"), Column("Storage", "m", 1, "right"), Column("Why"),
        Column("Open"),
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = [
        (
            one.name, one.get, one.give_up, one.cost, one.wall.storage.capacity / 1000, " ".join(one.reasons),
            "; ".join(item.says for item in one.still) or "nothing",
        )
        for one in found.options
    ]  # fmt: skip
    return Table("proposals", title, columns, tuple(rows), tuple(_notes(found)))


def _notes(found: Options) -> Iterator[str]:
    money = found.bare.money
    if found.budget:
        yield f"Budget: {money.shown(found.budget)}."
    if not found.options:
        yield (
            f"No sound wall comes within it; the least that one costs here is {money.shown(found.least)}."
            if found.least
            else "No wall was found that has nothing left to fix."
        )
    if found.conflict:
        yield f"{found.conflict.says} Way out: {found.conflict.way_out}."
    for key, says in found.dropped:
        yield f"Not offered, {key.replace('_', ' ')}: {says}."
    yield f"{found.found} sound walls of {found.tried} tried."
    if money.invented:
        yield "Demo rates are invented: prices are as true as they are."
