"""The way back into the budget as the page shows it: every swap with its price, and what it does to the findings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from wallwright.core.finding import EditCall, Finding
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edit import to_plain
from wallwright.options.budget import WayBack, in_order, way_back
from wallwright.options.swaps import Proposal, Swap, proposed, swaps

WEIGHED = 0.7
"""Share of the work that weighing the single swaps is, before they are put together: measured on the demo wall."""


def way_back_told(job: Job, tell: Callable[[float, str], object]) -> dict[str, Any]:
    """The shortest list with the least loss of value, and every swap that was weighed. ValueError where the brief has no budget."""
    tell(0.0, "the wall as it stands")
    wall = derive(job, searched=True)
    if wall.money.budget <= 0:
        raise ValueError("the brief gives no budget to come back into: set one first")
    proposals = list(proposed(wall))

    def one_by_one() -> Iterator[Proposal]:
        for number, proposal in enumerate(proposals):
            tell(WEIGHED * number / len(proposals), proposal.says)
            yield proposal

    offered = swaps(wall, one_by_one())
    tell(WEIGHED, "which of them together lose least")
    return _told(wall, way_back(wall, offered=offered))


def _told(wall: Wall, found: WayBack) -> dict[str, Any]:
    shown = wall.money.shown
    then = {step.swap.key: step.price for step in found.steps}
    rows = sorted(found.offered, key=lambda swap: (bool(swap.refused), swap.key not in then, -swap.saving))
    over = found.price - found.budget
    return {
        "budget_shown": shown(found.budget), "price_shown": shown(found.price), "after_shown": shown(found.after),
        "over_shown": shown(abs(over)), "within": found.within, "reached": found.reached, "proven": found.proven,
        "least_shown": shown(found.least), "edits": _calls(found.edits), "loss": round(found.loss, 1),
        "brings": _says(found.new), "takes_away": _says(found.gone),
        "swaps": [_swap(wall, swap, then.get(swap.key)) for swap in rows],
    }  # fmt: skip


def _swap(wall: Wall, swap: Swap, price_then: int | None) -> dict[str, Any]:
    shown = wall.money.shown
    return {
        "key": swap.key, "says": swap.says, "saves_shown": shown(swap.saving), "saves": swap.saving, "loss": round(swap.loss, 1),
        "chosen": price_then is not None, "then_shown": "" if price_then is None else shown(price_then),
        "refused": swap.refused, "brings": _says(swap.new), "takes_away": _says(swap.gone), "edits": _calls(in_order([swap])),
    }  # fmt: skip


def _says(findings: Iterable[Finding]) -> list[str]:
    return [f"{item.where}: {item.says}" for item in findings]


def _calls(edits: Iterable[EditCall]) -> list[dict[str, Any]]:
    return [{"edit": call.edit, "with": to_plain(dict(call.values))} for call in edits]
