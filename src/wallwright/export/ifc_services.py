"""The services as IFC: boxes, conduits and cables along their routes, light runs with their drivers, and who hangs on which circuit."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from wallwright.core.shape import Block
from wallwright.export.ifc_sets import properties, quantities
from wallwright.export.ifc_solid import Place, bar, element, solid
from wallwright.export.step import listed, quoted

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.light.record import LightRun
    from wallwright.services.record import Run, ServicePoint

OUTLETS = {
    "twin_socket": ("IFCOUTLET", "POWEROUTLET"),
    "socket": ("IFCOUTLET", "POWEROUTLET"),
    "switched_spur": ("IFCJUNCTIONBOX", "POWER"),
    "data": ("IFCOUTLET", "DATAOUTLET"),
    "rf": ("IFCOUTLET", "AUDIOVISUALOUTLET"),
    "conduit": ("IFCJUNCTIONBOX", "DATA"),
    "switch": ("IFCSWITCHINGDEVICE", "TOGGLESWITCH"),
    "led_feed": ("IFCJUNCTIONBOX", "POWER"),
}
DRIVER = (
    200.0,
    60.0,
    35.0,
)  # a driver as it is drawn where it stands: wide, deep, high [mm]. Common practice


def services(p: Place, wall: Wall) -> list[str]:
    """Everything that carries current or signals; the circuits group what hangs on them."""
    points = {point.ref: _outlet(p, point) for point in wall.services.points}
    runs = {run.ref: _run(p, run) for run in wall.services.runs if len(run.path) > 1}
    lights = {run.ref: _light(p, run) for run in wall.light.runs}
    drivers = [_driver(p, run) for run in wall.light.runs if run.driver_at is not None]
    _circuits(p, wall, points)
    return [*points.values(), *runs.values(), *lights.values(), *drivers]


def _outlet(p: Place, point: ServicePoint) -> str:
    """A box in the wall, from its face inwards."""
    entity, kind = OUTLETS.get(point.kind, ("IFCOUTLET", "POWEROUTLET"))
    box = point.box
    body = solid(p, Block(box.x, 0, box.z, box.width, max(point.box_depth, 10.0), box.height))
    words = f"{point.kind}: {point.reason}"
    made = element(p, entity, f"point {point.ref}", point.ref, words, body, f".{kind}.")
    if entity == "IFCOUTLET":
        count = 2 if point.kind == "twin_socket" else 1
        rows = {
            "Reference": ("IFCIDENTIFIER", point.kind),
            "IsPluggableOutlet": ("IFCLOGICAL", True),
            "NumberOfSockets": ("IFCINTEGER", count),
        }
        properties(p.f, made, point.ref, "Pset_OutletTypeCommon", rows)
    own = {
        "Circuit": ("IFCLABEL", point.circuit or "-"),
        "Serves": ("IFCLABEL", ", ".join(point.serves) or "-"),
        "CentreX": ("IFCLENGTHMEASURE", float(point.x)),
        "CentreZ": ("IFCLENGTHMEASURE", float(point.z)),
        "BoxDepth": ("IFCLENGTHMEASURE", float(point.box_depth)),
    }
    properties(p.f, made, point.ref, "Wallwright_Point", own)
    return made


def _run(p: Place, run: Run) -> str:
    """A conduit along its route, or a cable without one: in the wall where it is chased, before it where it lies in a void."""
    across = max(run.outside_diameter, 3.0)
    y = -across / 2 if run.in_void or run.lies in ("void", "surface") else across / 2
    conduit = run.bore > 0
    entity = "IFCCABLECARRIERSEGMENT" if conduit else "IFCCABLESEGMENT"
    kind = ".CONDUITSEGMENT." if conduit else ".CABLESEGMENT."
    words = f"{run.start} to {run.end}: {run.cable}"
    made = element(p, entity, f"run {run.ref}", run.ref, words, bar(p, run.path, y, across), kind)
    rows = {
        "Cable": ("IFCLABEL", run.cable or "-"),
        "Lies": ("IFCLABEL", run.lies),
        "Bends": ("IFCINTEGER", int(run.bends)),
        "Bore": ("IFCLENGTHMEASURE", float(run.bore)),
        "Fill": ("IFCRATIOMEASURE", float(run.fill)),
    }
    properties(p.f, made, run.ref, "Wallwright_Run", rows)
    name = "Qto_CableCarrierSegmentBaseQuantities" if conduit else "Qto_CableSegmentBaseQuantities"
    quantities(p.f, made, run.ref, name, {"Length": run.length}, {})
    return made


def _light(p: Place, run: LightRun) -> str:
    """A run of strip, each leg a thin bar."""
    legs = [
        Block(min(x0, x1), run.y - 3, min(z0, z1), max(abs(x1 - x0), 10), 6, max(abs(z1 - z0), 10))
        for (x0, z0), (x1, z1) in itertools.pairwise(run.path)
    ] or [Block(0, run.y - 3, 0, 10, 6, 10)]
    body = solid(p, *legs)
    made = element(
        p, "IFCLIGHTFIXTURE", f"light {run.ref}", run.ref, run.along, body, ".USERDEFINED.", kind="LED STRIP"
    )
    rows = {
        "NumberOfSources": ("IFCINTEGER", 1),
        "TotalWattage": ("IFCPOWERMEASURE", float(run.watts)),
    }
    properties(p.f, made, run.ref, "Pset_LightFixtureTypeCommon", rows)
    own = {
        "LengthOfStrip": ("IFCLENGTHMEASURE", float(run.length)),
        "WattsPerMetre": ("IFCREAL", float(run.watts_per_m)),
        "ColourTemperature": ("IFCREAL", float(run.colour)),
        "Volts": ("IFCREAL", float(run.volts)),
    }
    properties(p.f, made, run.ref, "Wallwright_LightRun", own)
    return made


def _driver(p: Place, run: LightRun) -> str:
    """Where the driver of a run stands."""
    assert run.driver_at is not None
    (x, z), (wide, deep, high) = run.driver_at, DRIVER
    body = solid(p, Block(x - wide / 2, -deep - 10, z - high / 2, wide, deep, high))
    words = f"{run.driver_watts:g} W, {run.volts:g} V, {run.driver_place}"
    return element(p, "IFCTRANSFORMER", f"driver {run.ref}", f"{run.ref} driver", words, body, ".RECTIFIER.")


def _circuits(p: Place, wall: Wall, points: dict[str, str]) -> None:
    """Each circuit with the points on it."""
    for circuit in wall.services.circuits:
        hung = [points[point.ref] for point in wall.services.points if point.circuit == circuit.ref]
        if not hung:
            continue
        kind = (
            ".LIGHTING."
            if "light" in circuit.name.lower() or "led" in circuit.name.lower()
            else ".ELECTRICAL."
        )
        words = f"{circuit.rating:g} A, {circuit.cable}, {circuit.diversified:.0f} W after diversity"
        made = p.f.add(
            "IFCDISTRIBUTIONCIRCUIT", p.f.root(f"circuit {circuit.ref}"), "$", quoted(circuit.ref), quoted(words),
            "$", quoted(circuit.name), kind,
        )  # fmt: skip
        p.f.add(
            "IFCRELASSIGNSTOGROUP", p.f.root(f"on {circuit.ref}"), "$", "$", "$", listed(*hung), "$", made
        )
