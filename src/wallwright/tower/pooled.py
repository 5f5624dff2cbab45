"""All flats of a delivery cut together: every board's plan for the whole of them, replayed by the verifier, against flat by flat."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from wallwright.cutting.model import Piece, Plan, Problem
from wallwright.cutting.pieces import JOIN, named, saw_of, sorted_out
from wallwright.cutting.solve import light, quick, solve
from wallwright.cutting.verify import verify
from wallwright.library import load
from wallwright.library import rates as rates_book
from wallwright.tower.batch import Failed, Send, answers, here

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.job.document import Job
    from wallwright.tower.run import Done, Tell, Worked

BOARD = "board_"
TO_CUT = ("drawn", "ordered")
"""Flats whose boards are still to be cut."""
MANY = 150
"""From so many parts on, the search by columns finds more than the one made for a wall's few sheets."""


@dataclass(frozen=True, slots=True)
class Cutting:
    """One board of one delivery: the question. problem : its parts under their flats' numbers"""

    key: str
    delivery: str
    problem: Problem
    steps: int


@dataclass(frozen=True, slots=True)
class BoardCut:
    """One board of one delivery, cut together.

    plan : every part under its flat's number and its own · alone, alone_price : sheets and price of the same flats cut one by one,
    each buying its own sheets and searched with more steps a part than the plan; with the fillers as drawn, for those are strips
    """

    delivery: str
    board: str
    plan: Plan
    alone: int
    alone_price: float
    parts: int

    @property
    def saved(self) -> int:
        """Sheets that are saved by cutting together."""
        return self.alone - self.plan.used


@dataclass(frozen=True, slots=True)
class Pooled:
    """Every board of every delivery. unfit : (flat, part, why no sheet gives it) · failed : (delivery and board, why not)"""

    boards: tuple[BoardCut, ...]
    unfit: tuple[tuple[str, str, str], ...]
    failed: tuple[Failed, ...]

    @property
    def used(self) -> int:
        """Sheets in all."""
        return sum(one.plan.used for one in self.boards)

    @property
    def alone(self) -> int:
        """Sheets in all, flat by flat."""
        return sum(one.alone for one in self.boards)

    @property
    def price(self) -> float:
        """What they cost, in the currency's own unit."""
        return sum(one.plan.price for one in self.boards)

    @property
    def alone_price(self) -> float:
        """What they would cost flat by flat."""
        return sum(one.alone_price for one in self.boards)


def pooled(
    worked: Worked, send: Send[Any, Any] = here, tell: Tell | None = None, steps: int | None = None
) -> Pooled:
    """Cut every delivery. steps : of the search for each board, None as the limit `tower.cutting_steps` has it

    Flats whose boards are cut already, or for which nothing could be made, are not cut again.
    """
    asks: list[Cutting] = []
    unfit: list[tuple[str, str, str]] = []
    alone: dict[str, Counter[str]] = {}
    prices: dict[str, Counter[str]] = {}
    for delivery, flats in by_delivery(worked).items():
        job = worked.tower.jobs[flats[0].flat.type]
        limits = load.limits_of(job.survey.place.rules).overridden(job.rules)
        saw = saw_of(job.design.saw, limits.value("cutting.least_offcut"))
        found = sorted_out(parts_of(flats), saw, (), board_prices(job))
        unfit += [(*ident.split("/", 1), says) for ident, says in found.unfit]  # type: ignore[misc]
        count = round(limits.value("tower.cutting_steps")) if steps is None else steps
        asks += [Cutting(f"{delivery} {p.pieces[0].material}", delivery, p, count) for p in found.problems]
        alone[delivery], prices[delivery] = Counter(), Counter()
        for done in flats:
            for board, sheets, _, price in done.made.cut if done.made else ():
                alone[delivery][board] += sheets
                prices[delivery][board] += price  # type: ignore[assignment]
    answered = answers(asks, cut, send, (lambda n, of: tell("boards cut together", n, of)) if tell else None)
    boards = tuple(
        BoardCut(
            ask.delivery,
            board,
            plan,
            alone[ask.delivery][board],
            float(prices[ask.delivery][board]),
            _count(ask.problem),
        )
        for ask in asks
        for plan in (answered[ask.key],)
        for board in (ask.problem.pieces[0].material,)
        if isinstance(plan, Plan)
    )
    failed = tuple(one for one in answered.values() if isinstance(one, Failed))
    return Pooled(boards, tuple(unfit), failed)


def by_delivery(worked: Worked) -> Mapping[str, Sequence[Done]]:
    """Flats whose boards are still to be cut, by delivery in the file's order; of one delivery those that one saw and one price list
    serve are cut together.
    """
    out: dict[str, list[Done]] = {one.ref: [] for one in worked.tower.file.deliveries}
    first: dict[str, Any] = {}
    for done in worked.flats:
        if done.made is None or done.flat.state not in TO_CUT:
            continue
        job = worked.tower.jobs[done.flat.type]
        workshop = (
            job.design.saw,
            job.design.rates,
            tuple(sorted(job.rates.items(), key=lambda item: item[0])),
        )
        name = done.flat.delivery or "not called for"
        n = 1
        while first.setdefault(name if n == 1 else f"{name}.{n}", workshop) != workshop:
            n += 1
        out.setdefault(name if n == 1 else f"{name}.{n}", []).append(done)
    return {name: flats for name, flats in out.items() if flats}


def board_prices(job: Job) -> Mapping[str, float]:
    """What a square metre of each board costs by the rates of that job."""
    book = rates_book.book(job.design.rates, job.rates)
    return {
        key.removeprefix(BOARD): row.amount / rates_book.METRIC[row.unit][1]
        for key, row in book.items()
        if key.startswith(BOARD) and rates_book.METRIC[row.unit][0] == "m²"
    }


def parts_of(flats: Iterable[Done]) -> list[Part]:
    """The boards of all flats under their flats' numbers; matched fronts stay together flat by flat."""
    return [
        replace(
            part, id=f"{done.flat.id}/{part.id}", match=f"{done.flat.id}/{part.match}" if part.match else ""
        )
        for done in flats
        for part in done.parts
    ]


def cut(ask: Cutting) -> Plan:
    """The plan of one board of a delivery, every part under its own number, replayed.

    RuntimeError where its own verifier refuses it: nothing may be cut from it.
    """
    found = _best(ask.problem, ask.steps)
    faults = verify(ask.problem, found)
    if faults:
        msg = f"the cutting plan of {ask.key} failed its replay: {'; '.join(faults[:3])}"
        raise RuntimeError(msg)
    return named(found)


def _best(problem: Problem, steps: int) -> Plan:
    """The better of what one search finds over all parts and what the flats' own shares come to; the same steps, the same plan."""
    first = quick(problem)
    if first.proved and first.used == first.lower_bound:
        return first
    if _count(problem) < MANY:
        return _cheaper(first, light(problem, steps))
    return _cheaper(first, solve(problem, iterations=steps)) if steps else first


def _cheaper(a: Plan, b: Plan) -> Plan:
    return b if (len(b.unplaced), b.price, b.used) <= (len(a.unplaced), a.price, a.used) else a


def _count(problem: Problem) -> int:
    return sum(piece.quantity for piece in problem.pieces)


def flats_on(name: str) -> tuple[str, str]:
    """The flat and the part of a placed part's name."""
    flat, _, part = name.partition("/")
    return flat, part


def names_of(piece: Piece) -> list[str]:
    """The parts that a piece of a problem stands for."""
    return piece.name.split(JOIN)
