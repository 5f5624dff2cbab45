"""What an edit does to the wall, as one tells it to the joiner: `move amp into a tower`, `tilt the screen by 8°`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from wallwright.core.units import Length

Phrase = Callable[[str, str, Any], str]
"""From the thing's ref, the value in words, and the value."""

_INTO = {
    "auto": "where it fits", "screen": "behind the screen", "cabinet": "into the console", "on_console": "onto the console",
    "tower": "into a tower", "wall": "into an opening in the wall",
}  # fmt: skip
_IN = {
    "auto": "", "screen": " behind the screen", "cabinet": " in the console", "on_console": " on the console",
    "tower": " in a tower", "wall": " in the wall",
}  # fmt: skip
_FRONTS = {
    "open": "make {} open, without a front", "drawers": "give {} drawers", "shutter": "give {} a shutter", "flap": "give {} a flap",
    "cloth": "give {} a front of cloth that lets sound and remote through", "glass": "give {} a glass front",
    "slatted": "give {} a slatted front",
}  # fmt: skip
_OPENINGS = {
    "push": "open the fronts of {} by a push",
    "handle": "give the fronts of {} handles",
    "grip": "give the fronts of {} a grip",
}
_FEEDS = {"one_end": "at one end", "both_ends": "at both ends", "centre": "in its middle"}
_DRIVERS = {
    "cabinet": "into the console",
    "ceiling": "above the ceiling",
    "behind_panel": "behind the panel",
}
_ALONG = {
    "behind_panel": "behind the panel", "behind_screen": "behind the screen", "under_console": "under the console",
    "under_shelf": "under the shelf", "tower_side": "beside the tower",
}  # fmt: skip
_CURVES = {"pieces": "in short straight pieces", "bendable": "as a strip that bends edge on"}
_LAYS = {
    "chased": "cut the cables into the wall",
    "mixed": "cut the cables in where the wall bears it, and lay the others in trunking on it",
    "surface": "lay the cables in trunking on the wall, without cutting it",
}
_BACKINGS = {
    "noggings": "back the wall with timber between the studs",
    "boards": "back the wall with plywood between the studs",
    "face": "back the wall with plywood over the boarding, screwed to the studs",
}
_UNITS = {"mm": "millimetres", "ft-in": "feet and inches"}


def _share(value: Any) -> str:
    return f"{float(value) * 100:g} %" if isinstance(value, (int, float)) else f"{value}"


def _yes(value: Any) -> bool:
    return value is True or value == "true"


def _of(table: Mapping[str, str], otherwise: str) -> Phrase:
    """A phrase by the value; where that is none of the table's, another."""
    return lambda ref, says, value: table.get(str(value), otherwise).format(ref or says, says=says)


