"""What is measured of the site: protection, chases and their making good, what goes into the wall, delivery, waste."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.library import load
from wallwright.money.quantities import MM2_PER_M2, Measured

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, Part
    from wallwright.job.document import Job
    from wallwright.services.record import Run, Services

MASONRY = frozenset({"brick", "solid_block", "hollow_block", "aac_block", "dot_and_dab"})
"""Walls that are chased; in framed walls cables run in the hollow, on concrete they run on the surface."""
UNKNOWN = "unknown"
BACKERS = frozenset({"backer", "packing"})
"""Roles of parts that go behind others, to be screwed into."""


def protection(job: Job, limits: Limits) -> Iterator[Measured]:
    """The floor covered along the wall [m²]."""
    width = max((reading.value.mm for reading in job.survey.wall.widths), default=0.0)
    deep = limits.value("money.protect_depth")
    area = round(width * deep / MM2_PER_M2, 2)
    if area:
        yield Measured(
            "protection", ("protection",), "", "site", area, "m²", f"the wall by {deep:g} mm of floor"
        )


@dataclass(frozen=True, slots=True)
class Trench:
    """A straight piece of wall that is cut once, for one run or for several side by side: how long, how deep, how wide [mm].

    one : the width of a chase for the thickest of its runs alone [mm]
    """

    length: float
    depth: float
    width: float
    runs: tuple[str, ...]
    one: float

    @property
    def volume(self) -> float:
        """What is cut out of the wall [m³]."""
        return self.length * self.depth * self.width / 1e9

    def counted(self, share: float) -> float:
        """Its length as it is priced [mm]: by its length, and for what it is wider than for one run by that share of as much more."""
        return self.length * (1 + share * (self.width - self.one) / self.one) if self.one > 0 else self.length


def trenches(job: Job, services: Services, cover: float) -> list[Trench]:
    """The wall as it is cut: where runs lie along one line they share a chase, as deep as the thickest of them asks and as wide as
    all of them together. cover : of plaster over a conduit [mm]
    """
    lines: dict[tuple[bool, float], list[tuple[float, float, Run]]] = defaultdict(list)
    for run in chased(job, services):
        for (ax, az), (bx, bz) in run.cut:
            level = az == bz
            start, end = sorted((ax, bx) if level else (az, bz))
            lines[level, round(az if level else ax, 1)].append((start, end, run))
    return [trench for pieces in lines.values() for trench in _along(pieces, cover)]


def _along(pieces: Sequence[tuple[float, float, Run]], cover: float) -> Iterator[Trench]:
    """One line's chases, from each end of a piece to the next."""
    marks = sorted({at for start, end, _ in pieces for at in (start, end)})
    for low, high in pairwise(marks):
        here = {run.ref: run for start, end, run in pieces if start <= low and high <= end}
        if here:
            deep = max(depth(run, cover) for run in here.values())
            wide = sum(run.outside_diameter for run in here.values())
            one = max(run.outside_diameter for run in here.values())
            yield Trench(high - low, deep, wide, tuple(here), one)


def chases(job: Job, services: Services, limits: Limits) -> Iterator[Measured]:
    """Chases by how deep they go [m], and as much made good. What lies in a void, and walls that are not chased, have none; a chase
    that runs share is cut, and made good, once, and counted longer for its width.
    """
    if job.survey.wall.substrate == UNKNOWN:
        yield from _unknown(services)
        return
    shallow, cover = limits.value("money.chase_shallow"), limits.value("services.chase_cover")
    share = limits.value("money.chase_width_share")
    cut = trenches(job, services, cover)
    classes = (
        ("chase_shallow", f"Chase up to {shallow:g} mm deep", [t for t in cut if t.depth <= shallow]),
        ("chase_deep", f"Chase over {shallow:g} mm deep", [t for t in cut if t.depth > shallow]),
    )
    for key, name, ours in classes:
        if _long(ours):
            refs = _of(ours, cut, services)
            how = f"runs {', '.join(refs)} outside the voids, conduit and {cover:g} mm of cover"
            yield Measured(
                key, (key,), name, "electrical", _priced(ours, share), "m", how + _once(ours, share), refs
            )
    if _long(cut):
        how = "as long as the chases" + _once(cut, 1.0)
        yield Measured(
            "make_good", ("make_good",), "", "plaster", _priced(cut, 1.0), "m", how, _of(cut, cut, services)
        )


