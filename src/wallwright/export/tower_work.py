"""The printed work on a tower, floor by floor and delivery by delivery: each a question that any process can answer alone."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.core.drawing import Drawing
from wallwright.derive import Wall, derive
from wallwright.export.pdf import drawings_pdf
from wallwright.sheets import tower_flat, tower_floor, tower_labels
from wallwright.sheets.tower_flat import FlatWall
from wallwright.tower.fit import held

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.core.finding import Finding
    from wallwright.job.document import Job
    from wallwright.sheets.paper import Sheet
    from wallwright.tower.fit import Fit
    from wallwright.tower.pooled import BoardCut
    from wallwright.tower.record import Flat, TowerFile

KEPT = 8


@dataclass(frozen=True, slots=True)
class OneFlat:
    """A flat to be drawn. key : of its wall · job : as made · series : key and job that its unit is held to, where it was measured"""

    flat: Flat
    key: str
    job: Job
    series: tuple[str, Job] | None
    findings: tuple[Finding, ...]
    made_as_drawn: bool
    fit: Fit | None
    fillers: tuple[tuple[str, float], ...]
    undecided: bool = False


@dataclass(frozen=True, slots=True)
class FloorAsk:
    """One floor's check sheet and flat sheets."""

    key: str
    floor: str
    flats: tuple[OneFlat, ...]
    tower: TowerFile


@dataclass(frozen=True, slots=True)
class LabelAsk:
    """One delivery's labels."""

    key: str
    delivery: str
    cuts: tuple[BoardCut, ...]
    parts: Mapping[str, Part]
    tower: TowerFile


def printed(ask: FloorAsk | LabelAsk) -> bytes:
    """The PDF of a floor or of a delivery's labels."""
    if isinstance(ask, LabelAsk):
        pages = tower_labels.sheets(ask.delivery, ask.cuts, ask.parts, ask.tower)
        return drawings_pdf(_numbered(pages, ask.delivery))
    walls = [_drawn(one) for one in ask.flats]
    flats = [
        FlatWall(one.flat, wall, one.findings, one.made_as_drawn, one.fit, one.fillers, one.undecided)
        for one, (wall, _) in zip(ask.flats, walls, strict=True)
    ]
    pages = [
        page
        for flat, (_, view) in zip(flats, walls, strict=True)
        for page in tower_flat.sheets(flat, ask.tower, view)
    ]
    return drawings_pdf(
        _numbered((*tower_floor.sheets(ask.floor, flats, ask.tower), *pages), f"F{ask.floor}")
    )


def _numbered(pages: tuple[Sheet, ...], part: str) -> tuple[Sheet, ...]:
    """Pages counted within their floor or delivery, which stands in their number: no two sheets of a tower have the same one."""
    return tuple(
        replace(
            page, number=i, of=len(pages), fields=replace(page.fields, number=f"{page.fields.number}-{part}")
        )
        for i, page in enumerate(pages, 1)
    )


_kept: OrderedDict[str, tuple[Job, Wall, Drawing]] = OrderedDict()


def _drawn(one: OneFlat) -> tuple[Wall, Drawing]:
    """The flat's wall and its elevation; a wall that many flats have is derived and drawn once."""
    if one.series is not None:
        series, _ = _wall(one.series[0], one.series[1])
        wall = derive(held(series, one.job))
        return wall, tower_flat.drawing(wall)
    return _wall(one.key, one.job)


def _wall(key: str, job: Job) -> tuple[Wall, Drawing]:
    """A wall and its elevation, kept by key; a worker may see another tower under the same key."""
    if key not in _kept or _kept[key][0] != job:
        wall = derive(job)
        _kept[key] = job, wall, tower_flat.drawing(wall)
        while len(_kept) > KEPT:
            _kept.popitem(last=False)
    _kept.move_to_end(key)
    return _kept[key][1:]
