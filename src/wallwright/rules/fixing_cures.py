"""What more than a longer unit helps fixings that are too few: by what hangs on them and what they go into."""

from __future__ import annotations

from wallwright.carcass.record import UnitBox
from wallwright.structure.record import FixingCheck
from wallwright.structure.wall import FRAMED

BEYOND = "where none of these passes, an engineer designs the fixing; nothing hangs until then"


def one_line(check: FixingCheck, unit: UnitBox | None, *, framed: bool) -> str:
    """What helps where all its holes stand in one upright line, about which it would swing."""
    if framed:
        return "let a backer into the wall behind it, or move it over two studs"
    if check.ref == "screen":
        return "take a mount whose plate has two lines of holes: about one it would swing"
    if unit is not None and unit.tall:
        return (
            "screw it to a neighbour that is fixed, or widen it: about its one line of holes it would swing"
        )
    return "widen it: there is room for one line of holes, and it would swing about that"


def too_few(check: FixingCheck, unit: UnitBox | None, substrate: str) -> list[str]:
    """What helps where more fixings are asked for than have room."""
    asks = f"it asks for {check.needed} fixings and {check.count} have room"
    if check.ref == "screen":
        return [
            f"{asks}: the plate sets where they go, so {_into(check, substrate)}",
            "hang a lighter screen",
            BEYOND,
        ]
    if unit is not None and unit.tall:
        return [f"{asks}: {_into(check, substrate)}", "screw it to a neighbour that is fixed", BEYOND]
    return [f"{asks}: make it longer or lighter"]


def rods() -> list[str]:
    """What helps hidden rods: what bends is the rod or the wall about it, and neither gets better in a longer shelf."""
    return [
        "use thicker rods (structure.rod_diameter) in a board that takes them",
        "make the shelf shallower or lighter",
        "carry it on brackets that bear on the wall below it",
        BEYOND,
    ]


def _into(check: FixingCheck, substrate: str) -> str:
    """What makes each fixing carry more in this base, or finds room for more of them."""
    base = check.base or substrate
    if base in FRAMED and not check.on:
        return (
            "let a backer into the wall behind it, screwed to two studs or more, and use every hole of the plate that falls on it"
            if check.backer is None
            else "let in a thicker backer over one stud more on each side, and use every hole of the plate that falls on it"
        )
    return (
        "use a stronger kind of fixing (thicker, deeper, or bonded in with resin) that its maker rates for this wall, in every hole "
        "the plate has; or screw a backing board over more of the wall, with its own fixings, and hang it on that"
    )
