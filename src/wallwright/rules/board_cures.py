"""What to do with a part that no sheet gives: shorten what it runs along, divide its bay, or take a board that comes larger."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from wallwright.carcass.record import PanelZone, Part, UnitBox
from wallwright.core.finding import edit_call
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.places import Cure, changed, faults, made

SIZES = {"x": "width", "y": "depth", "z": "height"}
"""The measure of a unit along each axis."""
LEAST = 100.0
"""No unit or panel is made smaller than this to fit a sheet [mm]."""
THICKER = 2.0
"""Another board serves for one that is thicker or thinner by no more than this [mm]."""


def board_cure(wall: Wall, part: Part, tried: dict[str, Wall | None]) -> Cure:
    """The first way after which all of the unit can be cut, else this part, tried on the wall. tried : walls made before, by their
    edits.
    """
    before = {item.key for item in faults(wall)}
    bad = [item for item in wall.carcass.parts if item.unit == part.unit and item.id in dict(wall.cuts.unfit)]
    second: Cure | None = None
    for way in _ways(wall, part, bad):
        if (key := repr(way.edits)) not in tried:
            job = changed(wall.job, way.edits)
            tried[key] = made(job) if job else None
        after = tried[key]
        if after is None or any(item.key not in before for item in faults(after)):
            continue
        unfit = dict(after.cuts.unfit)
        left = [item.id for item in after.carcass.parts if item.unit == part.unit and item.id in unfit]
        if not left:
            return way
        if part.id not in left and len(left) < len(bad) and second is None:
            second = way
    return second or Cure(
        "joint it on site where that is not seen, or order it to size: no other size or board helps by itself",
        (),
    )


def _ways(wall: Wall, part: Part, bad: Sequence[Part]) -> Iterator[Cure]:
    """Ways to try, those that serve the whole unit first. bad : all its parts that no sheet gives."""
    unit = next((item for item in wall.setout.units if item.ref == part.unit), None)
    zone = next((item for item in wall.setout.zones if item.ref == part.unit), None)
    thing = unit or zone
    if thing is None:
        return
    least = [over[0] for over in (_over(wall, item) for item in bad) if over]
    names = {name for over in least for name in over}
    yield from _shorter(wall, thing, {name: max(over.get(name, 0.0) for over in least) for name in names})
    for over in _over(wall, part):
        yield from _shorter(wall, thing, over)
    if unit and unit.cabinet:
        yield from _divided(wall, part, unit)
    yield from _other_board(wall, part, thing)


def _shorter(wall: Wall, thing: UnitBox | PanelZone, over: dict[str, float]) -> Iterator[Cure]:
    """The unit or panel smaller by so much, once or as often as it has bays, whose share each is."""
    sizes = {"width": thing.box.width, "height": thing.box.height}
    if isinstance(thing, UnitBox):
        sizes["depth"] = thing.depth
    what = "unit" if isinstance(thing, UnitBox) else "panel"
    for times in sorted({1, max(1, sum(bay.unit == thing.ref for bay in wall.carcass.bays))}):
        values = {
            name: float(math.floor(sizes[name] - times * mm)) for name, mm in over.items() if name in sizes
        }
        if values and len(values) == len(over) and min(values.values()) >= LEAST:
            said = " and ".join(f"{mm:.0f} mm {_word(name)}" for name, mm in values.items())
            yield Cure(f"make {thing.ref} {said}", (edit_call(f"resize_{what}", ref=thing.ref, **values),))


def _word(name: str) -> str:
    return {"width": "wide", "height": "high", "depth": "deep"}[name]


def _over(wall: Wall, part: Part) -> list[dict[str, float]]:
    """By how much each measure is too long, for every way the part can lie on a sheet, the least first [mm]."""
    trim = 2 * wall.job.design.saw.trim.mm
    block = {"x": part.block.dx, "y": part.block.dy, "z": part.block.dz}
    along = min(block, key=lambda axis: abs(block[axis] - part.length))
    across = min((axis for axis in block if axis != along), key=lambda axis: abs(block[axis] - part.width))
    out: list[dict[str, float]] = []
    for length, width in load.boards()[part.board].sheets:
        lies = [(length - trim, width - trim)]
        lies += [(width - trim, length - trim)] if part.grain == "none" else []
        for long, wide in lies:
            over = {SIZES[along]: part.cut_length - long, SIZES[across]: part.cut_width - wide}
            out.append({name: mm + 0.5 for name, mm in over.items() if mm > 0})
    return sorted((over for over in out if over), key=lambda over: sum(over.values()))


def _divided(wall: Wall, part: Part, unit: UnitBox) -> Iterator[Cure]:
    """The bay the part belongs to halved, or all of them where it belongs to the whole unit."""
    bays = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
    asked = next(item.bays for item in wall.job.design.units if item.ref == unit.ref)
    own = [bay.ref for bay in bays if part.id.startswith(f"{bay.ref}-")]
    out: list[dict[str, object]] = []
    for k, bay in enumerate(bays):
        width = asked[k].width if k < len(asked) else None
        half: dict[str, object] = {"front": bay.front, "shelves": bay.shelves, "drawers": max(1, bay.drawers)}
        whole = half | ({"width": width.mm} if width else {})
        split = not own or bay.ref in own
        half |= {"shelves": bay.shelves // 2}
        out += [half, dict(half)] if split else [whole]
    if out:
        what = own[0] if own else f"every bay of {unit.ref}"
        yield Cure(f"divide {what} in two", (edit_call("set_unit_bays", ref=unit.ref, bays=out),))


def _other_board(wall: Wall, part: Part, thing: UnitBox | PanelZone) -> Iterator[Cure]:
    """A board of about that thickness whose sheet gives the part."""
    boards: Sequence[str] = sorted(
        (row.key for row in load.boards().values() if abs(row.thickness - load.boards()[thing.board].thickness) <= THICKER),
        key=lambda key: -max(sheet[0] for sheet in load.boards()[key].sheets),
    )  # fmt: skip
    edit = "set_unit_board" if isinstance(thing, UnitBox) else "set_panel_board"
    longest = max(sheet[0] for sheet in load.boards()[part.board].sheets)
    for key in boards:
        row = load.boards()[key]
        if max(sheet[0] for sheet in row.sheets) > longest:
            yield Cure(
                f"build {part.unit} of {row.name}, which comes longer",
                (edit_call(edit, ref=part.unit, board=key),),
            )