DEEDS: Mapping[str, Mapping[str, Phrase]] = {
    "set_device": {"place": lambda ref, says, v: f"move {ref} {_INTO.get(str(v), says)}"},
    "set_light": {
        "along": lambda ref, says, v: f"lay light {ref} {_ALONG.get(str(v), says)}",
        "of": lambda ref, says, _: f"lay light {ref} along {says}",
        "setback": lambda ref, says, _: f"lay light {ref} {says} behind its edge",
        "lip": lambda ref, says, _: f"hide light {ref} behind a lip of {says}",
        "dimmable": lambda ref, _, v: (
            f"make light {ref} {'dimmable' if _yes(v) else 'one that is not dimmed'}"
        ),
        "colour": lambda ref, says, _: f"take a strip of {says} K for light {ref}",
        "watts_per_m": lambda ref, says, _: f"take a strip of {says} W/m for light {ref}",
        "lumens_per_m": lambda ref, says, _: f"take a strip of {says} lm/m for light {ref}",
        "dim_low": lambda ref, _, v: f"take a driver that dims to {_share(v)} for light {ref}",
        "flicker_hz": lambda ref, says, _: f"take a driver of {says} Hz or more for light {ref}",
        "depth": lambda ref, says, _: f"set the diffuser of light {ref} {says} from its diodes",
        "driver_place": lambda ref, says, v: f"move the driver of light {ref} {_DRIVERS.get(str(v), says)}",
        "feed": lambda ref, says, v: f"feed light {ref} {_FEEDS.get(str(v), says)}",
        "volts": lambda ref, says, _: f"run light {ref} on {says} V",
        "round_curve": lambda ref, says, v: f"take light {ref} round its curve {_CURVES.get(str(v), says)}",
        "circuit": lambda ref, says, _: f"switch light {ref} together with circuit {says}",
        "profile": lambda ref, _, v: f"lay light {ref} {'in' if _yes(v) else 'without'} an aluminium profile",
    },
    "add_light": {"along": lambda ref, says, v: f"lay a light {ref} {_ALONG.get(str(v), says)}"},
    "set_seat": {"recline": lambda ref, says, _: f"recline seat {ref} by {says}°"},
    "set_lamp": {
        "luminance": lambda ref, says, _: f"take a lamp of at most {says} cd/m² for {ref}",
        "cut_off": lambda ref, says, _: f"shield lamp {ref} beyond {says}°",
        "on_at_night": lambda ref, _, v: f"leave lamp {ref} {'on' if _yes(v) else 'off'} at night",
    },
    "set_window_blind": {
        "blind": lambda ref, _, v: f"hang a blind at {ref} that lets {_share(v)} of the light through"
    },
    "set_mount": {
        "stand_off": lambda _, says, __: f"take a mount that stands {says} off the wall",
        "plate_height": lambda _, says, __: f"take a mount with a plate {says} high",
        "plate_width": lambda _, says, __: f"take a mount with a plate {says} wide",
        "kind": lambda _, says, v: {
            "arm": "hang the screen on an arm",
            "tilting": "hang the screen on a mount that tilts",
        }.get(str(v), f"hang the screen on a mount of the kind {says}"),
        "reach": lambda _, says, __: f"that reaches {says}",
    },
    "set_arm": {
        "reach": lambda _, says, __: f"take an arm that reaches {says}",
        "swivel_most": lambda _, says, __: f"stop the arm's swivel at {says}°",
    },
    "set_tilt": {"tilt": lambda _, says, __: f"tilt the screen by {says}°"},
    "set_screen_panel": {"panel": lambda _, says, __: f"take a screen whose panel is {says}"},
    "set_screen_niche": {
        "height": lambda _, says, __: f"make the screen's niche {says} high",
        "width": lambda _, says, __: f"make the screen's niche {says} wide",
        "depth": lambda _, says, __: f"make the screen's niche {says} deep",
    },
    "set_wiring": {
        "lay": _of(_LAYS, "lay the cables {says}"),
        "picture_cable": lambda _, says, v: (
            "take an optical picture cable" if v == "optical" else f"take a picture cable that is {says}"
        ),
    },
    "set_backing": {"backing": _of(_BACKINGS, "back the wall: {says}")},
    "set_emission": {"emission": lambda _, says, __: f"order all boards in emission class {says}"},
    "set_units": {"units": lambda _, says, v: f"show lengths in {_UNITS.get(str(v), says)}"},
    "set_issue": {"status": lambda _, says, __: f"issue the drawings as {says}"},
    "apply_palette": {
        "palette": lambda _, says, __: (
            f"take the palette “{says}” for wall, fronts and panels; their own finishes give way"
        )
    },
    "unsign_gate": {
        "ref": lambda ref, says, _: f"take back the signature of gate {ref or says}, and of those after it"
    },
    "set_bay_front": {"front": _of(_FRONTS, "give {} a front: {says}")},
    "set_bay_hinge": {"hinged": lambda ref, says, _: f"hang the door of {ref} on the {says}"},
    "set_bay_vents": {
        "vents": lambda ref, _, v: (
            f"cut air openings low and high for {ref}" if _yes(v) else f"cut no air openings for {ref}"
        )
    },
    "set_bay": {"shelves": lambda ref, says, v: shelves_say(ref, v, says)},
    "set_unit_opening": {"opening": _of(_OPENINGS, "open the fronts of {} by: {says}")},
    "set_unit_load": {"load": lambda ref, says, _: f"reckon the shelves of {ref} with {says} kg/m"},
    "set_unit_arch": {
        "bend": lambda ref, says, v: bend_says(ref, v, says),
        "rise": lambda ref, says, _: f"let the arch of {ref} rise {says}",
    },
    "set_panel_head": {
        "head": lambda ref, says, _: f"give {ref} a {says} head",
        "bend": lambda ref, says, v: bend_says(ref, v, says),
    },
    "set_panel_kind": {"kind": lambda ref, says, _: f"make {ref} a {says} panel"},
    "set_panel_void": {"void": lambda ref, says, _: f"leave {says} of space behind {ref}"},
    "set_panel_flutes": {"pitch": lambda ref, says, _: f"space the flutes of {ref} {says} apart"},
    "move_panel": {
        "x": lambda ref, says, _: f"put {ref} {says} from the left corner",
        "z": lambda ref, says, _: f"put {ref} {says} above the floor",
    },
    "resize_panel": {
        "width": lambda ref, says, _: f"make {ref} {says} wide",
        "height": lambda ref, says, _: f"make {ref} {says} high",
    },
    "set_unit_board": {"board": lambda ref, says, _: f"make {ref} of {says}"},
    "set_panel_board": {"board": lambda ref, says, _: f"make {ref} of {says}"},
    "set_unit_finish": {"finish": lambda ref, says, _: f"finish {ref} in {says}"},
    "set_panel_finish": {"finish": lambda ref, says, _: f"finish {ref} in {says}"},
}
"""By edit and value. An edit with a value that is not here is told in the general way."""

