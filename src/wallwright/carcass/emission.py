"""Formaldehyde: which class of board a place asks for by its law, which by who sleeps and plays there, and which is ordered."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.limit import Limits
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.library.load import Emission


@dataclass(frozen=True, slots=True)
class Asked:
    """rules : the rule set whose law is met · most : mg/m³ asked for beside it (0 = nothing more) · why : in words."""

    rules: str
    most: float
    why: str

    def lawful(self, kind: Emission) -> bool:
        """Whether a class meets the law of the place."""
        return self.rules in kind.meets

    def suits(self, kind: Emission) -> bool:
        """Whether it meets the law, and what the room asks beside it."""
        return self.lawful(kind) and (not self.most or kind.most <= self.most)


def asked(job: Job, limits: Limits) -> Asked:
    """What the place asks: its law; half of E1 where somebody sleeps, or where a small child lives."""
    young = limits.value("materials.child_age")
    child = any(person.age is not None and person.age < young for person in job.brief.people)
    bedroom = job.survey.room.kind in ("bedroom", "studio")
    why = " and ".join(
        word
        for word, there in (("a small child lives here", child), ("somebody sleeps here", bedroom))
        if there
    )
    return Asked(job.survey.place.rules, limits.value("materials.emission_low") if why else 0.0, why)


def ordered(job: Job, limits: Limits) -> Emission:
    """The class that is ordered: as decided, else the least strict that suits."""
    pinned, kinds = job.design.finishes.emission, load.emissions()
    if pinned is not None:
        return kinds[pinned]
    need = asked(job, limits)
    return next((kind for kind in kinds.values() if need.suits(kind)), kinds["naf"])


def sold(board: str, need: Asked) -> bool:
    """Whether a board of the library is sold in a class that suits."""
    kinds = load.emissions()
    return any(need.suits(kinds[key]) for key in load.kind_of(board).emissions)
