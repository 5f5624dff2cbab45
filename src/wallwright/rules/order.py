"""Rules of money and the order of decisions: screen, height, material, look."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import Finding, edit_call
from wallwright.derive import Wall
from wallwright.rules.registry import rule

_ORDER = "common practice: screen, height, material, look"


@rule("order.height_before_screen")
def height_before_screen(wall: Wall) -> Iterator[Finding]:
    """The screen is chosen before its height is fixed."""
    screen = wall.job.design.screen
    if screen.centre_height is None or screen.diagonal is not None:
        return
    yield Finding(
        "order.height_before_screen",
        "consider",
        "screen",
        "the height is pinned while the screen's size is still open",
        "height pinned",
        "size pinned",
        "",
        _ORDER,
        "common practice",
        "choose the screen first",
        (edit_call("set_screen_size", diagonal=wall.sight.screen.diagonal),),
        at=wall.sight.screen.frame,
    )


@rule("order.console_before_screen")
def console_before_screen(wall: Wall) -> Iterator[Finding]:
    """The console takes its size from the screen, so the screen comes first."""
    early = [
        unit
        for unit in wall.setout.units
        if unit.kind == "console" and unit.pinned & {"width", "height", "z"}
    ]
    if not early or wall.job.design.screen.diagonal is not None:
        return
    yield Finding(
        "order.console_before_screen",
        "consider",
        early[0].ref,
        f"{early[0].ref} is sized while the screen's size is still open",
        "console pinned",
        "screen pinned",
        "",
        _ORDER,
        "common practice",
        "choose the screen first",
        (edit_call("set_screen_size", diagonal=wall.sight.screen.diagonal),),
        at=early[0].box,
    )


@rule("money.over_budget")
def over_budget(wall: Wall) -> Iterator[Finding]:
    """The wall, all in, stays within the budget."""
    money = wall.money
    if not money.budget or money.total <= money.budget:
        return
    over = money.total - money.budget
    dear = sorted(money.lines, key=lambda line: -line.amount)[:3]
    at_most, how = (
        ("at most ", "; the boards are counted by the quick plan") if wall.cuts.at_most else ("", "")
    )
    yield Finding(
        "money.over_budget",
        "consider",
        "money",
        f"{at_most}{money.shown(money.total)} all in is {money.shown(over)} over the budget{how}",
        round(money.major(money.total)),
        round(money.major(money.budget)),
        money.currency,
        "your budget",
        "computed",
        "the budget command lists the fewest swaps back into it; dearest lines: "
        + "; ".join(f"{line.item} ({money.notation.amount(line.amount)})" for line in dear),
    )


@rule("order.variation_open")
def variation_open(wall: Wall) -> Iterator[Finding]:
    """A variation is priced and signed before any work on it."""
    waiting = [one for one in wall.job.progress.variations if one.state in ("draft", "priced")]
    if not waiting:
        return
    first = waiting[0]
    yield Finding(
        "order.variation_open",
        "consider",
        first.ref,
        f"{len(waiting)} variation(s) wait for {'a price' if first.state == 'draft' else 'a signature'}, first {first.ref}: {first.says}",
        first.state,
        "approved",
        "",
        "common practice: no change is done before it is priced, timed and signed",
        "common practice",
        "price it, and have it signed or refused, before anybody works on it",
    )
