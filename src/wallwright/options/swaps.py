"""Swaps that cost less: each a handful of real edits, its saving measured by deriving the wall anew with the cutting plans that would be
issued, its loss of value from data.

A swap that brings a new finding which must be fixed is refused, and says why. What is pinned by size stays; what the brief keeps from
swaps is not touched at all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.counted import counted
from wallwright.core.finding import EditCall, Finding, edit_call
from wallwright.derive import derive
from wallwright.library import load, terms
from wallwright.look.ladder import rung_of
from wallwright.options.effect import Effect, edited, effect, priced
from wallwright.options.lumps import NOTHING, Share, shared
from wallwright.rules import check
from wallwright.rules.faced import Faced, cheaper, faces_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from wallwright.derive import Wall

RUNGS_DOWN = 3
"""Faces offered in place of one: the best on each of so many rungs below it."""
ROLE_WORD = {"wall": "wall", "panel": "panels", "front": "fronts"}
STEPS_DOWN = ("arm", "tilt", "fixed")
SMALLER = (0.9, 0.8)
"""Shares of its width that a panel may be cut back to."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A swap before it is measured. kind : row of the weights · measure : how many of its measure it loses · of : refs and words
    it touches · slot : only one swap of a slot can be made.
    """

    key: str
    kind: str
    says: str
    edits: tuple[EditCall, ...]
    of: frozenset[str]
    slot: str
    measure: float = 0.0


@dataclass(frozen=True, slots=True)
class Swap:
    """A swap measured alone. saving : all in (minor units) · loss : points · new, gone : findings it brings and takes away ·
    refused : why it cannot be made, "" where it can · share : what it saves, told apart into what adds up and what is bought whole
    """

    key: str
    kind: str
    says: str
    edits: tuple[EditCall, ...]
    of: frozenset[str]
    slot: str
    loss: float
    saving: int
    share: Share
    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]
    refused: str = ""


def swaps(
    wall: Wall, proposals: Iterable[Proposal] | None = None, tell: Callable[[str], None] | None = None
) -> tuple[Swap, ...]:
    """Every swap of a wall, measured, refused ones among them; what saves nothing is left out. tell : hears which is measured."""
    wall = priced(wall)
    found, kept = (
        check(wall, cures=False),
        set(wall.job.brief.budget.keep) if wall.job.brief.budget else set[str](),
    )
    out: list[Swap] = []
    every = [p for p in (proposed(wall) if proposals is None else proposals) if not p.of & kept]
    for number, proposal in enumerate(every, 1):
        if tell is not None:
            tell(f"measuring swap {number} of {len(every)}: {proposal.says}")
        swap = measured(wall, found, proposal)
        if swap.saving > 0 or swap.share.at_best > 0:
            out.append(swap)
    return tuple(out)


def measured(wall: Wall, found: tuple[Finding, ...], proposal: Proposal) -> Swap:
    """A swap with what it saves on this wall, what it loses, and what it does to the findings."""
    loss = loss_of(wall, proposal)
    try:
        done = effect(wall, found, derive(edited(wall.job, proposal.edits), searched=True))
    except ValueError as problem:
        return Swap(*_head(proposal), loss, 0, NOTHING, (), (), str(problem))
    return Swap(
        *_head(proposal), loss, -done.difference, shared(wall, done.wall), done.new, done.gone, refusal(done)
    )  # fmt: skip


def _head(p: Proposal) -> tuple[str, str, str, tuple[EditCall, ...], frozenset[str], str]:
    return p.key, p.kind, p.says, p.edits, p.of, p.slot


def refusal(done: Effect) -> str:
    """Why these edits cannot be made: the first new finding that must be fixed."""
    return f"{done.worse[0].severity}: {done.worse[0].says}" if done.worse else ""


def loss_of(wall: Wall, proposal: Proposal) -> float:
    """Points of value that a swap loses: its kind's own, each of its measure, and the change itself."""
    weight = terms.swap_weights()[proposal.kind]
    return round(wall.limits.value("money.swap_change") + weight.once + weight.each * proposal.measure, 3)


