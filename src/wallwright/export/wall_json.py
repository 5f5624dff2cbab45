"""The wall and its findings as plain values for JSON: what other programs and the page read. Lengths mm, angles degrees."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from wallwright.core.finding import Finding
from wallwright.core.shape import Box
from wallwright.core.why import Why
from wallwright.derive import Wall
from wallwright.rules.gates import Standing


def _mm(value: float) -> float:
    """A length rounded to a hundredth of a millimetre, so that no binary tail shows."""
    return round(value, 2)


def box_json(box: Box) -> dict[str, float]:
    """A box: lower left corner and sizes."""
    return {"x": _mm(box.x), "z": _mm(box.z), "width": _mm(box.width), "height": _mm(box.height)}


def finding_json(item: Finding) -> dict[str, Any]:
    """A finding with its cure."""
    return {
        "rule": item.rule,
        "severity": item.severity,
        "where": item.where,
        "says": item.says,
        "measured": item.measured,
        "limit": item.limit,
        "unit": item.unit,
        "source": item.source,
        "certainty": item.certainty,
        "cure": item.cure,
        "edits": [edit.as_dict() for edit in item.edits],
        "at": box_json(item.at) if item.at else None,
    }


def findings_json(
    wall: Wall, findings: Iterable[Finding], gate: str, gates: Iterable[Standing] = ()
) -> dict[str, Any]:
    """All findings of a job, worst first, the gate it has reached, and what each gate waits for."""
    return {
        "job": wall.job.title,
        "revision": wall.job.revision,
        "findings": [finding_json(item) for item in findings],
        "gate": gate,
        "gates": [
            {"gate": one.ref, "name": one.name, "signed": one.signed, "waits": list(one.waits)}
            for one in gates
        ],
    }


def why_json(why: Why) -> dict[str, Any]:
    """The working behind one value."""
    return {
        "name": why.name,
        "value": why.value,
        "unit": why.unit,
        "says": why.says,
        "formula": why.formula,
        "inputs": [{"name": given.name, "value": given.value, "unit": given.unit} for given in why.inputs],
        "source": why.source,
        "certainty": why.certainty,
        "pinned": why.pinned,
    }


def wall_json(wall: Wall) -> dict[str, Any]:
    """The derived wall: screen, seats, units, parts, points, runs, light runs, structure, money and totals."""
    return {
        "job": wall.job.title,
        "revision": wall.job.revision,
        "wall": {
            "width": _mm(wall.face.width),
            "height": _mm(wall.face.height),
            "assumed": list(wall.face.assumed),
        },
        "screen": _screen(wall),
        "heights": _heights(wall),
        "seats": _seats(wall),
        "units": _units(wall),
        "panels": _panels(wall),
        "parts": _parts(wall),
        "points": _points(wall),
        "devices": _devices(wall),
        "runs": _runs(wall),
        "circuits": _circuits(wall),
        "light_runs": _lights(wall),
        "shelves": [
            {
                "ref": item.ref,
                "span": _mm(item.span),
                "sag": round(item.sag, 3),
                "sag_later": round(item.sag_later, 3),
                "longest": _mm(item.longest),
            }
            for item in wall.structure.shelves
        ],
        "fixings": [
            {
                "ref": item.ref,
                "what": item.what,
                "anchor": item.anchor,
                "count": item.count,
                "pull": round(item.pull, 1),
                "shear": round(item.shear, 1),
                "used": round(item.used, 3),
            }
            for item in wall.structure.fixings
        ],
        "totals": _totals(wall),
    }


def _screen(wall: Wall) -> dict[str, Any]:
    screen = wall.sight.screen
    return {
        "diagonal": screen.diagonal,
        "panel": screen.panel,
        "centre_height": _mm(screen.centre[1]),
        "centre_x": _mm(screen.centre[0]),
        "outline": box_json(screen.frame),
        "picture": box_json(screen.picture),
        "plate": box_json(screen.plate),
        "depth": _mm(screen.depth),
        "stand_off": _mm(screen.stand_off),
        "tilt": round(screen.tilt, 2),
        "mass": screen.mass,
        "watts": screen.watts,
        "source": screen.source,
        "pinned": sorted(screen.pinned),
    }


def _heights(wall: Wall) -> dict[str, Any]:
    heights = wall.sight.heights
    return {
        "best": _mm(heights.best),
        "minimax": _mm(heights.minimax),
        "recommended": _mm(heights.recommended),
        "serves_all": heights.serves_all,
        "low": _mm(heights.low),
        "high": _mm(heights.high),
        "trade_low": _mm(heights.rule_low),
        "trade_high": _mm(heights.rule_high),
        "used": _mm(heights.used),
        "pinned": heights.pinned,
    }


def _seats(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "ref": seat.ref,
            "kind": seat.kind,
            "posture": seat.posture,
            "eye": [_mm(value) for value in seat.eye],
            "distance": _mm(seat.distance),
            "hours": seat.hours,
            "picture_angle": round(seat.picture_angle, 2),
            "centre_up": round(seat.centre_up, 2),
            "top_up": round(seat.top_up, 2),
            "wanted": round(seat.wanted, 2),
            "sideways": round(seat.sideways, 2),
            "best_height": _mm(seat.best_height),
        }
        for seat in wall.sight.seats
    ]


def _units(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "ref": unit.ref,
            "kind": unit.kind,
            **box_json(unit.box),
            "depth": _mm(unit.depth),
            "hung": unit.hung,
            "anchored": unit.anchored,
            "board": unit.board,
            "front_finish": unit.front_finish,
            "pinned": sorted(unit.pinned),
            "bays": [
                {
                    "ref": bay.ref,
                    **box_json(bay.box),
                    "front": bay.front,
                    "drawers": bay.drawers,
                    "shelves": bay.shelves,
                }
                for bay in wall.carcass.bays
                if bay.unit == unit.ref
            ],
        }
        for unit in wall.setout.units
    ]


def _panels(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "ref": zone.ref,
            "kind": zone.kind,
            **box_json(zone.box),
            "build_up": _mm(zone.build_up),
            "finish": zone.finish,
            "joints": [_mm(x) for x in zone.joints],
            "flutes": zone.flutes,
            "flute_pitch": _mm(zone.flute_pitch),
        }
        for zone in wall.setout.zones
    ]


def _parts(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "id": part.id,
            "unit": part.unit,
            "name": part.name,
            "board": part.board,
            "length": _mm(part.length),
            "width": _mm(part.width),
            "thickness": _mm(part.thickness),
            "cut_length": _mm(part.cut_length),
            "cut_width": _mm(part.cut_width),
            "quantity": 1,
            "grain": part.grain,
            "edges": list(part.edges),
            "mass": round(part.mass, 3),
        }
        for part in wall.carcass.parts
    ]


def _points(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "ref": point.ref,
            "kind": point.kind,
            "x": _mm(point.x),
            "z": _mm(point.z),
            "box_width": _mm(point.box.width),
            "box_height": _mm(point.box.height),
            "zone": point.zone,
            "circuit": point.circuit,
            "serves": list(point.serves),
            "reason": point.reason,
            "pinned": point.pinned,
        }
        for point in wall.services.points
    ]


def _devices(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "ref": item.ref,
            "kind": item.kind,
            "name": item.name,
            "place": item.place,
            "unit": item.unit,
            "watts": item.watts,
            "control": item.control,
        }
        for item in wall.services.devices
    ]


def _runs(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "ref": run.ref,
            "kind": run.kind,
            "from": run.start,
            "to": run.end,
            "path": [[_mm(x), _mm(z)] for x, z in run.path],
            "length": _mm(run.length),
            "bends": run.bends,
            "cable": run.cable,
            "bore": _mm(run.bore),
            "fill": round(run.fill, 3),
            "in_void": run.in_void,
            "lies": run.lies,
            "protect": run.protect,
            "legal": run.legal,
        }
        for run in wall.services.runs
    ]


def _circuits(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "ref": item.ref,
            "name": item.name,
            "connected": round(item.connected, 1),
            "diversified": round(item.diversified, 1),
            "current": round(item.current, 2),
            "rating": item.rating,
            "cable_mm2": item.cable_mm2,
            "drop_percent": round(item.drop_percent, 3),
        }
        for item in wall.services.circuits
    ]


def _lights(wall: Wall) -> list[dict[str, Any]]:
    return [
        {
            "ref": run.ref,
            "along": run.along,
            "of": run.of,
            "length": _mm(run.length),
            "watts": round(run.watts, 1),
            "volts": run.volts,
            "driver_watts": run.driver_watts,
            "feed": run.feed,
            "drop_percent": round(run.drop_percent, 3),
            "colour": run.colour,
            "dim_to": round(run.dim_to, 4),
            "seen_by": list(run.seen_by),
            "feed_points": [[_mm(value) for value in point] for point in run.feed_points],
            "dim_low": round(run.dim_low, 4),
            "drivers": run.drivers,
            "circuit": run.circuit,
        }
        for run in wall.light.runs
    ]


def _totals(wall: Wall) -> dict[str, Any]:
    money = wall.money
    return {
        "currency": money.currency,
        "total": money.major(money.total),
        "direct": money.major(money.direct),
        "budget": money.major(money.budget),
        "parts": len(wall.carcass.parts),
        "board_mass": round(sum(part.mass for part in wall.carcass.parts), 1),
        "sheets": [
            {"board": board, "sheets": count, "used": round(used, 3)} for board, count, used in money.sheets
        ],
        "days": wall.programme.days,
        "storage_run": _mm(wall.storage.capacity),
        "storage_needed": _mm(wall.storage.needed),
    }
