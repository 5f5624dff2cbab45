"""Proposals from the brief as plain values for JSON: each with its words, whole job, money, storage, findings, scores and reasons."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wallwright.job.edit import to_plain
from wallwright.job.write import plain, write_job

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.options.conflict import Conflict
    from wallwright.options.propose import Options, Proposal

SCORES = ("comfort", "storage", "calm", "waste", "build", "style")


def proposals_json(found: Options) -> dict[str, Any]:
    """The options in their order, what was dropped and why, and the wishes in conflict (null where one wall meets all)."""
    money = found.bare.money
    return {
        "currency": money.currency,
        "budget": money.major(found.budget) if found.budget else None,
        "least": money.major(found.least) if found.least else None,
        "options": [_proposal(one) for one in found.options],
        "dropped": [{"shape": key, "says": says} for key, says in found.dropped],
        "conflict": _conflict(found.conflict),
        "tried": found.tried,
        "sound": found.found,
        "complete": found.complete,
    }


def _proposal(one: Proposal) -> dict[str, Any]:
    wall = one.wall
    money, storage, screen = wall.money, wall.storage, wall.sight.screen
    return {
        "key": one.key, "name": one.name, "shape": one.shape.key, "direction": one.direction.key,
        "words": {"get": one.get, "give_up": one.give_up, "cost": one.cost},
        "screen": {"diagonal": screen.diagonal, "centre_height": round(screen.centre[1], 1), "centre_x": round(screen.centre[0], 1)},
        "price": money.major(money.total), "sound": one.sound,
        "money": {"total": money.major(money.total), "direct": money.major(money.direct), "currency": money.currency,
                  "shown": money.shown(money.total), "steps": [{"name": step.name, "amount": money.major(step.amount)} for step in money.steps]},
        "storage": {"run": round(storage.capacity, 1), "needed": round(storage.needed, 1), "class": storage.storage_class,
                    "left_over": [{"kind": kind, "count": count} for kind, count in storage.leftovers]},
        "days": wall.programme.days,
        "scores": {name: round(getattr(one.scores, name), 3) for name in SCORES} | {"worth": round(one.worth, 4)},
        "reasons": list(one.reasons),
        "findings": [_finding(item) for item in one.findings],
        "cures": [{"edit": call.edit, "with": to_plain(dict(call.values))} for call in one.cures],
        "open_on_any_wall": [item.says for item in one.still],
        "sets_aside": list(one.aside),
        "job": plain(one.job),
        "toml": write_job(one.job),
    }  # fmt: skip


def _finding(item: Finding) -> dict[str, Any]:
    return {
        "rule": item.rule,
        "severity": item.severity,
        "where": item.where,
        "says": item.says,
        "cure": item.cure,
    }


def _conflict(one: Conflict | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "wishes": [{"key": wish.key, "says": wish.says} for wish in one.wishes], "says": one.says,
        "way_out": one.way_out,
    }  # fmt: skip
