"""Boards with their facing as they are built in, and the names of the library that a design may use."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from functools import lru_cache

from wallwright.library import load

BACK = "ply9"
DRAWER = "ply12"
CLEAT = "ply18"
WALL_SHELF = "ply25"
CARCASS = "ply18"
SPRAY_BOARD = "mdf18"
FRONT_FINISH = "laminate_oak"
GLASS_FINISH = "glass_smoked"
CLOTH_FINISH = "cloth_grey"
BATTEN = "batten"
"""Timber batten: bought by the metre, no sheet of the library."""
MOULDING = "moulding"
"""Profile bought by the metre, no sheet of the library."""
BENDING = "ply_flex8"
"""Bending ply, that lines an arch."""
KERFED = "mdf12"
"""Board that is kerfed to line an arch."""
NOGGING = "nogging"
"""Timber between two studs: bought by the metre, no sheet of the library."""
GLASS = "glass"
"""Glass leaf: ordered to size, no sheet of the library."""


@dataclass(frozen=True, slots=True)
class Stock:
    """What a part is made of: board and facing, whole thickness [mm], mass [kg/m²], whether its figure has a direction."""

    board: str
    finish: str
    thickness: float
    mass_per_m2: float
    grain: bool


@lru_cache(maxsize=256)
def stock(board: str, finish: str = "") -> Stock:
    """A board faced alike on both sides (faced on one side it bows); with stone, tile, mirror and the like on one only, for their back
    cannot be faced alike. Glass is its own facing.

    Raises ValueError where the library lacks one of the two.
    """
    face = load.finishes()[known_finish(finish, "finish")] if finish else None
    if board == GLASS:
        if face is None:
            raise ValueError("a glass leaf needs the finish that says which glass")
        return Stock(board, finish, face.thickness, face.mass, False)
    row = load.boards()[known_board(board, "board")]
    faces = 1 if face and load.face_of(face.key).one_sided else 2
    thickness = row.thickness + (faces * face.thickness if face else 0.0)
    mass = row.thickness * row.density / 1000 + (faces * face.mass if face else 0.0)
    return Stock(board, finish, thickness, mass, row.grain or (face is not None and face.kind == "veneer"))


def known_board(key: str, field: str) -> str:
    """The key if the library has that board. ValueError names the field, the value and the nearest that there are."""
    return _known(key, load.boards(), field, "board")


def known_finish(key: str, field: str) -> str:
    """The key if the library has that finish. ValueError names the field, the value and the nearest that there are."""
    return _known(key, load.finishes(), field, "finish")


def _known(key: str, there: Iterable[str], field: str, what: str) -> str:
    if key in there:
        return key
    names = tuple(there)
    near = get_close_matches(key, names, 3) or names[:6]
    raise ValueError(f"{field}: no {what} {key!r} in the library; there is {', '.join(near)}")


@lru_cache(maxsize=64)
def banded(board: str, finish: str) -> bool:
    """Whether the visible edges of a board so faced take a band: laminate and veneer do, and boards that come faced.

    The edges of a sprayed or painted board are filled, sealed and sprayed with its face; stone is cut flush.
    """
    if not finish:
        return board != GLASS
    return load.finishes()[finish].kind in ("laminate", "veneer")


@lru_cache(maxsize=64)
def sheet_size(board: str, trim: float) -> tuple[float, float]:
    """The largest part (length, width) [mm] that the board's first sheet gives once its edges are trimmed."""
    length, width = load.boards()[board].sheets[0]
    return length - 2 * trim, width - 2 * trim
