"""The rules of the trade, one file a trade. `check(wall)` runs them all."""

from wallwright.rules.check import check, exit_code, gate
from wallwright.rules.registry import RULES

__all__ = ["RULES", "check", "exit_code", "gate"]
