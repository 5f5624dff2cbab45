"""Proposals in words that a client understands: what one gets, what one gives up, what it costs, and why it is so."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from wallwright.core.counted import counted
from wallwright.options.directions import SHAPE_WORDS, Direction, heavy_behind, said, wished
from wallwright.options.shapes import ACCENTS, Shape
from wallwright.rules.faced import faces_of

if TYPE_CHECKING:
    from wallwright.core.finding import EditCall
    from wallwright.derive import Wall
    from wallwright.job.document import Job

UNIT_WORDS = {
    "console": "console", "tower": "tower", "shelf": "shelf", "loft": "loft cabinet", "open_shelves": "bookcase", "niche": "niche",
    "arched_niche": "arched niche", "ledge": "picture ledge", "desk": "desk",
}  # fmt: skip


def name(shape: Shape, direction: Direction, wall: Wall) -> str:
    """The name on the sheet; where the panel itself is the direction it is not said twice."""
    if (
        shape.key == "given"
        or not faced_in(direction, wall)
        or (direction.key == "relief" and shape.key in ("stone", "fluted"))
    ):
        return shape.name
    if direction.key == "relief" and any(zone.kind == "fluted" for zone in wall.setout.zones):
        return f"{shape.name}, fluted"
    plain = {"plain": "plain and clean", "wood": "warm wood", "relief": "stone look"}
    return f"{shape.name}, {plain[direction.key]}"


def faced_in(direction: Direction, wall: Wall) -> bool:
    """Whether there is a front or a panel in a finish of this direction: what the design gives may be in another."""
    fronts, fields = (
        {*direction.fronts, *direction.beside_star},
        {*direction.panel, *direction.fluted, *direction.stone, *direction.framed},
    )
    faces = list(faces_of(wall))
    closed = [face.finish in fronts for face in faces if face.role == "front"]
    return all(closed) if closed else any(face.finish in fields for face in faces if face.role == "panel")


def get(shape: Shape, direction: Direction, wall: Wall) -> str:
    """What one gets: the shape, the screen, what it holds, how it is faced."""
    screen, storage = wall.sight.screen, wall.storage
    lines = [
        f"{shape.get}.",
        f"A {screen.diagonal:g} inch screen, its middle {_metres(screen.centre[1])} above the floor.",
    ]
    if storage.capacity > 0:
        kept = ": all your things have a place" if storage.demands and not storage.leftovers else ""
        lines.append(f"{storage.capacity / 1000:.1f} m of shelf and drawer{kept}.")
    if shape.key != "given" and faced_in(direction, wall):
        lines.append(f"{direction.get}.")
    return " ".join(lines)


def give_up(  # noqa: PLR0913
    shape: Shape, direction: Direction, wall: Wall, job: Job, cures: Iterable[EditCall], aside: tuple[str, ...]
) -> str:  # fmt: skip
    """What one gives up: the shape's own price, things that stay elsewhere, a smaller screen, boxes and sockets that move."""
    lines = [f"{shape.give_up}."]
    left = [f"{count} {_many(wall, kind, count)}" for kind, count in wall.storage.leftovers]
    if left:
        lines.append(f"No place here for {_listed(left)}: they live elsewhere.")
    best = max(
        (row for row in wall.sight.candidates if row.possible), key=lambda row: row.score, default=None
    )
    if best and best.diagonal > wall.sight.screen.diagonal and job.design.screen.diagonal is None:
        lines.append(
            f"The picture is smaller than your seats would like: {best.diagonal:g} inch would suit them."
        )
    lines += _moves(wall, job, cures)
    if aside:
        lines.append(f"Sets aside {_listed(list(aside))} of the present design.")
    if shape.key != "given" and faced_in(direction, wall):
        lines.append(f"{direction.give_up}.")
    return " ".join(lines)


def _moves(wall: Wall, job: Job, cures: Iterable[EditCall]) -> Iterable[str]:
    """What has to move for it: sockets, the supply, boxes."""
    calls = [(call.edit, dict(call.values)) for call in cures]
    for ref in dict.fromkeys(str(values["ref"]) for edit, values in calls if edit == "set_obstacle_state"):
        yield f"The electrician moves {_obstacle(wall, ref)}."
    for values in [values for edit, values in calls if edit == "set_supply"][-1:]:
        comes = str(values["comes"])
        yield f"The mains supply has to come to this wall from the {comes}."
    then = {device.ref: device.place for device in job.brief.devices}
    moved = [
        _device(wall, device.ref)
        for device in wall.job.brief.devices
        if device.place != then.get(device.ref, device.place)
    ]
    if moved:
        yield f"{_listed(moved).capitalize()} {'stands' if len(moved) == 1 else 'stand'} in the console, not in a tower."


