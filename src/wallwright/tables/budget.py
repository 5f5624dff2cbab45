"""How sure the price is, and what it is made of: by trade, by thing and for each m² of wall."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.counted import counted
from wallwright.core.table import Column, Table
from wallwright.money.quote import by_trade
from wallwright.money.range import Range, simulated
from wallwright.options.cost import all_in, cost_of_things

if TYPE_CHECKING:
    from wallwright.derive import Wall


def unsure(wall: Wall) -> bool:
    """Whether something that the price rests on is only assumed."""
    survey = wall.job.survey
    return bool(wall.face.assumed) or survey.wall.substrate == "unknown" or not survey.room.floor_finished


def range_of(wall: Wall, seed: int = 1) -> Range:
    """The wall's price simulated."""
    return simulated(wall.money, wall.limits, unsure=unsure(wall), seed=seed)


def price_range(wall: Wall) -> Table:
    """Low, likely and high price, the reserve kept and the reserve that makes it as sure as asked."""
    money, found = wall.money, range_of(wall)
    columns = (
        Column("What"),
        Column("Amount", money.currency, money.notation.decimals, "right"),
        Column("Says"),
    )
    rows = (
        ("Price as measured, no reserve", found.base, "every line as likely"),
        ("Low", found.low, "10 of 100 such walls cost no more"),
        ("Likely", found.likely, "50 of 100 such walls cost no more"),
        ("High", found.high, "90 of 100 such walls cost no more"),
        (
            "Reserve kept",
            found.kept_amount,
            f"{found.kept:.1%}: covers {100 * found.sure:.0f} of 100 such walls",
        ),
        (
            f"Reserve for {100 * found.wanted:.0f} of 100",
            found.asked_amount,
            f"{found.asked:.1%} of the price without reserve",
        ),
    )
    notes = [
        f"{found.draws} walls drawn, seed {found.seed}; each line a triangle by its trade, lines of a trade moving together in part.",
        "What an opened wall may show beyond that, and changes of mind, are no part of it.",
    ]
    if found.widened:
        notes.append(f"Wider, for the survey is not closed: {', '.join(found.widened)}.")
    if found.unpriced:
        notes.append(f"{counted(found.unpriced, 'line')} without a price: not in it.")
    shown = tuple((name, money.major(amount), says) for name, amount, says in rows)
    return Table(
        "price_range",
        "What the price may turn out to be",
        columns,
        shown if wall.job.terms.rates_shown else (),
        tuple(notes),
    )


def cost_split(wall: Wall) -> Table:
    """The price by thing and by trade, all in, and for each m² of the wall's face and of what is seen on it."""
    money = wall.money
    columns = (
        Column("What"), Column("Name"), Column("Direct", money.currency, money.notation.decimals, "right"),
        Column("All in", money.currency, money.notation.decimals, "right"), Column("Share", "%", 1, "right"),
        Column("Front", "m²", 2, "right"), Column("All in a m²", money.currency, money.notation.decimals, "right"),
    )  # fmt: skip
    things = cost_of_things(wall)
    rows = [
        (thing.ref, thing.name, money.major(thing.direct), money.major(thing.price), _share(thing.price, money.total), thing.front or None,
         round(money.major(thing.price) / thing.front, money.notation.decimals) if thing.front else None)
        for thing in things
    ]  # fmt: skip
    trades = by_trade(money.lines)
    for trade, price in zip(trades, all_in(money, list(trades.values())), strict=True):
        rows.append(
            (
                "trade",
                trade,
                money.major(trades[trade]),
                money.major(price),
                _share(price, money.total),
                None,
                None,
            )
        )
    face = round(wall.face.width * wall.face.height / 1e6, 2)
    each = round(money.major(money.total) / face, money.notation.decimals) if face else None
    rows.append(
        ("wall", "The whole wall", money.major(money.direct), money.major(money.total), 100.0, face, each)
    )
    notes = (
        "Things and trades are two splits of one price: each sums to it. Overhead, margin, reserve and tax lie on all alike.",
    )
    return Table(
        "cost_split",
        "What the price is made of",
        columns,
        tuple(rows) if wall.job.terms.rates_shown else (),
        notes,
    )


def _share(part: int, whole: int) -> float:
    return round(100 * part / whole, 1) if whole else 0.0
