"""Further pictures of the wall for the page: plan, section, the view from a seat; and layers that lie over the elevation."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal

from wallwright.core.drawing import TEXT_SMALL, Drawing, Hatch, Line, Mark, Text, rectangle
from wallwright.core.why import Why
from wallwright.derive import Wall
from wallwright.export.svg import drawing_svg
from wallwright.job.problem import fail, nearest
from wallwright.sight.mirrored import glass_of
from wallwright.studio.answers_forms import Hour
from wallwright.studio.elevation import shown

if TYPE_CHECKING:
    from wallwright.sight.season import SunQuestion

ViewName = Literal["plan", "section", "seat"]
LayerName = Literal["services", "no_drill", "storage", "reflections"]
MARGIN = 1.0
"""Paper mm round a drawing: as round the elevation, so that a layer lies over it exactly."""
DAY = 21
"""Of the month: the sun's turning days are the 21st or near it."""
SMALLEST = 1.7
"""Height of the words on a level [paper mm]: smaller than on paper, since a page is read from near."""
HATCHED: tuple[Literal["cut", "hidden", "allowed", "later"], ...] = ("cut", "hidden", "allowed", "later")


def view_svg(wall: Wall, name: ViewName, scale: float, seat: str = "", *, on: bool = False) -> str:
    """A picture of its own. JobError where there is no such seat."""
    from wallwright.sheets import seat_plan, seat_view, section

    if name == "plan":
        return drawing_svg(seat_plan.drawing(wall, scale), MARGIN)
    if name == "section":
        return drawing_svg(section.drawing(wall, scale), MARGIN)
    refs = [one.ref for one in wall.sight.seats]
    ref = seat or next(iter(refs), "")
    if ref not in refs:
        says = f"there is no such seat; {nearest(ref, refs)}" if refs else "no seat is surveyed yet"
        raise fail("seat", ref, says, "view")
    return drawing_svg(seat_view.seat_view(wall, ref, on=on, scale=scale), MARGIN)


def layer_svg(wall: Wall, name: LayerName, scale: float, month: int = 6, hour: float = 12.0) -> str:
    """Marks over the elevation, in its own frame and with nothing of it."""
    marks: tuple[Mark, ...]
    match name:
        case "services":
            marks = tuple(_services(wall, scale))
        case "no_drill":
            from wallwright.sheets.services_marks import zone_marks

            marks = tuple(zone_marks(wall))
        case "storage":
            marks = tuple(_storage(wall, scale))
        case "reflections":
            marks = tuple(_reflections(wall, month, hour))
    return drawing_svg(Drawing(name, name.replace("_", " "), scale, marks, shown(wall)), MARGIN)


def _services(wall: Wall, scale: float) -> Iterator[Mark]:
    from wallwright.sheets import services_marks as made

    yield from made.region_marks(wall)
    yield from made.run_lines(wall)
    yield from made.box_marks(wall)
    yield from made.come_in_marks(wall, scale)


def _storage(wall: Wall, scale: float) -> Iterator[Mark]:
    """Each level, how much of it is taken, and what lives there where there is room for the words."""
    from wallwright.sheets.lettering import text_width, wrap
    from wallwright.tables.storage import held_words

    store = wall.storage
    line = 1.6 * SMALLEST * scale
    for level in store.levels:
        box = level.box
        yield rectangle(box, "thin", fill="#fff", layer="levels", ref=level.ref)
        taken = max(0.0, min(1.0, 1.0 - store.free_on(level) / box.width)) * box.width if box.width else 0.0
        foot = min(1.6 * scale, box.height / 4)
        if taken > 0:
            corners = (
                (box.x, box.z),
                (box.x + taken, box.z),
                (box.x + taken, box.z + foot),
                (box.x, box.z + foot),
            )
            yield Hatch(corners, "dark", layer="levels", ref=level.ref)
        said = [*(name.lower() for name in level.devices), *held_words(store, level)]
        wide = box.width / scale - 1.6
        rows = [row for words in said for row in wrap(words, wide, SMALLEST)]
        most = int((box.height - foot - 0.4 * scale) / line)
        if len(rows) > most or any(text_width(row, SMALLEST) > wide for row in rows):
            few = "1 kind" if len(said) == 1 else f"{len(said)} kinds"
            rows = [few] if most and text_width(few, SMALLEST) <= wide else []
        at = box.top - 1.3 * SMALLEST * scale
        for row in rows:
            yield Text((box.x + 0.8 * scale, at), row, SMALLEST, layer="text", ref=level.ref)
            at -= line


