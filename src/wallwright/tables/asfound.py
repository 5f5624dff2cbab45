"""What the site found, the answers, and the numbers that the next trade works to, as lists."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.change.asfound import AsFound

SIGN = {"accept": "accept", "tape": "TAPE", "adjust": "ADJUST", "stop": "STOP"}

IF_TAKEN = " (STOP: not before it is settled)"


def answers(found: AsFound) -> Table:
    """One row for each thing that was found."""
    cols = (
        Column("Thing"), Column("What"), Column("Answer"), Column("Off", "mm", 0, "right"), Column("Allowed", "mm", 0, "right"),
        Column("Why"),
    )  # fmt: skip
    rows = tuple((v.ref, v.what, SIGN[v.answer], v.off, v.tolerance, v.says) for v in found.verdicts)
    return Table("as_found", "As found", cols, rows)


def numbers(found: AsFound) -> Table:
    """The new numbers, by trade; those of what stops say that nothing is made to them yet."""
    cols = (Column("Trade"), Column("For"), Column("What"), Column("Now", "mm", 1, "right"))
    rows = sorted(
        (
            (one.trade, one.ref, f"{one.says}{IF_TAKEN if v.answer == 'stop' else ''}", float(one.value))
            for v in found.verdicts
            for one in v.numbers
        ),
        key=lambda row: row[0],
    )
    return Table("as_found_numbers", "New numbers for the next trade", cols, tuple(rows))


def ways(found: AsFound) -> Table:
    """The ways out of what cannot stay, ranked."""
    cols = (
        Column("Thing"),
        Column("Rank", "", 0, "right"),
        Column("Way out"),
        Column("Holds"),
        Column("Because"),
    )
    rows = tuple(
        (v.ref, i, fix.says, "yes" if fix.possible else "no", fix.why)
        for v in found.verdicts
        for i, fix in enumerate(v.fixes, 1)
    )
    return Table("as_found_ways", "Ways out, ranked", cols, rows)
