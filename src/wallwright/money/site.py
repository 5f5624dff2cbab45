"""What is measured of the site: protection, chases and their making good, what goes into the wall, delivery, waste."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
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


def chases(job: Job, services: Services, limits: Limits) -> Iterator[Measured]:
    """Chases by how deep they go [m], and as much made good. What lies in a void, and walls that are not chased, have none."""
    if job.survey.wall.substrate == UNKNOWN:
        yield from _unknown(services)
        return
    cut = chased(job, services)
    shallow, cover = limits.value("money.chase_shallow"), limits.value("services.chase_cover")
    classes = (
        ("chase_shallow", f"Chase up to {shallow:g} mm deep", [r for r in cut if depth(r, cover) <= shallow]),
        ("chase_deep", f"Chase over {shallow:g} mm deep", [r for r in cut if depth(r, cover) > shallow]),
    )
    for key, name, runs in classes:
        if _metres(runs):
            how = f"runs {_refs(runs)} outside the voids, conduit and {cover:g} mm of cover"
            yield Measured(
                key, (key,), name, "electrical", _metres(runs), "m", how, tuple(run.ref for run in runs)
            )
    if _metres(cut):
        how, refs = "as long as the chases", tuple(run.ref for run in cut)
        yield Measured("make_good", ("make_good",), "", "plaster", _metres(cut), "m", how, refs)


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
    rubble = sum(
        (run.outside_void - run.on_surface) * run.outside_diameter * depth(run, cover) / 1e9
        for run in chased(job, services)
    )
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
