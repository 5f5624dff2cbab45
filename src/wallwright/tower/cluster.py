"""The work sent to a dask.distributed cluster that is there already: its workers need this program installed, nothing else."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from typing import Any

from wallwright.job.problem import fail
from wallwright.tower.batch import A, Batch, Failed, Q, Send, answer_all

CONNECT = 15.0
"""Seconds to wait for the scheduler to answer."""


@contextmanager
def cluster(address: str) -> Generator[Send[Any, Any]]:
    """A cluster by the address of its scheduler, `tcp://host:8786`.

    What a worker had in hand when it died goes to another one; a question that kills every worker it is given to is named.
    JobError where the scheduler does not answer, has no worker, or the extra `tower` is not installed.
    """
    try:
        from distributed import Client
    except ImportError:
        says = 'needs the extra `tower`: pip install "wallwright[tower]"'
        raise fail("--scheduler", address, says, "tower") from None
    try:
        client: Any = Client(address, timeout=CONNECT, set_as_default=False)
    except (OSError, ValueError, TimeoutError) as problem:
        says = f"does not answer as a scheduler ({str(problem)[:160]}); give the address it printed, as tcp://host:8786"
        raise fail("--scheduler", address, says, "tower") from None
    try:
        if not client.scheduler_info()["workers"]:
            raise fail("--scheduler", address, "has no worker; start one with `dask worker ADDRESS`", "tower")
        yield partial(_send, client)
    finally:
        client.close()


def _send(
    client: Any, work: Callable[[Q], A], todo: Sequence[Batch[Q]]
) -> Iterator[tuple[Batch[Q], list[A | Failed]]]:
    """Batches as they come back; one that killed workers is taken apart, so that only the question at fault is lost."""
    import distributed

    as_completed: Any = distributed.as_completed

    futures: dict[Any, Batch[Q]] = {
        client.submit(answer_all, work, batch, pure=False): batch for batch in todo
    }
    lost: list[Batch[Q]] = []
    for future in as_completed(list(futures), loop=client.loop):
        batch = futures.pop(future)
        try:
            yield batch, future.result()
        except distributed.KilledWorker:
            lost.append(batch)
    for batch in lost:
        yield batch, [_alone(client, work, ask) for ask in batch.asks]


def _alone(client: Any, work: Callable[[Q], A], ask: Q) -> A | Failed:
    from distributed import KilledWorker

    try:
        return client.submit(answer_all, work, Batch((ask,)), pure=False).result()[0]
    except KilledWorker:
        return Failed(ask.key, "every worker that was given it died; it may need more memory than they have")
