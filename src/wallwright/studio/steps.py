"""The steps in the trade's order: what is open in each, what it waits for, and in which room of the page it is worked on.

A step waits for the steps it rests on, as the gates do (`rules.check.gate`): nothing in them must be fixed, the survey is closed,
the screen is chosen. Source: common practice, screen, height, material, look.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from wallwright.core.finding import Finding
from wallwright.derive import Wall
from wallwright.rules.check import MUST
from wallwright.studio.answers import StageOut, Waits

STEPS: tuple[str, ...] = (
    "Brief", "Wall", "Screen", "Heights", "Services", "Storage", "Build", "Materials & money", "Look", "Drawings",
)  # fmt: skip
_STEP_OF = {
    "survey": "Wall", "sight": "Screen", "services": "Services", "storage": "Storage", "carcass": "Build", "structure": "Build",
    "light": "Look", "look": "Look", "money": "Materials & money", "order": "Brief", "screen": "Screen",
}  # fmt: skip
_HEIGHTS = frozenset(
    {
        "sight.height",
        "sight.top_edge",
        "sight.trade_band",
        "sight.console_gap",
        "sight.axis",
        "sight.below_ac",
    }
)
_RESTS_ON = {
    "Brief": (),
    "Wall": (),
    "Screen": ("Wall",),
    "Heights": ("Wall", "Screen"),
    "Services": ("Wall", "Screen", "Heights"),
    "Storage": ("Wall", "Screen"),
    "Build": ("Wall", "Screen", "Heights", "Services", "Storage"),
    "Materials & money": ("Wall", "Screen", "Build"),
    "Look": ("Wall", "Screen", "Build", "Materials & money"),
    "Drawings": STEPS[:-1],
}
"""Boxes in the wall follow from the heights; a carcass is drilled for the wires and divided for what is stored; the look comes last."""
_HERE = {
    "Screen": "Its size and place are also set on the wall, by its frame.", "Heights": "Heights are set here, on the height rod.",
    "Services": "Outlets are also moved on the wall.", "Build": "Sizes and places of the units are also set on the wall.",
    "Drawings": "The sheets are opened and the set is written below.",
}  # fmt: skip
"""What of a step is set on the wall itself."""
_ROOMS = {
    "Brief": ("brief",), "Wall": ("survey",), "Screen": ("design",), "Services": ("design",), "Storage": ("brief",),
    "Build": ("design",), "Materials & money": ("money", "design"), "Look": ("design",),
}  # fmt: skip


def step_of(rule: str) -> str:
    """The step of the trade's order that a rule belongs to."""
    return "Heights" if rule in _HEIGHTS else _STEP_OF.get(rule.partition(".")[0], "Build")


def steps(wall: Wall, findings: Sequence[Finding]) -> list[StageOut]:
    """Every step, in order."""
    must = Counter(step_of(one.rule) for one in findings if one.severity in MUST)
    consider = Counter(step_of(one.rule) for one in findings if one.severity == "consider")
    still = {name: "; ".join(_still(name, wall, must[name])) for name in STEPS}
    return [
        StageOut(
            name=name, must=must[name], consider=consider[name], here=_HERE.get(name, ""), rooms=list(_ROOMS.get(name, ())),
            waits=[Waits(step=other, says=still[other]) for other in _RESTS_ON[name] if still[other]] + _last(name, wall),
        )
        for name in STEPS
    ]  # fmt: skip


def _last(step: str, wall: Wall) -> list[Waits]:
    """What only the drawings, by which things are cut, wait for."""
    if step != "Drawings" or wall.job.survey.finish_complete:
        return []
    return [Waits(step="Wall", says="something will still be added to wall, floor or ceiling")]


def _still(step: str, wall: Wall, must: int) -> Iterator[str]:
    """What a step still lacks before others may rest on it."""
    survey = wall.job.survey
    if step == "Wall":
        if not survey.seats:
            yield "no seat is surveyed"
        if wall.face.assumed:
            yield f"not measured yet: {', '.join(wall.face.assumed)}"
        if not survey.room.floor_finished:
            yield "the floor is not finished, so that heights count from a floor to come"
    if step == "Screen" and wall.job.design.screen.diagonal is None:
        yield "its size is not chosen"
    if must:
        yield f"{must} to fix"
