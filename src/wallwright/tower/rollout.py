"""A change of a type, rolled out to exactly the flats it concerns: issued again, or asked for, by how far each flat is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal

from wallwright.change.fields import both, said, shown, touched
from wallwright.change.impact import impact
from wallwright.core.finding import Finding
from wallwright.derive import derive
from wallwright.job.problem import JobError
from wallwright.job.progress import STATES
from wallwright.rules.check import check
from wallwright.tower.batch import Failed, Send, answers, here
from wallwright.tower.fit import fit, held
from wallwright.tower.flat import Hands, drawn_job, key_of, measured_job, plain_job

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.document import Job
    from wallwright.tower.record import Flat, Tower
    from wallwright.tower.run import Tell

What = Literal["issue again", "ask", "accepted", "own value", "new", "gone", "failed"]


@dataclass(frozen=True, slots=True)
class Way:
    """How a flat's wall is made: by the series' job, by its measures where it does not take that, or as somebody decided."""

    series: Job
    measured: Job | None
    to_measure: bool | None


@dataclass(frozen=True, slots=True)
class Change:
    """The question of one distinct change: the wall as it is out, with its progress, and as it is wanted."""

    key: str
    before: Way
    after: Way


@dataclass(frozen=True, slots=True)
class PartFate:
    """What becomes of one board: its number, its fate, how far it is, what is lost with it [minor units], and what differs."""

    ref: str
    fate: str
    state: str
    worth: int
    says: str


@dataclass(frozen=True, slots=True)
class Struck:
    """What one distinct change does to a flat. Amounts in minor units, all in.

    fields : what was decided otherwise · parts, points : boards and outlets touched · lost : thrown away or worked again · price :
    of the variation, with that and taking out · days : working days it adds · must : findings it brings that must be put right
    """

    fields: tuple[str, ...]
    parts: tuple[PartFate, ...]
    points: tuple[str, ...]
    lost: int
    take_out: int
    price: int
    days: int
    must: tuple[Finding, ...]
    nothing: bool


@dataclass(frozen=True, slots=True)
class Kept:
    """A value that a flat has by exception and the type now has otherwise: it stays the flat's own. path : of the field"""

    path: str
    says: str
    own: str
    type_was: str
    type_now: str


@dataclass(frozen=True, slots=True)
class Rolled:
    """One flat that a change concerns.

    what : issue again (nothing ordered yet), ask (ordered or further: to be accepted first), accepted (it was), own
    value (nothing changes in it, for its exceptions have their own), new, gone, failed · struck : what it does, None where it is
    new, gone, failed or has its own · kept : values that stay the flat's own · says : why it failed, or what is lost with one that is gone
    """

    flat: Flat
    what: What
    struck: Struck | None
    kept: tuple[Kept, ...]
    says: str = ""


@dataclass(frozen=True, slots=True)
class Rollout:
    """A change of the tower's file. flats : only those concerned, in the file's order · untouched : how many are not"""

    flats: tuple[Rolled, ...]
    untouched: int

    @property
    def asks(self) -> tuple[Rolled, ...]:
        """Flats for which somebody must accept it first."""
        return tuple(one for one in self.flats if one.what == "ask")

    @property
    def lost(self) -> tuple[Rolled, ...]:
        """Flats that are not in the new file, though something was made for them."""
        return tuple(one for one in self.flats if one.what == "gone" and one.says)


def rollout(old: Tower, new: Tower, send: Send[Any, Any] = here, tell: Tell | None = None) -> Rollout:
    """What becomes of every flat. old : the tower as it is out · new : as it is wanted; its flats say how far each is"""
    was, now = Hands(old), Hands(new)
    there = {flat.id: flat for flat in old.file.flats}
    asks: dict[str, Change | Failed] = {}
    entries: list[tuple[Flat, str]] = []
    same: list[Rolled] = []
    untouched = 0
    for wanted in new.file.flats:
        if wanted.id not in there:
            entries.append((wanted, ""))
            continue
        before = there[wanted.id]
        flat = _as_far(wanted, before)
        key = f"{_way_key(before)} {_way_key(flat)} {flat.state}"
        if key not in asks:
            asks[key] = _change(key, before, flat, was, now)
        ask = asks[key]
        if isinstance(ask, Change) and _same(ask):
            own = _kept(flat, before, was, now)
            if own:
                same.append(Rolled(flat, "own value", None, own))
            else:
                untouched += 1
        else:
            entries.append((flat, key))
    wanted_of = {key for _, key in entries}
    changes = [ask for key, ask in asks.items() if isinstance(ask, Change) and key in wanted_of]
    found = answers(changes, strike, send, (lambda n, of: tell("changes", n, of)) if tell else None)
    rolled = [_rolled(flat, key, asks.get(key), found.get(key), there, was, now) for flat, key in entries]
    rolled += same
    order = {flat.id: i for i, flat in enumerate(new.file.flats)}
    rolled.sort(key=lambda one: order[one.flat.id])
    ids = order.keys()
    rolled += [Rolled(flat, "gone", None, (), _gone(flat)) for flat in old.file.flats if flat.id not in ids]
    concerned = tuple(one for one in rolled if not (one.struck and one.struck.nothing and not one.kept))
    return Rollout(concerned, untouched + len(rolled) - len(concerned))


def _as_far(flat: Flat, before: Flat) -> Flat:
    """The flat as far as it ever was: what is cut does not become uncut by a file that says so."""
    return replace(flat, state=max(flat.state, before.state, key=STATES.index))


