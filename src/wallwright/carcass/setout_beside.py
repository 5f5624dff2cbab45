"""Setting-out of what finds its place beside or over the screen: lofts, niches, desks, shelves and picture ledges."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from wallwright.carcass import build, niche, room, stock
from wallwright.carcass.bays import carcass_finish
from wallwright.carcass.ground import LEAST, Ground, Sized, floor, front_finish, own_board, pin
from wallwright.carcass.record import UnitBox
from wallwright.core.shape import Box
from wallwright.job.design import Unit

USES = {
    "shelf": {
        "x": ("panel_margin", "tower_to_screen", "obstacle_gap"),
        "z": ("shelf_over_screen", "shelf_pitch"),
        "width": ("shelf_width", "shelf_width_low"),
        "height": (),
        "depth": ("shelf_depth",),
    },
    "ledge": {
        "x": ("panel_margin", "tower_to_screen", "obstacle_gap"),
        "z": ("shelf_over_screen", "shelf_pitch"),
        "width": ("shelf_width", "shelf_width_low"),
        "height": ("ledge_lip",),
        "depth": ("ledge_depth",),
    },
    "loft": {
        "x": ("unit_gap", "scribe", "console_ratio"),
        "z": ("top_filler", "loft_over_screen"),
        "width": ("unit_gap", "console_ratio"),
        "height": ("loft_height", "loft_height_low", "loft_over_screen"),
        "depth": ("tower_depth",),
    },
    "niche": {
        "x": ("niche_gap", "tower_to_screen"),
        "z": ("niche_gap",),
        "width": ("niche_gap", "display_width"),
        "height": ("niche_gap", "display_height"),
        "depth": ("niche_depth", "display_depth"),
    },
    "arched_niche": {
        "x": ("tower_to_screen", "obstacle_gap"),
        "z": ("top_filler",),
        "width": ("display_width",),
        "height": ("display_height",),
        "depth": ("display_depth",),
    },
    "desk": {
        "x": ("tower_to_screen", "obstacle_gap"),
        "z": ("writing_height",),
        "width": ("desk_width",),
        "height": ("desk_height",),
        "depth": ("desk_depth",),
    },
}
"""The limits that each derived measure rests on."""


def _side_room(unit: Unit, z: float, top: float, made: list[UnitBox], ground: Ground) -> tuple[float, float]:
    """The stretch beside the screen on the unit's side, clear of what stands there between two heights."""
    frame, face = ground.frame, ground.face
    margin = ground.limit("panel_margin") if ground.job.design.panels else ground.limit("tower_to_screen")
    taken = [
        item.box
        for item in made
        if item.cabinet and item.kind != "loft" and item.box.top > z and item.box.z < top
    ]
    wide = [
        box for box in taken if box.x <= frame.centre[0] <= box.right
    ]  # a console below the screen is not beside it
    beside = [box for box in taken if box not in wide]
    low, high = room.free_span(
        ground.scribe, face.width - ground.scribe, z, top, frame.centre[0], ground.stands + beside, ground.limit("obstacle_gap")
    )  # fmt: skip
    if unit.side == "left":
        return low, min([frame.x - margin, *(box.x for box in wide)])
    return max([frame.right + margin, *(box.right for box in wide)]), high


