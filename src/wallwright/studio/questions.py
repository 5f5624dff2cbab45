"""Questions before an edit that is likely a slip: a length of another scale, or the maker's sizes that would be lost."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from wallwright.core.units import Length
from wallwright.derive import Wall
from wallwright.job.design import Screen
from wallwright.job.document import Job
from wallwright.job.problem import JobError, fail

FACTOR = 5.0
"""A size that grows or shrinks by more than this at one stroke is asked about. Source: our own choice."""
_WHOSE = {
    "maker_drawing": "the maker's",
    "shop_page": "the shop page's",
    "measured": "the measured",
    "typical": "the given",
}
_COMMA = re.compile(r"\d,\d")


class AskError(Exception):
    """The edit was not made: it is asked about first."""

    def __init__(self, ask: str) -> None:
        self.ask = ask
        super().__init__(ask)


def question(before: Wall, after: Job) -> str:
    """What to ask before this change is kept; empty where nothing is odd about it. No wall need come of the job."""
    old = before.job.design.screen
    return " ".join((*_lost(old, after.design.screen), *_of_another_scale(before, after)))


def drops(screen: Screen) -> str:
    """What another screen size loses, for a button: `drops the maker's frame, mass and hole group`; empty where nothing."""
    held = list(_held(screen))
    return f"drops {_WHOSE[screen.source]} {_listed([name for name, _ in held])}" if held else ""


def plain_length(field: str, value: Any) -> None:
    """Refuse, in words for a person at the page, a length written with a decimal comma."""
    if isinstance(value, str) and _COMMA.search(value):
        point = _COMMA.sub(lambda found: found[0].replace(",", "."), value)
        raise fail(
            field,
            None,
            f"{value!r} has a comma in it: use a point for decimals ({point}) and nothing between thousands",
            field,
        )


def plain_words(error: JobError) -> JobError:
    """The same refusal without the job file's own way of writing lengths."""
    from dataclasses import replace

    cut = re.compile(r"(; write (0 or )?a length such as|, or a text such as|, or \{ value =).*", re.DOTALL)
    told = [
        replace(
            p,
            says=cut.sub("", p.says) + ("; write it as 1230, 1.23 m or 4 ft 2" if cut.search(p.says) else ""),
        )
        for p in error.problems
    ]
    return JobError(told, error.name)


def _lost(old: Screen, new: Screen) -> Iterator[str]:
    """Sizes of the screen that go with its old size."""
    if old.diagonal == new.diagonal:
        return
    kept = {name for name, _ in _held(new)}
    gone = [f"{name} {value}".strip() for name, value in _held(old) if name not in kept]
    if gone:
        yield (
            f"Another size drops {_WHOSE[old.source]} {_listed(gone)}: they belong to the {old.diagonal:g}″ screen. "
            "Typical values of the new size stand in until you enter its own. Undo brings them back."
        )


def _held(screen: Screen) -> Iterator[tuple[str, str]]:
    """What was entered for this very screen: name and value."""

    def sizes(*lengths: Length | None) -> str:
        return " × ".join("?" if length is None else f"{length.mm:g}" for length in lengths) + " mm"

    frame = (screen.frame_width, screen.frame_height, screen.frame_depth)
    if any(frame):
        yield "frame", sizes(*frame)
    if screen.mass is not None:
        yield "mass", f"{screen.mass:g} kg"
    if screen.watts is not None:
        yield "power", f"{screen.watts:g} W"
    if screen.hole_width or screen.hole_height:
        yield "hole group", sizes(screen.hole_width, screen.hole_height)
    if screen.second is not None:
        yield "second source", ""
    if screen.box_width or screen.box_height or screen.box_depth:
        yield "carton", sizes(screen.box_width, screen.box_height, screen.box_depth)
    if screen.ports or screen.vents or screen.ir_eye:
        yield "sockets and vents of its back", ""


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _of_another_scale(before: Wall, after: Job) -> Iterator[str]:
    """Given lengths that are far from what stood there, or larger than the room."""
    face, depth = before.face, before.job.survey.room.depth
    room = {"height": face.height, "width": face.width, "depth": depth.mm if depth else face.width}
    for key, (says, was, axis, is_size) in _lengths(before).items():
        given = _given(after, *key)
        if given is None or given == _given(before.job, *key):
            continue
        new, most = given.mm, room[axis]
        far = is_size and was > 0 and not was / FACTOR <= new <= was * FACTOR
        if far or new < 0 or new > most:
            why = (
                f"It is {was:.0f} mm now" if far
                else f"The room has {most:.0f} mm" if new > most
                else "That is left of the wall"
            )  # fmt: skip
            yield f"{says} {new:g} mm? {why}.{_meant(new, most)}"


def _meant(mm: float, most: float) -> str:
    """What else the number may have been meant as."""
    if mm <= 0 or mm > 100:
        return ""
    could = [
        f"{mm:g} {unit}"
        for unit, size in (("m", 1000.0), ("ft", 304.8), ("in", 25.4))
        if 100 <= mm * size <= most
    ]
    return f" Did you mean {' or '.join(could)}? Then write the unit." if could else ""


def _lengths(wall: Wall) -> dict[tuple[str, str], tuple[str, float, str, bool]]:
    """The lengths that the page can give: what each is called, its value, its axis, and whether it is a size or a place."""
    screen = wall.sight.screen
    out: dict[tuple[str, str], tuple[str, float, str, bool]] = {
        ("screen", "centre_height"): ("Screen centre at a height of", screen.centre[1], "height", True),
        ("screen", "centre_x"): ("Screen centre from the left corner", screen.centre[0], "width", False),
    }
    for unit in wall.setout.units:
        ref, box = unit.ref, unit.box
        out[ref, "x"] = (f"{ref} left end at", box.x, "width", False)
        out[ref, "z"] = (f"{ref} underside at", box.z, "height", False)
        out[ref, "width"] = (f"{ref} width", box.width, "width", True)
        out[ref, "height"] = (f"{ref} height", box.height, "height", True)
        out[ref, "depth"] = (f"{ref} depth", unit.depth, "depth", True)
    return out


def _given(job: Job, ref: str, name: str) -> Length | None:
    design = job.design
    thing: Any = (
        design.screen if ref == "screen" else next((unit for unit in design.units if unit.ref == ref), None)
    )
    return getattr(thing, name, None)
