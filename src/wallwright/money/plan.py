"""The money stage: quantities priced with the rates book, the chain to the price, and the budget against it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import chain as joined
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.library.load import Rate
from wallwright.money import quantities, site, wiring
from wallwright.money.quantities import Measured
from wallwright.money.quote import by_trade, chain, direct_cost, minor, priced
from wallwright.money.record import Line, Money, Step
from wallwright.money.show import Grouping, grouping_for, show_money

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, SetOut
    from wallwright.light.record import Light
    from wallwright.services.record import Services
    from wallwright.sight.record import Screen
    from wallwright.structure.record import Structure

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
) -> Money:
    """The quote of a wall.

    sheets : (board, sheets bought, used share) from the cutting plan · areas : (board, m² bought); without it sheets of the
    library's first size are priced · unfit : ids of parts that no sheet gives. A thing with no rate in the book stays in the
    bill at 0 and says so. The screen itself and the devices are not in the price.

    Raises:
        ValueError: an unknown rates book, or a share of the chain that cannot be, naming it.
    """
    rates = load.rates(job.design.rates)
    measured = joined(
        site.protection(job, limits),
        quantities.labour(setout, carcass, limits),
        site.chases(job, services, limits),
        wiring.services(services, limits),
        site.backers(carcass.parts, limits),
        quantities.boards(sheets, dict(areas), carcass.parts, unfit),
        quantities.finishes(job, setout, carcass.parts, limits),
        quantities.edges(carcass.parts, limits),
        quantities.panels(setout, carcass.parts, limits),
        quantities.hardware(carcass),
        quantities.hanging(screen.mount, structure),
        wiring.light(light, limits),
        site.delivery(carcass, limits),
        site.waste(job, services, sheets, areas, limits),
    )
    rows = sorted(((item, _rate(item, rates)) for item in measured), key=_place)
    lines = tuple(_line(item, rate) for item, rate in rows)
    reserve, reserve_says = _reserve(job, limits)
    direct = direct_cost(lines)
    shares = [limits.value(f"money.{name}") for name in ("overhead", "margin", "tax")]
    steps, total = chain(direct, shares[0], shares[1], reserve, shares[2])
    budget = minor(job.brief.budget.amount) if job.brief.budget else 0
    grouping = grouping_for(job.survey.place.rules)
    whys = (
        *_line_whys(lines, job.currency, grouping),
        *_whys(job, lines, steps, direct, total, budget, reserve_says, _hours(rows)),
    )
    return Money(lines, direct, steps, total, budget, job.currency, sheets, whys)


def _rate(item: Measured, rates: Mapping[str, Rate]) -> Rate | None:
    """The first rate that prices it; a rate by another unit prices nothing."""
    return next((rates[key] for key in item.rates if key in rates and rates[key].unit == item.unit), None)


def _line(item: Measured, row: Rate | None) -> Line:
    if row is None:
        name = item.name or item.key.replace("_", " ")
        return Line(
            item.key, item.trade, name, item.quantity, item.unit, 0, 0, f"{item.how}; {UNPRICED}", item.of
        )
    rate = minor(row.amount)
    amount = priced(item.quantity, rate)
    return Line(
        item.key, row.trade, item.name or row.name, item.quantity, item.unit, rate, amount, item.how, item.of
    )


def _place(row: tuple[Measured, Rate | None]) -> int:
    item, rate = row
    trade = rate.trade if rate else item.trade
    return TRADES.index(trade) if trade in TRADES else len(TRADES)


def _reserve(job: Job, limits: Limits) -> tuple[float, str]:
    """The share kept for surprises [%], and why that much."""
    if job.brief.budget and job.brief.budget.reserve is not None:
        return job.brief.budget.reserve * 100, "The brief sets the reserve."
    if job.brief.tenure == "rent" or job.survey.finish_complete:
        return limits.value(
            "money.contingency_old"
        ), "The walls are finished: what lies behind them shows only when opened."
    return limits.value("money.contingency_new"), "The flat is still being finished: little is hidden yet."


def _hours(rows: Iterable[tuple[Measured, Rate | None]]) -> dict[str, float]:
    """Hours of work of each trade contained in the priced lines."""
    hours: dict[str, float] = {}
    for item, rate in rows:
        if rate is not None and rate.hours:
            hours[rate.trade] = hours.get(rate.trade, 0.0) + item.quantity * rate.hours
    return hours


def _line_whys(lines: tuple[Line, ...], currency: str, grouping: Grouping) -> Iterator[Why]:
    for line in lines:
        says = f"{line.item}: {line.measured}."
        given = (
            Given("quantity", line.quantity, line.unit),
            Given("rate", show_money(line.rate, currency, grouping), line.unit),
        )
        yield Why(
            f"money.line.{line.ref}",
            line.amount / 100,
            currency,
            says,
            "quantity x rate",
            given,
            "rates book",
            "computed",
        )


def _whys(  # noqa: PLR0913
    job: Job, lines: tuple[Line, ...], steps: tuple[Step, ...], direct: int, total: int, budget: int, reserve_says: str,
    hours: Mapping[str, float],
) -> Iterator[Why]:  # fmt: skip
    currency = job.currency
    source = f"rates book {job.design.rates!r}" + (
        ", whose rates are invented" if job.design.rates == "demo" else ""
    )

    def computed(
        name: str, value: float, says: str, formula: str, given: tuple[Given, ...] = (), unit: str = currency
    ) -> Why:
        return Why(f"money.{name}", value, unit, says, formula, given, source, "computed")

    trades = tuple(Given(trade, amount / 100, currency) for trade, amount in by_trade(lines).items())
    yield computed("direct", direct / 100, f"The sum of {len(lines)} priced lines.", "sum of lines", trades)
    for trade, amount in by_trade(lines).items():
        yield computed(f"trade.{trade}", amount / 100, f"Direct cost of {trade}.", "sum of its lines")
    for trade, worked in hours.items():
        yield computed(
            f"hours.{trade}",
            round(worked, 1),
            f"Work of {trade} in its lines.",
            "quantity x hours a unit",
            (),
            "h",
        )
    for step in steps:
        says = reserve_says if step.name == "contingency" else f"The step of the price chain for {step.name}."
        share = (Given("share", round(step.share * 100, 4), "%"),)
        yield computed(step.name, step.amount / 100, says, "difference of the running totals", share)
    shares = (
        Given("direct", direct / 100, currency),
        *(Given(s.name, round(s.share * 100, 4), "%") for s in steps),
    )
    says = "The price of all that is in the bill; the screen and the devices are not in it."
    yield computed(
        "total",
        total / 100,
        says,
        "direct x (1 + overhead) / (1 - margin) x (1 + contingency) x (1 + tax)",
        shares,
    )
    if budget:
        over = total - budget
        shown = show_money(abs(over), currency, grouping_for(job.survey.place.rules))
        says = f"{shown} {'over' if over > 0 else 'within'} the budget."
        given = (Given("price", total / 100, currency), Given("budget", budget / 100, currency))
        yield computed("budget_left", -over / 100, says, "budget - price", given)
