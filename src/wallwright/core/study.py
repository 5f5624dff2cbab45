"""A study: a slow question whose answer is kept by the value of the question, so that the same question costs nothing twice."""

from __future__ import annotations

import hashlib
import math
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import update_wrapper
from threading import Lock
from typing import Any, Generic, TypeVar, cast

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")

KEPT = 64
"""Answers kept of one study; the one not asked for longest goes first."""


def digest(value: Any) -> str:
    """A name for a value of the document: equal values have the same, on every machine and in every process.

    For frozen dataclasses, tuples, texts, numbers and None; TypeError for anything else, and for a number that is not finite.
    """
    return hashlib.sha256(_written(value).encode()).hexdigest()


def _written(value: Any) -> str:
    if value is None or isinstance(value, (bool, int, str)):
        return repr(value)
    if isinstance(value, float) and math.isfinite(value):
        return repr(value)
    if isinstance(value, tuple):
        return f"({','.join(_written(item) for item in cast('tuple[Any, ...]', value))})"
    if is_dataclass(value) and not isinstance(value, type):
        inside = ",".join(f"{item.name}={_written(getattr(value, item.name))}" for item in fields(value))
        return f"{type(value).__qualname__}({inside})"
    raise TypeError(f"a question cannot hold {value!r}")


class Study(Generic[Asked, Answer]):
    """A pure function of one question that keeps its answers. Calls may come from several threads."""

    def __init__(self, answer: Callable[[Asked], Answer]) -> None:
        self._answer = answer
        self._kept: OrderedDict[str, Answer] = OrderedDict()
        self._lock = Lock()
        update_wrapper(self, answer)

    def __call__(self, question: Asked) -> Answer:
        """The answer, kept or worked out now. Two threads that ask at once may both work; the answers are equal."""
        name = digest(question)
        with self._lock:
            if name in self._kept:
                self._kept.move_to_end(name)
                return self._kept[name]
        found = self._answer(question)
        with self._lock:
            self._kept[name] = found
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        return found

    def known(self, question: Asked) -> Answer | None:
        """The answer if it is kept already: what a page shows at once, before it asks for the rest."""
        with self._lock:
            return self._kept.get(digest(question))


def study(answer: Callable[[Asked], Answer]) -> Study[Asked, Answer]:
    """Make a study of a slow pure function of one question."""
    return Study(answer)
