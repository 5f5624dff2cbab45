"""Fronts whose grain must run on from one to the next: a matched set is cut from one strip, in its order.

While a plan is searched for, the set is one part with a blade between its members; only at the saw is it parted, by
cuts that no stage limit counts, since they belong to the set and not to the sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wallwright.cutting.model import Piece

END_TO_END = ">"
"""What the name of a set ends in whose members lie one behind the other."""


def members(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The set's parts one by one, in the order they were given."""
    return tuple(p if p.quantity == 1 else replace(p, quantity=1) for p in pieces for _ in range(p.quantity))


def along_width(pieces: Sequence[Piece]) -> bool:
    """Do the members lie side by side (their widths add up)? Otherwise end to end.

    Equal lengths lie side by side: doors in a row with the grain upright, drawer fronts under one another. Where lengths and widths are
    both equal, a name of the set that ends in ``>`` says end to end: drawer fronts in a row whose figure runs along the row.
    """
    if pieces[0].match.endswith(END_TO_END) and len({p.width for p in pieces}) == 1:
        return False
    return len({p.length for p in pieces}) == 1


def whole(pieces: Sequence[Piece], kerf: int) -> Piece:
    """The set as one part.

    Raises:
        ValueError: members that share neither length nor width, or lie differently in the grain.
    """
    first = pieces[0]
    if len({p.grain for p in pieces}) > 1:
        msg = f"match {first.match!r}: its parts differ in grain; a matched set runs one way"
        raise ValueError(msg)
    one = members(pieces)
    blades = (len(one) - 1) * kerf
    if along_width(one):
        length, width = first.length, sum(p.width for p in one) + blades
    elif len({p.width for p in one}) == 1:
        length, width = sum(p.length for p in one) + blades, first.width
    else:
        msg = (
            f"match {first.match!r}: parts cut from one strip must all have one length or all one width; "
            "take the odd one out of the set"
        )
        raise ValueError(msg)
    return Piece(first.match, first.material, length, width, 1, first.grain)


def sets_of(pieces: Sequence[Piece]) -> dict[tuple[str, str], list[Piece]]:
    """Every matched set by material and name."""
    found: dict[tuple[str, str], list[Piece]] = {}
    for piece in pieces:
        if piece.match:
            found.setdefault((piece.material, piece.match), []).append(piece)
    return found
