"""The difference of two jobs as the trade tells it: what was decided, and what of the wall is not as it was."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from wallwright.change.fields import both, said, touched
from wallwright.change.parts import PartChange, part_changes
from wallwright.change.state import SET
from wallwright.core.finding import Finding
from wallwright.job.design import Point

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint

LEAST = 0.5
"""Smaller differences are not worth telling [mm]."""
_NOT_DESIGN = ("progress", "revision", "date", "status")
"""What a job says of its own issue and of the work on site: no change of the wall."""


@dataclass(frozen=True, slots=True)
class FieldChange:
    """A field that was decided otherwise: its path, its name in words, and its values as written."""

    path: str
    says: str
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class Size:
    """A height, place or size that is not as it was. was, now : None where the thing was or is not there"""

    ref: str
    says: str
    was: float | None
    now: float | None
    unit: str = "mm"


@dataclass(frozen=True, slots=True)
class PointChange:
    """An outlet that moved, came or went. dx, dz : how far its middle moved · was, now : its middle (x, z)"""

    ref: str
    kind: str
    was: tuple[float, float] | None
    now: tuple[float, float] | None
    says: str

    @property
    def dx(self) -> float:
        """To the right [mm]; 0 where it came or went."""
        return self.now[0] - self.was[0] if self.was and self.now else 0.0

    @property
    def dz(self) -> float:
        """Upwards [mm]; 0 where it came or went."""
        return self.now[1] - self.was[1] if self.was and self.now else 0.0


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line of the bill that differs, in minor units of the currency."""

    ref: str
    item: str
    was: int
    now: int


@dataclass(frozen=True, slots=True)
class Difference:
    """Everything in which two walls differ. money : (before, after), all in, minor units · days : (before, after)"""

    fields: tuple[FieldChange, ...]
    heights: tuple[Size, ...]
    parts: tuple[PartChange, ...]
    points: tuple[PointChange, ...]
    runs: tuple[Size, ...]
    lights: tuple[Size, ...]
    gained: tuple[Finding, ...]
    lost: tuple[Finding, ...]
    lines: tuple[LineChange, ...]
    money: tuple[int, int]
    days: tuple[int, int]

    @property
    def nothing(self) -> bool:
        """Whether the two are the same wall."""
        changed = (self.fields, self.heights, self.parts, self.points, self.runs, self.lights, self.lines)
        return not any(changed) and not self.gained and not self.lost


def difference(
    old: Wall, new: Wall, before: tuple[Finding, ...] = (), after: tuple[Finding, ...] = ()
) -> Difference:  # fmt: skip
    """What differs from one wall to the other. before, after : their findings, where the caller has them"""
    gained, lost = tuple(_missing(after, before)), tuple(_missing(before, after))
    return Difference(
        tuple(_fields(old, new)),
        tuple(_sizes(heights(old), heights(new))),
        part_changes(old, new),
        tuple(_points(old, new)),
        tuple(_sizes(_runs(old), _runs(new))),
        tuple(_sizes(_lights(old), _lights(new))),
        gained,
        lost,
        tuple(_lines(old, new)),
        (old.money.total, new.money.total),
        (old.programme.days, new.programme.days),
    )


def _fields(old: Wall, new: Wall) -> Iterator[FieldChange]:
    for path, (was, now) in touched(old.job, new.job).items():
        if path[0] in _NOT_DESIGN:
            continue
        stays = isinstance(now, Point) and now.note == SET
        old_says, new_says = both(was, now)
        yield FieldChange(
            ".".join(path), said(path), old_says, "stays where it is set" if stays else new_says
        )


Table = dict[tuple[str, str], tuple[float, str]]
"""(ref, what it is called) to its value and unit."""


def heights(wall: Wall) -> Table:
    """Every height, place and size that a trade sets out by."""
    screen = wall.sight.screen
    out: Table = {
        ("screen", "screen size"): (screen.diagonal, "in"),
        ("screen", "screen centre"): (screen.centre[1], "mm"),
        ("screen", "screen underside"): (screen.frame.z, "mm"),
        ("screen", "screen top"): (screen.frame.top, "mm"),
        ("screen", "screen middle from the left"): (screen.centre[0], "mm"),
        ("screen", "screen frame width"): (screen.frame.width, "mm"),
        ("screen", "screen stand-off"): (screen.stand_off, "mm"),
        ("screen", "screen plate width"): (screen.plate.width, "mm"),
        ("screen", "screen plate height"): (screen.plate.height, "mm"),
        ("screen", "screen mass"): (screen.mass, "kg"),
    }
    for unit in wall.setout.units:
        for name, value in (
            ("left end", unit.box.x), ("underside", unit.box.z), ("width", unit.box.width), ("top", unit.box.top),
            ("depth", unit.depth),
        ):  # fmt: skip
            out[unit.ref, f"{unit.ref} {name}"] = value, "mm"
    for zone in wall.setout.zones:
        for name, value in (
            ("left end", zone.box.x), ("foot", zone.box.z), ("width", zone.box.width), ("head", zone.box.top),
            ("face from the wall", zone.build_up), ("flutes", float(zone.flutes)),
        ):  # fmt: skip
            out[zone.ref, f"{zone.ref} {name}"] = value, "" if name == "flutes" else "mm"
    for seat in wall.sight.seats:
        out[seat.ref, f"{seat.ref} eye"] = seat.eye[2], "mm"
        out[seat.ref, f"{seat.ref} picture angle"] = round(seat.picture_angle, 1), "°"
    return out


