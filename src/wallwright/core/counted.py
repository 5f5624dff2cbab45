"""A number with its thing, in the singular or the plural as the number asks."""

from __future__ import annotations


def counted(number: int, thing: str, many: str = "") -> str:
    """`1 run`, `2 runs`. many : the plural where it is not the word with an s"""
    return f"{number} {thing if number == 1 else many or f'{thing}s'}"