def _long(cut: Iterable[Trench]) -> float:
    return round(sum(trench.length for trench in cut) / 1000, 2)


def _priced(cut: Iterable[Trench], share: float) -> float:
    """The metres that are priced, wide chases counted longer; filling them takes plaster by their whole width (share 1)."""
    return round(sum(trench.counted(share) for trench in cut) / 1000, 2)


def _of(ours: Sequence[Trench], cut: Sequence[Trench], services: Services) -> tuple[str, ...]:
    """The runs that are counted with those chases, in their order: each where most of it is cut."""
    far: dict[str, float] = defaultdict(float)
    counted = set(ours)
    for trench in cut:
        length = trench.length if trench in counted else -trench.length
        for ref in trench.runs:
            far[ref] += length
    return tuple(run.ref for run in services.runs if far[run.ref] > 0)


def _once(cut: Iterable[Trench], share: float) -> str:
    """How much of it takes more than one run, and what its width counts for, in words."""
    wide = [trench for trench in cut if len(trench.runs) > 1]
    if not _long(wide):
        return ""
    more = _priced(wide, share) - _long(wide)
    part = "" if share == 1 else f" at {100 * share:g} %"
    return f"; {_long(wide):g} m of it shared, cut once, and {more:.2f} m counted more for what is wider there{part}"


def _unknown(services: Services) -> Iterator[Measured]:
    """The runs in a wall that nobody has opened yet: measured, but nobody can price them."""
    runs = [run for run in services.runs if run.outside_void > 0]
    if _metres(runs):
        name = "Runs in a wall that is not known yet"
        refs = tuple(run.ref for run in runs)
        yield Measured("chase_unknown", (), name, "electrical", _metres(runs), "m", _refs(runs), refs)


def chased(job: Job, services: Services) -> list[Run]:
    """The runs that are cut into the wall, at least for a part."""
    if job.survey.wall.substrate not in MASONRY:
        return []
    return [run for run in services.runs if run.outside_void > run.on_surface]


def depth(run: Run, cover: float) -> float:
    """How deep a run goes into the wall [mm]."""
    return run.outside_diameter + cover


def _metres(runs: Iterable[Run]) -> float:
    return round(sum(run.outside_void - run.on_surface for run in runs) / 1000, 2)


def _refs(runs: Iterable[Run]) -> str:
    return ", ".join(run.ref for run in runs)


def backers(parts: Iterable[Part], limits: Limits) -> Iterator[Measured]:
    """Hours to set what goes behind the boards and the screen; its board is in the sheets bought."""
    refs = tuple(part.id for part in parts if part.role in BACKERS)
    each = limits.value("money.hours_backer")
    if refs:
        how = f"{', '.join(refs)} at {each:g} h"
        hours = round(len(refs) * each, 2)
        yield Measured("labour_backer", ("labour_backer",), "", "joinery", hours, "h", how, refs)


def delivery(carcass: Carcass, limits: Limits) -> Iterator[Measured]:
    """Loads brought to site and carried in."""
    mass = sum(part.mass for part in carcass.parts)
    most = limits.value("money.load_mass")
    if mass > 0:
        how = f"{mass:.0f} kg of boards, up to {most:g} kg a load"
        yield Measured("delivery", ("delivery",), "", "site", math.ceil(mass / most), "nr", how)


def waste(
    job: Job, services: Services, sheets: Sequence[tuple[str, int, float]], areas: Sequence[tuple[str, float]], limits: Limits
) -> Iterator[Measured]:  # fmt: skip
    """Rubble, offcuts and packaging taken away [m³], as loose as they lie in the bag."""
    cover = limits.value("services.chase_cover")
    rubble = sum(trench.volume for trench in trenches(job, services, cover))
    bought, boards = dict(areas), load.boards()
    offcuts = sum(
        bought.get(board, 0.0) * (1 - used) * boards[board].thickness / 1000 for board, _, used in sheets if board in boards
    )  # fmt: skip
    packing = limits.value("money.waste_packaging")
    loose = limits.value("money.waste_bulking")
    volume = round((rubble + offcuts) * loose + packing, 2)
    if volume:
        how = f"rubble {rubble:.3f} m³ and offcuts {offcuts:.3f} m³, × {loose:g} loose, and {packing:g} m³ of packaging"
        yield Measured("waste_removal", ("waste_removal",), "", "site", volume, "m³", how)
