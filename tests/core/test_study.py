"""A study keeps its answers by the value of the question."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from wallwright.core.study import KEPT, digest, study


@dataclass(frozen=True)
class Question:
    number: float
    names: tuple[str, ...] = ()


def test_equal_questions_are_answered_once() -> None:
    asked: list[float] = []

    @study
    def double(question: Question) -> float:
        asked.append(question.number)
        return question.number * 2

    assert double.known(Question(2.0)) is None
    assert double(Question(2.0)) == 4
    assert double(Question(2.0)) == 4
    assert double.known(Question(2.0)) == 4
    assert asked == [2.0]
    assert double(Question(2.0, ("a",))) == 4
    assert asked == [2.0, 2.0]


def test_the_oldest_answer_goes_first() -> None:
    asked: list[float] = []

    @study
    def same(question: Question) -> float:
        asked.append(question.number)
        return question.number

    for i in range(KEPT + 3):
        same(Question(float(i)))
        same(Question(1.0))  # asked for all along: it stays
    assert same.known(Question(0.0)) is None
    assert asked.count(1.0) == 1


def test_a_digest_tells_values_apart() -> None:
    values = [
        None,
        1,
        1.0,
        "1",
        True,
        (1,),
        ((1,),),
        ("a", "b"),
        ("a,b",),
        Question(1.0),
        Question(1.0, ("",)),
    ]
    assert len({digest(value) for value in values}) == len(values)
    assert digest(Question(0.1)) == digest(Question(0.1))
    for odd in ([1], float("nan"), object()):
        with pytest.raises(TypeError):
            digest(odd)
