"""What is wrong with a job document: the field, the value found there, and what would do."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

LONGEST_SHOWN = 80


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong. field : its path (`survey.obstacles[2].width`) · value : as found, shortened · says : what would do."""

    field: str
    value: str
    says: str

    def __str__(self) -> str:
        """One line for a person."""
        return f"{self.field} = {self.value}: {self.says}" if self.value else f"{self.field}: {self.says}"


class JobError(ValueError):
    """A job that cannot be read or an edit that cannot be made, with every problem found."""

    def __init__(self, problems: Iterable[Problem], name: str = "job") -> None:
        self.problems = tuple(problems)
        self.name = name
        super().__init__("\n".join(f"{name}: {problem}" for problem in self.problems))


def fail(field: str, value: object, says: str, name: str = "job") -> JobError:
    """The error of a single problem."""
    return JobError((Problem(field, shown(value), says),), name)


def shown(value: object) -> str:
    """A value as it stands in the file, shortened so that a whole page never lands in a message."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if (
        isinstance(value, int) and abs(value) >= 10**LONGEST_SHOWN
    ):  # Python itself refuses to print the longest
        return f"a whole number of {value.bit_length()} bits"
    text = repr(value)
    return text if len(text) <= LONGEST_SHOWN else f"{text[: LONGEST_SHOWN - 1]}…"


def nearest(word: str, known: Iterable[str]) -> str:
    """` Did you mean 'width'?` where a known word is near, else the known words themselves."""
    words = sorted(set(known))
    near = get_close_matches(word, words, n=1, cutoff=0.6)
    if near:
        return f"did you mean {near[0]!r}?"
    some = ", ".join(words[:24])
    return f"known here: {some}{' …' if len(words) > 24 else ''}" if words else "nothing is known here"
