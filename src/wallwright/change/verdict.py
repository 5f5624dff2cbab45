"""What is answered to what the site found: accept, tape, adjust or stop, why, and the numbers the next trade works to.

Tape: a photo cannot tell whether it is well; somebody holds a tape to it before it is answered.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.core.finding import EditCall

Answer = Literal["accept", "tape", "adjust", "stop"]
ANSWERS: tuple[Answer, ...] = ("accept", "tape", "adjust", "stop")
"""From the best to the gravest."""


@dataclass(frozen=True, slots=True)
class Number:
    """A new number for a trade. ref : of the thing it is for"""

    trade: str
    ref: str
    says: str
    value: float
    unit: str = "mm"


@dataclass(frozen=True, slots=True)
class Fix:
    """One way out. possible : whether it holds by the rules; why : the reason either way · cost : direct, minor units ·
    opens : the wall is opened again for it
    """

    says: str
    possible: bool
    why: str
    cost: int = 0
    edits: tuple[EditCall, ...] = ()
    opens: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer to one thing. off : by how much it is not as drawn, tolerance : how much may be [mm] · numbers : for the next trades ·
    fixes : ways out, the best first · edits : what is written into the job when it is taken as found · ask : what must be asked once
    """

    ref: str
    what: str
    answer: Answer
    says: str
    off: float
    tolerance: float
    source: str
    numbers: tuple[Number, ...] = ()
    fixes: tuple[Fix, ...] = ()
    edits: tuple[EditCall, ...] = ()
    ask: str = ""


def worst(verdicts: tuple[Verdict, ...]) -> Answer:
    """The gravest answer; accept where there is nothing."""
    gravest: Answer = "accept"
    for one in verdicts:
        if ANSWERS.index(one.answer) > ANSWERS.index(gravest):
            gravest = one.answer
    return gravest
