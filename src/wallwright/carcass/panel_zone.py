"""Panelled zones set out: outline behind the screen, whole flutes, upright joints symmetric about the middle."""

from __future__ import annotations

import math
from itertools import pairwise, product

from wallwright.carcass import flutes, panel_faces, room, stock
from wallwright.carcass.arch import Arch, arch_over
from wallwright.carcass.record import PanelZone, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Given, Why
from wallwright.job.design import Panel
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.library import load

BOARDS = {"flat": "mdf12", "fluted": "mdf18", "stone_veneer": "mdf12", "framed": "mdf12", "moulding": "mdf12",
          "slab": "cement_board12", "tile": "cement_board12", "mirror": "ply12", "glass": "ply12"}  # fmt: skip
FINISHES = {"flat": "laminate_warm_grey", "fluted": "sprayed_neutral", "stone_veneer": "stone_veneer_white",
            "framed": "wallpaper_linen", "moulding": "sprayed_off_white", "slab": "porcelain_marble_look",
            "tile": "tile_stone_grey", "mirror": "mirror_bronze", "glass": "glass_painted_white"}  # fmt: skip
FACES = {"framed": ("wallpaper", "paint", "cloth"), "moulding": ("sprayed", "paint"), "slab": ("stone",), "tile": ("stone",),
         "mirror": ("mirror",), "glass": ("glass",)}  # fmt: skip
"""Kinds of facing that such a zone is made in: the design's own finish for panels serves where it is one of them."""
ON_THE_WALL = frozenset({"framed", "moulding"})
"""Strips and mouldings are planted on the wall itself; with a void the first get a board to stand on."""
LEAST = 50.0
"""The smallest panel worth the name [mm]."""
MOST_PITCH = 200.0
"""Wider apart than this [mm] they are separate boards, not flutes."""
MEASURES = (
    "x", "z", "width", "height", "board", "finish", "void", "flute_pitch", "flute_centre", "columns", "rows", "strip",
    "tile_width", "tile_height", "joint", "match", "head", "head_rise", "bend",
)  # fmt: skip


def set_out(  # noqa: PLR0913
    panel: Panel, index: int, job: Job, face: Face, frame: Box, units: tuple[UnitBox, ...], hangs: list[Box],
    limits: Limits, whys: list[Why],
) -> PanelZone:  # fmt: skip
    """One zone. Raises ValueError, naming the field, for an unknown board or finish and for a zone too small to be made."""
    field = f"design.panels.{index}"
    board_key = stock.known_board(panel.board or BOARDS[panel.kind], f"{field}.board")
    finish_key = stock.known_finish(panel.finish or _house_finish(panel, job), f"{field}.finish")
    if panel.flute_pitch and panel.flute_pitch.mm > MOST_PITCH:
        raise ValueError(
            f"{field}.flute_pitch: {panel.flute_pitch.mm:g} mm is no flute; use at most {MOST_PITCH:g} mm"
        )
    left, right = _clip(panel, frame, face, units, limits)
    sheet = stock.sheet_size(board_key, job.design.saw.trim.mm)[1]
    pitch, count, width = _flutes(panel, right - left, sheet, limits)
    x = panel.x.mm if panel.x else (left + right - width) / 2
    z = panel.z.mm if panel.z else _foot(x, x + width, frame, face, units)
    top = room.underside(face.height, x, x + width, hangs)
    height = panel.height.mm if panel.height else max(top - z, 1.0)
    box = Box(x, z, width, height)
    _buildable(panel, field, box, count, limits)
    void = panel.void.mm if panel.void is not None else limits.value("carcass.panel_void")
    if panel.void is None and panel.kind in ON_THE_WALL:
        void = 0.0
    boarded = _boarded(panel, void)
    lay = panel_faces.lay(panel, field, box, frame, limits)
    share = limits.value("carcass.flute_rib")
    if panel.kind in ("flat", "fluted", "stone_veneer"):
        lines = (
            [] if count else [edge for one in (frame, *(u.box for u in units)) for edge in (one.x, one.right)]
        )
        pieces = upright_joints(
            box, sheet, count, pitch, pitch * share, pairs=panel.match == "book" and not count
        )
        joints = snapped(box, pieces, lines, sheet, limits.value("carcass.joint_snap"))
    else:
        joints = lay.joints
    layers = panel_faces.layers(panel.kind, board_key if boarded else "", finish_key, void, limits)
    zone = PanelZone(
        ref=panel.ref, kind=panel.kind, box=box, board=board_key, finish=finish_key,
        thickness=sum(mm for _, mm in layers) - void, void=void, joints=joints, flute_pitch=pitch, flutes=count,
        mass_per_m2=panel_faces.mass(panel.kind, board_key if boarded else "", finish_key, lay, box, bool(count), limits),
        pinned=frozenset(name for name in MEASURES if getattr(panel, name) is not None),
        levels=lay.levels, joint=lay.joint, fields=lay.fields, columns=lay.columns, strip=lay.strip,
        arch=_head(panel, field, box), match=panel.match or "slip", bend=panel.bend or "flexible", boarded=boarded, layers=layers,
        light_way=_light_way(panel, job, limits),
    )  # fmt: skip
    whys.extend(_whys(panel, zone, sheet, limits))
    return zone


