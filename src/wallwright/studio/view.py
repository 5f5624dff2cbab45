"""The state of the page: one object with all it shows, read off the wall."""

from __future__ import annotations

import re
from collections.abc import Iterator

from wallwright.carcass.record import UnitBox
from wallwright.core.finding import Finding
from wallwright.core.shape import Box
from wallwright.core.why import Why
from wallwright.derive import Wall
from wallwright.export.svg import drawing_svg, view_box
from wallwright.export.wall_json import finding_json, why_json
from wallwright.job.problem import JobError, Problem, nearest
from wallwright.rules.check import MUST, gate
from wallwright.rules.registry import RULES
from wallwright.studio import answers, answers_wall
from wallwright.studio.elevation import elevation
from wallwright.studio.groups import does, groups
from wallwright.studio.lines import tables_of
from wallwright.studio.marks import rods
from wallwright.studio.questions import drops
from wallwright.studio.session import View

MARGIN = 1.0
"""Paper mm shown round the drawing."""
STAGES: tuple[str, ...] = (
    "Brief",
    "Wall",
    "Screen",
    "Heights",
    "Services",
    "Storage",
    "Build",
    "Materials & money",
    "Look",
    "Drawings",
)
_STAGE_OF = {
    "survey": "Wall", "sight": "Screen", "services": "Services", "storage": "Storage", "carcass": "Build", "structure": "Build",
    "light": "Look", "look": "Look", "money": "Materials & money", "order": "Brief", "screen": "Screen",
}  # fmt: skip
_HERE = {
    "Screen": "The screen's size and place are set here.", "Heights": "Heights are set here, on the height rod.",
    "Build": "Sizes and places of the units are set here.", "Drawings": "The sheets are opened and the set is written here.",
}  # fmt: skip
"""What of a step the page itself sets."""
_IN_FILE = {
    "Brief": ("brief",), "Wall": ("survey",), "Screen": ("design.screen", "design.mount"), "Services": ("design.points",),
    "Storage": ("brief.things",), "Build": ("design.units",), "Materials & money": ("brief.budget", "design.finishes"),
    "Look": ("design.finishes", "design.panels", "design.lights"),
}  # fmt: skip
"""Tables of the job file in which the rest of a step is edited."""
_STEP_OF = {
    "overhead": "on the direct cost", "margin": "of the price, before reserve and tax", "contingency": "on the price so far",
    "tax": "on all of it",
}  # fmt: skip
WITHOUT = "the screen and the devices are not in it"
_HEIGHTS = frozenset(
    {
        "sight.height",
        "sight.top_edge",
        "sight.trade_band",
        "sight.console_gap",
        "sight.axis",
        "sight.below_ac",
    }
)


def state(view: View, scale: float) -> answers.State:
    """All that the page shows of a view. scale : 1:`scale` for the line widths and signs of the elevation."""
    wall = view.wall
    drawing = elevation(wall, scale)
    return answers.State(
        job=_head(view),
        position=view.position,
        undo=view.undo, redo=view.redo, can_undo=view.can_undo, can_redo=view.can_redo,
        wall=answers_wall.WallOut(width=_mm(wall.face.width), height=_mm(wall.face.height), assumed=list(wall.face.assumed)),
        screen=_screen(wall),
        units=[_unit(item) for item in wall.setout.units],
        rods=rods(wall),
        seats=list(_seats(wall)),
        points=[
            answers_wall.PointOut(ref=p.ref, kind=p.kind, x=_mm(p.x), z=_mm(p.z), zone=p.zone, reason=p.reason)
            for p in wall.services.points
        ],
        findings=[
            answers_wall.FindingOut.model_validate(
                {**finding_json(item), "says": _below(item.says), "stage": stage_of(item.rule), "does": does(item.edits, wall)}
            )
            for item in view.findings
        ],
        groups=groups(view.findings), moved=list(view.moved), meanwhile=list(view.meanwhile),
        trouble=view.trouble, sha256=view.sha,
        gate=gate(wall, view.findings),
        stages=_stages(view.findings, view.text),
        money=_money(wall),
        whys=[why.name for why in wall.whys],
        view=_box(view_box(drawing, MARGIN)),
        svg=drawing_svg(drawing, MARGIN),
    )  # fmt: skip


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


def _below(says: str) -> str:
    """A negative height above something, said as people say it."""
    return re.sub(r"passes -(\d[\d.]*) mm above", r"passes \1 mm below", says)


def stage_of(rule: str) -> str:
    """The step of the trade's order that a rule belongs to."""
    return "Heights" if rule in _HEIGHTS else _STAGE_OF.get(rule.partition(".")[0], "Build")


def _stages(findings: tuple[Finding, ...], text: str) -> list[answers.StageOut]:
    """What is open at each step of the trade's order, and where its values are given."""
    must = dict.fromkeys(STAGES, 0)
    consider = dict.fromkeys(STAGES, 0)
    for item in findings:
        stage = stage_of(item.rule)
        if item.severity in MUST:
            must[stage] += 1
        elif item.severity == "consider":
            consider[stage] += 1
    return [
        answers.StageOut(
            name=name, must=must[name], consider=consider[name], here=_HERE.get(name, ""),
            in_file=_in_file(text, _IN_FILE.get(name, ())),
        )
        for name in STAGES
    ]  # fmt: skip


def _in_file(text: str, tables: tuple[str, ...]) -> list[answers.InFile]:
    """Where these tables stand in the job file; entries of one list that follow each other as one."""
    out: list[answers.InFile] = []
    for table in tables:
        for path, first, last in tables_of(text, table):
            field = path.partition("[")[0]
            if out and out[-1].field == field and path != field:
                out[-1].last = last
            else:
                out.append(answers.InFile(field=field, first=first, last=last))
    return out


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
