"""The faces of a wall one by one, and what the place of each asks of it: read by the rules of materials."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from wallwright.carcass.climate import climate_of
from wallwright.core.finding import EditCall, edit_call
from wallwright.core.shape import Box
from wallwright.core.why import Why
from wallwright.derive import Wall
from wallwright.job.dress import USUAL_WALL, front_dress, panel_dress, wall_dress
from wallwright.job.face import obstacle_box
from wallwright.job.survey import Window
from wallwright.library import load
from wallwright.library.load import Finish
from wallwright.look.ladder import Place, cheaper_faces, instead
from wallwright.sight.reflect import Glass
from wallwright.sight.season import SunQuestion, ask

STEP, EVERY = 5.0, 3
"""Minutes between the moments at which the sun is looked at, and days between such days: within 5 % of every day's every third minute."""
SPOT = 300.0
"""A spot of that size is looked at [mm]."""


@dataclass(frozen=True, slots=True)
class Faced:
    """A face: whose it is, its role (wall, panel, front), finish, colour as mixed, where it stands, how far in the room [mm]."""

    ref: str
    role: str
    finish: str
    colour: str
    box: Box
    out: float

    def refaced(self, finish: str) -> EditCall:
        """The edit that gives it another finish."""
        if self.role == "wall":
            return edit_call("set_finish", which="wall", finish=finish)
        name = "set_panel_finish" if self.role == "panel" else "set_unit_finish"
        return edit_call(name, ref=self.ref, finish=finish)


def faces_of(wall: Wall) -> Iterator[Faced]:
    """The wall's own, each panel's, and the fronts of each unit that has any."""
    job, known = wall.job, load.finishes()
    key = job.design.finishes.wall or USUAL_WALL
    yield Faced(
        "wall", "wall", key if key in known else USUAL_WALL, wall_dress(job).colour, wall.face.box, 0.0
    )
    for zone in wall.setout.zones:
        if zone.finish in known:
            yield Faced(
                zone.ref, "panel", zone.finish, panel_dress(job, zone.ref, zone.finish).colour, zone.box, zone.build_up
            )  # fmt: skip
    closed = {bay.unit for bay in wall.carcass.bays if bay.front != "open"}
    for unit in wall.setout.units:
        if unit.ref in closed and unit.front_finish in known:
            yield Faced(
                unit.ref, "front", unit.front_finish, front_dress(job, unit.ref, unit.front_finish).colour, unit.box,
                unit.depth,
            )  # fmt: skip


def child(wall: Wall) -> bool:
    """Whether a small child lives here."""
    young = wall.limits.value("materials.child_age")
    return any(person.age is not None and person.age < young for person in wall.job.brief.people)


def air(wall: Wall) -> str:
    """Why the air is humid, in words; "" where it is dry by the boards' own standards."""
    climate = climate_of(wall.job, wall.limits)
    if climate.high <= wall.limits.value("materials.dry_air"):
        return ""
    return f"air of {climate.high:.0%} in the dampest weeks" + (
        " (assumed by the climate)" if climate.assumed else ""
    )


def damp_behind(wall: Wall) -> str:
    """Why damp comes through the wall, in words; "" where it does not."""
    survey = wall.job.survey.wall
    if survey.damp in ("damp", "wet"):
        return f"a {survey.damp} wall"
    return "a wet room behind the wall" if survey.wet_room_behind else ""


def damp_below(wall: Wall, box: Box) -> str:
    """Why damp comes up to what stands there, in words; "" where it does not."""
    storey = wall.job.survey.room.storey
    if storey == "upper" or box.z > wall.limits.value("materials.floor_zone"):
        return ""
    return "a floor on the ground" if storey == "ground" else "a room below the ground"


def near_cooler(wall: Wall, box: Box) -> bool:
    """Whether an air conditioner blows dust on to it."""
    coolers = [obstacle_box(thing) for thing in wall.face.obstacles if thing.kind == "ac"]
    return any(box.gap(cooler) <= wall.limits.value("rule.groove_ac") for cooler in coolers)


def warm(wall: Wall, face: Faced) -> tuple[float, str]:
    """The warmest air or surface before a face [°C] and what makes it; (0, "") where nothing does."""
    limits, found = wall.limits, [(0.0, "")]
    reach = limits.value("materials.heater_clear")
    for thing in wall.face.obstacles:
        if thing.kind == "radiator" and face.role != "wall" and obstacle_box(thing).gap(face.box) < reach:
            found.append((limits.value("materials.heater_face"), f"radiator {thing.ref}"))
    fires = {device.ref for device in wall.job.brief.devices if device.kind == "electric_fire"}
    room = limits.value("cooling.room_temperature")
    for bay in wall.cooling.bays:
        if face.role != "front" or bay.unit != face.ref:
            continue
        fire = next((ref for ref in bay.devices if ref in fires), None)
        if fire:
            found.append((limits.value("materials.fire_air"), f"electric fire {fire}"))
        else:
            found.append((room + bay.rise, f"the boxes in {bay.bay}"))
    return max(found)


def place_of(wall: Wall, face: Faced) -> Place:
    """What the place of a face asks of it. The sun is asked apart: it takes a year to answer."""
    humid = bool(damp_behind(wall) or (face.role != "wall" and damp_below(wall, face.box)))
    return Place(
        humid=humid,
        wash=child(wall) and face.box.z < wall.limits.value("materials.child_reach"),
        warm=warm(wall, face)[0],
        behind_screen=any(behind.ref == face.ref for behind, _ in wall.look.faces_behind),
        dust=face.role != "front" and (wall.job.survey.room.kind == "studio" or near_cooler(wall, face.box)),
    )


def another(wall: Wall, face: Faced, place: Place) -> tuple[str, tuple[EditCall, ...]]:
    """The face that would do there and looks most like it: its name, and the edit that chooses it."""
    pick = instead(face.finish, face.role, place)
    return (pick.name, (face.refaced(pick.key),)) if pick else ("another face", ())


def cheaper(wall: Wall, face: Faced) -> tuple[Finish, ...]:
    """Faces that cost less by the trade's ladder and that this very place allows, sun and all: the next rung down first."""
    place = place_of(wall, face)
    least = wall.limits.value("materials.sun_hours")
    sun = any(sun_hours(wall, face, window) >= least for window in bare_windows(wall))
    return cheaper_faces(face.finish, face.role, replace(place, sun=sun))


def bare_windows(wall: Wall) -> tuple[Window, ...]:
    """Windows whose blind, if any, does not keep the sun out."""
    good = wall.limits.value("rule.blind_good")
    return tuple(window for window in wall.job.survey.windows if window.blind > good)


def sun_hours(wall: Wall, face: Faced, window: Window) -> float:
    """Hours a year in which the sun lies on the sunniest of three spots of a face, half a spot counting half; 0 where too little is
    known.
    """
    most = 0.0
    for share in (1 / 6, 1 / 2, 5 / 6):
        middle = (face.box.x + share * face.box.width, -face.out, face.box.z + face.box.height / 2)
        size = min(SPOT, face.box.width / 3, face.box.height)
        glass = Glass(middle, size, size, 0.0)
        question = ask(wall.job.survey, wall.face, glass, (), STEP, (), (window,))
        if not isinstance(question, Why):
            most = max(most, _year(question))
    return most


@lru_cache(maxsize=256)
def _year(question: SunQuestion) -> float:
    from wallwright.sight.exposure import hours_lit  # numpy, only where a face could suffer

    return hours_lit(question, STEP, EVERY)
