"""The finish ladder: which faces cost less, and which of them a place allows."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.colour import reflectance
from wallwright.library import load
from wallwright.library.load import Finish, Rung
from wallwright.look.colour import difference, lab

QUICK_TO_FADE = 4
"""Blue wool 4 and less pales in the sun within a few years."""
ROUGH = 1.0
"""A relief of that much holds dust [mm]."""


@dataclass(frozen=True, slots=True)
class Place:
    """What a place asks of a face.

    humid : damp air or a damp wall · wash : small hands reach it · sun : the sun lies on it · warm : air before it [°C] ·
    remote : a remote's signal must come through · behind_screen : it is seen round the picture · dust : near a kitchen or an
    air conditioner
    """

    humid: bool = False
    wash: bool = False
    sun: bool = False
    warm: float = 0.0
    remote: bool = False
    behind_screen: bool = False
    dust: bool = False


ANYWHERE = Place()


def rung_of(finish: str, work: str = "plain", board: bool = True) -> Rung | None:
    """The rung a finish of the library stands on; on board, or on plaster. None where the ladder has none."""
    face = load.face_of(finish).key
    fit = [rung for rung in load.ladder().values() if rung.face == face and rung.work == work]
    on = [rung for rung in fit if bool(rung.board) == board]
    return (on or fit or [None])[0]


def refusals(finish: str, role: str, place: Place = ANYWHERE) -> tuple[str, ...]:
    """Why a finish does not belong in a role (wall, panel, front, shelf) and place, in words; () where it does."""
    row, face = load.finishes()[finish], load.face_of(finish)
    said = (
        (role not in face.roles, f"it is not for a {role}"),
        (place.humid and not face.humid, "it does not stand humid air"),
        (place.wash and face.wipe in ("dry", "vacuum"), "it cannot be wiped"),
        (place.sun and face.fade <= QUICK_TO_FADE, "the sun pales it"),
        (place.warm > face.heat, f"it stands {face.heat:.0f} °C only"),
        (place.remote and not row.ir_open, "a remote's signal does not come through"),
        (place.behind_screen and (row.bold or row.gloss != "matt"), "it is not calm behind a screen"),
        (place.dust and face.relief >= ROUGH, "dust and grease stay in it"),
    )
    return tuple(words for wrong, words in said if wrong)


def allowed(role: str, place: Place = ANYWHERE) -> tuple[Finish, ...]:
    """Every finish of the library that the role and the place allow."""
    return tuple(row for key, row in load.finishes().items() if not refusals(key, role, place))


def cheaper_faces(face: str, role: str, place: Place = ANYWHERE) -> tuple[Finish, ...]:
    """Finishes on lower rungs than `face` (a finish of the library) that the place allows: the next rung down first.

    On one rung the one that looks most like it comes first: what it is taken for, then its colour. By the trade's ladder, not
    by a rates book. KeyError where the library has no such finish; () where it stands on no rung or on the lowest.
    """
    own = rung_of(face, board=role != "wall")
    if own is None:
        return ()
    row, look = load.finishes()[face], load.face_of(face).look
    found: list[tuple[float, bool, float, Finish]] = []
    for other in allowed(role, place):
        rung = rung_of(other.key, board=role != "wall")
        if rung is not None and rung.middle < own.middle:
            away = difference(lab(row.colour), lab(other.colour))
            found.append((-rung.middle, load.face_of(other.key).look != look, away, other))
    return tuple(item[3] for item in sorted(found, key=lambda item: item[:3]))


def instead(face: str, role: str, place: Place = ANYWHERE, *, light: bool = False) -> Finish | None:
    """The allowed finish that looks most like `face`; light : of those that show no fingers. None where nothing is allowed."""
    row, look = load.finishes()[face], load.face_of(face).look
    fit = [other for other in allowed(role, place) if other.key != face]
    if light:
        fit = [other for other in fit if other.gloss != "gloss" and reflectance(other.colour) >= 40]
    away = {
        other.key: (load.face_of(other.key).look != look, difference(lab(row.colour), lab(other.colour)))
        for other in fit
    }
    return min(fit, key=lambda other: away[other.key], default=None)
