"""Complete walls from the survey and the brief: searched, made sound, weighed, and a few that differ told in the client's words.

Every shape is set out in every direction of style that the room bears. What must be fixed on one is put right by cures; one that stays
unsound is dropped and says why. The budget decides only which of the sound walls may be shown: it moves no score, so that more money
never makes the best one worse.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from wallwright.derive import Wall, derive
from wallwright.job.read import job_from
from wallwright.job.write import plain
from wallwright.options import conflict as conflicts
from wallwright.options import words
from wallwright.options.directions import Direction
from wallwright.options.hunt import Candidate, Report, Search, Stopped
from wallwright.options.shapes import Shape
from wallwright.options.site import set_aside
from wallwright.options.worth import Scores, front, spread_out, worth
from wallwright.rules import check
from wallwright.rules.check import MUST
from wallwright.storage import best as storage_best

if TYPE_CHECKING:
    from wallwright.core.finding import EditCall, Finding
    from wallwright.core.limit import Limits
    from wallwright.job.document import Job

Given = Literal["hold", "fresh", "both"]
"""What becomes of a design that is given: it is held; its composition is set aside; it is held, and where that leaves fewer walls than
were asked for, the rest are made with its composition set aside, and say so."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A complete wall. get, give_up, cost : in the client's words · reasons : why it is as it is · cures : what was put right on it ·
    still : what is open on any wall here · aside : what of the design it sets aside
    """

    key: str
    name: str
    shape: Shape
    direction: Direction
    get: str
    give_up: str
    cost: str
    reasons: tuple[str, ...]
    wall: Wall
    findings: tuple[Finding, ...]
    scores: Scores
    worth: float
    cures: tuple[EditCall, ...]
    still: tuple[Finding, ...]
    aside: tuple[str, ...] = ()

    @property
    def price(self) -> int:
        """All in, in minor units."""
        return self.wall.money.total

    @property
    def sound(self) -> bool:
        """Whether nothing on it must be fixed but what must be on any wall here."""
        still = {(item.rule, item.where) for item in self.still}
        return all((item.rule, item.where) in still for item in self.findings if item.severity in MUST)

    @property
    def job(self) -> Job:
        """Its whole job."""
        return self.wall.job


@dataclass(frozen=True, slots=True)
class Options:
    """What was found. dropped : (shape, what stood in the way) · conflict : the wishes that cannot all be met; None where they can ·
    budget : minor units, 0 = none · least : the price of the least dear sound wall, 0 where there is none · tried : walls derived ·
    complete : False where the asker stopped it
    """

    options: tuple[Proposal, ...]
    dropped: tuple[tuple[str, str], ...]
    conflict: conflicts.Conflict | None
    bare: Wall
    budget: int
    least: int
    tried: int
    found: int
    complete: bool = True


def propose(job: Job, n: int = 3, progress: Report | None = None, *, design: Given = "both") -> Options:
    """N distinct walls for this survey and brief, the most worth first. progress : told after each wall; returns False to stop.

    design : what becomes of what the design gives; the screen, how it hangs, points, wiring, rack and rates are held in any case.

    Raises ValueError, as `derive` does, where nothing can be hung at all.
    """
    found = _proposed(
        set_aside(job) if design == "fresh" else job,
        n,
        progress,
        words.aside(job) if design == "fresh" else (),
    )
    if (
        design != "both"
        or len(found.options) >= n
        or not (job.design.units or job.design.panels)
        or not found.complete
    ):
        return found
    more = _proposed(set_aside(job), n - len(found.options), progress, words.aside(job))
    return replace(
        more, options=(*found.options, *more.options), conflict=more.conflict if found.conflict else None,
        tried=found.tried + more.tried, found=found.found + more.found,
        least=min((price for price in (found.least, more.least) if price), default=0),
    )  # fmt: skip


def _proposed(job: Job, n: int, progress: Report | None, aside: tuple[str, ...]) -> Options:
    search = Search(job, progress)
    try:
        search.run()
        complete = True
    except Stopped:
        complete = False
    picked = chosen(search.within, n, search.least, search.site.bare.limits)
    conflict = conflicts.conflict_of(search.site, search.found) if complete else None
    return _options(search, picked, aside, conflict, complete=complete)


def _options(
    search: Search, picked: Sequence[Candidate], aside: tuple[str, ...], conflict: conflicts.Conflict | None, *, complete: bool
) -> Options:  # fmt: skip
    made = tuple(told(search, one, aside) for one in picked)
    return Options(
        made, tuple(search.dropped.items()), conflict, search.site.bare, search.budget, search.least, search.trials.count,
        len(search.found), complete,
    )  # fmt: skip


def styles(job: Job, progress: Report | None = None, *, design: Given = "both") -> Options:
    """Three directions of style on equal terms: one outline, three faces, told alike, in the order of the alphabet.

    The outline is the first that is sound in every direction that the room bears; a design's units are held unless it is "fresh" or
    they leave no such outline.
    """
    for start, aside in ((job, ()), (set_aside(job), words.aside(job))):
        if design == "fresh" and not aside and start is job and job != set_aside(job):
            continue
        search = Search(start, progress)
        try:
            made = search.in_all_directions()
        except Stopped:
            return _options(search, (), aside, None, complete=False)
        if made or design == "hold" or start != job:
            break
    found = _options(search, sorted(made, key=lambda one: one.direction.name), aside, None, complete=True)
    return replace(found, options=tuple(replace(one, name=one.direction.name) for one in found.options))


def told(search: Search, one: Candidate, aside: tuple[str, ...] = ()) -> Proposal:
    """A candidate as it is shown: priced as it would be issued, its job read back as a file would be, and put into words."""
    job = job_from(plain(one.sound.wall.job))
    wall = derive(job, searched=True)
    if wall.storage.leftovers:  # what is issued is allotted the best way: it may hold more
        wall = derive(job, wall.cuts, storage_best.allotment(wall.storage, wall.limits), searched=True)
    found = check(wall)
    value = worth(one.scores, one.price, search.least, wall.limits)
    return Proposal(
        f"{one.shape.key}_{one.direction.key}", words.name(one.shape, one.direction, wall), one.shape, one.direction,
        words.get(one.shape, one.direction, wall), words.give_up(one.shape, one.direction, wall, search.job, one.sound.cures, aside),
        words.cost(wall, search.budget), words.reasons(wall, search.job, one.shape, one.direction), wall, found, one.scores, value,
        one.sound.cures, one.sound.open, aside,
    )  # fmt: skip


def chosen(found: Sequence[Candidate], n: int, least: int, limits: Limits) -> list[Candidate]:
    """So many of the candidates, no shape twice while there are others: the one of most worth, then those of good worth that lie farthest
    from the ones there are, of such as no other beats in price and every score and as keep enough of the things; then of the rest.
    """
    if not found or n < 1:
        return []
    value = [worth(one.scores, one.price, least, limits) for one in found]
    by_worth = sorted(range(len(found)), key=lambda i: (-value[i], found[i].price, i))
    best, kept = by_worth[0], max(one.scores.storage for one in found)
    rows = [(-float(one.price), *_as_row(one.scores)) for one in found]
    fair = [i for i in by_worth if value[i] >= limits.value("options.good_value") * value[best]]
    leading = _unbeaten(found, rows)
    full = [
        i
        for i in fair
        if i in leading and found[i].scores.storage >= limits.value("options.least_kept") * kept
    ]
    taken = [best]
    for pool in (full, [i for i in fair if i in leading], fair, by_worth):
        there = list(dict.fromkeys((*taken, *pool)))
        far = [[_apart(found[i], found[j]) for j in there] for i in there]
        taken = [there[k] for k in spread_out(n, range(len(taken)), far)]
    taken += [i for i in by_worth if i not in taken][: n - len(taken)]
    return [found[i] for i in by_worth if i in taken]


def _unbeaten(found: Sequence[Candidate], rows: Sequence[tuple[float, ...]]) -> set[int]:
    """Those that no other of their direction beats: directions of style are a matter of taste, not of better and worse."""
    out: set[int] = set()
    for key in {one.direction.key for one in found}:
        those = [i for i, one in enumerate(found) if one.direction.key == key]
        out |= {those[k] for k in front([rows[i] for i in those])}
    return out


def _as_row(scores: Scores) -> tuple[float, ...]:
    return scores.comfort, scores.storage, scores.calm, scores.waste, scores.build, scores.style


def _apart(a: Candidate, b: Candidate) -> float:
    """How different two walls are to a client: how much is built, another direction, another price; one shape is no difference."""
    if a.shape.key == b.shape.key:
        return 0.0
    price = abs(math.log2(max(a.price, 1) / max(b.price, 1)))
    return 0.6 + abs(a.shape.weight - b.shape.weight) + 0.5 * (a.direction.key != b.direction.key) + price
