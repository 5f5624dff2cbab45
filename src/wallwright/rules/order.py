"""Rules of money and the order of decisions: screen, height, material, look; and the gates one after the other."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.counted import counted
from wallwright.core.finding import Finding, edit_call
from wallwright.derive import Wall
from wallwright.rules.registry import rule

_ORDER = "common practice: screen, height, material, look"
_GATES = ("G0", "G1", "G2", "G3", "G4", "G5", "G6")
_IN_WALL = ("set", "built")


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
        f"{counted(len(waiting), 'variation waits', 'variations wait')} for "
        f"{'a price' if first.state == 'draft' else 'a signature'}, first {first.ref}: {first.says}",
        first.state,
        "approved",
        "",
        "common practice: no change is done before it is priced, timed and signed",
        "common practice",
        "price it, and have it signed or refused, before anybody works on it",
    )


@rule("order.gate_skipped")
def gate_skipped(wall: Wall) -> Iterator[Finding]:
    """No gate is signed while one before it, on which it rests, is not."""
    signed = {gate.ref for gate in wall.job.progress.gates}
    last = max(signed, default="")
    missing = [gate for gate in _GATES[1:] if gate < last and gate not in signed]
    if not missing:
        return
    early = min(gate for gate in signed if gate > missing[0])
    yield Finding(
        "order.gate_skipped",
        "consider",
        "wall",
        f"{last} is signed, and {' and '.join(missing)} before it {'are' if len(missing) > 1 else 'is'} not",
        f"{last} signed",
        f"{missing[0]} signed first",
        "",
        "common practice: survey, then screen and height, then the first fix, then the way in; each rests on the one before",
        "common practice",
        f"have {' and '.join(missing)} signed, or take {early} back until then",
        (edit_call("unsign_gate", ref=early),),
    )


@rule("order.first_fix_release")
def first_fix_release(wall: Wall) -> Iterator[Finding]:
    """No box goes into the wall before screen and height are frozen: it lies where they say."""
    progress = wall.job.progress
    if "G2" in {gate.ref for gate in progress.gates}:
        return
    points = {point.ref for point in wall.services.points}
    early = [made.ref for made in progress.made if made.ref in points and made.state in _IN_WALL]
    whole = progress.points in _IN_WALL
    if not whole and not early:
        return
    what = "the boxes are" if whole else f"{', '.join(early[:3])} {'are' if len(early) > 1 else 'is'}"
    yield Finding(
        "order.first_fix_release",
        "consider",
        "wall" if whole else early[0],
        f"{what} in the wall, and G2, screen and height frozen, is not signed",
        "G2 open",
        "G2 signed",
        "",
        "common practice: the first fix is released when screen and height are frozen",
        "common practice",
        "have screen and height signed now, before the next box is chased in; a box in the wrong place is chased in twice",
    )
