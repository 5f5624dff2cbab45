"""Edits of the screen and of how it hangs."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from wallwright.job.design import PanelClass, Patch, Port, SecondSource, Surface
from wallwright.job.document import Job
from wallwright.job.edit import change, edit
from wallwright.job.fields import Clear, Degrees, Offset, Positive, Size
from wallwright.job.path import put


@edit
def set_screen_size(job: Job, diagonal: Positive) -> Job:
    """Set the screen's named size in inches.

    The frame, mass and power of another size would be wrong for this one, so they go back to the library's typical values.
    """
    old = job.design.screen
    changed = change(job, "design.screen", diagonal=diagonal)
    if old.diagonal is None or old.diagonal == diagonal:
        return changed
    return _typical(changed)


def _typical(job: Job) -> Job:
    plain = replace(
        job.design.screen,
        frame_width=None, frame_height=None, frame_depth=None, mass=None, watts=None,
        hole_width=None, hole_height=None, hole_offset=None, source="typical", second=None,
        box_width=None, box_height=None, box_depth=None, ports=(), vents=(), ir_eye=None,
    )  # fmt: skip
    return put(job, ("design", "screen"), plain)


@edit
def set_screen_height(job: Job, centre_height: Size) -> Job:
    """Set the height of the screen's centre above the floor."""
    return change(job, "design.screen", centre_height=centre_height)


@edit
def set_screen_x(job: Job, centre_x: Offset) -> Job:
    """Set where the screen's centre stands along the wall."""
    return change(job, "design.screen", centre_x=centre_x)


@edit
def set_screen_panel(job: Job, panel: PanelClass) -> Job:
    """Say how the picture holds from the side."""
    return change(job, "design.screen", panel=panel)


@edit
def set_screen_surface(job: Job, surface: Surface) -> Job:
    """Say how the screen's front mirrors."""
    return change(job, "design.screen", surface=surface)


@edit
def set_screen_lines(job: Job, lines: Literal[1080, 2160, 4320]) -> Job:
    """Set the picture's lines."""
    return change(job, "design.screen", lines=lines)


@edit
def set_screen_source(job: Job, source: Literal["typical", "shop_page", "maker_drawing", "measured"]) -> Job:
    """Say where the screen's frame sizes come from."""
    return change(job, "design.screen", source=source)


@edit
def set_screen_frame(  # noqa: PLR0913
    job: Job,
    width: Size | None = None,
    height: Size | None = None,
    depth: Size | None = None,
    mass: Positive | None = None,
    watts: Positive | None = None,
    source: Literal["typical", "shop_page", "maker_drawing", "measured"] | None = None,
) -> Job:
    """Set the screen's frame, mass and power, and where they come from."""
    return change(
        job, "design.screen",
        frame_width=width, frame_height=height, frame_depth=depth, mass=mass, watts=watts, source=source,
    )  # fmt: skip


@edit
def set_screen_holes(
    job: Job, width: Size | None = None, height: Size | None = None, offset: Offset | None = None
) -> Job:
    """Set the fixing hole group on the screen's back."""
    return change(job, "design.screen", hole_width=width, hole_height=height, hole_offset=offset)


@edit
def set_screen_second(  # noqa: PLR0913
    job: Job,
    source: Literal["shop_page", "maker_drawing", "measured"],
    frame_width: Size | None = None,
    frame_height: Size | None = None,
    hole_width: Size | None = None,
    hole_height: Size | None = None,
    hole_offset: Offset | None = None,
) -> Job:
    """Enter the screen's sizes once more, from a second source."""
    second = SecondSource(source, frame_width, frame_height, hole_width, hole_height, hole_offset)
    return change(job, "design.screen", second=second)


@edit
def set_screen_box(job: Job, width: Size, height: Size, depth: Size) -> Job:
    """Set the carton the screen comes in."""
    return change(job, "design.screen", box_width=width, box_height=height, box_depth=depth)


@edit
def set_screen_back(
    job: Job,
    ports: tuple[Port, ...] | None = None,
    vents: tuple[Patch, ...] | None = None,
    ir_eye: Patch | None = None,
) -> Job:
    """Enter the ports and vents of the screen's back and the infrared eye on its front."""
    return change(job, "design.screen", ports=ports, vents=vents, ir_eye=ir_eye)


@edit
def set_screen_niche(
    job: Job, width: Size | None = None, height: Size | None = None, depth: Size | None = None
) -> Job:
    """Set the niche built round the screen."""
    return change(job, "design.screen", niche_width=width, niche_height=height, niche_depth=depth)


@edit
def set_mount(  # noqa: PLR0913
    job: Job,
    kind: Literal["fixed", "tilt", "arm"] | None = None,
    tilt: Degrees | None = None,
    stand_off: Size | None = None,
    plate_width: Size | None = None,
    plate_height: Size | None = None,
    reach: Clear | None = None,
    hook_drop: Offset | None = None,
    carries: Positive | None = None,
) -> Job:
    """Choose how the screen hangs."""
    return change(
        job, "design.mount",
        kind=kind, tilt=tilt, stand_off=stand_off, plate_width=plate_width, plate_height=plate_height, reach=reach,
        hook_drop=hook_drop, carries=carries,
    )  # fmt: skip


@edit
def set_arm(  # noqa: PLR0913
    job: Job,
    swivel: Degrees | None = None,
    swivel_most: Degrees | None = None,
    head: Clear | None = None,
    pivot_x: Offset | None = None,
    reach: Clear | None = None,
) -> Job:
    """Set how far the arm reaches and turns."""
    return change(
        job, "design.mount", swivel=swivel, swivel_most=swivel_most, head=head, pivot_x=pivot_x, reach=reach
    )


@edit
def set_tilt(job: Job, tilt: Degrees) -> Job:
    """Set how far the screen tilts forward, in degrees."""
    return change(job, "design.mount", tilt=tilt)
