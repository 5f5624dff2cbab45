"""A plain wall 3600 wide of 230 brick, one sofa before it, a screen on a tilting bracket and a socket beside its middle; invented."""

from __future__ import annotations

MIDDLE = 1800


def surveyed(title: str, height: int, distance: int) -> str:
    """The head of the job and its survey: the wall so high, the eye so far from it, 1080 above the floor."""
    return f"""wallwright-job = 1
title = "{title}"
[survey]
date = "2026-02-16"
finish_complete = true
[survey.room]
depth = 4500
floor_finished = true
[survey.wall]
widths = [{{ at = 1000, value = {{ value = 3600, state = "verified" }} }}]
heights = [{{ at = 1800, value = {{ value = {height}, state = "verified" }} }}]
substrate = "brick"
leaf = 230
damp = "dry"
[[survey.seats]]
ref = "A"
kind = "sofa"
x = {MIDDLE}
distance = {distance}
eye_height = 1080
"""


def hung(
    diagonal: int, frame: tuple[int, int], holes: tuple[int, int], plate: tuple[int, int], more: str = ""
) -> str:
    """The screen at 1100 on the wall's middle, by its maker's drawing, 60 off the wall. more : lines of the screen's own"""
    return f"""[design.screen]
diagonal = {diagonal}
centre_height = 1100
centre_x = {MIDDLE}
frame_width = {frame[0]}
frame_height = {frame[1]}
frame_depth = 40
hole_width = {holes[0]}
hole_height = {holes[1]}
source = "maker_drawing"
{more}[design.mount]
kind = "tilt"
tilt = 0
stand_off = 60
plate_width = {plate[0]}
plate_height = {plate[1]}
"""


def socket(z: int) -> str:
    """A socket 250 right of the middle."""
    return f"""[[design.points]]
ref = "PX"
kind = "socket"
x = {MIDDLE + 250}
z = {z}
"""
