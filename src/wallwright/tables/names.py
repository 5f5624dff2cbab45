"""Keys of the library as they are printed: names where there is room, else codes with hyphens that a legend on the set explains."""

from __future__ import annotations

from wallwright.library import load

FITTINGS: dict[str, str] = {
    "anti_tip": "tipping restraint",
    "confirmat": "case screw",
    "batten_screw": "screw for battens",
}


def code(key: str) -> str:
    """A board's short code: `ply18`, `cement-board12`; the list of sheets to buy says which board it is."""
    return key.replace("_", "-")


def finish_name(key: str) -> str:
    """A finish's name in the library, with a small letter; `bare` where there is none."""
    if not key:
        return "bare"
    name = load.finishes()[key].name if key in load.finishes() else key.replace("_", " ")
    return name if name[:2].isupper() else name[:1].lower() + name[1:]


def fitting_words(kind: str) -> str:
    """A kind of fitting in words."""
    return FITTINGS.get(kind, kind.replace("_", " "))
