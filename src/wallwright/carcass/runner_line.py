"""Runners: their screws on both boards of a bay and on the drawer's sides, on one level; and the drawer's own screws."""

from __future__ import annotations

import re

from wallwright.carcass import drawers, system_32
from wallwright.carcass.bored import Bench, front_depth
from wallwright.carcass.record import BayBox, Part

DRAWER_SCREW = 4.0
"""Through the sides of a drawer into its ends [mm]."""
FRONT_SCREW = 5.0
"""Through the front end of a drawer into its front, with room to adjust [mm]."""
FRONT_END = 60.0
"""Those screws stand so far in from the ends of the drawer's front end [mm]."""
CORE, CORE_DEEP = 3.0, 28.0
"""Pilot of a drawer screw in the end of a board [mm]."""


def runner_steps(length: float, setback: float, pitch: float) -> tuple[int, int, int]:
    """At which of the holes, counted from the first, a runner of this length is screwed: first, middle and last [mm]."""
    last = max(2, int((length - setback - 15.0) // pitch))
    return 0, last // 2, last


def runners(bench: Bench, bay: BayBox) -> None:
    """The runners of every drawer of a bay, and the drawers themselves."""
    for left in list(bench.of_role("drawer_side")):
        named = re.fullmatch(rf"({re.escape(bay.ref)}-D\d+)L", left.id)
        if not named:
            continue
        own = {part.id.removeprefix(named[1]): part for part in bench.parts if part.id.startswith(named[1])}
        _runner(bench, bay, left, own["R"])
        _drawer(bench, left, own["R"], own["F"], own["B"])
        _front(bench, bay, own["F"])


def level(bench: Bench, bay: BayBox, side: Part) -> float:
    """The height of a drawer's runners: the line of the grid nearest the middle of its sides [mm]."""
    return system_32.nearest(
        side.block.z + side.block.dz / 2, system_32.base(bench, bay), bench.value("row_pitch")
    )


def _runner(bench: Bench, bay: BayBox, left: Part, right: Part) -> None:
    z = level(bench, bay, left)
    start = left.block.y + bench.value("row_setback")
    for step in runner_steps(left.length, bench.value("row_setback"), bench.value("row_pitch")):
        y = start + step * bench.value("row_pitch")
        for where, drawer, way in (("left", left, "+x"), ("right", right, "-x")):
            board = bench.board(bay, where)  # type: ignore[arg-type]
            skin = bay.box.x if where == "left" else bay.box.right
            if board is not None:
                bench.bore(
                    board,
                    (skin, y, z),
                    "-x" if where == "left" else "+x",
                    bench.value("pin_hole"),
                    bench.value("pin_deep"),
                    "runner",
                )
            outer = drawer.block.x if where == "left" else drawer.block.x + drawer.block.dx
            bench.bore(drawer, (outer, y, z), way, bench.value("pilot"), bench.value("pilot_deep"), "runner")


def _drawer(bench: Bench, left: Part, right: Part, front: Part, rear: Part) -> None:
    """Two screws through each side into each end."""
    for end in (front, rear):
        y = end.block.y + end.block.dy / 2
        for share in (0.25, 0.75):
            z = end.block.z + share * end.block.dz
            bench.bore(left, (left.block.x, y, z), "+x", DRAWER_SCREW, 0.0, "drawer screw", through=True)
            bench.bore(
                right,
                (right.block.x + right.block.dx, y, z),
                "-x",
                DRAWER_SCREW,
                0.0,
                "drawer screw",
                through=True,
            )
            bench.bore(end, (end.block.x, y, z), "+x", CORE, CORE_DEEP, "drawer screw")
            bench.bore(end, (end.block.x + end.block.dx, y, z), "-x", CORE, CORE_DEEP, "drawer screw")


def _front(bench: Bench, bay: BayBox, end: Part) -> None:
    """Four screws through the drawer's front end into its front, two where it is low, clear of the sides' screws."""
    number = end.id.removesuffix("F").rpartition("-D")[2]
    front = next((part for part in bench.of_role("front") if part.id == f"{bay.ref}-F{number}"), None)
    if front is None:
        return
    low, high = (
        max(end.block.z, front.block.z),
        min(end.block.z + end.block.dz, front.block.z + front.block.dz),
    )
    shares = (0.35, 0.65) if high - low > 120 else (0.5,)
    inset = min(FRONT_END, end.block.dx / 4)
    for x in (end.block.x + inset, end.block.x + end.block.dx - inset):
        for share in shares:
            z = low + share * (high - low)
            bench.bore(
                end, (x, end.block.y + end.block.dy, z), "-y", FRONT_SCREW, 0.0, "front screw", through=True
            )
            rear = front.block.y + front.block.dy
            bench.bore(
                front, (x, rear, z), "-y", bench.value("pilot"), bench.value("pilot_deep"), "front screw"
            )


def pull_out(bench: Bench, bay: BayBox) -> None:
    """The runner under a pull-out: a row along the middle of the board below the bay, and of the frame's bottom."""
    board = bench.board(bay, "below")
    frame = next((part for part in bench.of_role("frame") if part.id == f"{bay.ref}-O1"), None)
    if board is None or frame is None:
        return
    x = bay.box.centre[0]
    run = drawers.runner(bay.depth, bench.limits)
    start = board.block.y + front_depth(bench, bay) + bench.value("row_setback")
    for step in runner_steps(run, bench.value("row_setback"), bench.value("row_pitch")):
        y = start + step * bench.value("row_pitch")
        bench.bore(board, (x, y, bay.box.z), "-z", bench.value("pilot"), bench.value("pilot_deep"), "runner")
        if frame.block.y + 10 < y < frame.block.y + frame.block.dy - 10:
            bench.bore(
                frame, (x, y, frame.block.z), "+z", bench.value("pilot"), bench.value("pilot_deep"), "runner"
            )
