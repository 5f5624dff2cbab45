"""Drawings and sheets as SVG: plain text, the user unit one real millimetre, so that any program prints it exactly to scale.

Line widths and letter heights are paper millimetres times the scale (a "non-scaling" stroke is not understood everywhere).
Every mark with a reference carries it in `data-ref`, and its layer in the group's class, for the page.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from itertools import groupby
from math import cos, radians, sin

from wallwright.core.drawing import (
    HATCH,
    PEN_DASH,
    PEN_WIDTH,
    TINT,
    Circle,
    Drawing,
    Hatch,
    Line,
    Mark,
    Pattern,
    Rays,
    Text,
)
from wallwright.core.shape import Box, Point2
from wallwright.sheets.ink import extent, inked
from wallwright.sheets.lettering import (
    CAPITAL,
    FAMILIES,
    anchored,
    common,
    printable,
    text_depth,
    text_rise,
    text_width,
)
from wallwright.sheets.paper import Photo, Sheet, View

FONTS = ", ".join((*FAMILIES, "sans-serif"))
INK = "#000"
HALO = 0.45
"""White round each text, on each side [paper mm]."""


def drawing_svg(drawing: Drawing, margin: float = 4.0) -> str:
    """One drawing alone, `margin` paper mm round it; its user unit is a real mm, y downwards is -z.

    The root carries data-scale and the view box in real mm, so that a page can turn a pointer's place into wall coordinates.
    """
    box, scale = extent(drawing).grown(margin * drawing.scale), drawing.scale
    view = f"{_n(box.x)} {_n(-box.top)} {_n(box.width)} {_n(box.height)}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}"'
        f' width="{_n(box.width / scale)}mm" height="{_n(box.height / scale)}mm"'
        f' data-scale="{scale:g}" font-family="{FONTS}" role="img"><title>{escape(printable(drawing.title))}</title>'
        f"{_definitions(drawing)}{body(drawing.marks, scale)}</svg>"
    )


def sheet_svg(sheet: Sheet) -> str:
    """The whole sheet on its paper: each view moved to its place and brought to its scale."""
    return laid(sheet).svg()


@dataclass(frozen=True, slots=True)
class Laid:
    """A sheet whose marks are turned into elements, once for all who want them.

    views : the paper and the views in their order, each with its marks by layer
    """

    sheet: Sheet
    views: tuple[tuple[View, list[_Group]], ...]

    def svg(self) -> str:
        """For a page or a program that draws."""
        return self._whole(typeset=False)

    def typeset(self) -> str:
        """For a typesetter that sets texts of shaped scripts better itself (`shaped`), so they are left out, and that would turn each
        letter with a halo into outlines: texts get a white ground instead.
        """
        return self._whole(typeset=True)

    def shaped(self) -> list[tuple[float, float, Text]]:
        """The texts of shaped scripts, with their anchor in paper mm from the upper left corner."""
        out: list[tuple[float, float, Text]] = []
        for view, groups in self.views:
            for text in (text for _, _, texts in groups for text in texts):
                if is_shaped(text.text):
                    x, y = view.on_paper(text.at)
                    out.append((x, self.sheet.size[1] - y, text))
        return out

    def _whole(self, *, typeset: bool) -> str:
        width, height = self.sheet.size
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(width)} {_n(height)}"'
            f' width="{_n(width)}mm" height="{_n(height)}mm"'
        )
        parts = [
            f"<title>{escape(printable(self.sheet.title))}</title>"
            f'<rect width="{_n(width)}" height="{_n(height)}" fill="#fff"/>'
        ]
        parts += [_photo(photo, height) for photo in self.sheet.photos]
        for view, groups in self.views:
            d = view.drawing
            parts.append(_definitions(d))
            parts.append(
                f'<g transform="translate({_n(view.x)} {_n(height - view.y)}) scale({1 / d.scale:.9g})" data-view="{escape(printable(d.name))}">'
            )
            parts.append(_body(groups, d.scale, typeset=typeset))
            parts.append("</g>")
        inner = "".join(parts)
        fonts = (
            FAMILIES[0] if typeset and (inner.isascii() or all(map(common, set(inner)))) else FONTS
        )  # a typesetter looks each one up for each text
        return f'{head} font-family="{fonts}" role="img">{inner}</svg>'


def laid(sheet: Sheet) -> Laid:
    """The sheet with its marks as elements."""
    return Laid(sheet, tuple((v, _groups(v.drawing.marks, v.drawing.scale)) for v in sheet.layers))


def _photo(photo: Photo, height: float) -> str:
    """A picture made of dots, carried in the file itself."""
    box = photo.box
    return (
        f'<image x="{_n(box.x)}" y="{_n(height - box.top)}" width="{_n(box.width)}" height="{_n(box.height)}"'
        f' href="data:image/png;base64,{b64encode(photo.png).decode()}"><title>{escape(printable(photo.shows))}</title></image>'
    )


def body(marks: Iterable[Mark], scale: float) -> str:
    """The marks as SVG elements in real mm, in the order in which they are given, grouped by layer; all texts on top."""
    return _body(_groups(marks, scale), scale, typeset=False)


_Group = tuple[str, list[str], list[Text]]
"""Marks of one layer that follow one another: the layer, the elements of what is no text, the texts."""


def _groups(marks: Iterable[Mark], scale: float) -> list[_Group]:
    pens = {pen: _stroke(PEN_WIDTH[pen], PEN_DASH.get(pen, ()), scale) for pen in PEN_WIDTH}
    out: list[_Group] = []
    for layer, group in groupby(marks, lambda mark: mark.layer):
        below: list[str] = []
        texts: list[Text] = []
        for mark in group:
            for part in inked(mark, scale):
                if isinstance(part, Text):
                    texts.append(part)
                else:
                    below.append(_element(part, pens, scale))
        out.append((layer, below, texts))
    return out


def _body(groups: list[_Group], scale: float, *, typeset: bool) -> str:
    """Marks in their order, all texts on top; typeset : as `Laid.typeset` says."""
    lines: list[str] = []
    grounds: list[str] = []
    words: list[str] = []
    for layer, below, texts in groups:
        if typeset:
            grounds += [_ground(text, scale) for text in texts]
        above = [
            _text(text, scale, halo=not typeset) for text in texts if not typeset or not is_shaped(text.text)
        ]
        for out, made in ((lines, below), (words, above)):
            if made:
                out.append(f'<g class="{layer}">{"".join(made)}</g>' if layer else f"<g>{''.join(made)}</g>")
    return "".join((*lines, *grounds, *words))


def _element(part: Line | Circle | Hatch, pens: dict[str, str], scale: float) -> str:
    match part:
        case Line():
            return _line(part, pens)
        case Circle():
            return _circle(part, pens)
        case Hatch():
            return _hatch(part, scale)


def _stroke(width: float, dashes: tuple[float, ...], scale: float) -> str:
    if width == 0:
        return ' stroke="none"'
    dash = f' stroke-dasharray="{" ".join(_n(d * width * scale) for d in dashes)}"' if dashes else ""
    return f' stroke="{INK}" stroke-width="{_n(width * scale)}"{dash}'


def _line(line: Line, pens: dict[str, str]) -> str:
    fill = line.fill if line.fill and line.closed else "none"
    return f'<path d="{_path(line.points, line.closed)}" fill="{fill}"{pens[line.pen]}{_ref(line.ref)}/>'


def _circle(circle: Circle, pens: dict[str, str]) -> str:
    x, z, r = circle.centre[0], circle.centre[1], circle.radius
    if circle.end - circle.start >= 360:
        return f'<circle cx="{_n(x)}" cy="{_n(-z)}" r="{_n(r)}" fill="none"{pens[circle.pen]}{_ref(circle.ref)}/>'
    a, b = radians(circle.start), radians(circle.end)
    large = int(circle.end - circle.start > 180)
    start, end = (x + r * cos(a), z + r * sin(a)), (x + r * cos(b), z + r * sin(b))
    d = f"M{_n(start[0])} {_n(-start[1])}A{_n(r)} {_n(r)} 0 {large} 0 {_n(end[0])} {_n(-end[1])}"
    return f'<path d="{d}" fill="none"{pens[circle.pen]}{_ref(circle.ref)}/>'


def _ground(text: Text, scale: float) -> str:
    """The white ground of a text, no farther from its letters than their halo would reach."""
    wide = text_width(text.text, text.height, text.bold)
    left, high = anchored(text.anchor, wide) - HALO / 2, text_rise(text.text, text.height) + HALO / 3
    tall = high + text_depth(text.text, text.height) + HALO / 3
    x, y = text.at[0], -text.at[1]
    turn = f' transform="rotate({_n(-text.turn)} {_n(x)} {_n(y)})"' if text.turn else ""
    return (
        f'<rect x="{_n(x + left * scale)}" y="{_n(y - high * scale)}" width="{_n((wide + HALO) * scale)}"'
        f' height="{_n(tall * scale)}" fill="#fff"{turn}/>'
    )


def _text(text: Text, scale: float, *, halo: bool = True) -> str:
    """The text with a white halo, so that a line behind it does not cut it.

    Letters that are shaped into one another would be cut by their neighbours' halos: theirs is a text of its own below.
    """
    x, y, size = text.at[0], -text.at[1], text.height / CAPITAL * scale
    turn = f' transform="rotate({_n(-text.turn)} {_n(x)} {_n(y)})"' if text.turn else ""
    anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
    bold = ' font-weight="bold"' if text.bold else ""
    words = escape(printable(text.text), quote=False)
    where = f'x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}"{anchor}{bold}{turn} xml:space="preserve"'
    if not halo:
        return f'<text {where} fill="{INK}">{words}</text>'
    white = f' stroke="#fff" stroke-width="{_n(2 * HALO * scale)}" stroke-linejoin="round"'
    if not is_shaped(text.text):
        return f'<text {where}{white} fill="{INK}" paint-order="stroke"{_ref(text.ref)}>{words}</text>'
    below = f'<text {where}{white} fill="#fff" aria-hidden="true">{words}</text>'
    return f'{below}<text {where} fill="{INK}"{_ref(text.ref)}>{words}</text>'


def is_shaped(text: str) -> bool:
    """Whether it has letters beyond Latin, Greek and Cyrillic: shaped into one another, right to left, or from a further font."""
    return not text.isascii() and _SHAPED.search(text) is not None


_SHAPED = re.compile("[\u0590-\u1dff\u2e80-\U0010ffff]")


def _hatch(hatch: Hatch, scale: float) -> str:
    path = _path(hatch.points, closed=True)
    if hatch.pattern in TINT:
        return f'<path d="{path}" fill="{TINT[hatch.pattern]}" stroke="none"{_ref(hatch.ref)}/>'
    return "".join(
        f'<path d="{path}" fill="url(#{_pattern_id(hatch.pattern, i, scale)})" stroke="none"{_ref(hatch.ref)}/>'
        for i in range(len(HATCH[hatch.pattern]))
    )


def _definitions(drawing: Drawing) -> str:
    """The hatches this drawing uses, as patterns."""
    found = {mark.pattern for mark in drawing.marks if isinstance(mark, Hatch)}
    used: list[Pattern] = [name for name in HATCH if name in found]
    patterns = [
        _pattern(_pattern_id(name, i, drawing.scale), rays, drawing.scale)
        for name in used
        for i, rays in enumerate(HATCH[name])
    ]
    return f"<defs>{''.join(patterns)}</defs>" if patterns else ""


def _pattern_id(name: Pattern, i: int, scale: float) -> str:
    return f"{name}-{i}-{scale:g}"


def _pattern(ident: str, rays: Rays, scale: float) -> str:
    """One family of parallel lines: a tile as long as its dashes and as high as its spacing, turned."""
    step, width = rays.spacing * scale, rays.width * scale
    long = sum(rays.dashes) * scale if rays.dashes else step
    on = rays.dashes[0] * scale if rays.dashes else step
    return (
        f'<pattern id="{ident}" width="{_n(long)}" height="{_n(step)}" patternUnits="userSpaceOnUse"'
        f' patternTransform="rotate({_n(-rays.angle)})">'
        f'<path d="M0 {_n(step / 2)}H{_n(on)}" stroke="{INK}" stroke-width="{_n(width)}" fill="none"/></pattern>'
    )


def _path(points: tuple[Point2, ...], closed: bool) -> str:
    text = "L".join(f"{_n(x)} {_n(-z)}" for x, z in points)
    return f"M{text}Z" if closed else f"M{text}"


def _ref(ref: str) -> str:
    return f' data-ref="{escape(ref)}"' if ref else ""


@lru_cache(maxsize=1 << 15)
def _n(value: float) -> str:
    """A number as short as it may be: a thousandth of a mm is enough."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def view_box(drawing: Drawing, margin: float = 4.0) -> Box:
    """The part of the wall that `drawing_svg` shows, in real mm."""
    return extent(drawing).grown(margin * drawing.scale)
