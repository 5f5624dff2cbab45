"""What is measured: every quantity of the bill, from the records of the trades.

Measured net as fixed; boards, sheets of face and slabs as those that must be bought (the cutting plan is their waste), tiles and
battens as the whole ones, bands with what is trimmed off at their ends; the rest with the stated waste on top. Areas, lengths and
hours are given to 0.01, so quantity times rate on paper is the amount on paper.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.core.counted import counted
from wallwright.core.limit import Limits
from wallwright.core.shape import Box, cut_out
from wallwright.library import load
from wallwright.money.faces import Tiles, faces_of, kind_of, lengths, tiles

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, PanelZone, Part, SetOut, UnitBox
    from wallwright.job.document import Job
    from wallwright.structure.record import Structure

MM2_PER_M2 = 1e6
FaceSheets = tuple[str, int, float, float]
"""A finish, the sheets bought of it, the used share of their area, their area [m²]."""
WALL_PAINT = (
    "paint_warm_white"  # the wall is repainted where nothing is said: chases and fixings are made good
)
BATTEN, MOULDING, NOGGING, GLASS = "batten", "moulding", "nogging", "glass"
"""The board of parts that are bought by the metre, and of those that are ordered to size."""


@dataclass(frozen=True, slots=True)
class Measured:
    """One quantity: the thing's key, the rate keys that may price it (best first), name ("" = the rate's), how measured.

    of : refs of the things that are in it, where they have refs
    """

    key: str
    rates: tuple[str, ...]
    name: str
    trade: str
    quantity: float
    unit: str
    how: str
    of: tuple[str, ...] = ()


def boards(
    sheets: Iterable[tuple[str, int, float]], areas: Mapping[str, float], parts: Sequence[Part] = (), unfit: Iterable[str] = ()
) -> Iterator[Measured]:  # fmt: skip
    """Sheets bought of each board [m²], and the parts that nothing here gives, without a price.

    areas : m² bought by board; else the library's first size · unfit : ids of the parts that no sheet gives
    """
    known, left = load.boards(), set(unfit)
    of: dict[str, list[str]] = defaultdict(list)
    odd: list[str] = []
    for part in parts:
        if part.board in known and part.id not in left:
            of[part.board].append(part.id)
        elif part.board not in (BATTEN, MOULDING, NOGGING, GLASS):
            odd.append(part.id)
    for board, count, used in sheets:
        row = known[board]
        length, width = row.sheets[0]
        area = areas.get(board, count * length * width / MM2_PER_M2)
        how = f"{count} sheet{'s' if count != 1 else ''} bought, {used:.0%} used"
        yield Measured(
            f"board_{board}", (f"board_{board}",), row.name, "joinery", round(area, 2), "m²", how, tuple(of[board])
        )  # fmt: skip
    if odd:
        name = "Parts that no sheet of the library gives"
        yield Measured("board", (), name, "joinery", len(odd), "nr", ", ".join(odd), tuple(odd))


def finishes(
    job: Job, setout: SetOut, parts: Iterable[Part], limits: Limits, sheets: Iterable[FaceSheets] = ()
) -> Iterator[Measured]:  # fmt: skip
    """Each finish [m²]: parts on both faces, panels on their back too where the skin must be balanced; the bare wall painted.

    sheets : (finish, bought, used share, m²) of what comes in sheets or slabs, by its cutting plan. Tiles are counted, a cut one whole
    and two halves of one; what comes on rolls or in cans has its share of waste.
    """
    faced: dict[str, list[Part]] = defaultdict(list)
    for part in parts:
        if part.finish:
            faced[part.finish].append(part)
    laid, planned = _laid(setout), {row[0]: row for row in sheets}
    tiled = {
        zone.ref: tiles(zone, _tile_of(job, zone, limits)) for zone in setout.zones if zone.kind == "tile"
    }
    for finish in dict.fromkeys((*laid, *faced)):
        those = faced.get(finish, [])
        net = sum(part.length * part.width * faces_of(part) for part in those) / MM2_PER_M2 + laid.get(
            finish, 0.0
        )
        how = "faces of the parts" if those else "faces of the panelled zones"
        found = _finish(finish, net, how, limits)
        zones = [zone for zone in setout.zones if zone.kind == "tile" and zone.finish == finish]
        if finish in planned or zones:
            found = _counted(found, net, planned.get(finish), [tiled[zone.ref] for zone in zones])
        yield replace(found, of=tuple(part.id for part in those))
    wall = job.survey.wall
    width, height = _mean(r.value.mm for r in wall.widths), _mean(r.value.mm for r in wall.heights)
    bare = _bare(Box(0.0, 0.0, width, height), [zone.box for zone in setout.zones]) / MM2_PER_M2
    if bare > 0:
        yield _finish(job.design.finishes.wall or WALL_PAINT, bare, "wall less panels", limits, "wall_")


def _bare(wall: Box, zones: Iterable[Box]) -> float:
    """What of the wall no panel covers [mm²]: two panels in one place cover it once, and what stands beyond it none of it."""
    left = (wall,)
    for box in zones:
        left = cut_out(left, box)
    return sum(box.area for box in left)


def _laid(setout: SetOut) -> dict[str, float]:
    """What is laid or hung on the wall itself, by finish [m²]: tiles and slabs, and the paper between strips on no board."""
    out: dict[str, float] = defaultdict(float)
    for zone in setout.zones:
        if zone.kind in ("tile", "slab"):
            out[zone.finish] += zone.box.area / MM2_PER_M2
        elif zone.kind == "framed" and not zone.boarded:
            out[zone.finish] += sum(field.area for field in zone.fields) / MM2_PER_M2
    return out


def _tile_of(job: Job, zone: PanelZone, limits: Limits) -> tuple[float, float]:
    """A whole tile of a zone, across and up [mm]: the designer's, else the house's."""
    panel = next((panel for panel in job.design.panels if panel.ref == zone.ref), None)
    wide, high = (panel.tile_width, panel.tile_height) if panel else (None, None)
    return (
        wide.mm if wide else limits.value("carcass.tile_width"),
        high.mm if high else limits.value("carcass.tile_height"),
    )


def _counted(found: Measured, net: float, sheets: FaceSheets | None, laid: Sequence[Tiles]) -> Measured:
    """A finish as it is bought: whole sheets or slabs of its plan, whole tiles of its setting-out."""
    area = 0.0
    said: list[str] = []
    if sheets is not None:
        _, count, used, area = sheets
        said.append(f"{count} sheet{'s' if count != 1 else ''} bought by its cutting plan, {used:.0%} used")
    if laid:
        area += sum(one.area for one in laid)
        said.append(
            f"{sum(one.bought for one in laid)} tiles: {sum(one.whole for one in laid)} whole, {sum(one.cut for one in laid)} cut"
        )
    return replace(found, quantity=round(area, 2), how=f"{'; '.join(said)}; {net:.2f} m² net")


def _finish(finish: str, net: float, how: str, limits: Limits, prefix: str = "") -> Measured:
    kind = kind_of(finish)
    name = f"money.waste_{kind}"
    waste = limits.value(name if name in limits else "money.waste_other")
    said = load.finishes()[finish].name if kind else finish
    return Measured(
        f"{prefix}finish_{finish}", (f"finish_{finish}", f"finish_{kind}"), said + (", wall" if prefix else ""), "finishes",
        with_waste(net, waste), "m²", f"{how} {net:.2f} m² + {waste:g} % waste",
    )  # fmt: skip


def edges(parts: Iterable[Part], limits: Limits) -> Iterator[Measured]:
    """Each edge band [m]: long edges by the part's length, short ones by its width, and what is trimmed off at both ends of each."""
    run: dict[str, float] = defaultdict(float)
    count: dict[str, int] = defaultdict(int)
    for part in parts:
        for band, length in zip(part.edges, (part.length, part.length, part.width, part.width), strict=True):
            if band:
                run[band] += length / 1000
                count[band] += 1
    over = limits.value("money.edge_over")
    for band, net in run.items():
        bought = net + 2 * count[band] * over / 1000
        how = f"{count[band]} edges, {net:.2f} m, and {over:g} mm over at each end"
        rates = (f"edge_{band}", "edge_band")
        yield Measured(f"edge_{band}", rates, f"Edge band {band}", "joinery", round(bought, 2), "m", how)


