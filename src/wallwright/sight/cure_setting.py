"""What a cure of a mirrored window may move: the screen on its mount in the room, and what the seats then see in it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Mount
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.sight.hung import hanger
from wallwright.sight.mirrored import Source, glass_of, incidence, lamps, windows
from wallwright.sight.place import keep_clear, room_for_centre
from wallwright.sight.plan import swivel_body
from wallwright.sight.record import Screen, SeatView
from wallwright.sight.reflect import Glass, Point3, area, into, seen_at
from wallwright.sight.swivel import Body as Turning
from wallwright.sight.swivel import pulled_out
from wallwright.sight.veil import Front, Picture, front, picture, veiling

Rehang = Callable[[Mount, Length | None], Screen]
"""The screen as it would hang on another mount, at another x where one is given."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What a cure may move, and what it must mind.

    glass : the picture as it hangs · eyes : of the seats, the most used first · others : everything else that may be mirrored ·
    frame : the screen's outline · stand_off [mm] · x_low, x_high : where its middle may stand · clear_of : what the frame must
    not meet · tilts, swivels : whether the mount does · wall_width, depth : of the room; depth None = unknown · turning : the
    screen in plan, for an arm; None = it turns about its picture's middle · swivel_clear : of a turned screen to the wall ·
    behind : what a tilted foot must keep out of, the panels behind the screen and a finger's breadth [mm] · side_gap : beside the
    frame [mm] · mount : the design's · rehang : the screen on another mount; None = it is moved as it is, nothing automatic
    """

    glass: Glass
    eyes: tuple[Point3, ...]
    others: tuple[Source, ...]
    front: Front
    day: Picture
    frame: Box
    stand_off: float
    x_low: float
    x_high: float
    tilts: bool
    swivels: bool
    wall_width: float
    depth: float | None = None
    clear_of: tuple[Box, ...] = ()
    turning: Turning | None = None
    swivel_clear: float = 0.0
    behind: float = 0.0
    side_gap: float = 0.0
    mount: Mount = Mount()
    rehang: Rehang | None = None

    def needs(self, tilt: float) -> float:
        """The stand-off at which the screen, tilted so, keeps its foot clear of what is behind it [mm]."""
        return math.ceil(self.behind + self.frame.height / 2 * math.sin(math.radians(abs(tilt))))

    def tilted(self, tilt: float) -> tuple[float, Glass]:
        """The stand-off that the mount has by itself, and the picture tilted so, held off as far as its foot then needs."""
        own, needs = self.stand_off, self.needs(tilt)
        if self.rehang is None:
            x, y, z = self.glass.middle
            return own, replace(self.glass, middle=(x, y - max(0.0, needs - own), z), tilt=tilt)
        if self.tilts and needs <= own:  # the tilt alone moves nothing else
            return own, replace(self.glass, tilt=tilt)
        mount = replace(self.mount, tilt=tilt, kind=self.mount.kind if self.tilts else "tilt")
        if not self.tilts:
            screen = self.rehang(mount, None)
            own = screen.stand_off
            if needs <= own:
                return own, glass_of(screen)
        return own, glass_of(self.rehang(replace(mount, stand_off=Length(needs)), None))

    def turned(self, swivel: float) -> tuple[float, Glass]:
        """The picture turned by `swivel` where an arm then holds it, at the tilt it then has, and the pull-out that needs."""
        if self.rehang is not None:
            screen = self.rehang(replace(self.mount, kind="arm", swivel=swivel), None)
            return screen.stand_off + screen.pulled, glass_of(screen)
        if self.turning is None:
            return self.stand_off, replace(self.glass, swivel=swivel)
        pull, (x, out) = pulled_out(
            self.turning, self.frame.centre[0], swivel, self.swivel_clear, self.stand_off
        )
        return pull, replace(self.glass, middle=(x, -out, self.glass.middle[2]), swivel=swivel)

    def shifted(self, to: float) -> Glass:
        """The picture with the screen's middle at `to` along the wall."""
        if self.rehang is not None:
            return glass_of(self.rehang(self.mount, Length(to)))
        x, y, z = self.glass.middle
        return replace(self.glass, middle=(x + to - self.frame.centre[0], y, z))

    def seen(self, glass: Glass, source: Source) -> list[tuple[float, float]]:
        """For each eye that sees the source mirrored: its share of the picture, and its luminance over the picture's own."""
        axes = glass.axes()
        corners = [into(axes, glass.middle, corner) for corner in source.corners]
        found: list[tuple[float, float]] = []
        for eye in self.eyes:
            local = into(axes, glass.middle, eye)
            polygon = seen_at(local, corners, glass.width / 2, glass.height / 2)
            share = area(polygon) / (glass.width * glass.height) if polygon else 0.0
            if share > 0:
                mirrors = self.front.mirrors_at(incidence(local, polygon))
                found.append((share, veiling(source.luminance, mirrors, self.day.mean)))
        return found


def worst_share(glass: Glass, eyes: Iterable[Point3], corners: Sequence[Point3]) -> float:
    """The largest share of the picture in which any of the eyes sees it mirrored."""
    axes = glass.axes()
    local = [into(axes, glass.middle, corner) for corner in corners]
    whole, half_width, half_height = glass.width * glass.height, glass.width / 2, glass.height / 2
    return max(
        (
            area(seen_at(into(axes, glass.middle, eye), local, half_width, half_height)) / whole
            for eye in eyes
        ),
        default=0.0,
    )


def setting_of(
    job: Job, face: Face, screen: Screen, seats: Sequence[SeatView], limits: Limits, built: float = 0.0
) -> Setting:
    """The screen as it hangs in this room, before panels that build up by `built`. The eyes of a room without seats are none:
    then nothing is mirrored.
    """
    glass = glass_of(screen)
    room = room_for_centre(face, screen.frame.width, screen.frame.height, limits)
    depth = job.survey.room.depth
    return Setting(
        glass, tuple(seat.eye for seat in sorted(seats, key=lambda seat: -seat.share)),
        (*windows(job.survey, face, limits), *lamps(job.survey, glass, limits)),
        front(job.design.screen.surface, limits), picture(False, limits), screen.frame, screen.stand_off,
        room.x if room else screen.centre[0], room.right if room else screen.centre[0], screen.mount != "fixed",
        screen.mount == "arm", face.width, depth.mm if depth is not None else None,
        keep_clear(job.design, job.brief, face, limits), swivel_body(job, screen, limits), limits.value("sight.swivel_clear"),
        built + limits.value("sight.foot_clear"), limits.value("rule.side_gap"), job.design.mount,
        _rehang(job, face, screen.diagonal, limits) if seats else None,
    )  # fmt: skip


def _rehang(job: Job, face: Face, diagonal: float, limits: Limits) -> Rehang:
    hung, _ = hanger(job, face, diagonal, limits)

    def again(mount: Mount, x: Length | None) -> Screen:
        screen = job.design.screen if x is None else replace(job.design.screen, centre_x=x)
        return hung(replace(job, design=replace(job.design, mount=mount, screen=screen)))

    return again
