"""Plain STEP text (ISO 10303-21): entities in a fixed order, names that always give the same identifiers."""

from __future__ import annotations

from uuid import NAMESPACE_URL, uuid5

_SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"


def global_id(name: str) -> str:
    """IFC's 22-letter form of the UUID that a name always gives (buildingSMART's base 64)."""
    number = uuid5(NAMESPACE_URL, name).int
    letters: list[str] = []
    for _ in range(22):
        number, rest = divmod(number, 64)
        letters.append(_SIGNS[rest])
    return "".join(reversed(letters))


def quoted(text: str) -> str:
    r"""A text as STEP writes it: quotes and backslashes doubled, letters outside ASCII as \\X2\\ or \\X4\\ codes."""
    out: list[str] = []
    for c in text:
        if c in "'\\":
            out.append(c * 2)
        elif 32 <= ord(c) < 127:
            out.append(c)
        else:
            out.append(f"\\X2\\{ord(c):04X}\\X0\\" if ord(c) < 0x10000 else f"\\X4\\{ord(c):08X}\\X0\\")
    return f"'{''.join(out)}'"


class StepFile:
    """STEP lines as they are written; `add` answers the number of the new one."""

    def __init__(self, job: str) -> None:
        self.job = job
        self.lines: list[str] = []

    def add(self, entity: str, *values: str) -> str:
        """Write an entity; its number."""
        self.lines.append(f"#{len(self.lines) + 1}={entity}({','.join(values)});")
        return f"#{len(self.lines)}"

    def root(self, name: str) -> str:
        """The identifier of what has that name in this job."""
        return quoted(global_id(f"wallwright/{self.job}/{name}"))

    def point(self, *xyz: float) -> str:
        """A point [mm]."""
        return self.add("IFCCARTESIANPOINT", listed(*(real(v) for v in xyz)))

    def direction(self, *xyz: float) -> str:
        """A direction."""
        return self.add("IFCDIRECTION", listed(*(real(v) for v in xyz)))


def real(value: float) -> str:
    """A number as STEP writes it, always with its point."""
    text = f"{value:.6f}".rstrip("0")
    return "0." if text in ("-0.", "") else text


def listed(*values: str) -> str:
    """Values in brackets."""
    return f"({','.join(values)})"
