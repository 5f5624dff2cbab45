"""The commissioning list, the snags and the variations, as lists."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.change.criteria import CRITERIA, passes, to_test
from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

BLANK = "______"


def commissioning(wall: Wall) -> Table:
    """Every test of this wall with what passes, and what was measured; once boxes or boards are in hand."""
    now = wall.job.progress
    if now.points == "drawn" and now.joinery == "drawn" and not now.tested:
        return Table("commissioning", "Commissioning", (), ())
    done = {(one.check, one.ref): one for one in now.tested}
    rows: list[tuple[str, str, str, str, str, str, str]] = []
    for line in to_test(wall):
        got = done.get((line.criterion.check, line.ref))
        measured = "" if got is None or got.measured is None else f"{got.measured:g}"
        good = BLANK
        if got is not None:
            judged = passes(got.check, got.measured, wall.limits) if got.measured is not None else None
            good = "good" if (got.passed if judged is None else judged and got.passed) else "NOT GOOD"
        by = f"{got.by} {got.date}".strip() if got else ""
        rows.append(
            (
                line.ref,
                line.where,
                line.criterion.says,
                asked(line.criterion.check, wall),
                measured or BLANK,
                good,
                by or BLANK,
            )
        )
    cols = (
        Column("On"), Column("What it is"), Column("Test"), Column("Passes"), Column("Measured", "", 0, "right"), Column("Good"),
        Column("By, date"),
    )  # fmt: skip
    notes = (
        "Mains are tested dead and live by the licensed electrician, to the local code; the certificate goes with this list.",
    )
    return Table("commissioning", "Commissioning", cols, tuple(rows), notes)


def asked(check: str, wall: Wall) -> str:
    """What passes, in words: `at most 1 mm/m`; "yes" where nothing is measured."""
    one = CRITERIA.get(check)
    if one is None or not one.limit:
        return "yes"
    limit = wall.limits[one.limit]
    return f"at {one.sense} {limit.value:g} {limit.unit}"


def snags(wall: Wall) -> Table:
    """What is to be put right: the criterion and what was measured, who does it, and when it was seen to be right; open ones first."""
    rows: list[tuple[str, str, str, str, str, str, str, str]] = []
    for one in sorted(wall.job.progress.snags, key=lambda snag: bool(snag.closed)):
        good = passes(one.check, one.measured, wall.limits) if one.measured is not None else None
        measured = "" if one.measured is None else f"{one.measured:g}"
        judged = "" if good is None else " (passes)" if good else " (fails)"
        rows.append(
            (
                one.ref, one.where, one.says, asked(one.check, wall) if one.check in CRITERIA else "by eye", f"{measured}{judged}",
                one.trade or (CRITERIA[one.check].trade if one.check in CRITERIA else BLANK), one.date or BLANK, one.closed or BLANK,
            )
        )  # fmt: skip
    cols = (
        Column("No."), Column("Where"), Column("Snag"), Column("Passes"), Column("Measured"), Column("Trade"), Column("Found"),
        Column("Put right"),
    )  # fmt: skip
    return Table("snag_list", "Snags", cols, tuple(rows))


def variations(wall: Wall) -> Table:
    """Every variation: number, origin, what, why, money, days, state, who and when."""
    money = wall.money.notation
    rows = tuple(
        (
            one.ref, one.origin, one.says, one.reason, money.money(money.minor(one.price)) if one.state != "draft" else "to be priced",
            one.days if one.state != "draft" else None, one.state, f"{one.by} {one.date}".strip() or BLANK,
        )
        for one in wall.job.progress.variations
    )  # fmt: skip
    cols = (
        Column("No."), Column("From"), Column("What changes"), Column("Why"), Column("Adds", "", 0, "right"),
        Column("Days", "", 0, "right"), Column("State"), Column("By, date"),
    )  # fmt: skip
    notes = ("Nothing of a variation is worked on before it is priced, timed and signed.",)
    return Table("variations", "Variations", cols, rows, notes)
