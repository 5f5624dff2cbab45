"""The invented demo jobs, as the text of their files."""

from __future__ import annotations

from importlib.resources import files

DEMOS = ("living", "bedroom", "living_faults")
"""A living-room wall, a bedroom wall, and the living-room wall with many deliberate faults."""


def demo_jobs() -> dict[str, str]:
    """Each demo job's text by name, in the order to show them."""
    folder = files("wallwright.job").joinpath("demo")
    return {name: folder.joinpath(f"{name}.toml").read_text("utf-8") for name in DEMOS}
