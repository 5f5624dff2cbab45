"""The runs of what carries signals: data, aerial, and the conduits that made-up cables are drawn through, box to box.

What lies in those conduits is what the cable map sends through them (services/plugs.py); one more is left empty.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from wallwright.core.limit import Limits
from wallwright.core.shape import Point2
from wallwright.library import load
from wallwright.services import conduit
from wallwright.services.record import ServicePoint
from wallwright.services.runs import Layer, Sort
from wallwright.services.spare import spare_sort


def picture_link(lines: int, cable: str, limits: Limits) -> tuple[float, str]:
    """How long a picture cable may be [mm] for so many lines, and what it is called."""
    v = limits.value
    if cable == "optical":
        return v("services.hdmi_optical_longest"), "active optical picture cable"
    if lines <= 1080:
        return v("services.hdmi_1080_longest"), "passive picture cable, 1080 lines"
    return v("services.hdmi_longest"), "passive picture cable"


def signal_sorts(
    limits: Limits, lines: int = 2160, cable: str = "passive", drawn: Sequence[str] = ()
) -> dict[str, Sort]:
    """The sorts of signal run by the kind of point they join. lines : of the picture · cable : passive or optical · drawn : the
    cables (keys of the library) that go from box to box through the conduits
    """
    cables = load.cables()
    v = limits.value
    longest, link = picture_link(lines, cable, limits)
    data, coax = (cables[key].diameter for key in ("data_6a", "coax"))
    held = tuple(sorted(Counter(drawn).items()))
    return {
        "data": Sort("N", "data", "2 × data cable 6A", (data, data), v("services.ethernet_longest"), 0.0, (("data_6a", 2),),
                     "data cable, without its cords"),
        "rf": Sort("A", "rf", "coaxial cable 75 Ω", (coax,), 0.0, 0.0, (("coax", 1),)),
        "conduit": Sort(
            "H", "conduit", held_words(held, cable), tuple(cables[key].diameter for key in drawn), longest,
            plug_bore([cables[key].diameter for key in drawn], limits),
            held, link,
        ),
    }  # fmt: skip


def plug_bore(diameters: Sequence[float], limits: Limits) -> float:
    """The least bore [mm] of a conduit for picture cables of those diameters [mm]: as is usual, and so that a plug still goes through
    where all the others lie already.
    """
    v = limits.value
    beside = max(diameters) if len(diameters) > 1 else 0.0
    gauge = v("services.plug_width"), v("services.plug_height"), v("services.plug_share")
    return max(v("services.trunk_bore"), conduit.plug_bore(*gauge, beside))


_HELD = {"hdmi": "HDMI", "data_6a": "network", "coax": "line", "flex_1_5": "speaker"}


def held_words(held: Sequence[tuple[str, int]], cable: str) -> str:
    """What lies in a conduit that plugs go through, in words. cable : passive or optical, of the picture"""
    words = [
        f"{count} × {'active optical ' if key == 'hdmi' and cable == 'optical' else ''}{_HELD[key]}"
        for key, count in held
    ]
    return ", ".join(words or ["empty"]) + "; draw cord left in"


def lay_signals(lay: Layer, points: Sequence[ServicePoint], come_in: Point2, sorts: dict[str, Sort]) -> None:
    """From each signal point behind the screen to its like in the cabinet; from there to where the lines come in; and from each
    further conduit point to the nearest that is joined already, so that cables from every unit have a way.
    """
    for kind, sort in sorts.items():
        screen = [p for p in points if p.kind == kind and p.zone == "behind_screen"]
        below = [p for p in points if p.kind == kind and p.zone != "behind_screen"]
        joined: list[ServicePoint] = []
        for point in screen:
            if below:
                # the console first: its boxes are nearest, and a tower's cables come to it
                near = min(
                    below,
                    key=lambda other: (kind == "conduit" and other.zone != "cabinet", _between(other, point)),
                )
                lay.lay(sort, (point.ref, (point.x, point.z)), (near.ref, (near.x, near.z)))
                joined += [point, near]
            elif kind != "conduit":
                lay.lay(sort, ("entry", come_in), (point.ref, (point.x, point.z)))
        for point in below if kind != "conduit" else ():
            lay.lay(sort, ("entry", come_in), (point.ref, (point.x, point.z)))
        for point in below if kind == "conduit" else ():
            if joined and point not in joined:
                near = min(joined, key=lambda other: _between(other, point))
                lay.lay(sort, (point.ref, (point.x, point.z)), (near.ref, (near.x, near.z)))
                joined.append(point)
    ends = [p for p in points if p.kind == "conduit" and p.zone != "behind_screen"]
    ends.sort(key=lambda p: p.zone != "cabinet")
    for _ in range(round(lay.ground.limits.value("services.spare_conduits")) if ends else 0):
        end = ends[0].x, ends[0].z
        sort, way = spare_sort(lay, come_in, end)
        lay.lay(sort, ("entry", come_in), (ends[0].ref, end), way)


def _between(a: ServicePoint, b: ServicePoint) -> float:
    return abs(a.x - b.x) + abs(a.z - b.z)
