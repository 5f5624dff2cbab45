"""A titled table: columns with their units, rows of plain values. Knows no format."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Cell = str | float | int | None
Align = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Column:
    """One column: heading, unit (shown in the heading), decimals for numbers, alignment."""

    name: str
    unit: str = ""
    decimals: int = 0
    align: Align = "left"

    @property
    def heading(self) -> str:
        """The heading with the unit behind it."""
        return f"{self.name} [{self.unit}]" if self.unit else self.name

    def shown(self, cell: Cell) -> str:
        """A cell as printed: numbers with the column's decimals, no minus before nought, nothing for None."""
        if cell is None:
            return ""
        return f"{cell:z.{self.decimals}f}" if isinstance(cell, float) else str(cell)


@dataclass(frozen=True, slots=True)
class Table:
    """A table: name for files (`cut_list`), title for people, columns, rows, notes printed below."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()
