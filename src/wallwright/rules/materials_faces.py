"""Rules of faces: where each belongs, and what sun, heat, hands and dust do to it."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.colour import reflectance
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.job.survey import Window
from wallwright.library import load
from wallwright.look.fading import sun_heated, years_to_fade
from wallwright.look.ladder import Place, refusals
from wallwright.rules.faced import Faced, another, bare_windows, child, faces_of, place_of, sun_hours, warm
from wallwright.rules.registry import rule


@rule("materials.face")
def face_place(wall: Wall) -> Iterator[Finding]:
    """Each face is used for what it is made for, and stands the damp of its place."""
    for face in faces_of(wall):
        place = place_of(wall, face)
        said = refusals(face.finish, face.role, Place(humid=place.humid))
        if not said:
            continue
        name, edits = another(wall, face, place)
        yield Finding(
            "materials.face",
            "fix" if refusals(face.finish, face.role) else "consider",
            face.ref,
            f"{load.finishes()[face.finish].name} on {face.ref}: {', '.join(said)}",
            face.role,
            ", ".join(load.face_of(face.finish).roles),
            "",
            "common practice: where each face is used",
            "common practice",
            f"use {name} there",
            edits,
            at=face.box,
        )


@rule("materials.heat")
def heat(wall: Wall) -> Iterator[Finding]:
    """No foil, lacquer or glue line stands before heat that loosens it: a radiator, an electric fire, a hot bay."""
    for face in faces_of(wall):
        kind = load.face_of(face.finish)
        warmth, what = warm(wall, face)
        if warmth <= kind.heat:
            continue
        name, edits = another(wall, face, place_of(wall, face))
        yield Finding(
            "materials.heat",
            "fix",
            face.ref,
            f"{load.finishes()[face.finish].name} on {face.ref} stands {kind.heat:.0f} °C for long; {what} brings {warmth:.0f} °C",
            round(warmth),
            kind.heat,
            "°C",
            kind.source,
            kind.certainty,
            f"use {name} there, or keep the clearance its maker asks for",
            edits,
            at=face.box,
        )


@rule("materials.sun_fade")
def sun_fade(wall: Wall) -> Iterator[Finding]:
    """Where the sun lies on a face, it keeps its colour for years."""
    limit, lux = wall.limits["materials.fade_years"], wall.limits.value("materials.sun_lux")
    for face, hours, windows in _sunny(wall, quick=True):
        years = years_to_fade(load.face_of(face.finish).fade, lux, hours)
        if years >= limit.value:
            continue
        yield finding(
            "materials.sun_fade",
            "consider",
            face.ref,
            f"the sun lies about {hours:.0f} hours a year on {load.finishes()[face.finish].name} of {face.ref}: its colour has "
            f"changed visibly after {years:.1f} years",
            measured=round(years, 1),
            limit=limit,
            at=face.box,
            cure="draw a blind in those hours, or use a face that keeps its colour (laminate, tile)",
            edits=_blinds(wall, windows),
        )


@rule("materials.sun_heat")
def sun_heat(wall: Wall) -> Iterator[Finding]:
    """No dark foil or lacquer is heated by the sun beyond what its glue line stands."""
    room = wall.limits.value("cooling.room_temperature")
    sun, film = wall.limits.value("materials.sun_irradiance"), wall.limits.value("materials.film")
    least = wall.limits.value("materials.sun_hours")
    for face, hours, windows in _sunny(wall, quick=False):
        kind = load.face_of(face.finish)
        warmth = sun_heated(room, reflectance(face.colour) / 100, sun, film)
        if warmth <= kind.heat or hours < least:
            continue
        yield Finding(
            "materials.sun_heat",
            "consider",
            face.ref,
            f"the sun heats {load.finishes()[face.finish].name} of {face.ref} to about {warmth:.0f} °C",
            round(warmth),
            kind.heat,
            "°C",
            kind.source,
            kind.certainty,
            "draw a blind in those hours, or use a lighter face",
            tuple(_blinds(wall, windows)),
            at=face.box,
        )


def _sunny(wall: Wall, *, quick: bool) -> Iterator[tuple[Faced, float, list[Window]]]:
    """Faces that could suffer with the most hours of sun on a spot of them, and the bare windows it comes through."""
    bare = bare_windows(wall)
    room = wall.limits.value("cooling.room_temperature")
    sun, film = wall.limits.value("materials.sun_irradiance"), wall.limits.value("materials.film")
    for face in faces_of(wall) if bare else ():
        kind = load.face_of(face.finish)
        hot = sun_heated(room, reflectance(face.colour) / 100, sun, film) > kind.heat
        if not (bool(refusals(face.finish, face.role, Place(sun=True))) if quick else hot):
            continue
        through = [(window, sun_hours(wall, face, window)) for window in bare]
        lit = [window for window, hours in through if hours > 0]
        if lit:
            yield face, sum(hours for _, hours in through), lit


def _blinds(wall: Wall, windows: list[Window]) -> list[EditCall]:
    blind = wall.limits.value("rule.blind_good") / 2
    return [edit_call("set_window_blind", ref=window.ref, blind=blind) for window in windows]


@rule("materials.finger_marks")
def finger_marks(wall: Wall) -> Iterator[Finding]:
    """Where a small child lives, fronts that are pushed by hand are neither dark and matt nor high gloss."""
    if not child(wall):
        return
    limit = wall.limits["materials.dark"]
    handled = {unit.ref for unit in wall.job.design.units if unit.opening == "handle"}
    for face in faces_of(wall):
        gloss, light = load.finishes()[face.finish].gloss, reflectance(face.colour)
        shows = gloss in ("gloss", "mirror") or (gloss == "matt" and light < limit.value)
        if face.role != "front" or face.ref in handled or not shows:
            continue
        yield finding(
            "materials.finger_marks",
            "note",
            face.ref,
            f"{load.finishes()[face.finish].name} on {face.ref} is opened by pushing it: every hand shows on a "
            f"{gloss} face of LRV {light:.0f}",
            measured=round(light),
            limit=limit,
            at=face.box,
            cure="give it handles, or choose a lighter satin face",
            edits=[edit_call("set_unit_opening", ref=face.ref, opening="handle")],
        )


@rule("materials.wash")
def wash(wall: Wall) -> Iterator[Finding]:
    """Where a small child lives, what its hands reach can be wiped."""
    limit = wall.limits["materials.child_reach"]
    for face in faces_of(wall):
        place = place_of(wall, face)
        if not place.wash or not refusals(face.finish, face.role, Place(wash=True)):
            continue
        if refusals(face.finish, face.role):
            continue  # materials.face says so
        name, edits = another(wall, face, place)
        yield finding(
            "materials.wash",
            "consider",
            face.ref,
            f"{load.finishes()[face.finish].name} on {face.ref} begins {face.box.z:.0f} mm above the floor and cannot be wiped",
            measured=round(face.box.z),
            limit=limit,
            at=face.box,
            cure=f"use {name} there, or end it above small hands",
            edits=edits,
        )


@rule("materials.rough_face")
def rough_face(wall: Wall) -> Iterator[Finding]:
    """Rough faces keep away from kitchens and air conditioners: they hold grease and dust."""
    limit = wall.limits["materials.relief"]
    for face in faces_of(wall):
        relief = load.face_of(face.finish).relief
        place = place_of(wall, face)
        if relief < limit.value or not place.dust or face.role == "front":
            continue
        name, edits = another(wall, face, place)
        yield finding(
            "materials.rough_face",
            "consider",
            face.ref,
            f"{load.finishes()[face.finish].name} on {face.ref} is {relief:g} mm rough and stands by an air conditioner or in one "
            "room with the kitchen",
            measured=relief,
            limit=limit,
            at=face.box,
            cure=f"use {name} there, or seal it and tell the client what it asks for",
            edits=edits,
        )
