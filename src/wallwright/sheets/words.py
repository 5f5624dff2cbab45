"""Words for what is drawn: one word a thing on every sheet, names of the library rather than its keys, and plurals."""

from __future__ import annotations

from wallwright.library import load
from wallwright.tables.names import finish_name as finish_name

POINTS: dict[str, str] = {
    "twin_socket": "twin socket",
    "socket": "socket",
    "switched_spur": "switched spur",
    "data": "data outlet",
    "rf": "aerial outlet",
    "conduit": "conduit end",
    "switch": "switch",
    "led_feed": "LED feed",
}
UNITS: dict[str, str] = {
    "open_shelves": "bookcase", "arched_niche": "arched niche", "ledge": "picture ledge", "desk": "drop-flap desk",
}  # fmt: skip
OBSTACLES: dict[str, str] = {"ac": "air conditioner", "data_point": "data outlet"}


def point_words(kind: str) -> str:
    """A kind of point in words."""
    return POINTS.get(kind, kind.replace("_", " "))


def unit_words(kind: str) -> str:
    """A kind of unit in words."""
    return UNITS.get(kind, kind.replace("_", " "))


def obstacle_words(kind: str) -> str:
    """A kind of obstacle in words."""
    return OBSTACLES.get(kind, kind.replace("_", " "))


def board_name(key: str) -> str:
    """A board's name in the library; its key in words where it has none there."""
    return load.boards()[key].name if key in load.boards() else key.replace("_", " ")


def short_board(key: str) -> str:
    """The first words of a board's name, for a table whose next column says how thick it is."""
    return board_name(key).partition(",")[0]


def count(n: int, one: str, many: str = "") -> str:
    """A number with its noun: 1 part, 2 parts."""
    return f"{n} {one if n == 1 else many or one + 's'}"
