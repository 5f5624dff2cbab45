"""The state of the page: one object with all it shows, read off the wall."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from wallwright.carcass.record import UnitBox
from wallwright.core.shape import Box
from wallwright.core.why import Why
from wallwright.derive import Wall
from wallwright.export.svg import drawing_svg, view_box
from wallwright.export.wall_json import finding_json, why_json
from wallwright.job.problem import JobError, Problem, nearest
from wallwright.rules.check import check, gate
from wallwright.rules.registry import RULES
from wallwright.studio import answers, answers_wall
from wallwright.studio.elevation import elevation
from wallwright.studio.groups import does, groups
from wallwright.studio.marks import rods
from wallwright.studio.questions import drops
from wallwright.studio.seen import View
from wallwright.studio.steps import step_of, steps

MARGIN = 1.0
"""Paper mm shown round the drawing."""
_STEP_OF = {
    "overhead": "on the direct cost", "margin": "of the price, before reserve and tax", "contingency": "on the price so far",
    "tax": "on all of it",
}  # fmt: skip
WITHOUT = "the screen and the devices are not in it"


def state(view: View, scale: float, known: Sequence[str] | None = None) -> answers.State:
    """All that the page shows of a view.

    scale : 1:`scale` for the line widths and signs of the elevation · known : names that /api/why can tell of; None = all of this wall.
    While one drags, those of the wall that is kept are given: they are what it can tell of, and no working is written out for a wall that
    is thrown away at once.
    """
    wall = view.wall
    known = known if known is not None else [why.name for why in wall.whys]
    drawing = elevation(wall, scale)
    return answers.State(
        job=_head(view),
        position=view.position,
        undo=view.undo, redo=view.redo, can_undo=view.can_undo, can_redo=view.can_redo,
        wall=answers_wall.WallOut(width=_mm(wall.face.width), height=_mm(wall.face.height), assumed=list(wall.face.assumed)),
        screen=_screen(wall),
        units=[_unit(item) for item in wall.setout.units],
        rods=rods(wall, known),
        seats=list(_seats(wall)),
        points=_points(wall),
        findings=[
            answers_wall.FindingOut.model_validate(
                {**finding_json(item), "says": _below(item.says), "stage": step_of(item.rule), "does": does(item.edits, wall)}
            )
            for item in view.findings
        ],
        groups=groups(view.findings), moved=list(view.moved), meanwhile=list(view.meanwhile),
        trouble=view.trouble, sha256=view.sha,
        gate=gate(wall, view.findings),
        stages=steps(wall, view.findings),
        money=_money(wall),
        whys=list(known),
        view=_box(view_box(drawing, MARGIN)),
        svg=drawing_svg(drawing, MARGIN),
    )  # fmt: skip


def cures(view: View) -> answers_wall.Cures:
    """The cures that the findings of a view were told without, each by the place of its finding."""
    wall, told = view.wall, check(view.wall)
    return answers_wall.Cures.model_validate({
        "position": view.position,
        "cures": [
            {"finding": at, "cure": item.cure, "edits": [call.as_dict() for call in item.edits], "does": does(item.edits, wall)}
            for at, (shown, item) in enumerate(zip(view.findings, told, strict=True))
            if not shown.cure
        ],
    })  # fmt: skip


def look(view: View, kept: View, scale: float) -> answers.Look:
    """What is drawn of a view that is only looked at. kept : how the job stands · scale : as for `state`"""
    wall = view.wall
    known = [why.name for why in kept.wall.whys]
    drawing = elevation(wall, scale)
    return answers.Look(
        screen=_screen(wall), units=[_unit(item) for item in wall.setout.units], rods=rods(wall, known, kept.wall), points=_points(wall),
        moved=list(view.moved), view=_box(view_box(drawing, MARGIN)), svg=drawing_svg(drawing, MARGIN),
    )  # fmt: skip


def priced(before: Wall, after: Wall) -> answers.Priced:
    """What a change adds to the price."""
    more = after.money.total - before.money.total
    shown = before.money.shown(abs(more))
    return answers.Priced(
        difference=more, shown=f"{'+' if more > 0 else '−'} {shown}" if more else "at the same price"
    )


def whys(wall: Wall, name: str) -> answers.Whys:
    """The working of a value, of the values below a name, of a limit, or of a rule. JobError names the nearest."""
    found = [why for why in wall.whys if why.name == name or why.name.startswith(f"{name}.")]
    if not found and name in wall.limits:
        limit = wall.limits[name]
        says = limit.note or "A limit of the rule set."
        found = [Why(name, limit.value, limit.unit, says, "", (), limit.source, limit.certainty)]
    if not found and name in RULES:
        rule = RULES[name]
        found = [Why(name, "rule", "", rule.says, "", (), "the rule set", "common practice")]
    if not found:
        known = [*(why.name for why in wall.whys), *RULES, *(limit.name for limit in wall.limits)]
        raise JobError(
            (Problem("name", name, f"is no value, rule or limit of this wall; {nearest(name, known)}"),)
        )
    return answers.Whys(whys=[answers.WhyOut.model_validate(why_json(why)) for why in found[:60]])


def _mm(value: float) -> float:
    return round(value, 2)


def _box(box: Box) -> answers_wall.BoxOut:
    return answers_wall.BoxOut(x=_mm(box.x), z=_mm(box.z), width=_mm(box.width), height=_mm(box.height))


def _head(view: View) -> answers_wall.JobHead:
    job = view.wall.job
    return answers_wall.JobHead(
        title=job.title, number=job.number, client=job.client, room=job.survey.room.name, revision=job.revision,
        status=job.status, units=job.units, currency=job.currency, path=view.path,
    )  # fmt: skip


def _screen(wall: Wall) -> answers_wall.ScreenOut:
    screen, heights = wall.sight.screen, wall.sight.heights
    return answers_wall.ScreenOut(
        diagonal=screen.diagonal, panel=screen.panel, frame=_box(screen.frame), picture=_box(screen.picture),
        centre_height=_mm(screen.centre[1]), centre_x=_mm(screen.centre[0]), mass=screen.mass, watts=screen.watts,
        mount=screen.mount, tilt=screen.tilt, stand_off=_mm(screen.stand_off), source=screen.source, pinned=sorted(screen.pinned),
        drops=drops(wall.job.design.screen),
        heights=answers_wall.HeightsOut(
            best=_mm(heights.recommended), low=_mm(heights.low), high=_mm(heights.high), serves_all=heights.serves_all,
            rule_low=_mm(heights.rule_low), rule_high=_mm(heights.rule_high), used=_mm(heights.used), pinned=heights.pinned,
        ),
        candidates=[
            answers_wall.CandidateOut(
                diagonal=c.diagonal, frame_width=_mm(c.frame_width), frame_height=_mm(c.frame_height), fits=c.fits,
                angle_far=round(c.angle_far, 1), angle_near=round(c.angle_near, 1), verdict=c.verdict,
            )
            for c in wall.sight.candidates
        ],
    )  # fmt: skip


def _unit(unit: UnitBox) -> answers_wall.UnitOut:
    box = unit.box
    return answers_wall.UnitOut(
        ref=unit.ref, kind=unit.kind, x=_mm(box.x), z=_mm(box.z), width=_mm(box.width), height=_mm(box.height),
        depth=_mm(unit.depth), hung=unit.hung, pinned=sorted(unit.pinned),
    )  # fmt: skip


def _seats(wall: Wall) -> Iterator[answers_wall.SeatOut]:
    for seat in wall.sight.seats:
        yield answers_wall.SeatOut(
            ref=seat.ref, kind=seat.kind, posture=seat.posture, hours=seat.hours, distance=_mm(seat.distance),
            eye_height=_mm(seat.eye[2]), eye_measured=seat.eye_measured, picture_angle=round(seat.picture_angle, 1),
            off=round(seat.off, 1), sideways=round(seat.sideways, 1), best_height=_mm(seat.best_height),
        )  # fmt: skip


def _points(wall: Wall) -> list[answers_wall.PointOut]:
    return [
        answers_wall.PointOut(ref=p.ref, kind=p.kind, x=_mm(p.x), z=_mm(p.z), zone=p.zone, reason=p.reason)
        for p in wall.services.points
    ]


def _below(says: str) -> str:
    """A negative height above something, said as people say it."""
    return re.sub(r"passes -(\d[\d.]*) mm above", r"passes \1 mm below", says)


def _money(wall: Wall) -> answers_wall.MoneyOut:
    money = wall.money
    shown = money.shown
    by_trade: dict[str, int] = {}
    for line in money.lines:
        by_trade[line.trade] = by_trade.get(line.trade, 0) + line.amount
    left = money.budget - money.total if money.budget else 0
    names = {why.name for why in money.whys}
    book = wall.job.design.rates
    invented = bool(money.invented)
    return answers_wall.MoneyOut(
        total=money.total, budget=money.budget, left=left, currency=money.currency, total_shown=shown(money.total),
        budget_shown=shown(money.budget), left_shown=shown(left), direct_shown=shown(money.direct),
        trades=[answers_wall.TradeMoney(trade=trade, amount=amount, shown=shown(amount)) for trade, amount in by_trade.items()],
        steps=[
            answers_wall.StepMoney(name=s.name, share=s.share, of=_STEP_OF.get(s.name, ""), amount=s.amount, shown=shown(s.amount))
            for s in money.steps
        ],
        rates=f"invented rates (book {book!r})" if invented else f"rates book {book!r}", invented=invented, without=WITHOUT, quick=wall.cuts.at_most,
        why="money.total" if "money.total" in names else "",
    )  # fmt: skip
