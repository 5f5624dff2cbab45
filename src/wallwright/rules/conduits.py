"""Rules of what conduits hold: no fuller than cable is drawn in, round every bend, and wide enough for the plugs.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import EditCall, Finding, edit_call
from wallwright.core.limit import Certainty
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.registry import rule
from wallwright.services import conduit
from wallwright.services.record import Run
from wallwright.services.runs import drawn_size, fill_shares
from wallwright.services.signals import plug_bore

_FULL: tuple[str, Certainty] = "NEC chapter 9 table 1", "published"
_DRAWN: tuple[str, Certainty] = "On-Site Guide appendix E, cable and conduit factors", "published"
_GAUGE: tuple[str, Certainty] = (
    "common practice: the plug's diagonal and what lies beside it take nine tenths of the bore",
    "common practice",
)


@rule("services.conduit_full")
def conduit_full(wall: Wall) -> Iterator[Finding]:
    """No conduit holds more than can be drawn in: by its fill, by its bends and length, and by the plugs that go through."""
    for run in wall.services.runs:
        if run.in_void and run.kind != "conduit":
            continue  # laid loose in a void
        yield from _too_full(wall, run)


def _too_full(wall: Wall, run: Run) -> Iterator[Finding]:
    """The first thing that keeps the cables of a run from going in."""
    known = load.cables()
    keys = [key for key, count in run.contents for _ in range(count)]
    sizes = sorted((known[key].diameter for key in keys), reverse=True)
    shares = fill_shares(wall.limits)
    held = f"conduit {run.ref}, {run.outside_diameter:.0f} mm ({run.bore:g} mm bore)"
    if not conduit.fits(sizes, run.bore, shares):
        filled = [
            (conduit.fill(sizes[:n], run.bore), shares[n - 1]) for n in range(1, min(2, len(sizes)) + 1)
        ]
        if len(sizes) > 2:
            filled.append((conduit.fill(sizes, run.bore), shares[2]))
        part, share = max(filled, key=lambda pair: pair[0] / pair[1])
        says = f"{held} is filled {100 * part:.0f} % by its {len(sizes)} cables"
        yield _finding(wall, run, says, (round(100 * part), round(100 * share), "%"), _FULL)
        return
    cores = [known[key].size for key in keys if key.startswith("single") for _ in range(3)]
    needed = drawn_size(cores, run.path, run.draw_boxes) if cores and not run.in_void else 0
    if needed is None or needed > run.outside_diameter:
        says = f"single cores of {run.ref} are not drawn through a {run.outside_diameter:.0f} mm conduit round its bends"
        wide = f"{needed} mm" if needed else f"over {conduit.CONDUITS[-1]} mm"
        yield _finding(wall, run, says, (f"{run.outside_diameter:.0f} mm", wide, ""), _DRAWN)
        return
    least = plug_bore(sizes, wall.limits) if "hdmi" in keys else 0.0
    if run.bore < least - 1e-9:
        says = f"{held} lets no plug through beside the cables that lie in it"
        yield _finding(wall, run, says, (round(run.bore, 1), round(least, 1), "mm"), _GAUGE)


def _finding(
    wall: Wall,
    run: Run,
    says: str,
    figures: tuple[float | str, float | str, str],
    source: tuple[str, Certainty],
) -> Finding:
    measured, limit, unit = figures
    edits: tuple[EditCall, ...] = ()
    cure = "lay two conduits side by side, or more draw boxes nearer to one another, or a wider conduit"
    if run.kind == "conduit":
        more = 1 + round(wall.limits.value("services.screen_conduits"))
        edits = (edit_call("set_limit", name="services.screen_conduits", value=more),)
        cure = f"bring {more} conduits from behind the screen, side by side, and share the cables"
    return Finding("services.conduit_full", "fix", run.ref, says, measured, limit, unit, *source, cure, edits)
