"""What one box more or a box elsewhere brings with it: tried on the wall before it is offered.

A box wants a plug, the plug an outlet, the outlet a cable: each of them may end behind a cleat, in a hole's way, or nowhere.
"""

from __future__ import annotations

from collections.abc import Sequence

from wallwright.core.finding import EditCall, Finding, Rule
from wallwright.derive import Wall
from wallwright.rules.places import changed, stands
from wallwright.rules.reach_paths import beams, repeater
from wallwright.rules.registry import RULES

ASKED = ("services.", "reach.", "structure.")
TRIED = frozenset({"services.hot_bay", "services.remote_blocked", "structure.rented"})
"""Rules whose cures are tried on the wall: heat and beams are asked for themselves, and a box bores no hole more into a wall."""
MUST = ("danger", "fix")


def brings(wall: Wall, edits: Sequence[EditCall]) -> str | None:
    """What these edits bring that must be mended and was not there before, in words; "" where nothing; None where they cannot be made.

    Told once for what a wall is derived from: the two rules of heat, every sheet and both sides of a comparison ask the same.
    """
    job = wall.job
    own = tuple(sorted(job.rules.items()))
    asked = (job.survey, job.brief, job.design, own, wall.storage.placed, tuple(edits))
    if asked not in _told:
        if len(_told) >= KEPT:
            _told.clear()
        _told[asked] = _brings(wall, edits)
    return _told[asked]


KEPT = 256
_told: dict[object, str | None] = {}


def _brings(wall: Wall, edits: Sequence[EditCall]) -> str | None:
    job = changed(wall.job, edits)
    after = stands(job, wall) if job else None
    if after is None:
        return None
    for rule in _asked():
        broken = _broken(after, rule)
        before = {item.where for item in _broken(wall, rule)} if broken else set[str]()
        for item in broken:
            if item.where not in before:
                return item.says
    more = _unheard(after) - _unheard(wall)
    return f"the remote of {min(more)} no longer reaches it" if more else ""


def _asked() -> list[Rule]:
    """The rules of outlets, cables, reach, and what they are screwed to."""
    return [rule for name, rule in RULES.items() if name.startswith(ASKED) and name not in TRIED]


def _broken(wall: Wall, rule: Rule) -> list[Finding]:
    """What must be mended by that rule."""
    return [item for item in rule.find(wall) if item.severity in MUST]


def _unheard(wall: Wall) -> set[str]:
    """The boxes that no seat's remote reaches."""
    if repeater(wall):
        return set()
    found = beams(wall)
    return {one.device for one in found} - {one.device for one in found if not one.stopped}