def hardware(carcass: Carcass) -> Iterator[Measured]:
    """Each kind of hardware by the piece; the same kind under two names stays two lines."""
    count: dict[tuple[str, str], int] = defaultdict(int)
    for item in carcass.hardware:
        count[item.kind, item.name] += item.quantity
    names: dict[str, int] = defaultdict(int)
    for (kind, name), pieces in count.items():
        names[kind] += 1
        key = f"hardware_{kind}" + (f"_{names[kind]}" if names[kind] > 1 else "")
        if pieces:
            yield Measured(key, (f"hardware_{kind}",), name, "joinery", pieces, "nr", "hardware schedule")


def panels(setout: SetOut, parts: Iterable[Part], limits: Limits) -> Iterator[Measured]:
    """Flutes cut [m²]; battens, noggings and mouldings, which are bought by the metre [m]."""
    fluted = sum(zone.box.area for zone in setout.zones if zone.flutes) / MM2_PER_M2
    if fluted:
        yield Measured(
            "flutes",
            ("flutes",),
            "Flutes cut by machine",
            "joinery",
            round(fluted, 2),
            "m²",
            "fluted panel zones",
        )
    stock, kerf = limits.value("money.batten_length"), limits.value("money.face_kerf")
    for board, name in ((BATTEN, "Battens"), (NOGGING, "Noggings"), (MOULDING, "Wall moulding")):
        cut = [part for part in parts if part.board == board]
        run = sum(part.length for part in cut) / 1000
        if run:
            count = lengths((part.length for part in cut), stock, kerf)
            how = f"{name.lower()} {run:.2f} m net, cut from {count} of {stock:.0f} mm"
            refs = tuple(part.id for part in cut)
            yield Measured(board, (board,), name, "joinery", round(count * stock / 1000, 2), "m", how, refs)