def _runs(wall: Wall) -> Table:
    return {
        (run.ref, f"{run.ref} {run.start} to {run.end}"): (run.length, "mm") for run in wall.services.runs
    }


def _lights(wall: Wall) -> Table:
    out: Table = {}
    for run in wall.light.runs:
        out[run.ref, f"{run.ref} strip"] = run.length, "mm"
        out[run.ref, f"{run.ref} driver"] = run.driver_watts, "W"
    return out


def _sizes(were: Mapping[tuple[str, str], tuple[float, str]], are: Table) -> Iterator[Size]:
    for key in dict.fromkeys((*were, *are)):
        was, now = were.get(key), are.get(key)
        if was is not None and now is not None and abs(was[0] - now[0]) < (LEAST if was[1] == "mm" else 0.05):
            continue
        unit = (was or now or (0.0, "mm"))[1]
        yield Size(key[0], key[1], was[0] if was else None, now[0] if now else None, unit)


def _points(old: Wall, new: Wall) -> Iterator[PointChange]:
    were = {point.ref: point for point in old.services.points}
    are = {point.ref: point for point in new.services.points}
    for ref in dict.fromkeys((*were, *are)):
        change = _point(ref, were.get(ref), are.get(ref))
        if change is not None:
            yield change


def _point(ref: str, was: ServicePoint | None, now: ServicePoint | None) -> PointChange | None:
    if was is None or now is None:
        thing: Any = was or now
        place = (thing.x, thing.z)
        words = f"{thing.kind.replace('_', ' ')} at {thing.x:.0f}, {thing.z:.0f}"
        says = f"{words}: {'not wanted any more' if now is None else 'new'}"
        return PointChange(ref, thing.kind, place if was else None, place if now else None, says)
    told: list[str] = []
    dx, dz = now.x - was.x, now.z - was.z
    if abs(dx) >= LEAST or abs(dz) >= LEAST:
        told.append(f"{_way(dx, 'right', 'left')}{_way(dz, 'up', 'down')}".strip(", "))
    if (was.box.width, was.box.height, was.box_depth) != (now.box.width, now.box.height, now.box_depth):
        told.append(
            f"box {was.box.width:g} × {was.box.height:g} × {was.box_depth:g} → "
            f"{now.box.width:g} × {now.box.height:g} × {now.box_depth:g}"
        )
    told += [f"{was.kind} → {now.kind}".replace("_", " ")] if was.kind != now.kind else []
    if not told:
        return None
    return PointChange(ref, now.kind, (was.x, was.z), (now.x, now.z), "; ".join(told))


def _way(by: float, plus: str, minus: str) -> str:
    return f"{abs(by):.0f} {plus if by > 0 else minus}, " if abs(by) >= LEAST else ""


def _missing(of: tuple[Finding, ...], than: tuple[Finding, ...]) -> Iterator[Finding]:
    """Findings that the other has not, by rule, place and how grave; as many as it has fewer."""
    there: dict[tuple[str, str, str], int] = {}
    for item in than:
        key = (item.rule, item.where, item.severity)
        there[key] = there.get(key, 0) + 1
    for item in of:
        key = (item.rule, item.where, item.severity)
        if there.get(key, 0):
            there[key] -= 1
        else:
            yield item


def _lines(old: Wall, new: Wall) -> Iterator[LineChange]:
    were = {line.ref: line for line in old.money.lines}
    are = {line.ref: line for line in new.money.lines}
    for ref in dict.fromkeys((*were, *are)):
        was, now = were.get(ref), are.get(ref)
        before, after = was.amount if was else 0, now.amount if now else 0
        if before != after:
            yield LineChange(ref, (now or was).item if (now or was) else ref, before, after)  # type: ignore[union-attr]
