"""A change as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wallwright.export.wall_json import finding_json
from wallwright.job.reconcile import likely

if TYPE_CHECKING:
    from wallwright.change.asfound import AsFound
    from wallwright.change.difference import Size
    from wallwright.change.impact import Impact
    from wallwright.derive import Wall
    from wallwright.job.reconcile import Outline
    from wallwright.job.survey import SurveyedWall


def impact_json(old: Wall, new: Wall, found: Impact) -> dict[str, Any]:
    """All that a change touches."""
    change, money = found.change, new.money
    return {
        "same": change.nothing,
        "fields": [{"field": f.path, "says": f.says, "from": f.was, "to": f.now} for f in change.fields],
        "heights": [_size(one) for one in change.heights],
        "parts": [
            {
                "part": one.change.ref,
                "what": one.change.fate,
                "state": one.state,
                "says": one.change.says,
                "wasted": one.wasted,
                "now": one.change.now.id if one.change.now else None,
            }
            for one in found.parts
        ],
        "points": [
            {
                "point": one.change.ref,
                "kind": one.change.kind,
                "state": one.state,
                "says": one.change.says,
                "from": one.change.was,
                "to": one.change.now,
                "dx": round(one.change.dx, 1),
                "dz": round(one.change.dz, 1),
            }
            for one in found.points
        ],
        "runs": [_size(one) for one in change.runs],
        "lights": [_size(one) for one in change.lights],
        "documents": [
            {
                "name": d.name,
                "title": d.title,
                "kind": d.kind,
                "sheet": d.number or None,
                "what": d.what,
                "readers": list(d.readers),
            }
            for d in found.documents
        ],
        "gained": [finding_json(item) for item in change.gained],
        "lost": [finding_json(item) for item in change.lost],
        "money": {
            "currency": new.job.currency,
            "from": money.major(old.money.total),
            "to": money.major(money.total),
            "thrown_away": money.major(found.lost),
            "take_out": money.major(found.take_out),
            "variation": money.major(found.price),
            "lines": [
                {"line": one.ref, "item": one.item, "from": money.major(one.was), "to": money.major(one.now)}
                for one in change.lines
            ],
        },
        "days": {
            "programme": list(change.days),
            "left": list(found.left),
            "added": found.days,
        },
        "may_be_accepted": not found.must,
    }


def as_found_json(found: AsFound) -> dict[str, Any]:
    """What the site found, and the answers."""
    return {
        "answer": found.answer,
        "by": found.by,
        "date": found.date,
        "verdicts": [
            {
                "ref": v.ref,
                "what": v.what,
                "answer": v.answer,
                "says": v.says,
                "off": round(v.off, 1),
                "tolerance": v.tolerance,
                "source": v.source,
                "numbers": [
                    {
                        "trade": n.trade,
                        "ref": n.ref,
                        "says": n.says,
                        "value": round(n.value, 1),
                        "unit": n.unit,
                    }
                    for n in v.numbers
                ],
                "fixes": [
                    {
                        "says": f.says,
                        "holds": f.possible,
                        "why": f.why,
                        "edits": [e.as_dict() for e in f.edits],
                    }
                    for f in v.fixes
                ],
                "edits": [e.as_dict() for e in v.edits],
                "ask": v.ask,
            }
            for v in found.verdicts
        ],
    }


def _size(one: Size) -> dict[str, Any]:
    return {"of": one.ref, "says": one.says, "from": one.was, "to": one.now, "unit": one.unit}


def outline_json(wall: SurveyedWall, found: Outline) -> dict[str, Any]:
    """The most likely outline of a wall, and every measure against it."""
    width, height = likely(found)
    return {
        "drawn_by": "outline" if wall.adjusted else "readings",
        "corners": [[round(x, 2), round(z, 2)] for x, z in found.corners],
        "width": round(width, 2),
        "height": round(height, 2),
        "spare": found.spare,
        "variance": round(found.variance, 4),
        "misclosure": round(found.misclosure, 2),
        "suspects": [one.measure.path for one in found.suspects],
        "measures": [
            {
                "field": one.measure.path,
                "says": one.measure.says,
                "read": one.measure.value,
                "likely": round(one.computed, 2),
                "residual": round(one.residual, 2),
                "checked": round(one.redundancy, 3),
                "off": round(one.off, 2),
            }
            for one in found.checked
            if one.measure.path
        ],
    }
