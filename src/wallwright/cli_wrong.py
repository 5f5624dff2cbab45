"""What a command line got wrong, in a sentence that says what would do."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from typing import Any, cast

from cyclopts import CycloptsError
from cyclopts.exceptions import MissingArgumentError, UnusedCliTokensError


def wrong(problem: CycloptsError) -> str:
    """The sentence for a command line that cannot be taken."""
    command = " ".join(("wallwright", *(problem.command_chain or ())))
    more = f"; `{command} --help` says more"
    target = cast("Callable[..., Any] | None", problem.target)  # pyright: ignore[reportUnknownMemberType]
    if isinstance(problem, MissingArgumentError) and problem.argument and target:
        field = problem.argument.field_info
        name = field.name.upper() if field.is_positional else problem.argument.name
        bare = any(token.keyword for token in problem.argument.tokens) or problem.keyword
        says = "has nothing after it" if bare and not field.is_positional else "is missing"
        return (
            f"{command}: {name} {says}, {_means(target, field.name)}: write {command} {_usage(target)}{more}"
        )
    if isinstance(problem, UnusedCliTokensError) and problem.unused_tokens:
        left, many = " ".join(problem.unused_tokens), len(problem.unused_tokens) > 1
        return f"{command}: {left} {'are' if many else 'is'} more than it takes: leave {'them' if many else 'it'} out{more}"
    return str(problem)


def _means(command: Callable[..., Any], name: str) -> str:
    """What an argument is, by the command's own description; its name where that says nothing."""
    found = re.search(rf"^\s+{name}: (.+?)(?: \(|[.;]|$)", command.__doc__ or "", re.MULTILINE)
    if found is None:
        return name
    said = found[1]
    return said if said[:2].isupper() else said[0].lower() + said[1:]


def _usage(command: Callable[..., Any]) -> str:
    """Everything that the command cannot do without, in its order."""
    needed = [
        p for p in inspect.signature(command).parameters.values() if p.default is inspect.Parameter.empty
    ]
    named = inspect.Parameter.KEYWORD_ONLY
    return " ".join(
        f"--{p.name.replace('_', '-')} {p.name.upper()}" if p.kind == named else p.name.upper()
        for p in needed
    )
