"""The quote as the client reads it: what you get, the price, what is not in it, how long it holds, how it is paid, how changes go.

It shows no overhead, no margin and no rate: items and their prices where the terms show them, the price always.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from wallwright.job.terms import Terms
from wallwright.sheets.paper import Fields
from wallwright.tables.fixings import without_fixings
from wallwright.tables.items import in_feet, items, sentence
from wallwright.tables.quote import NO_TAX
from wallwright.tables.scope import scope
from wallwright.tables.stages import payments

if TYPE_CHECKING:
    from wallwright.derive import Wall

Row = tuple[str, ...]
WARNING = "Invented demo rates: this is no offer. {count} of {all} lines of the bill are priced with rates that nobody charges."
CHANGES = (
    "A change is written down, priced and timed before it is done, and is done only when it is signed.",
    "What an opened wall shows and nobody could know is shown to you, priced and signed before work goes on.",
)
SAFETY = "Electrical work is done, tested and recorded by the locally licensed electrician; fixings are pull-tested on your wall."
EXCLUDES = (
    "The screen, boxes, players, sound and subscriptions",
    "Structural works, a new electrical board or a new supply, permits",
    "Other walls, ceiling and floor, moving furniture out of the room",
)


@dataclass(frozen=True, slots=True)
class QuotePaper:
    """The quote as texts, ready to be typeset.

    head : (label, text) of the parties and dates · offer : one sentence · items : number, description, quantity, price ("" = not shown) ·
    sums : (label, amount), the price last · stages : name, share, amount, when · scope : thing, supplies, fixes, connects ·
    warnings : printed in a frame
    """

    title: str
    fields: Fields
    head: tuple[tuple[str, str], ...]
    offer: str
    items: tuple[Row, ...]
    sums: tuple[tuple[str, str], ...]
    includes: tuple[str, ...]
    excludes: tuple[str, ...]
    stages: tuple[Row, ...]
    scope: tuple[Row, ...]
    changes: tuple[str, ...]
    warnings: tuple[str, ...]


def quote_paper(wall: Wall) -> QuotePaper:
    """The quote of a wall. ValueError where its payment stages do not make 100.00 %."""
    job = wall.job
    until = valid_until(wall)
    head = (
        ("For", job.client or "—"), ("From", job.designer or "—"), ("Wall", f"{job.title}, {job.survey.room.name}".rstrip(", ")),
        ("Number", f"{job.number}, revision {job.revision}"), ("Date", job.date), ("Holds until", until),
    )  # fmt: skip
    return QuotePaper(
        f"Quote {job.number}", Fields.of(job), head, _offer(wall), tuple(_items(wall)), tuple(_sums(wall)),
        job.terms.includes, (*EXCLUDES, *job.terms.excludes), tuple(_stages(wall)),
        tuple(tuple(str(cell) for cell in row[:4]) for row in scope(wall).rows),
        (*CHANGES, f"The price holds until {until}.", SAFETY), tuple(_warnings(wall)),
    )  # fmt: skip


def valid_until(wall: Wall) -> str:
    """The last day that the price holds."""
    days = wall.job.terms.valid_days
    return str(
        date.fromisoformat(wall.job.date)
        + timedelta(days=int(wall.limits.value("money.valid_days") if days is None else days))
    )


def _offer(wall: Wall) -> str:
    units = len(wall.setout.units)
    screen = wall.sight.screen
    price = wall.money.shown(wall.money.total)
    return (
        f"A wall for a {screen.diagonal:g} in screen: {units} piece{'s' if units != 1 else ''} of joinery, "
        f"{len(wall.setout.zones)} panelled field{'s' if len(wall.setout.zones) != 1 else ''}, {len(wall.services.points)} points, "
        f"{len(wall.light.runs)} light run{'s' if len(wall.light.runs) != 1 else ''}; supplied, fixed and tested for {price}, "
        f"in {wall.programme.days} working days from the survey."
    )


def _items(wall: Wall) -> Iterator[Row]:
    terms: Terms = wall.job.terms
    for item in items(wall):
        quantity, unit = (
            in_feet(item.quantity, item.unit) if terms.measure == "feet" else (item.quantity, item.unit)
        )
        price = wall.money.notation.amount(item.price) if terms.rates_shown else ""
        mark = "," if wall.money.notation.mark == "comma" else "."
        shown = f"{quantity:g}".replace(".", mark)
        yield item.number, sentence(item), f"{shown} {unit}", price


def _sums(wall: Wall) -> Iterator[tuple[str, str]]:
    """The price before tax, each tax, the price; where there is no tax, the price alone."""
    money = wall.money
    taxes = [part for part in money.taxes if part.amount]
    if taxes:
        yield "Price before tax", money.shown(money.total - sum(part.amount for part in taxes))
        for part in taxes:
            of = f" on {', '.join(part.trades)}" if len(money.taxes) > 1 else ""
            yield f"Tax {100 * part.share:g} %{of}", money.shown(part.amount)
    yield "Price", money.shown(money.total)


def _stages(wall: Wall) -> Iterator[Row]:
    for each in payments(wall):
        yield each.name, f"{each.share:.2f} %", wall.money.shown(each.amount), each.says


def _warnings(wall: Wall) -> Iterator[str]:
    money = wall.money
    if money.invented:
        yield WARNING.format(count=len(money.invented), all=len(money.lines))
    if not any(part.amount for part in money.taxes):
        yield NO_TAX
    unpriced = [line.item for line in money.lines if line.measured.endswith("not priced")]
    if unpriced:
        yield f"Not priced yet, and not in the price: {', '.join(unpriced)}."
    if without_fixings(wall):
        yield "The price is without fixings: the wall is unknown, and they are chosen when it is opened up."
    if wall.face.assumed:
        yield "Some readings of the survey are assumed; the price is confirmed when they are measured."
