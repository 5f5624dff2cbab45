"""A server that has just begun and is asked by many at once."""

from __future__ import annotations

import threading
from typing import Any

import pytest

from wallwright.job import edit, read


def test_one_thread_at_a_time_makes_a_reader(monkeypatch: pytest.MonkeyPatch) -> None:
    """Making one parses source, which Python 3.11 cannot do in several threads: SystemError, AST constructor recursion depth mismatch."""
    inside, most, made, start = 0, 0, 0, threading.Barrier(8)
    met = threading.Event()

    class Slow:
        def __init__(self, kind: Any) -> None:
            nonlocal inside, most, made
            inside += 1
            most, made = max(most, inside), made + 1
            met.wait(0.05)  # never set: time for another thread to come in, if it may
            inside -= 1

    monkeypatch.setattr("pydantic.TypeAdapter", Slow)
    read._job_adapter.cache_clear()
    edit._readers.cache_clear()

    def ask() -> None:
        start.wait()
        read.job_adapter()
        edit._readers("set_title")

    threads = [threading.Thread(target=ask) for _ in range(8)]
    try:
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    finally:
        read._job_adapter.cache_clear()
        edit._readers.cache_clear()
    assert most == 1 and made >= 2
