"""A cell as it is printed, wherever it is printed."""

from __future__ import annotations

import pytest

from wallwright.core.table import Cell, Column


@pytest.mark.parametrize(
    ("cell", "decimals", "wanted"),
    [
        (1.25, 1, "1.2"), (-0.04, 1, "0.0"), (-0.06, 1, "-0.1"), (-0.4, 0, "0"), (12.0, 0, "12"), (7, 2, "7"), (None, 2, ""),
        ("C1.1", 2, "C1.1"), ("", 0, ""),
    ],
)  # fmt: skip
def test_a_number_has_its_columns_decimals_and_nought_no_minus(
    cell: Cell, decimals: int, wanted: str
) -> None:
    assert Column("x", "mm", decimals).shown(cell) == wanted
