"""Edits of money: your own rates, the terms of the quote, how it is paid, and what a search for savings leaves alone."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal

from pydantic import Field

from wallwright.job.brief import Budget
from wallwright.job.document import Job
from wallwright.job.edit import change, edit
from wallwright.job.fields import Count, NotNegative, Ref, Words
from wallwright.job.problem import fail, nearest
from wallwright.job.terms import OwnRateField, Parties, Party, Percent, RateKey, Stage
from wallwright.library.rates import OwnRate

Unit = Annotated[str, Field(min_length=1, max_length=20)]


@edit
def set_rate(  # noqa: PLR0913
    job: Job,
    key: RateKey,
    amount: NotNegative | None = None,
    unit: Unit | None = None,
    hours: NotNegative | None = None,
    name: Words | None = None,
    trade: Ref | None = None,
) -> Job:
    """Set a rate of your own: its amount, unit, or hours."""
    given = {"amount": amount, "unit": unit, "hours": hours, "name": name, "trade": trade}
    said = {field: value for field, value in given.items() if value is not None}
    if not said:
        raise fail("values", None, f"nothing to change: give at least one of {', '.join(given)}")
    return replace(job, rates={**job.rates, key: replace(job.rates.get(key, OwnRate()), **said)})


@edit
def set_own_rates(job: Job, rates: dict[RateKey, OwnRateField]) -> Job:
    """Lay a whole rates book of your own over the one that prices the wall."""
    return replace(job, rates={**job.rates, **rates})


@edit
def clear_rate(job: Job, key: RateKey) -> Job:
    """Give a rate back to the rates book."""
    if key not in job.rates:
        raise fail("key", key, f"you have set no rate of that name; {nearest(key, job.rates)}")
    return replace(job, rates={name: rate for name, rate in job.rates.items() if name != key})


@edit
def set_terms(  # noqa: PLR0913
    job: Job,
    valid_days: Count | None = None,
    measure: Literal["metric", "feet"] | None = None,
    rates_shown: bool | None = None,
    decimals: Literal[0, 2, 3] | None = None,
    grouping: Literal["thousand", "lakh", "none"] | None = None,
    decimal_mark: Literal["point", "comma"] | None = None,
) -> Job:
    """Set how the quote is written: units of the bill, digits, whether rates are shown, how long it holds."""
    return change(
        job, "terms", valid_days=valid_days, measure=measure, rates_shown=rates_shown, decimals=decimals, grouping=grouping,
        decimal_mark=decimal_mark,
    )  # fmt: skip


@edit
def set_tax(job: Job, trade: Ref, percent: Percent) -> Job:
    """Set the tax of one trade's lines, in per cent."""
    return change(job, "terms", tax={**job.terms.tax, trade: percent})


@edit
def clear_tax(job: Job, trade: Ref) -> Job:
    """Tax one trade's lines as all others again."""
    if trade not in job.terms.tax:
        raise fail("trade", trade, f"it has no tax of its own; {nearest(trade, job.terms.tax)}")
    return change(job, "terms", tax={name: share for name, share in job.terms.tax.items() if name != trade})


@edit
def set_stages(job: Job, stages: tuple[Stage, ...]) -> Job:
    """Set the payment stages, which sum to 100.00 %; an empty list gives the usual ones."""
    return replace(job, terms=replace(job.terms, stages=stages))


@edit
def set_scope(
    job: Job, thing: Ref, supply: Party | None = None, fix: Party | None = None, connect: Party | None = None
) -> Job:
    """Say who supplies, fixes and connects a thing; with nobody named it is as usual again."""
    others = {name: who for name, who in job.terms.scope.items() if name != thing}
    parties = Parties(supply, fix, connect)
    if parties != Parties():
        others[thing] = parties
    return change(job, "terms", scope=others)


@edit
def set_inclusions(
    job: Job, includes: tuple[Words, ...] | None = None, excludes: tuple[Words, ...] | None = None
) -> Job:
    """Set the sentences that the quote adds to what is in its price and what is not."""
    return change(job, "terms", includes=includes, excludes=excludes)


@edit
def keep_from_swaps(job: Job, keep: tuple[Ref, ...]) -> Job:
    """Name what a search for savings must leave as it is: refs, or wall, fronts, panels, boards, lights, mount."""
    if job.brief.budget is None:
        raise fail("keep", None, "there is no budget yet; set it first with set_budget")
    kept = Budget(job.brief.budget.amount, job.brief.budget.reserve, keep)
    return change(job, "brief", budget=kept)
