"""Questions answered here, by a pool, and by a pool whose processes die: none lost, the failing one named."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from wallwright.job.problem import fail
from wallwright.tower.batch import A_BATCH, Batch, Failed, answer_all, answers, batches, failures, here, pool


@dataclass(frozen=True)
class Sum:
    key: str
    value: int
    mark: str = ""


def double(ask: Sum) -> int:
    if ask.value < 0:
        raise fail("value", ask.value, "must be 0 or more", "sum")
    if ask.value == 13:
        raise ZeroDivisionError("odd")
    if ask.value == 14:
        raise ValueError("design.screen: no room")
    return 2 * ask.value


def test_answers_come_by_key_in_the_order_asked_and_each_once() -> None:
    asked: list[int] = []

    def send(work: Any, todo: Sequence[Batch[Sum]]) -> Iterator[Any]:
        for batch in reversed(todo):  # as they come, not as they went
            asked.extend(ask.value for ask in batch.asks)
            yield batch, answer_all(work, batch)

    asks = [Sum("a", 3), Sum("b", 4), Sum("a", 3), Sum("c", 5)]
    seen: list[tuple[int, int]] = []
    found = answers(asks, double, send, lambda done, of: seen.append((done, of)))
    assert list(found.items()) == [("a", 6), ("b", 8), ("c", 10)]
    assert sorted(asked) == [3, 4, 5]
    assert seen[-1] == (3, 3)


def test_a_failing_question_is_named_and_stops_no_other() -> None:
    found = answers([Sum("a", 1), Sum("b", -1), Sum("c", 13), Sum("d", 14), Sum("e", 2)], double, here)
    assert (found["a"], found["e"]) == (2, 4)
    assert found["b"] == Failed("b", "sum: value = -1: must be 0 or more")
    assert found["c"] == Failed("c", "a fault of the program: ZeroDivisionError: odd")
    assert found["d"] == Failed("d", "design.screen: no room")
    assert [one.key for one in failures(found.values())] == ["b", "c", "d"]


@pytest.mark.parametrize("count", [0, 1, 5, 100, 1000])
def test_batches_hold_every_question_once_and_are_small(count: int) -> None:
    asks = [Sum(str(i), i) for i in range(count)]
    made = batches(asks)
    assert [ask for batch in made for ask in batch.asks] == asks
    assert all(0 < len(batch.asks) <= A_BATCH for batch in made)


def deadly(ask: Sum) -> int:
    """Dies for one question always, and for another the first time alone."""
    first = Path(ask.mark)
    if ask.value == 7 and not first.exists():
        first.touch()
        os._exit(1)
    if ask.value == 5:
        os._exit(1)
    return 2 * ask.value


def test_a_process_that_dies_loses_nothing_and_the_question_that_kills_is_named(tmp_path: Path) -> None:
    asks = [Sum(str(i), i, str(tmp_path / "first")) for i in range(3, 8)]
    together = [Batch(tuple(asks[i : i + 2])) for i in range(0, 5, 2)]  # what kills is beside what does not
    with pool(2) as send:
        found = {
            ask.key: one
            for batch, told in send(deadly, together)
            for ask, one in zip(batch.asks, told, strict=True)
        }
    assert found["5"] == Failed(
        "5", "the process that worked on it died; it may need more memory than there is"
    )
    assert {key: value for key, value in found.items() if key != "5"} == {
        str(i): 2 * i for i in range(3, 8) if i != 5
    }
