"""The work sent to a dask.distributed cluster that is there already: its workers need this program installed, nothing else."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import contextmanager, suppress
from functools import partial
from threading import Event, Thread
from typing import Any

from wallwright.job.problem import JobError, fail
from wallwright.tower.batch import A, Batch, Failed, Q, Send, answer_all

CONNECT = 15.0
"""Seconds to wait for the scheduler to answer."""
CLOSE = 5.0
"""And for its good-bye."""
LONELY, LOOK = 60.0, 5.0
"""Seconds that a cluster may be without any worker while there is work, and between two looks."""
ADDRESS = re.compile(r"(?:[a-z]+://)?[^\s/:]+(?::[^\s/:]+)*:\d{1,5}/?")


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
    if not ADDRESS.fullmatch(address):
        raise fail(
            "--scheduler",
            address,
            "must be the address that the scheduler printed, as tcp://host:8786",
            "tower",
        )
    with _quiet():
        try:
            client: Any = Client(address, timeout=CONNECT, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as problem:
            says = f"does not answer as a scheduler ({str(problem)[:160]}); give the address it printed, as tcp://host:8786"
            raise fail("--scheduler", address, says, "tower") from None
        try:
            if not client.scheduler_info()["workers"]:
                raise fail(
                    "--scheduler", address, "has no worker; start one with `dask worker ADDRESS`", "tower"
                )
            yield partial(_send, client)
        finally:
            with suppress(TimeoutError, OSError):  # a scheduler that is gone need not be told
                client.close(timeout=CLOSE)


@contextmanager
def _quiet() -> Generator[None]:
    """What the library logs of a lost connection is told by us, in a sentence; it would stand about it as a traceback."""
    logs = [logging.getLogger(name) for name in ("distributed", "distributed.client")]
    before = [log.level for log in logs]
    for log in logs:
        log.setLevel(logging.CRITICAL + 1)
    try:
        yield
    finally:
        for log, level in zip(logs, before, strict=True):
            log.setLevel(level)


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
    with _watched(client, list(futures)):
        for future in as_completed(list(futures), loop=client.loop):
            batch = futures.pop(future)
            try:
                results = future.result()
            except distributed.KilledWorker:
                lost.append(batch)
            except Exception as problem:
                raise _gone(client, problem) from None
            else:
                yield batch, results
    for batch in lost:
        yield batch, [_alone(client, work, ask) for ask in batch.asks]


@contextmanager
def _watched(client: Any, futures: Sequence[Any]) -> Generator[None]:
    """Questions taken back where the cluster has had no worker for so long: it would wait for one for ever."""
    over = Event()

    def watch() -> None:
        without = 0.0
        while not over.wait(LOOK):
            with suppress(Exception):  # a scheduler that is gone ends the questions by itself
                without = 0.0 if client.scheduler_info()["workers"] else without + LOOK
            if without >= LONELY:
                with suppress(Exception):
                    client.cancel(futures, force=True)
                return

    watcher = Thread(target=watch, daemon=True)
    watcher.start()
    try:
        yield
    finally:
        over.set()
        watcher.join()


def _alone(client: Any, work: Callable[[Q], A], ask: Q) -> A | Failed:
    from distributed import KilledWorker

    try:
        return client.submit(answer_all, work, Batch((ask,)), pure=False).result()[0]
    except KilledWorker:
        return Failed(ask.key, "every worker that was given it died; it may need more memory than they have")
    except Exception as problem:
        raise _gone(client, problem) from None


def _gone(client: Any, problem: BaseException) -> JobError:
    """Why the cluster did not do the work, in a sentence: its scheduler went, or its workers cannot run this program."""
    address = client.scheduler.address if client.scheduler else "scheduler"
    if isinstance(problem, ImportError):
        says = f"its workers do not have this program in the same version ({problem}); install it there"
    elif client.status == "running":
        says = "has no worker left: nothing was written. Start workers with `dask worker ADDRESS`, then this again"
    else:
        says = (
            "was lost in the middle of the work: nothing was written. Start it again, or leave --scheduler out to work here "
            f"({type(problem).__name__})"
        )
    return fail("--scheduler", address, says, "tower")