def _light_way(panel: Panel, job: Job, limits: Limits) -> float:
    """What the strips behind a panel want clear inside its edges: setback, profile and a clearance; 0 without any."""
    usual = limits.value("light.setback")
    first = job.design.panels[0].ref
    backs = [
        light.setback.mm if light.setback is not None else usual
        for light in job.design.lights
        if light.along == "behind_panel" and panel.ref == (light.of or first)
    ]
    if not backs:
        return 0.0
    return max(backs) + limits.value("light.profile_width") + limits.value("carcass.light_clear")


def _house_finish(panel: Panel, job: Job) -> str:
    """The design's finish for panels where such a zone can be made in it, else the usual one of its kind."""
    house = job.design.finishes.panel
    if not house:
        return FINISHES[panel.kind]
    key = stock.known_finish(house, "design.finishes.panel")
    suits = panel.kind not in FACES or load.finishes()[key].kind in FACES[panel.kind]
    return key if suits else FINISHES[panel.kind]


def _boarded(panel: Panel, void: float) -> bool:
    """Whether a board carries the zone: always but for mouldings, and for what is fixed straight to the wall."""
    if panel.kind == "moulding":
        return False
    if panel.kind in ("flat", "fluted", "stone_veneer"):
        return True
    return void > 0 or (panel.board is not None and panel.kind != "framed")


def _buildable(panel: Panel, field: str, box: Box, count: int, limits: Limits) -> None:
    longest = limits.value("carcass.longest_unit")
    for name, size in (("width", box.width), ("height", box.height)):
        if size > longest:
            raise ValueError(
                f"{field}.{name}: {size:.0f} mm is more than anybody builds; give at most {longest:.0f} mm"
            )
    if min(box.width, box.height) < LEAST or (panel.kind == "fluted" and not count):
        raise ValueError(
            f"{field}: a {panel.kind} panel of {box.width:.0f} × {box.height:.0f} mm cannot be made; give it at least "
            f"{LEAST:.0f} mm each way" + (" and more than one flute" if panel.kind == "fluted" else "")
        )


def _head(panel: Panel, field: str, box: Box) -> Arch | None:
    """The arched head of a zone; None where it is straight. A segment rises a fifth of its span unless it is said."""
    if panel.head in (None, "straight"):
        return None
    rise = box.width / 2
    if panel.head == "segment":
        rise = panel.head_rise.mm if panel.head_rise else min(box.width, box.height) / 5
    try:
        return arch_over(box, rise)
    except ValueError as problem:
        raise ValueError(f"{field}.head: {problem}") from problem


def _clip(
    panel: Panel, frame: Box, face: Face, units: tuple[UnitBox, ...], limits: Limits
) -> tuple[float, float]:
    """The stretch a zone may take: the frame and a margin each side, alike on both sides, between towers and obstacles."""
    middle = frame.centre[0]
    towers = [unit.box for unit in units if unit.kind == "tower"]
    low, high = room.free_span(0.0, face.width, frame.z, frame.top, middle, towers, 0.0)
    low, high = room.free_span(
        low,
        high,
        frame.z,
        frame.top,
        middle,
        room.standing(face, limits),
        limits.value("carcass.obstacle_gap"),
    )
    half = min(frame.width / 2 + limits.value("carcass.panel_margin"), middle - low, high - middle)
    half = max(half, 50.0)
    if panel.width:
        left = panel.x.mm if panel.x else middle - panel.width.mm / 2
        return left, left + panel.width.mm
    if panel.x:
        return panel.x.mm, max(
            panel.x.mm + 1.0, min(high, 2 * middle - panel.x.mm if panel.x.mm < middle else high)
        )
    return middle - half, middle + half


