"""The money stage: quantities priced with the rates book, the chain to the price, and the budget against it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain as joined
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Later, Why
from wallwright.job.document import Job
from wallwright.library import rates as rates_book
from wallwright.library import terms
from wallwright.library.load import Rate
from wallwright.money import air, quantities, site, wiring
from wallwright.money.quantities import Measured
from wallwright.money.quote import by_trade, chain_by_trade, priced
from wallwright.money.record import Line, Money, Step
from wallwright.money.show import Notation, notation_of

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, SetOut
    from wallwright.cooling.record import VentOpening
    from wallwright.job.survey import Survey
    from wallwright.light.record import Light
    from wallwright.services.record import Services
    from wallwright.sight.record import Screen
    from wallwright.structure.record import Structure

FED = ("socket", "switch", "data_point")
UNPRICED = "no rate in the book: not priced"
TRADES = (
    "site",
    "electrical",
    "plaster",
    "joinery",
    "finishes",
    "painting",
    "stone",
    "glass",
    "light",
    "screen",
)


def plan(  # noqa: PLR0913
    job: Job,
    screen: Screen,
    setout: SetOut,
    services: Services,
    carcass: Carcass,
    structure: Structure,
    light: Light,
    limits: Limits,
    *,
    sheets: tuple[tuple[str, int, float], ...] = (),
    areas: tuple[tuple[str, float], ...] = (),
    unfit: tuple[str, ...] = (),
    openings: tuple[VentOpening, ...] = (),
    faces: tuple[quantities.FaceSheets, ...] = (),
) -> Money:
    """The quote of a wall.

    sheets : (board, sheets bought, used share) from the cutting plan · areas : (board, m² bought); without it sheets of the
    library's first size are priced · unfit : ids of parts that no sheet gives · openings : for air, that are cut · faces :
    (finish, sheets bought, used share, m²) of what comes in sheets or slabs.
    A thing with no rate in the book stays in the
    bill at 0 and says so. The screen itself and the devices are not in the price.

    Raises:
        ValueError: an unknown rates book, or a share of the chain that cannot be, naming it.
    """
    rates = rates_book.book(job.design.rates, job.rates)
    notation = notation_of(job)
    measured = joined(
        site.protection(job, limits),
        quantities.labour(setout, carcass, limits),
        site.chases(job, services, limits),
        wiring.services(services, limits),
        site.backers(carcass.parts, limits),
        quantities.boards(sheets, dict(areas), carcass.parts, unfit),
        quantities.finishes(job, setout, carcass.parts, limits, faces),
        quantities.edges(carcass.parts, limits),
        quantities.panels(setout, carcass.parts, limits),
        quantities.hardware(carcass),
        quantities.hanging(screen.mount, structure),
        wiring.light(light, limits),
        air.air(openings, services.devices),
        site.delivery(carcass, limits),
        site.waste(job, services, sheets, areas, limits),
    )
    rows = sorted(((item, _rate(item, rates)) for item in measured), key=_place)
    others = _by_others(job)
    lines = tuple(_line(item, rate, rates, notation, others) for item, rate in rows)
    reserve, reserve_says = _reserve(job, limits)
    trades = by_trade(lines)
    overhead, margin, tax = (limits.value(f"money.{name}") for name in ("overhead", "margin", "tax"))
    steps, total, taxes = chain_by_trade(trades, overhead, margin, reserve, job.terms.tax, tax)
    direct = sum(trades.values())
    budget = notation.minor(job.brief.budget.amount) if job.brief.budget else 0

    def whys() -> Iterator[Why]:
        yield from _line_whys(lines, notation)
        yield from _whys(job, notation, lines, steps, direct, total, budget, reserve_says)

    return Money(
        lines, direct, steps, total, budget, job.currency, sheets, Later(whys), notation, taxes, faces
    )


def _rate(item: Measured, rates: Mapping[str, Rate]) -> Rate | None:
    """The first rate that prices it; a rate by what is measured otherwise prices nothing."""
    return next(
        (
            rates[key]
            for key in item.rates
            if key in rates and rates_book.METRIC[rates[key].unit][0] == item.unit
        ),
        None,
    )


def _by_others(job: Job) -> tuple[tuple[tuple[str, ...], bool, bool], ...]:
    """(how line keys begin, the client supplies it, the client fixes it) of things that the terms take out of the price."""
    rows = terms.scope()
    return tuple(
        (rows[thing].lines, parties.supply == "client", parties.fix == "client")
        for thing, parties in job.terms.scope.items()
        if "client" in (parties.supply, parties.fix) and thing in rows
    )


def _line(
    item: Measured, row: Rate | None, rates: Mapping[str, Rate], notation: Notation,
    others: tuple[tuple[tuple[str, ...], bool, bool], ...],
) -> Line:  # fmt: skip
    if row is None:
        name = item.name or item.key.replace("_", " ")
        return Line(
            item.key, item.trade, name, item.quantity, item.unit, 0, 0, f"{item.how}; {UNPRICED}", item.of
        )
    quantity, how = item.quantity, item.how
    if row.unit != item.unit:
        quantity = round(quantity / rates_book.METRIC[row.unit][1], 2)
        how = f"{how} = {quantity:.2f} {row.unit}"
    rate, share = notation.minor(row.amount), rates_book.fix_share(row, rates)
    fix_rate = min(notation.minor(share), rate)
    for starts, supplied, fixed in others:
        if item.key.startswith(starts):
            rate = (0 if fixed else fix_rate) if supplied else rate - fix_rate
            fix_rate = 0 if fixed else fix_rate
            how += f"; {' and '.join(word for word, so in (('supplied', supplied), ('fixed', fixed)) if so)} by the client"
    hours = quantity * row.hours
    return Line(
        item.key, row.trade, item.name or row.name, quantity, row.unit, rate, priced(quantity, rate), how, item.of,
        round(hours, 2), priced(quantity, fix_rate), "invented" in row.source,
    )  # fmt: skip


def _place(row: tuple[Measured, Rate | None]) -> int:
    item, rate = row
    trade = rate.trade if rate else item.trade
    return TRADES.index(trade) if trade in TRADES else len(TRADES)


def _reserve(job: Job, limits: Limits) -> tuple[float, str]:
    """The share kept for surprises [%], and why that much."""
    if job.brief.budget and job.brief.budget.reserve is not None:
        return job.brief.budget.reserve * 100, "The brief sets the reserve."
    if job.brief.tenure == "rent" or job.survey.finish_complete:
        return _reserve_of_finished(job.survey, limits)
    return limits.value("money.contingency_new"), "The flat is still being finished: little is hidden yet."


def _reserve_of_finished(survey: Survey, limits: Limits) -> tuple[float, str]:
    """Between that of a finished wall of which nothing is known and of one that was looked into, by what the survey found out."""
    known = {
        "what the wall is made of": survey.wall.substrate != "unknown",
        "whether it is damp": survey.wall.damp != "unknown",
        "where its cables run": _cables_traced(survey),
    }
    most, least = limits.value("money.contingency_old"), limits.value("money.contingency_old_known")
    unknown = [words for words, found in known.items() if not found]
    share = least + (most - least) * len(unknown) / len(known)
    says = "The walls are finished: what lies behind them shows only when opened."
    open_yet = f" Not found out yet: {', '.join(unknown)}; each would lower the reserve." if unknown else ""
    return share, (
        f"{says} {most:g} % where nothing is known of it, {least:g} % where wall, damp and cables are known.{open_yet}"
    )


def _cables_traced(survey: Survey) -> bool:
    """Is there a fed point on the wall, and every one either dead or its cable traced?"""
    fed = [thing for thing in survey.obstacles if thing.kind in FED]
    return bool(fed) and all(thing.dead or thing.cable != "unknown" for thing in fed)


def _line_whys(lines: tuple[Line, ...], notation: Notation) -> Iterator[Why]:
    for line in lines:
        yield Why(
            f"money.line.{line.ref}",
            notation.major(line.amount),
            notation.currency,
            f"{line.item}: {line.measured}.",
            "quantity x rate",
            (
                Given("quantity", line.quantity, line.unit),
                Given("rate", notation.money(line.rate), line.unit),
                Given("fixing", notation.money(line.fix), f"{line.hours:g} h"),
            ),
            "rates book, a demo rate, invented" if line.invented else "rates book",
            "computed",
        )


def _whys(  # noqa: PLR0913
    job: Job, notation: Notation, lines: tuple[Line, ...], steps: tuple[Step, ...], direct: int, total: int, budget: int,
    reserve_says: str,
) -> Iterator[Why]:  # fmt: skip
    currency, major = job.currency, notation.major
    demo = sum(line.invented for line in lines)
    source = f"rates book {job.design.rates!r}" + (f", {demo} of its rates here invented" if demo else "")

    def computed(
        name: str, value: float, says: str, formula: str, given: tuple[Given, ...] = (), unit: str = currency
    ) -> Why:
        return Why(f"money.{name}", value, unit, says, formula, given, source, "computed")

    sums = by_trade(lines)
    trades = tuple(Given(trade, major(amount), currency) for trade, amount in sums.items())
    yield computed("direct", major(direct), f"The sum of {len(lines)} priced lines.", "sum of lines", trades)
    for trade, amount in sums.items():
        fix = sum(line.fix for line in lines if line.trade == trade)
        split = (Given("supply", major(amount - fix), currency), Given("fixing", major(fix), currency))
        yield computed(f"trade.{trade}", major(amount), f"Direct cost of {trade}.", "sum of its lines", split)
    for trade in sums:
        worked = sum(line.hours for line in lines if line.trade == trade)
        if worked:
            says = f"Work of {trade} in its lines."
            yield computed(f"hours.{trade}", round(worked, 1), says, "quantity x hours a unit", (), "h")
    for step in steps:
        says = reserve_says if step.name == "contingency" else f"The step of the price chain for {step.name}."
        share = (Given("share", round(step.share * 100, 4), "%"),)
        yield computed(step.name, major(step.amount), says, "difference of the running totals", share)
    shares = (
        Given("direct", major(direct), currency),
        *(Given(s.name, round(s.share * 100, 4), "%") for s in steps),
    )
    says = "The price of all that is in the bill; the screen and the devices are not in it."
    yield computed(
        "total",
        major(total),
        says,
        "direct x (1 + overhead) / (1 - margin) x (1 + contingency) x (1 + tax)",
        shares,
    )
    if budget:
        over = total - budget
        says = f"{notation.money(abs(over))} {'over' if over > 0 else 'within'} the budget."
        given = (Given("price", major(total), currency), Given("budget", major(budget), currency))
        yield computed("budget_left", -major(over), says, "budget - price", given)
