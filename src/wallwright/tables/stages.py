"""Payment by stages: shares that make 100.00 % of the price, amounts that sum to it, and the working day each falls due."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.library import terms
from wallwright.money.quote import allotted

if TYPE_CHECKING:
    from wallwright.derive import Wall


@dataclass(frozen=True, slots=True)
class Payment:
    """One payment: its share [%], amount (minor units), and the working day of the programme at which it falls due."""

    name: str
    share: float
    amount: int
    day: int
    says: str


def payments(wall: Wall) -> tuple[Payment, ...]:
    """The payments of a wall, first due first; they sum to the price.

    Raises:
        ValueError: shares that do not make 100.00 %, naming `terms.stages`.
    """
    own = wall.job.terms.stages
    if own:
        said = [(stage.name, stage.share, stage.task or "approve", "finish", stage.says) for stage in own]
    else:
        said = [(row.name, row.share, row.task, row.end, row.says) for row in terms.stages().values()]
    if says := terms.whole_problem(share for _, share, *_ in said):
        raise ValueError(f"terms.stages: {says}")
    amounts = allotted(wall.money.total, [share for _, share, *_ in said])
    tasks = {task.ref: task for task in wall.programme.tasks}
    out: list[Payment] = []
    day = 0
    for (name, share, ref, end, says), amount in zip(said, amounts, strict=True):
        task = tasks.get(ref)
        if task is not None:
            day = max(day, task.early_start if end == "start" else task.early_finish)
        out.append(Payment(name, share, amount, day, says))
    return tuple(out)


def stages(wall: Wall) -> Table:
    """The payments with what has been paid by then."""
    money = wall.money
    decimals = money.notation.decimals
    columns = (
        Column("Stage"), Column("Share", "%", 2, "right"), Column("Amount", money.currency, decimals, "right"),
        Column("Paid by then", money.currency, decimals, "right"), Column("Working day", "", 0, "right"), Column("When"),
    )  # fmt: skip
    rows: list[tuple[str | float | int, ...]] = []
    paid = 0
    for each in payments(wall):
        paid += each.amount
        rows.append(
            (each.name, float(each.share), money.major(each.amount), money.major(paid), each.day, each.says)
        )
    notes = (
        "Shares make 100.00 % and amounts the price; working days count from the survey, as in the programme.",
    )
    return Table("stages", "Payment by stages", columns, tuple(rows), notes)