def labour(setout: SetOut, carcass: Carcass, limits: Limits) -> Iterator[Measured]:
    """Hours in shop and on site, by the quantity of each kind of work."""
    units = setout.units
    front = sum(unit.box.area for unit in units if not unit.board_only) / MM2_PER_M2
    panel = sum(zone.box.area for zone in setout.zones) / MM2_PER_M2
    drawers = sum(mover.kind == "drawer" for mover in carcass.movers)
    doors = len(carcass.movers) - drawers
    work = (
        ("carcass", "Carcasses made", front, "m² of front", "hours_carcass"),
        ("drawer", "Drawers made and fitted", drawers, "drawer(s)", "hours_drawer"),
        ("door", "Doors and flaps hung and set", doors, "front(s)", "hours_door"),
        ("panel", "Panels set out and fixed", panel, "m²", "hours_panel"),
    )
    for key, name, quantity, unit, limit in work:
        each = limits.value(f"money.{limit}")
        if quantity:
            yield _hours(
                f"labour_{key}", name, quantity * each, f"{round(quantity, 2):g} {unit} at {each:g} h"
            )
    hanging = sum(limits.value(f"money.hours_{_placing(unit)}") for unit in units)
    if hanging:
        yield _hours(
            "labour_hanging",
            "Units hung or stood, levelled, fixed and scribed",
            hanging,
            f"{counted(len(units), 'unit')}, by kind",
        )
    yield _hours(
        "labour_survey",
        "Survey, set-out and attendance on site",
        limits.value("money.hours_set_out"),
        "a wall",
        "site",
    )


def _placing(unit: UnitBox) -> str:
    return "shelf" if unit.board_only else "hanging" if unit.hung else "standing"


def _hours(key: str, name: str, hours: float, how: str, trade: str = "joinery") -> Measured:
    return Measured(key, (key,), name, trade, round(hours, 2), "h", how)


def hanging(mount: str, structure: Structure) -> Iterator[Measured]:
    """The bracket of the screen, its fitting, and all wall anchors."""
    yield Measured(
        f"mount_{mount}",
        (f"mount_{mount}",),
        f"Screen bracket, {mount}",
        "screen",
        1,
        "nr",
        "the screen's mount",
    )
    yield Measured(
        "mount_fitting",
        ("mount_fitting",),
        "Screen lifted, hung and connected",
        "screen",
        1,
        "nr",
        "the screen",
    )
    held = [check for check in structure.fixings if check.count]
    loose = [check.ref for check in structure.fixings if not check.count]
    if held:
        refs = tuple(check.ref for check in held)
        count = sum(check.count for check in held)
        yield Measured("anchor", ("anchor",), "Wall anchors", "joinery", count, "nr", ", ".join(refs), refs)
    if loose:
        name = "Fixings into a wall that is not known yet"
        yield Measured(
            "anchor_unknown", (), name, "joinery", len(loose), "nr", ", ".join(loose), tuple(loose)
        )


def with_waste(net: float, percent: float) -> float:
    """A net quantity with its waste, to 0.01."""
    return round(net * (1 + percent / 100), 2)


def _mean(values: Iterable[float]) -> float:
    got = tuple(values)
    return sum(got) / len(got) if got else 0.0
