"""Options side by side, and the way back into the budget, as tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.table import Cell, Column, Table
from wallwright.job.edit import log_line
from wallwright.rules.check import MUST

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.options.budget import WayBack
    from wallwright.options.finish_sets import Option


def options_table(wall: Wall, options: Sequence[Option], title: str) -> Table:
    """Each option with what it is, what one gets, what one gives up, and its price against the wall as it stands."""
    money = wall.money
    columns = (
        Column("Option"), Column("What it is"), Column("You get"), Column("You give up"), Column("Price", "", 0, "right"),
        Column("Against this wall", "", 0, "right"), Column("Storage", "m", 2, "right"), Column("Days", "", 0, "right"), Column("To fix"),
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    for option in options:
        must = [item for item in option.findings if item.severity in MUST]
        rows.append((
            option.name, option.says, option.gain, option.give_up, money.shown(option.price), money.notation.change(option.price - money.total),
            option.wall.storage.capacity / 1000, option.wall.programme.days, "; ".join(item.says for item in must[:3]) or "nothing",
        ))  # fmt: skip
    notes = [f"This wall as it stands: {money.shown(money.total)}."]
    if money.budget:
        notes.append(f"Budget: {money.shown(money.budget)}.")
    return Table("options", title, columns, tuple(rows), tuple(notes))


def way_back_table(wall: Wall, found: WayBack) -> Table:
    """The swaps that lead back into the budget, one after another, with the price after each and what each does to the findings."""
    money, change = wall.money, wall.money.notation.change
    columns = (
        Column("Swap"), Column("Saves by itself", "", 0, "right"), Column("Price after it", "", 0, "right"), Column("Loses", "points", 1, "right"),
        Column("Findings it brings"), Column("Findings it takes away"), Column("Edits"),
    )  # fmt: skip
    rows = tuple(
        (
            step.swap.says, change(-step.swap.saving), money.shown(step.price), step.swap.loss,
            "; ".join(dict.fromkeys(item.rule for item in step.swap.new)) or "none",
            "; ".join(dict.fromkeys(item.rule for item in step.swap.gone)) or "none",
            "; ".join(log_line(call.edit, dict(call.values)) for call in step.swap.edits),
        )
        for step in found.steps
    )  # fmt: skip
    return Table("way_back", "Back into the budget", columns, rows, tuple(_way_back_says(wall, found)))


WITHIN_DEMO = "Demo rates are invented: in your money they may be far off. Enter your own (wallwright rates) before you trust this."
CONDITION = (
    "so long as savings but those of whole sheets, lengths and loads add up to no more together than alone, and no swap that saves alone "
    "and uses no more of those makes a list dearer; this list was priced anew whole, and without each of its swaps"
)
"""What the proof of a way back rests on, and what does not rest on it."""


def _way_back_says(wall: Wall, found: WayBack) -> list[str]:
    money = wall.money
    says = [f"Budget {money.shown(found.budget)}, price {money.shown(found.price)}."]
    if found.within:
        says.append(f"The wall is within it by {money.shown(found.budget - found.price)}: nothing to swap.")
        return [*says, *([WITHIN_DEMO] if money.invented else [])]
    proof = (
        f"proved: of the swaps that may be made alone no list loses less, {CONDITION}"
        if found.proven
        else "the best found; the search stopped before it was proved"
    )
    if found.reached:
        says.append(f"With these {money.shown(found.after)}, {found.loss:g} points of value lost; {proof}.")
    else:
        proof = f"proved, {CONDITION}" if found.proven else "as far as was searched"
        says.append(
            f"No set of the swaps that may be made alone reaches it ({proof}). "
            f"The least price they reach is {money.shown(found.least)}, by the swaps above: "
            f"raise the budget by {money.shown(found.least - found.budget)}, choose another scheme, or let the brief want less."
        )
    reasons: dict[str, list[str]] = {}
    for swap in found.offered:
        if swap.refused:
            reasons.setdefault(swap.refused, []).append(swap.says)
    says.extend(
        f"Refused ({reason}): {'; '.join(names[:3])}{' and more' if len(names) > 3 else ''}."
        for reason, names in reasons.items()
    )
    if money.invented:
        says.append("Demo rates are invented: savings are as true as they are.")
    return says


def swaps_table(wall: Wall, found: WayBack) -> Table:
    """All swaps that were weighed: saving, loss, and why one is refused; most saving for its loss first."""
    change = wall.money.notation.change
    columns = (
        Column("Swap"), Column("Saves", "", 0, "right"), Column("Loses", "points", 1, "right"), Column("Refused"), Column("Kind"),
    )  # fmt: skip
    order = sorted(found.offered, key=lambda swap: (bool(swap.refused), -swap.saving / swap.loss, swap.key))
    rows = tuple((swap.says, change(-swap.saving), swap.loss, swap.refused, swap.kind) for swap in order)
    return Table("swaps", "Swaps weighed", columns, rows)