def _flutes(panel: Panel, room_there: float, sheet: float, limits: Limits) -> tuple[float, int, float]:
    """Pitch, number of flutes and width: the field closes on a whole rib wherever one of pitch and width is free.

    The number is odd where a groove is to stand on the middle (asked for, or because a joint comes there), even for a rib.
    """
    if panel.kind != "fluted":
        return 0.0, 0, room_there
    share = limits.value("carcass.flute_rib")
    usual = limits.value("carcass.flute_pitch")
    joined = math.ceil(room_there / (sheet - usual)) % 2 == 0
    parity = {"groove": 1, "rib": 0}.get(panel.flute_centre or "", 1 if joined else -1)
    if panel.width and not panel.flute_pitch:
        count, pitch = flutes.pitch_for(room_there, usual, share)
        if parity >= 0 and count % 2 != parity:
            count, pitch = count + 1, room_there / (count + 1 + share)
        return pitch, count, room_there
    pitch = panel.flute_pitch.mm if panel.flute_pitch else usual
    count = flutes.flutes_within(room_there, pitch, pitch * share)
    if panel.width:
        return pitch, count, room_there
    count -= 1 if parity >= 0 and count % 2 != parity and count > 1 else 0
    return pitch, count, flutes.field_width(count, pitch, pitch * share)


def _foot(left: float, right: float, frame: Box, face: Face, units: tuple[UnitBox, ...]) -> float:
    """Where a zone begins: on the console beneath the screen, else on the skirting, else on the floor."""
    tops = [
        unit.box.top for unit in units
        if unit.kind == "console" and unit.box.x < right and left < unit.box.right and unit.box.top <= frame.z
    ]  # fmt: skip
    if tops:
        return max(tops)
    return max(
        (thing.z.mm + thing.height.mm for thing in face.obstacles if thing.kind == "skirting"), default=0.0
    )


def upright_joints(  # noqa: PLR0913
    box: Box, sheet: float, count: int, pitch: float, rib: float, *, pairs: bool = False
) -> tuple[float, ...]:
    """X of each upright joint: the fewest equal pieces that the sheet gives, so alike on both sides of the middle.

    In a fluted field each joint moves into the nearest groove; those right of the middle mirror those left of it.
    pairs : an even number of pieces, so that leaves open like a book about the middle
    """
    pieces = max(1, math.ceil((box.width + 1e-9) / (sheet - pitch if count else sheet)))
    pieces += 1 if pairs and pieces % 2 else 0
    even = [box.width * k / pieces for k in range(1, pieces)]
    if not count:
        return tuple(box.x + at for at in even)
    left = [flutes.nearest_groove(at, count, pitch, rib) for at in even if at < box.width / 2 - 1e-6]
    middle = [flutes.nearest_groove(box.width / 2, count, pitch, rib)] if pieces % 2 == 0 else []
    field = flutes.field_width(count, pitch, rib)
    return tuple(box.x + at for at in (*left, *middle, *(field - at for at in reversed(left))))