def proposed(wall: Wall) -> Iterator[Proposal]:
    """Every swap that this wall has a place for."""
    for make in MAKERS:
        yield from make(wall)


def _faces(wall: Wall) -> Iterator[Proposal]:
    """Faces of one role and finish go down the ladder together, so that what matched still matches."""
    groups: dict[tuple[str, str], list[Faced]] = {}
    for face in faces_of(wall):
        groups.setdefault((face.role, face.finish), []).append(face)
    for (role, finish), faces in groups.items():
        common = [{row.key: row for row in cheaper(wall, face)} for face in faces]
        rungs: set[str] = set()
        for row in common[0].values():
            rung = rung_of(row.key, board=role != "wall")
            if rung is None or rung.key in rungs or not all(row.key in each for each in common):
                continue
            rungs.add(rung.key)
            yield Proposal(
                f"{role}_{finish}_{row.key}", f"{'fronts' if role == 'front' else role}_face",
                f"{_whose(role, faces)} in {row.name} instead of {load.finishes()[finish].name}",
                tuple(face.refaced(row.key) for face in faces), frozenset({ROLE_WORD[role], *(face.ref for face in faces)}),
                f"{role}_{finish}", float(len(rungs)),
            )  # fmt: skip
            if len(rungs) == RUNGS_DOWN:
                break


def _whose(role: str, faces: list[Faced]) -> str:
    refs = ", ".join(face.ref for face in faces)
    return "Wall" if role == "wall" else f"{'Fronts' if role == 'front' else 'Panel'} {refs}"


def _boards(wall: Wall) -> Iterator[Proposal]:
    """All carcasses of a board in a cheaper one of the same thickness."""
    groups: dict[str, list[str]] = {}
    for unit in wall.setout.units:
        groups.setdefault(unit.board, []).append(unit.ref)
    rows, rate = load.boards(), _board_rates(wall)
    for board, refs in groups.items():
        like = [
            b
            for b in rows.values()
            if abs(b.thickness - rows[board].thickness) < 0.5 and rate.get(b.key, 1e9) < rate.get(board, 0)
        ]
        for other in like:
            yield Proposal(
                f"board_{board}_{other.key}", "cheaper_board", f"Carcasses {', '.join(refs)} of {other.name} instead of {rows[board].name}",
                tuple(edit_call("set_unit_board", ref=ref, board=other.key) for ref in refs), frozenset({"boards", *refs}), f"board_{board}",
            )  # fmt: skip


def _board_rates(wall: Wall) -> Mapping[str, float]:
    from wallwright.library import rates

    book = rates.book(wall.job.design.rates, wall.job.rates)
    metric = rates.METRIC
    return {
        key.removeprefix("board_"): row.amount / metric[row.unit][1]
        for key, row in book.items()
        if key.startswith("board_")
    }


def _bays(wall: Wall) -> Iterator[Proposal]:
    """The bays of drawers of a unit with doors, all alike; a bay with a door left open; where the bays are the designer's."""
    for unit in wall.job.design.units:
        drawn = [(number, bay) for number, bay in enumerate(unit.bays, 1) if bay.front == "drawers"]
        if drawn:
            shut = tuple(
                edit_call("set_bay", ref=unit.ref, bay=number, front="shutter", shelves=1)
                for number, _ in drawn
            )
            count, places = (
                sum(bay.drawers for _, bay in drawn),
                ", ".join(f"{unit.ref}.{number}" for number, _ in drawn),
            )
            yield Proposal(
                f"bays_{unit.ref}_doors", "fewer_drawers", f"{places}: doors and shelves instead of {counted(count, 'drawer')}",
                shut, frozenset({unit.ref}), f"drawers_{unit.ref}", float(count),
            )  # fmt: skip
        for number, bay in enumerate(unit.bays, 1):
            if bay.front not in ("open", "drawers"):
                place = f"{unit.ref}.{number}"
                opened = (edit_call("set_bay_front", ref=unit.ref, bay=number, front="open"),)
                yield Proposal(
                    f"bay_{place}_open",
                    "open_bay",
                    f"{place} left open",
                    opened,
                    frozenset({unit.ref}),
                    f"bay_{place}",
                )


