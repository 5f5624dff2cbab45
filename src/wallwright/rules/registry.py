"""The list of rules: a rule is a small generator over the wall, entered here by its decorator."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from wallwright.core.finding import Finding, Rule
from wallwright.derive import Wall

RuleFunction = Callable[[Wall], Iterator[Finding]]
RULES: dict[str, Rule] = {}
_trying: ContextVar[bool] = ContextVar("trying", default=True)


def tries() -> bool:
    """Whether cures are looked for by trying them on the wall, which takes longer than the rule itself."""
    return _trying.get()


@contextmanager
def untried() -> Generator[None]:
    """For who asks only what stands against a wall, of thousands of them: findings are the same, tried cures are left out."""
    before = _trying.set(False)
    try:
        yield
    finally:
        _trying.reset(before)


def rule(name: str) -> Callable[[RuleFunction], RuleFunction]:
    """Enter a rule under its name; the trade is the part before the dot, what it says is its docstring's first line."""

    def enter(find: RuleFunction) -> RuleFunction:
        if name in RULES:
            raise ValueError(f"two rules are named {name}")
        says = (find.__doc__ or "").strip().splitlines()[0]
        RULES[name] = Rule(name, name.partition(".")[0], says, find)
        return find

    return enter