def shelf(unit: Unit, k: int, made: list[UnitBox], ground: Ground) -> Sized:
    """A wall shelf or ledge beside the screen where there is room, else above it; the next one stands above the last."""
    frame, face = ground.frame, ground.face
    ledge = unit.kind == "ledge"
    height = pin(unit.height, _shelf_height(unit, ground))
    wanted = pin(unit.width, ground.limit("shelf_width"))
    margin = ground.limit("panel_margin") if ground.job.design.panels else ground.limit("tower_to_screen")
    beside = [item.box for item in made if item.box.top > frame.z and item.tall]
    low, high = room.free_span(
        ground.scribe, face.width - ground.scribe, frame.z, frame.top, frame.centre[0], ground.stands + beside,
        ground.limit("obstacle_gap"),
    )  # fmt: skip
    right = unit.side != "left"
    span = (frame.right + margin, high) if right else (low, frame.x - margin)
    least = unit.width.mm if unit.width else ground.limit("shelf_width_low")
    if span[1] - span[0] >= least:
        width = min(wanted, floor(span[1] - span[0]))
        x, z = (span[0] + span[1] - width) / 2, frame.centre[1] - height / 2
        where = f"To the {'right' if right else 'left'} of the screen, level with its middle."
    else:
        width = max(min(wanted, floor(high - low)), min(wanted, LEAST))
        x, z = frame.centre[0] - width / 2, frame.top + ground.limit("shelf_over_screen")
        where = f"{ground.limit('shelf_over_screen'):g} mm above the screen: beside it there is no room."
    z += k * ground.limit("shelf_pitch")
    box = Box(pin(unit.x, x), pin(unit.z, z), width, height)
    says = {"x": where, "z": where, "width": "The usual width, or what there is room for.",
            "height": "The board and the strip before it." if ledge else "The board's thickness.",
            "depth": "The usual depth of a picture ledge." if ledge else "The usual depth of a wall shelf."}  # fmt: skip
    return Sized(box, pin(unit.depth, ground.limit("ledge_depth" if ledge else "shelf_depth")), says)


def _shelf_height(unit: Unit, ground: Ground) -> float:
    """Over all: board, lip or strip, two boards or a torsion box [mm]."""
    of = stock.stock(own_board(unit, ground), front_finish(unit, ground))
    if unit.kind == "ledge":
        return of.thickness + pin(unit.lip, ground.limit("ledge_lip"))
    return build.over_all(
        unit.shelf_build or "plain", of, pin(unit.lip, ground.limit("shelf_lip")), ground.limits
    )


def loft(unit: Unit, k: int, made: list[UnitBox], ground: Ground) -> Sized:
    """A cabinet under the ceiling: from tower to tower, else over the screen as wide as the console."""
    frame, face, gap = ground.frame, ground.face, ground.limit("unit_gap")
    middle = min(max(frame.centre[0], 0.0), face.width)
    towers = [item for item in made if item.tall]
    left = [item.box.right for item in towers if item.box.centre[0] < middle]
    right = [item.box.x for item in towers if item.box.centre[0] >= middle]
    console = next((item.box for item in made if item.kind == "console"), None)
    if left and right:
        low, high = max(left) + gap, min(right) - gap
        where = "Between the towers, a shadow gap from each."
    elif console:
        low, high = console.x, console.right
        where = "Over the screen, as wide as the console below it."
    else:
        half = ground.limit("console_ratio") * frame.width / 2
        low, high = middle - half, middle + half
        where = "Over the screen, its middle over the screen's."
    low = max([low, ground.scribe, *(edge + gap for edge in left)])
    high = min([high, face.width - ground.scribe, *(edge - gap for edge in right)])
    width = pin(unit.width, max(floor(high - low), LEAST))
    x = pin(unit.x, (low + high - width) / 2)
    over = room.underside(face.height, x, x + width, ground.hangs) - ground.limit("top_filler")
    over_one = any(
        x < item.box.right and x + width > item.box.x for item in towers
    )  # as pinned: it lies on them
    level = [] if over_one else [item.box.top for item in towers if item.box.top <= over + 0.5]
    top = max(level) if left and right and level else over
    usual = min(ground.limit("loft_height"), top - frame.top - ground.limit("loft_over_screen"))
    height = pin(unit.height, floor(max(usual, ground.limit("loft_height_low"))))
    z = pin(unit.z, top - height - k * (height + gap))
    deep = min((item.depth for item in towers), default=ground.limit("tower_depth"))
    says = {"x": where, "width": where,
            "z": "Its top level with the towers', else under the ceiling or beam with a filler above.",
            "height": "The usual height, lower where the screen needs its clear height under it.",
            "depth": "As deep as the towers it stands between, else as they usually are."}  # fmt: skip
    return Sized(Box(x, z, width, height), pin(unit.depth, deep), says)