def _obstacle(wall: Wall, ref: str) -> str:
    kind = next((thing.kind for thing in wall.job.survey.obstacles if thing.ref == ref), "thing")
    return f"the {kind.replace('_', ' ')} {ref} out of its way"


def _device(wall: Wall, ref: str) -> str:
    return next((device.name.lower() for device in wall.services.devices if device.ref == ref), ref)


def _many(wall: Wall, kind: str, count: int) -> str:
    word = next(
        (demand.name.lower() for demand in wall.storage.demands if demand.kind == kind),
        kind.replace("_", " "),
    )
    first, of, rest = word.partition(" of ")
    if count == 1 or first.endswith("s"):
        return word
    return f"{first}{'es' if first.endswith(('x', 'ch', 'sh')) else 's'}{of}{rest}"


def cost(wall: Wall, budget: int) -> str:
    """What it costs, all in, against the budget, and the weeks it takes."""
    money = wall.money
    said = f"{money.shown(money.total)} all in"
    if budget:
        left = budget - money.total
        said += (
            f", {money.shown(left)} under your budget"
            if left >= 0
            else f", {money.shown(-left)} over your budget"
        )
    return f"{said}; about {wall.programme.days} working days from order to handover."


def reasons(wall: Wall, job: Job, shape: Shape, direction: Direction) -> tuple[str, ...]:
    """Why it is as it is: screen and height, what the wall behind the seats asks, what the client's words ask, things, services."""
    return tuple(_reasons(wall, job, shape, direction))


def _reasons(wall: Wall, job: Job, shape: Shape, direction: Direction) -> Iterable[str]:
    sight, screen = wall.sight, wall.sight.screen
    if "diagonal" in screen.pinned and job.design.screen.diagonal is not None:
        yield f"The screen is {screen.diagonal:g} inch because the design gives it."
    elif sight.seats:
        angles = [seat.picture_angle for seat in sight.seats]
        yield f"{screen.diagonal:g} inch fills {min(angles):.0f}° to {max(angles):.0f}° of the view from the seats."
    heights = sight.heights
    at = f"Its middle hangs {screen.centre[1]:.0f} mm above the floor"
    if heights.serves_all:
        yield f"{at}: good for all seats between {heights.low:.0f} and {heights.high:.0f} mm."
    else:
        yield f"{at}: the best middle way, no height is good for all seats."
    yield _room_reason(job, shape)
    by_direction, by_shape = wished(job.brief.style)
    if by_direction.get(direction.key) or by_shape.get(shape.key):
        yield f"You asked for it: {', '.join(asked_for(job, shape, direction))}."
    behind = wall.look.behind
    if behind is not None:
        yield f"Behind the screen is {behind.name}: calm, so that the picture leads."
    if wall.services.points:
        yield f"{counted(len(wall.services.points), 'point')} where the plugs are; {counted(len(wall.light.runs), 'line')} of light."


def asked_for(job: Job, shape: Shape, direction: Direction) -> list[str]:
    """The client's words that this shape or direction answers."""
    return [
        word
        for word in dict.fromkeys(said(job.brief.style))
        if word in direction.words or SHAPE_WORDS.get(word) == shape.key
    ]


def _room_reason(job: Job, shape: Shape) -> str:
    heavy = heavy_behind(job)
    if heavy == "heavy":
        return (
            "The wall behind the seats is rich already: this one stays plain, so that one of the two leads."
        )
    if shape.key in ACCENTS:
        return "The wall behind the seats leaves room for it: this one may carry the accent, the only one in the room."
    return "It asks for no attention of its own: nothing competes with the picture."


def aside(job: Job) -> tuple[str, ...]:
    """What of a design is set aside for a fresh start: its units, panels, points and lights by ref, and its finishes."""
    design = job.design
    refs = [
        thing.ref
        for things in (design.units, design.panels, design.points, design.lights)
        for thing in things
    ]
    given = any(
        getattr(design.finishes, key) is not None for key in ("wall", "fronts", "panel", "carcass_board")
    )
    return (*refs, *(("its finishes",) if given else ()))


def _listed(things: list[str]) -> str:
    return things[0] if len(things) == 1 else f"{', '.join(things[:-1])} and {things[-1]}"


def _metres(height: float) -> str:
    return f"{height / 1000:.2f} m"
