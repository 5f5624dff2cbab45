"""The empty conduit for what is to come: as wide as is usual where the leaf bears its chase, narrower where it does not, and on the
wall in trunking where no conduit may be let in level.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from wallwright.core.limit import Limits
from wallwright.core.shape import Point2
from wallwright.core.why import Given, Why
from wallwright.services import chase, conduit
from wallwright.services.record import Run
from wallwright.services.routes import Route
from wallwright.services.runs import Ground, Layer, Sort


def spare_sort(lay: Layer, start: Point2, end: Point2) -> tuple[Sort, tuple[Route, bool] | None]:
    """The empty conduit for what is to come, from the boxes to where the lines come in, with its way where it is known: the widest, of
    those from the wanted size to the least, that the leaf bears wherever it must be cut in; else the widest that it bears upright, on
    the wall in trunking where it lies level.
    """
    sizes = spare_sizes(lay.ground.limits)
    # what lies on the wall is borne by any leaf: asked is what would have to be cut
    ground = lay.ground if lay.ground.lay == "surface" else replace(lay.ground, lay="chased")
    for size in sizes:
        sort = _spare(size)
        way = lay.find(sort, start, end)
        if ground.bears(size, way[0].path):
            return sort, way
    cut = chase.masonry_of(lay.ground.wall, lay.ground.limits)
    fits = (size for size in sizes if cut is not None and cut.may_cut(size, level=False))
    return replace(_spare(next(fits, sizes[0])), on_wall=True), None


def spare_sizes(limits: Limits) -> list[int]:
    """The empty conduit's sizes [mm], widest first: as sold, from the wanted one down to the least."""
    most, least = limits.value("services.spare_size"), limits.value("services.spare_size_least")
    sold = [size for size in sorted(conduit.BORES, reverse=True) if least <= size <= most]
    return sold or [min(conduit.BORES, key=lambda size: abs(size - most))]


def _spare(size: int) -> Sort:
    words = "empty, for what is to come; draw cord left in"
    return Sort("X", "spare", words, (), 0.0, conduit.BORES[size])


def spare_whys(runs: Sequence[Run], ground: Ground) -> Iterator[Why]:
    """Why each empty conduit is as wide as it is, and where it lies."""
    for run in runs:
        if run.kind == "spare":
            yield _why(run, ground)


def _why(run: Run, ground: Ground) -> Why:
    wanted, size = spare_sizes(ground.limits)[0], run.outside_diameter
    cut = chase.masonry_of(ground.wall, ground.limits) if run.outside_void > 0 else None
    wide = ground.limits["services.spare_size" if size == wanted else "services.spare_size_least"]
    if cut is None:
        return Why(f"run {run.ref}.conduit", size, "mm", f"the usual empty conduit; it lies in {_LIES.get(run.lies, 'the wall')}",
                   "nothing is cut for it", (), wide.source, wide.certainty)  # fmt: skip
    deep = chase.needed(size, cut.cover)
    says = f"the {cut.leaf:.0f} mm leaf bears its chase, {deep:.0f} mm deep"
    if run.on_surface > 0:
        says = (
            f"on the wall in trunking for {run.on_surface / 1000:.1f} m: there the {cut.leaf:.0f} mm leaf bears no chase {deep:.0f} mm deep"
            if ground.lay != "surface"
            else f"in trunking for {run.on_surface / 1000:.1f} m of it, as the runs are laid"
        )
    elif size < wanted:
        says += f"; a {wanted:.0f} mm one needs {chase.needed(wanted, cut.cover):.0f} mm, more than it bears"
    limit = ground.limits["services.chase_horizontal"]
    return Why(
        f"run {run.ref}.conduit", size, "mm", says, "the widest that leaf / 6 takes where it lies level, leaf / 3 where it is upright",
        (Given("leaf", cut.leaf, "mm"), Given("deepest level", cut.level, "mm"), Given("deepest upright", cut.upright, "mm"),
         Given("cover", cut.cover, "mm"), Given("wanted", wanted, "mm")),
        limit.source, limit.certainty,
    )  # fmt: skip


_LIES = {"void": "a void", "cavity": "the hollow of the wall", "surface": "trunking on the wall"}
