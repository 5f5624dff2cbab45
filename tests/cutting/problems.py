"""Random cutting problems for the property tests."""

from __future__ import annotations

import random

from hypothesis import strategies as st

from wallwright.cutting.model import Piece, Problem, Saw, Sheet


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """Up to 24 parts of up to two materials, one or two sizes of sheet, stock perhaps short."""
    saw = Saw(
        kerf=draw(st.sampled_from([0, 1, 32, 40])),
        trim=draw(st.sampled_from([0, 10, 50, 100])),
        stages=draw(st.sampled_from(["any", 2, 3])),
        least_offcut=draw(st.sampled_from([0, 1, 500])),
    )
    room_x, room_y = draw(st.integers(300, 3000)), draw(st.integers(300, 3000))
    sheets: list[Sheet] = []
    pieces: list[Piece] = []
    for material in draw(st.sampled_from([["a"], ["a", "b"]])):
        for kind in range(draw(st.integers(1, 2))):
            stock = draw(st.sampled_from([None, None, 1, 3]))
            grow = kind * draw(st.integers(0, 2000))
            length, width = room_x + grow + 2 * saw.trim, room_y + grow + 2 * saw.trim
            sheets.append(Sheet(f"s{kind}", material, length, width, draw(st.integers(0, 50)) / 4, stock))
        side = min(room_x, room_y)
        for i in range(draw(st.integers(1, 8))):
            length, width = draw(st.integers(1, side)), draw(st.integers(1, side))
            grain = draw(st.sampled_from(["none", "length", "width"]))
            pieces.append(Piece(f"p{i}", material, length, width, draw(st.integers(1, 3)), grain))
    return Problem(tuple(pieces), tuple(sheets), saw)


def broken_sheets(seed: int, count: int, saw: Saw, length: int = 24400, width: int = 12200) -> Problem:
    """Parts made by sawing ``count`` whole sheets at random: by construction they fit in that many."""
    rng = random.Random(seed)
    pieces: list[Piece] = []
    for _ in range(count):
        panels = [(length - 2 * saw.trim, width - 2 * saw.trim)]
        for _ in range(rng.randint(2, 7)):
            panels.sort(key=lambda p: p[0] * p[1])
            x, y = panels.pop()
            if x >= y:
                at = rng.randint(x // 4, x // 2)
                panels += [(at, y), (x - at - saw.kerf, y)]
            else:
                at = rng.randint(y // 4, y // 2)
                panels += [(x, at), (x, y - at - saw.kerf)]
        pieces += [Piece(f"p{len(pieces) + i}", "ply", x, y) for i, (x, y) in enumerate(panels)]
    rng.shuffle(pieces)
    return Problem(tuple(pieces), (Sheet("8x4", "ply", length, width, 1.0),), saw)