def niche_round(unit: Unit, k: int, made: list[UnitBox], ground: Ground) -> Sized:
    """A niche round the screen, or on a side of it round something to look at: its clear size is between the boards."""
    if unit.kind == "arched_niche" or unit.side != "centre":
        return _display(unit, made, ground)
    frame, want = ground.frame, ground.job.design.screen
    t = niche.made_of(own_board(unit, ground), front_finish(unit, ground)).thickness
    gap = ground.limit("niche_gap")
    width = pin(unit.width, pin(want.niche_width, frame.width + 2 * gap) + 2 * t)
    height = pin(unit.height, pin(want.niche_height, frame.height + 2 * gap) + 2 * t)
    x, z = frame.centre[0] - width / 2, frame.centre[1] - height / 2
    says = {"x": "Its middle at the screen's.", "z": "Its middle level with the screen's.",
            "width": "The clear width asked for, else the screen's frame with room for a hand each side; and two boards.",
            "height": "The clear height asked for, else the screen's frame with room for a hand; and two boards.",
            "depth": "The depth asked for, else usual round a screen on its mount."}  # fmt: skip
    box = Box(pin(unit.x, x), max(pin(unit.z, z), 0.0), width, height)
    return Sized(box, pin(unit.depth, pin(want.niche_depth, ground.limit("niche_depth"))), says)


def _display(unit: Unit, made: list[UnitBox], ground: Ground) -> Sized:
    """A niche to look into, beside the screen and level with its middle; the next one on that side stands beyond the last."""
    frame = ground.frame
    width, height = (
        pin(unit.width, ground.limit("display_width")),
        pin(unit.height, ground.limit("display_height")),
    )
    over = ground.face.height - ground.limit("top_filler")
    z = pin(unit.z, max(min(frame.centre[1] - height / 2, over - height), 0.0))
    low, high = _side_room(
        replace(unit, side="left" if unit.side == "left" else "right"), z, z + height, made, ground
    )
    beside = sum(item.kind == unit.kind and (item.side == "left") == (unit.side == "left") for item in made)
    step = beside * (width + ground.limit("unit_gap"))
    x = pin(unit.x, (low + high - width) / 2 + (step if unit.side != "left" else -step))
    where = (
        f"To the {'left' if unit.side == 'left' else 'right'} of the screen, in the middle of the room there."
    )
    says = {"x": where, "z": "Its middle level with the screen's, below the ceiling.", "width": "The usual width of a display niche.",
            "height": "The usual height of a display niche.", "depth": "The usual depth of a display niche."}  # fmt: skip
    return Sized(Box(x, z, width, height), pin(unit.depth, ground.limit("display_depth")), says)


def desk(unit: Unit, k: int, made: list[UnitBox], ground: Ground) -> Sized:
    """A hung cabinet beside the screen whose flap, let down, lies at writing height."""
    board = own_board(unit, ground)
    t = stock.stock(board, carcass_finish(board)).thickness
    z = pin(unit.z, max(ground.limit("writing_height") - t, 0.0))
    height = pin(unit.height, ground.limit("desk_height"))
    side = replace(unit, side="left" if unit.side == "left" else "right")
    low, high = _side_room(side, z, z + height, made, ground)
    wanted = ground.limit("desk_width")
    width = pin(unit.width, max(min(wanted, floor(high - low)), min(wanted, 500.0)))
    x = pin(unit.x, (low + high - width) / 2)
    where = f"To the {side.side} of the screen, in the middle of the room there."
    says = {"x": where, "z": "The upper face of its bottom, where the flap comes to lie, at writing height.",
            "width": "The usual writing place, less where there is less room.", "height": "The flap let down makes the writing top.",
            "depth": "The usual depth of a desk with a drop flap."}  # fmt: skip
    return Sized(Box(x, z, width, height), pin(unit.depth, ground.limit("desk_depth")), says)


PLACED: dict[str, Callable[[Unit, int, list[UnitBox], Ground], Sized]] = {
    "loft": loft, "niche": niche_round, "arched_niche": niche_round, "desk": desk, "shelf": shelf, "ledge": shelf,
}  # fmt: skip
"""How each kind finds its place."""
