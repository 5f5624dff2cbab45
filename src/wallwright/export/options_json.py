"""Options and the way back into the budget as plain values for JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from wallwright.job.edit import to_plain
from wallwright.job.write import plain
from wallwright.rules.check import MUST

if TYPE_CHECKING:
    from wallwright.core.finding import EditCall
    from wallwright.derive import Wall
    from wallwright.options.budget import WayBack
    from wallwright.options.finish_sets import Option


def options_json(wall: Wall, options: Iterable[Option]) -> dict[str, Any]:
    """Each option with its whole job, its money, storage and what must still be fixed."""
    major, shown = wall.money.major, wall.money.shown
    return {
        "currency": wall.money.currency,
        "price": major(wall.money.total), "price_shown": shown(wall.money.total),
        "budget": major(wall.money.budget),
        "options": [
            {
                "key": option.key, "name": option.name, "says": option.says, "gain": option.gain, "give_up": option.give_up,
                "price": major(option.price), "difference": major(option.price - wall.money.total), "sound": option.sound,
                "price_shown": shown(option.price), "apart_shown": shown(abs(option.price - wall.money.total)),
                "storage_run": round(option.wall.storage.capacity, 1), "days": option.wall.programme.days,
                "findings": [
                    {"rule": item.rule, "severity": item.severity, "where": item.where, "says": item.says}
                    for item in option.findings if item.severity in MUST
                ],
                "edits": _calls(option.edits), "job": plain(option.wall.job),
            }
            for option in options
        ],
    }  # fmt: skip


def way_back_json(wall: Wall, found: WayBack) -> dict[str, Any]:
    """The way back: its swaps in order, what it loses, whether it is proved, and all swaps that were weighed."""
    major = wall.money.major
    return {
        "currency": wall.money.currency, "budget": major(found.budget), "price": major(found.price), "after": major(found.after),
        "within": found.within, "reached": found.reached, "proven": found.proven, "loss": found.loss, "least": major(found.least),
        "swaps": [
            {"key": step.swap.key, "says": step.swap.says, "saves_alone": major(step.swap.saving), "price_then": major(step.price),
             "loss": step.swap.loss, "edits": _calls(step.swap.edits), "brings": sorted({i.rule for i in step.swap.new}),
             "takes_away": sorted({i.rule for i in step.swap.gone})}
            for step in found.steps
        ],
        "weighed": [
            {"key": swap.key, "says": swap.says, "saves": major(swap.saving), "loss": swap.loss, "refused": swap.refused}
            for swap in found.offered
        ],
    }  # fmt: skip


def _calls(edits: Iterable[EditCall]) -> list[dict[str, Any]]:
    return [{"edit": call.edit, "with": to_plain(dict(call.values))} for call in edits]
