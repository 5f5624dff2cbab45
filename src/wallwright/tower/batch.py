"""Many questions answered by many processes: each question by itself, a failing one named, none lost with a process.

`answers` is the whole of it: questions in, answers by key out, whoever does the work: this process, a pool of processes, or a
cluster that is there already (`cluster.py`).
"""

from __future__ import annotations

import os
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing import get_context
from typing import Any, Generic, Protocol, TypeVar

from wallwright.job.problem import JobError

FEW = 4
"""So few questions are answered here: starting processes takes longer."""
A_BATCH = 8
"""Questions sent at once at most: enough to share a derived series, few enough to show progress and to lose little."""
BREAKS = 2
"""After so many processes have died under it, the rest is answered batch by batch, so that the question that kills them is known."""


class Asked(Protocol):
    """A question with a key of its own."""

    @property
    def key(self) -> str:
        """Its key."""
        ...


Q = TypeVar("Q", bound=Asked)
A = TypeVar("A")


@dataclass(frozen=True, slots=True)
class Failed:
    """A question that could not be answered, and why, in a sentence."""

    key: str
    says: str


@dataclass(frozen=True, eq=False)
class Batch(Generic[Q]):
    """Questions that go together."""

    asks: tuple[Q, ...]


Tell = Callable[[int, int], object]
"""Called with how many questions are answered, and of how many."""
Send = Callable[[Callable[[Q], A], Sequence[Batch[Q]]], Iterator[tuple[Batch[Q], list[A | Failed]]]]
"""Whoever does the work: batches in, each with its answers out, as they come."""


def answers(
    asks: Sequence[Q], work: Callable[[Q], A], send: Send[Q, A], tell: Tell | None = None
) -> dict[str, A | Failed]:
    """Every question's answer by key, in the order asked; those of one key are asked once."""
    once = list({ask.key: ask for ask in asks}.values())
    found: dict[str, A | Failed] = {}
    for batch, results in send(work, batches(once)):
        found |= {ask.key: result for ask, result in zip(batch.asks, results, strict=True)}
        if tell:
            tell(len(found), len(once))
    return {ask.key: found[ask.key] for ask in once}


def batches(asks: Sequence[Q]) -> list[Batch[Q]]:
    """The questions in batches, neighbours together: at most so many, and never fewer batches than keep some workers busy."""
    size = max(1, min(A_BATCH, len(asks) // 16))
    return [Batch(tuple(asks[i : i + size])) for i in range(0, len(asks), size)]


def answer_all(work: Callable[[Q], A], batch: Batch[Q]) -> list[A | Failed]:
    """The batch answered here, in the process that was given it; a question that fails is told and stops no other."""
    out: list[A | Failed] = []
    for ask in batch.asks:
        try:
            out.append(work(ask))
        except JobError as problem:
            out.append(Failed(ask.key, "; ".join(f"{problem.name}: {one}" for one in problem.problems[:3])))
        except (ValueError, KeyError) as problem:
            out.append(Failed(ask.key, str(problem.args[0]) if problem.args else str(problem)))
        except (
            Exception
        ) as problem:  # a fault of ours in one wall: the others are still made, and this one is named
            out.append(Failed(ask.key, f"a fault of the program: {type(problem).__name__}: {problem}"))
    return out


def here(work: Callable[[Q], A], todo: Sequence[Batch[Q]]) -> Iterator[tuple[Batch[Q], list[A | Failed]]]:
    """All in this process, one by one."""
    for batch in todo:
        yield batch, answer_all(work, batch)


@contextmanager
def pool(workers: int) -> Generator[Send[Any, Any]]:
    """A pool of processes of this machine, started when there is enough to do and kept until the end; 0 = one for each processor, 1 =
    all in this process.
    """
    count = workers or _processors()
    kept: list[ProcessPoolExecutor] = []

    def send(work: Callable[[Q], A], todo: Sequence[Batch[Q]]) -> Iterator[tuple[Batch[Q], list[A | Failed]]]:
        if count <= 1 or sum(len(batch.asks) for batch in todo) <= FEW:
            yield from here(work, todo)
            return
        left = list(todo)
        for _ in range(BREAKS):
            if not kept:
                kept.append(ProcessPoolExecutor(count, mp_context=get_context("spawn")))
            for done in _pooled(kept[0], work, left):
                left.remove(done[0])
                yield done
            if not left:
                return
            kept.pop().shutdown()
        yield from _one_by_one(work, left)

    try:
        yield send
    finally:
        for executor in kept:
            executor.shutdown(cancel_futures=True)


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _pooled(
    executor: ProcessPoolExecutor, work: Callable[[Q], A], todo: Sequence[Batch[Q]]
) -> Iterator[tuple[Batch[Q], list[A | Failed]]]:
    """Batches answered by a pool, as they come; those that are still out when a process dies do not come."""
    waiting: dict[Future[list[A | Failed]], Batch[Q]] = {}
    with suppress(BrokenProcessPool):
        for batch in todo:
            waiting[executor.submit(answer_all, work, batch)] = batch
    while waiting:
        done, _ = wait(waiting, return_when=FIRST_COMPLETED)
        for future in done:
            batch = waiting.pop(future)
            with suppress(BrokenProcessPool):
                yield batch, future.result()


def _one_by_one(
    work: Callable[[Q], A], todo: Sequence[Batch[Q]]
) -> Iterator[tuple[Batch[Q], list[A | Failed]]]:
    """One batch after another in one process; of a batch that kills it, each question in a process of its own."""
    left = list(todo)
    while left:
        with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as executor:
            while left:
                done = next(_pooled(executor, work, left[:1]), None)
                if done is None:
                    break
                left.pop(0)
                yield done
        if left:
            killing = left.pop(0)
            yield killing, [_alone(work, ask) for ask in killing.asks]


def _alone(work: Callable[[Q], A], ask: Q) -> A | Failed:
    """One question in a process of its own: where that dies twice, it is this question that kills it."""
    for _ in range(BREAKS):
        with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as executor:
            for _batch, results in _pooled(executor, work, [Batch((ask,))]):
                return results[0]
    return Failed(ask.key, "the process that worked on it died; it may need more memory than there is")


def failures(found: Iterable[Any]) -> list[Failed]:
    """Those that could not be answered."""
    return [one for one in found if isinstance(one, Failed)]