def snapped(
    box: Box, joints: tuple[float, ...], lines: list[float], sheet: float, within: float
) -> tuple[float, ...]:
    """The joints moved onto the lines of screen and units near them, alike on both sides, as far as the sheet reaches: as many of them as
    can be together, then with the least shift.

    Of a pair of joints both move or neither does: a line on one side only leaves them where they are. within : how far [mm]
    """
    middle = box.centre[0]
    here = joints[: len(joints) // 2]
    near = [
        dict.fromkeys((at, *(
            x for x in lines
            if abs(x - at) <= within and any(abs(2 * middle - x - other) < 1.0 for other in lines)
        )))
        for at in here
    ]  # fmt: skip
    best, least = joints, (-sum(at in lines for at in here), 0.0)
    for left in product(*near):
        trial = (
            *left,
            *joints[len(here) : len(joints) - len(here)],
            *(2 * middle - x for x in reversed(left)),
        )
        edges = [box.x, *trial, box.right]
        moved = sum(abs(x - at) for x, at in zip(left, here, strict=True))
        score = -sum(x in lines for x in left), moved
        if score < least and all(LEAST <= b - a <= sheet + 1e-6 for a, b in pairwise(edges)):
            best, least = trial, score
    return best


def _whys(panel: Panel, zone: PanelZone, sheet: float, limits: Limits) -> list[Why]:
    says = {
        "x": "Alike on both sides of the screen's middle.",
        "z": "It begins on the console, or on the skirting or floor where there is none.",
        "width": "The screen's frame and a margin each side, between the towers; a fluted field in whole flutes.",
        "height": "Up to the ceiling or to the beam.",
    }
    box = zone.box
    out = [
        Why(
            f"panel {zone.ref}.{name}", value, "mm", "Pinned by the designer." if name in zone.pinned else says[name],
            "", (), "the design" if name in zone.pinned else "plane geometry of screen, units and wall", "derived",
            name in zone.pinned,
        )
        for name, value in (("x", box.x), ("z", box.z), ("width", box.width), ("height", box.height))
    ]  # fmt: skip
    out.append(
        Why(f"panel {zone.ref}.build_up", zone.build_up, "mm", "All its layers, from the wall's face to its own.",
            " + ".join(name for name, _ in zone.layers), tuple(Given(name, mm, "mm") for name, mm in zone.layers),
            "plane geometry", "computed")
    )  # fmt: skip
    if zone.light_way:
        profile, clear = limits.value("light.profile_width"), limits.value("carcass.light_clear")
        out.append(
            Why(f"panel {zone.ref}.light_way", zone.light_way, "mm",
                "So far inside its sides and top the light behind it wants the void clear: battens stop short of it.",
                "setback + profile + clearance",
                (Given("setback", zone.light_way - profile - clear, "mm"), Given("profile", profile, "mm"),
                 Given("clearance", clear, "mm")),
                "common practice", "common practice")
        )  # fmt: skip
    out += _face_whys(zone, limits)
    out.append(
        Why(f"panel {zone.ref}.joints", len(zone.joints), "joints", "The fewest equal pieces that a trimmed sheet gives.",
            "pieces = ⌈width / sheet⌉", (Given("width", box.width, "mm"), Given("trimmed sheet", sheet, "mm")),
            "plane geometry", "computed")
    )  # fmt: skip
    if zone.flutes:
        rib = zone.flute_pitch * limits.value("carcass.flute_rib")
        out.append(
            Why(f"panel {zone.ref}.flutes", zone.flutes, "flutes", "Whole flutes with a whole rib at each end.",
                "width = n·pitch + rib",
                (Given("pitch", zone.flute_pitch, "mm"), Given("rib", rib, "mm"), Given("width", box.width, "mm")),
                "plane geometry", "computed")
        )  # fmt: skip
    return out


def _face_whys(zone: PanelZone, limits: Limits) -> list[Why]:
    """The working of fields, tiles and an arched head."""
    out: list[Why] = []
    if zone.fields:
        ratio = limits["carcass.field_ratio"]
        first = zone.fields[0]
        out.append(
            Why(f"panel {zone.ref}.fields", len(zone.fields), "fields",
                "An odd number side by side, near the usual proportion; the middle one holds the screen with a margin all round.",
                "width = n·field + (n + 1)·between",
                (Given("side by side", zone.columns), Given("one is wide", first.width, "mm"), Given("high", first.height, "mm"),
                 Given("strip", zone.strip, "mm"), Given("usual width to height", ratio.value)),
                ratio.source, ratio.certainty)
        )  # fmt: skip
    if zone.kind in ("tile", "slab", "mirror", "glass"):
        edges = [zone.box.x, *zone.joints, zone.box.right]
        least = limits["carcass.tile_cut_least"]
        out.append(
            Why(f"panel {zone.ref}.pieces", (len(zone.joints) + 1) * (len(zone.levels) + 1), "pieces",
                "About the middle, with a piece or a joint on it, whichever leaves the wider cuts at the ends."
                if zone.kind == "tile" else "The fewest equal pieces that can be had and carried.",
                "", (Given("first piece", edges[1] - edges[0], "mm"), Given("joint", zone.joint, "mm"),
                     Given("least cut", least.value, least.unit)),
                least.source, least.certainty)
        )  # fmt: skip
    if zone.arch:
        out.append(
            Why(f"panel {zone.ref}.arch_radius", zone.arch.radius, "mm", "From the rise and the span of its head.",
                "(span² / 4 + rise²) / (2 · rise)",
                (Given("span", zone.arch.span, "mm"), Given("rise", zone.arch.rise, "mm"),
                 Given("length round it", zone.arch.length, "mm")),
                "plane geometry", "computed")
        )  # fmt: skip
    return out