def _way_key(flat: Flat) -> str:
    """What the way a flat is made follows from: its wall, and what somebody decided of it."""
    return f"{key_of(flat, measured=True)} {flat.to_measure}"


def _gone(flat: Flat) -> str:
    if flat.state == "drawn":
        return ""
    return f"its boards are {flat.state} already; put the flat back into the file, or settle with the client what was made for it"


def _same(change: Change) -> bool:
    """Whether nothing differs but what an issue says of itself."""
    before, after = change.before, change.after
    if touched(before.series, after.series) or before.to_measure != after.to_measure:
        return False
    if before.measured is None or after.measured is None:
        return before.measured is after.measured
    return not touched(before.measured, after.measured)


def _change(key: str, before: Flat, after: Flat, was: Hands, now: Hands) -> Change | Failed:
    try:
        return Change(key, _way(before, after, was), _way(after, after, now))
    except JobError as problem:
        return Failed(key, "; ".join(f"{problem.name}: {one}" for one in problem.problems[:3]))
    except (ValueError, KeyError) as problem:
        return Failed(key, str(problem.args[0]) if problem.args else str(problem))


def _way(flat: Flat, as_far: Flat, hands: Hands) -> Way:
    """How a flat is made. as_far : the flat with the state that it is in by now"""
    measured = _at(measured_job(flat, hands), as_far) if flat.measured.anything else None
    return Way(_at(drawn_job(flat, hands), as_far), measured, flat.to_measure)


def _at(job: Job, flat: Flat) -> Job:
    """The job with the flat's state, and without what an issue says of itself."""
    points = "built" if flat.state == "built" else "set" if flat.state == "set" else "drawn"
    progress = replace(job.progress, joinery=flat.state, points=points)
    return replace(job, progress=progress, revision="A", date="2026-01-01", status="preliminary")


def as_made(way: Way) -> Wall:
    """The wall of a flat as it is made: the series held on its own wall where it takes it, else to its measures."""
    series = derive(way.series)
    if way.measured is None:
        return series
    if way.to_measure:
        return derive(way.measured)
    on_it = derive(held(series, way.measured))
    if way.to_measure is False:
        return on_it
    return on_it if fit(series, check(series), on_it, check(on_it)).takes else derive(way.measured)


def strike(change: Change) -> Struck:
    """What a change does, by the same reckoning as of a single wall; nothing is tried as a cure for it."""
    found = impact(as_made(change.before), as_made(change.after))
    what = found.change
    return Struck(
        tuple(f"{one.says}: {one.was} → {one.now}" for one in what.fields),
        tuple(PartFate(p.change.ref, p.change.fate, p.state, p.worth, p.change.says) for p in found.parts),
        tuple(f"{p.change.ref} ({p.state}) {p.change.says}" for p in found.points),
        found.lost,
        found.take_out,
        found.price,
        found.days,
        found.must,
        what.nothing,
    )


def _rolled(  # noqa: PLR0913
    flat: Flat, key: str, ask: Change | Failed | None, found: Any, there: dict[str, Flat], was: Hands, now: Hands
) -> Rolled:  # fmt: skip
    if not key:
        return Rolled(flat, "new", None, ())
    if isinstance(ask, Failed) or isinstance(found, Failed):
        return Rolled(flat, "failed", None, (), ask.says if isinstance(ask, Failed) else found.says)
    revision = now.tower.file.revision
    accepted = (
        flat.accepted == revision != was.tower.file.revision
    )  # the old one's acceptances are of an older change
    what: What = "issue again" if flat.state == "drawn" else "accepted" if accepted else "ask"
    return Rolled(flat, what, found, _kept(flat, there[flat.id], was, now))


def _kept(flat: Flat, before: Flat, was: Hands, now: Hands) -> tuple[Kept, ...]:
    """Values that the flat's exceptions set and the type's change would set otherwise."""
    if not flat.exceptions:
        return ()
    plain_was, plain_now = plain_job(before, was), plain_job(flat, now)
    changed = touched(plain_was, plain_now)
    own = touched(plain_now, drawn_job(flat, now)) | touched(plain_was, drawn_job(before, was))
    out: list[Kept] = []
    for path, (type_was, type_now) in changed.items():
        if path in own:
            mine = own[path][1]
            out.append(Kept(".".join(path), said(path), shown(mine), *both(type_was, type_now)))
    return tuple(out)


def in_force(old: Tower, new: Tower, rolled: Rollout) -> Tower:
    """The tower to be issued: flats that somebody must accept first stay as they are out, on types of the old file."""
    waiting = {one.flat.id: one.flat.state for one in rolled.asks}
    if not waiting:
        return new
    there = {flat.id: flat for flat in old.file.flats}
    names = {kind.ref: f"{kind.ref}.{old.file.revision}" for kind in old.file.types}
    kept = tuple(replace(kind, ref=names[kind.ref]) for kind in old.file.types)
    flats = tuple(
        replace(
            there[flat.id], type=names[there[flat.id].type], state=waiting[flat.id], delivery=flat.delivery
        )
        if flat.id in waiting
        else flat
        for flat in new.file.flats
    )
    jobs = {**new.jobs, **{names[ref]: job for ref, job in old.jobs.items()}}
    return replace(new, file=replace(new.file, types=(*new.file.types, *kept), flats=flats), jobs=jobs)