def _reflections(wall: Wall, month: int, hour: float) -> Iterator[Mark]:
    """What each seat sees mirrored at that hour, and the sun where it lies on the picture itself."""
    up = _sun(wall, month, hour)
    dark = up is not None and up[1] <= 0
    seats = [seat.ref for seat in wall.sight.seats]
    for hit in wall.sight.reflections:
        if hit.night != dark and up is not None:
            continue
        pattern = HATCHED[seats.index(hit.seat) % len(HATCHED)] if hit.seat in seats else "cut"
        yield Hatch(hit.polygon, pattern, layer="mirrored", ref=f"{hit.seat} {hit.window}")
        yield Line(hit.polygon, "medium", closed=True, layer="mirrored", ref=f"{hit.seat} {hit.window}")
        x = sum(p[0] for p in hit.polygon) / len(hit.polygon)
        z = sum(p[1] for p in hit.polygon) / len(hit.polygon)
        yield Text((x, z), f"{hit.window}, seat {hit.seat}", TEXT_SMALL, "middle", layer="text")
    for ref, shape in _patches(wall, up):
        yield Line(shape, "wide", closed=True, fill="#d9d9d9", layer="sun", ref=ref)
        x = sum(p[0] for p in shape) / len(shape)
        z = sum(p[1] for p in shape) / len(shape)
        yield Text((x, z), f"sun through {ref}", TEXT_SMALL, "middle", bold=True, layer="text")


def _question(wall: Wall) -> SunQuestion | Why | None:
    from wallwright.sight.season import STEP, ask

    if not wall.sight.seats:
        return None
    return ask(wall.job.survey, wall.face, glass_of(wall.sight.screen), wall.sight.seats, STEP)


def _sun(wall: Wall, month: int, hour: float) -> tuple[float, float] | None:
    """Azimuth and elevation of the sun on the 21st of that month; None where the place is not known."""
    from wallwright.sight.sun import julian_day, position

    place = wall.job.survey.place
    if place.latitude is None or place.longitude is None:
        return None
    offset = place.longitude / 15 if place.utc_offset is None else place.utc_offset
    year = int(wall.job.date[:4])
    sun = position(julian_day(year, month, DAY) + (hour - offset) / 24, place.latitude, place.longitude)
    return float(sun.azimuth[0]), float(sun.seen[0])


def _patches(
    wall: Wall, up: tuple[float, float] | None
) -> Iterator[tuple[str, tuple[tuple[float, float], ...]]]:
    """The sun on the picture by window, on the wall's face."""
    from wallwright.sight.sun_patch import sun_patch, to_sun

    asked = _question(wall)
    if up is None or up[1] <= 0 or asked is None or isinstance(asked, Why):
        return
    x, z = wall.sight.screen.picture.centre
    way = to_sun(*up, asked.bearing)
    for pane in asked.panes:
        shape = sun_patch(asked.glass, pane, way, up[1])
        if len(shape) > 2:
            yield pane.ref, tuple((x + u, z + v) for u, v in shape)


def hour_says(wall: Wall, month: int, hour: float) -> Hour:
    """The reflections of an hour in words."""
    from wallwright.sight.season import MONTHS

    up = _sun(wall, month, hour)
    when = f"{DAY} {MONTHS[month - 1]}, {int(hour):02d}:{round(hour % 1 * 60):02d}"
    if up is None:
        says = ["The place is not surveyed, so the sun is not known: windows by day are shown at every hour."]
    elif up[1] <= 0:
        says = [f"{when}: the sun is down; lamps are what is mirrored."]
    else:
        lit = [ref for ref, _ in _patches(wall, up)]
        on = f"the sun lies on the picture through {', '.join(lit)}" if lit else "no sun on the picture"
        says = [f"{when}: sun {up[1]:.0f}° up in {up[0]:.0f}°; {on}."]
    dark = up is not None and up[1] <= 0
    for hit in wall.sight.reflections:
        if up is None or hit.night == dark:
            share = f"{100 * hit.share:.0f} % of the picture"
            says.append(f"Seat {hit.seat} sees {hit.window} mirrored in {share}: {hit.verdict}.")
    return Hour(says=says)
