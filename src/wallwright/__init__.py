"""Wallwright: design and deliver a television wall.

One document in (`Job`), one wall out (`derive(job)` makes a `Wall`), and everything else a function of the
wall. The public names stand in `PUBLIC` and are loaded when first used, so that `import wallwright` costs next
to nothing.
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the same names as in PUBLIC, for type checkers and editors
    from wallwright.derive import Wall, derive
    from wallwright.job.document import Job

__version__ = "0.1.0"

# Public name -> where it is: "module:name" for a function or class, "module" for a whole module.
PUBLIC: dict[str, str] = {
    "Job": "wallwright.job.document:Job",
    "Wall": "wallwright.derive:Wall",
    "derive": "wallwright.derive:derive",
}

__all__ = ["PUBLIC", "Job", "Wall", "__version__", "derive"]


def __getattr__(name: str) -> object:
    """Load a public name from its module, once."""
    if name not in PUBLIC:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, _, attribute = PUBLIC[name].partition(":")
    loaded = import_module(module)
    value = getattr(loaded, attribute) if attribute else loaded
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    """Public names show up in completion before they are loaded."""
    return sorted({*globals(), *PUBLIC})


class _Package(ModuleType):
    """Lets a public function share its file's name, as `derive` does with derive.py.

    Importing a submodule binds it in the package under its own name; here the public name stays what PUBLIC
    says.
    """

    def __setattr__(self, name: str, value: object) -> None:
        if not (isinstance(value, ModuleType) and ":" in PUBLIC.get(name, "")):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package
