"""Answers that are written out when somebody first asks for them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Generic, TypeVar, overload

T = TypeVar("T", covariant=True)


class Later(Sequence[T], Generic[T]):
    """Working, or a plan, that is written out when somebody first asks for it: of most nobody does, and the wall is derived at every
    change. It is a pure question put off: what it is made from never changes.
    """

    __slots__ = ("_made", "_make")

    def __init__(self, make: Callable[[], Iterable[T]]) -> None:
        self._make: Callable[[], Iterable[T]] | None = make
        self._made: tuple[T, ...] = ()

    def _all(self) -> tuple[T, ...]:
        if self._make is not None:
            self._made = tuple(self._make())
            self._make = None
        return self._made

    def __iter__(self) -> Iterator[T]:
        return iter(self._all())

    def __len__(self) -> int:
        return len(self._all())

    @overload
    def __getitem__(self, index: int) -> T: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[T, ...]: ...
    def __getitem__(self, index: int | slice) -> T | tuple[T, ...]:
        return self._all()[index]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, (Later, tuple)) and self._all() == tuple(other)  # pyright: ignore[reportUnknownArgumentType]

    def __hash__(self) -> int:
        return hash(self._all())

    def __repr__(self) -> str:
        return repr(self._all())

    def __reduce__(self) -> tuple[Callable[[tuple[T, ...]], tuple[T, ...]], tuple[tuple[T, ...]]]:
        """Written out before it goes to another process."""
        return tuple, (self._all(),)
