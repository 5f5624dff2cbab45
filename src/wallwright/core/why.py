"""Why a number is what it is: its inputs, the formula, the source and how sure that is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import overload

from wallwright.core.limit import Certainty


@dataclass(frozen=True, slots=True)
class Given:
    """One input of a computed value."""

    name: str
    value: float | str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Why:
    """The working behind one value.

    name : dotted, as shown (`screen.centre_height`) · value and unit : the answer · says : the reason in one sentence ·
    formula : as a person would write it, or "" · inputs : what went in · source and certainty : where the rule comes from:
    there is no default, for a wrong source is worse than none · pinned : the designer decided it
    """

    name: str
    value: float | str
    unit: str
    says: str
    formula: str
    inputs: tuple[Given, ...]
    source: str
    certainty: Certainty
    pinned: bool = False


class Later(Sequence[Why]):
    """Working that is written out when somebody first asks for it: of most values nobody does, and the wall is derived at every
    change. It is a pure question put off: what it is made from never changes.
    """

    __slots__ = ("_made", "_make")

    def __init__(self, make: Callable[[], Iterable[Why]]) -> None:
        self._make: Callable[[], Iterable[Why]] | None = make
        self._made: tuple[Why, ...] = ()

    def _all(self) -> tuple[Why, ...]:
        if self._make is not None:
            self._made = tuple(self._make())
            self._make = None
        return self._made

    def __iter__(self) -> Iterator[Why]:
        return iter(self._all())

    def __len__(self) -> int:
        return len(self._all())

    @overload
    def __getitem__(self, index: int) -> Why: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Why, ...]: ...
    def __getitem__(self, index: int | slice) -> Why | tuple[Why, ...]:
        return self._all()[index]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, (Later, tuple)) and self._all() == tuple(other)  # pyright: ignore[reportUnknownArgumentType]

    def __hash__(self) -> int:
        return hash(self._all())

    def __repr__(self) -> str:
        return repr(self._all())

    def __reduce__(self) -> tuple[Callable[[tuple[Why, ...]], tuple[Why, ...]], tuple[tuple[Why, ...]]]:
        """Written out before it goes to another process."""
        return tuple, (self._all(),)


Whys = Sequence[Why]
"""Working of several values: written out, or later."""