LENGTHS = frozenset(
    {"stand_off", "plate_height", "plate_width", "reach", "void", "pitch", "rise", "setback", "lip", "depth", "x", "z", "width", "height"}
)  # fmt: skip


def deed(edit: str, values: Mapping[str, Any], says: Callable[[Any, str], str]) -> str:
    """The edit in words; empty where it has none of its own. says : a value in words, by its name"""
    phrases = DEEDS.get(edit, {})
    given = {key: value for key, value in values.items() if value is not None}
    ref = str(given.pop("ref", ""))
    bay = given.pop("bay", None)
    ref = f"{ref}.{bay}" if bay is not None else ref
    if edit == "unsign_gate":
        given["ref"] = ref
    if not given or not given.keys() <= phrases.keys():
        return ""
    along = given.pop("of", "") if "along" in given else ""
    said = [phrases[key](ref, _length(key, value, says), value) for key, value in given.items()]
    if along:
        said[list(given).index("along")] += f" {along}"  # beside the tower T1
    return "; ".join(said).replace("; that ", " that ")


def _length(key: str, value: Any, says: Callable[[Any, str], str]) -> str:
    if key in LENGTHS and isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"{value:g} mm"
    if isinstance(value, Length):
        return value.written or f"{value.mm:g} mm"
    return says(value, key)


def shelves_say(ref: str, count: Any, says: str) -> str:
    """How many loose shelves a bay has."""
    if str(count) == "0":
        return f"take the shelves out of {ref}"
    return f"put {says} {'shelf' if str(count) == '1' else 'shelves'} into {ref}"


def bend_says(ref: str, bend: Any, says: str) -> str:
    """How boards are bent."""
    return f"bend {ref} by saw cuts in its back" if bend == "kerf" else f"bend {ref}: {says}"


def added_device(kind: str, ref: str, place: str) -> str:
    """A box that is added."""
    word = kind[:1].lower() + kind[1:]
    return f"add {'an' if word[:1] in 'aeiou' else 'a'} {word} {ref}{_IN.get(place, '')}"


def added_unit(kind: str, ref: str, side: str) -> str:
    """A unit that is added."""
    end = {"left": " at the left end of the wall", "right": " at the right end of the wall"}.get(side, "")
    return f"add {'an' if kind[:1] in 'aeiou' else 'a'} {kind} {ref}{end}"


def fans(count: int, places: set[str], flow: float) -> str:
    """Fans that are added together. flow : of each [m³/h]"""
    where = _IN.get(places.pop(), "") if len(places) == 1 else ""
    return f"put {'a quiet fan' if count == 1 else f'{count} quiet fans'}{where}, {flow:g} m³/h{' each' if count > 1 else ''}"