def _lights(wall: Wall) -> Iterator[Proposal]:
    for light in wall.job.design.lights:
        slot, of = f"light_{light.ref}", frozenset({light.ref, "lights"})
        kind = "bias_light_out" if light.along in ("behind_screen", "behind_panel") else "no_light"
        says = f"Light {light.ref} {light.along.replace('_', ' ')} left out"
        yield Proposal(f"{slot}_out", kind, says, (edit_call("remove_light", ref=light.ref),), of, slot)
        if light.dimmable:
            undimmed = edit_call("set_light", ref=light.ref, dimmable=False)
            yield Proposal(
                f"{slot}_undimmed", "no_dimmer", f"Light {light.ref} not dimmed", (undimmed,), of, slot
            )


def _panels(wall: Wall) -> Iterator[Proposal]:
    """Relief left out; a panel whose width nobody pinned made narrower."""
    for zone in wall.setout.zones:
        of = frozenset({zone.ref, "panels"})
        if zone.kind in ("fluted", "framed", "moulding"):
            flat = edit_call("set_panel_kind", ref=zone.ref, kind="flat")
            yield Proposal(
                f"plain_{zone.ref}",
                "plain_panel",
                f"Panel {zone.ref} flat, not {zone.kind}",
                (flat,),
                of,
                f"kind_{zone.ref}",
            )
        if "width" in zone.pinned:
            continue
        for share in SMALLER:
            width = round(zone.box.width * share)
            less = zone.box.area * (1 - share) / 1e6
            yield Proposal(
                f"smaller_{zone.ref}_{width}", "smaller_panel", f"Panel {zone.ref} {width} mm wide instead of {zone.box.width:.0f}",
                (edit_call("resize_panel", ref=zone.ref, width=width),), of, f"size_{zone.ref}", round(less, 2),
            )  # fmt: skip


def _mount(wall: Wall) -> Iterator[Proposal]:
    at = STEPS_DOWN.index(wall.job.design.mount.kind)
    for steps, kind in enumerate(STEPS_DOWN[at + 1 :], 1):
        says = f"Screen bracket {kind} instead of {STEPS_DOWN[at]}"
        edits = (edit_call("set_mount", kind=kind),)
        yield Proposal(
            f"mount_{kind}", "plain_mount", says, edits, frozenset({"mount", "screen"}), "mount", float(steps)
        )


def _units(wall: Wall) -> Iterator[Proposal]:
    """Finger gaps, plain shelves, a shelf or a unit left out."""
    for unit in wall.setout.units:
        of = frozenset({unit.ref})
        own = next((item for item in wall.job.design.units if item.ref == unit.ref), None)
        if own is None:
            continue
        if any(mover.unit == unit.ref for mover in wall.carcass.movers) and own.opening != "gap":
            gap = edit_call("set_unit_opening", ref=unit.ref, opening="gap")
            yield Proposal(
                f"gap_{unit.ref}",
                "gap_opening",
                f"{unit.ref}: finger gaps over its fronts",
                (gap,),
                of,
                f"opening_{unit.ref}",
            )
        if unit.build != "plain":
            plain = edit_call("set_shelf_build", ref=unit.ref, build="plain")
            yield Proposal(
                f"plain_{unit.ref}",
                "plain_shelf",
                f"{unit.ref}: plain boards, not {unit.build}",
                (plain,),
                of,
                f"build_{unit.ref}",
            )
        kind = "shelf_out" if unit.board_only else "unit_out"
        out, area = (edit_call("remove_unit", ref=unit.ref),), round(unit.box.area / 1e6, 2)
        yield Proposal(
            f"out_{unit.ref}", kind, f"{unit.ref} ({unit.kind}) left out", out, of, f"out_{unit.ref}", area
        )


MAKERS: tuple[Callable[[Wall], Iterator[Proposal]], ...] = (
    _faces,
    _boards,
    _bays,
    _lights,
    _panels,
    _mount,
    _units,
)
"""Where swaps come from; a new kind of swap is one more."""
