"""Property sets and quantities of IFC elements, under the standard's own names where it has one."""

from __future__ import annotations

from collections.abc import Mapping

from wallwright.export.step import StepFile, listed, quoted, real

Value = str | float | bool | int


def properties(f: StepFile, of: str, name: str, set_name: str, rows: Mapping[str, tuple[str, Value]]) -> None:
    """A property set on an element: property -> (IFC type, value). name : of the element, for identifiers."""
    made = [
        f.add("IFCPROPERTYSINGLEVALUE", quoted(key), "$", f"{kind}({_written(value)})", "$")
        for key, (kind, value) in rows.items()
    ]
    own = f.add("IFCPROPERTYSET", f.root(f"{set_name} {name}"), "$", quoted(set_name), "$", listed(*made))
    f.add("IFCRELDEFINESBYPROPERTIES", f.root(f"{set_name} on {name}"), "$", "$", "$", listed(of), own)


def quantities(  # noqa: PLR0913
    f: StepFile, of: str, name: str, set_name: str, lengths: Mapping[str, float], areas: Mapping[str, float]
) -> None:
    """A set of quantities on an element: lengths [mm] and areas [mm²; written in the file's m²]."""
    made = [
        *(f.add("IFCQUANTITYLENGTH", quoted(k), "$", "$", real(v), "$") for k, v in lengths.items()),
        *(f.add("IFCQUANTITYAREA", quoted(k), "$", "$", real(v / 1e6), "$") for k, v in areas.items()),
    ]
    own = f.add(
        "IFCELEMENTQUANTITY", f.root(f"{set_name} {name}"), "$", quoted(set_name), "$", "$", listed(*made)
    )
    f.add("IFCRELDEFINESBYPROPERTIES", f.root(f"{set_name} on {name}"), "$", "$", "$", listed(of), own)


def _written(value: Value) -> str:
    if isinstance(value, bool):
        return ".T." if value else ".F."
    if isinstance(value, int):
        return str(value)
    return real(value) if isinstance(value, float) else quoted(value)
