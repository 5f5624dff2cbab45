"""The demo tower: 120 flats of 4 types. INVENTED from end to end: no real building, household, address, maker or price."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from wallwright.core.units import Length
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.job.write import write_job

FLOORS, ON_A_FLOOR = 15, 8
INVENTED = "INVENTED from end to end: no real building, household, address, maker or price."
_FIRST = {"A": "living", "B": "bedroom", "C": "living", "D": "bedroom"}
_NARROWER = 260.0
"""By how much the wall of type C is narrower than that of A [mm]."""
_STATES = {1: "built", 2: "set", 3: "set", 4: "cut", 5: "cut", 6: "ordered"}
_EXCEPTIONS: dict[str, tuple[tuple[str, dict[str, Any], str], ...]] = {
    "0301": (("set_screen_height", {"centre_height": 1180}, "taller household (invented)"),),
    "0702": (
        ("set_bay_hinge", {"ref": "T1", "bay": 1, "hinged": "left"}, "door to the other side (invented)"),
    ),
    "0801": (("set_screen_height", {"centre_height": 1180}, "taller household (invented)"),),
    "0805": (("set_finish", {"which": "fronts", "finish": "laminate_warm_grey"}, "own colour (invented)"),),
    "1001": (("resize_unit", {"ref": "C1", "depth": 380}, "narrow passage (invented)"),),
    "1107": (("set_finish", {"which": "fronts", "finish": "laminate_off_white"}, "own colour (invented)"),),
    "1202": (("remove_device", {"ref": "game"}, "no games console (invented)"),),
}


def demo_files(floors: int = FLOORS, on_a_floor: int = ON_A_FLOOR) -> dict[str, str]:
    """The files of the demo by their path: the tower as it is out, the same with a change of type A, and the types' jobs."""
    jobs = {ref: _job(ref) for ref in _FIRST}
    lower = apply(jobs["A"], "set_screen_height", {"centre_height": 1140})
    changed = apply(lower, "resize_unit", {"ref": "C1", "depth": 380})
    files = {f"types/{ref.lower()}.toml": _text(job) for ref, job in jobs.items()}
    files["types/a-rev-b.toml"] = _text(changed)
    files["tower.toml"] = tower_text(floors, on_a_floor)
    files["tower-b.toml"] = tower_text(floors, on_a_floor, revision="B", job_of_a="types/a-rev-b.toml")
    return files


def _job(ref: str) -> Job:
    """A type's job: one of the demo walls, the second of each kind narrower or in other fronts."""
    job = read_job(demo_jobs()[_FIRST[ref]])
    if ref == "C":
        wall = job.survey.wall
        widths = tuple(replace(one, value=_less(one.value)) for one in wall.widths)
        job = replace(job, survey=replace(job.survey, wall=replace(wall, widths=widths, diagonals=())))
        job = apply(job, "set_finish", {"which": "fronts", "finish": "laminate_off_white"})
        job = apply(job, "remove_unit", {"ref": "T2"})
    if ref == "D":
        job = apply(job, "set_finish", {"which": "fronts", "finish": "laminate_oak"})
    job = apply(job, "set_title", {"title": f"Type {ref}: {job.title.lower()}"})
    return apply(job, "set_issue", {"number": f"TYPE-{ref}"})


def _less(width: Length) -> Length:
    return replace(width, mm=round(width.mm - _NARROWER), written="")


def _text(job: Job) -> str:
    return f"# A type of the demo tower. {INVENTED}\n{write_job(job)}"


def tower_text(
    floors: int, on_a_floor: int, *, revision: str = "A", job_of_a: str = "types/a.toml", seed: int = 11
) -> str:
    """The tower's file: flats floor by floor, the four types in both hands, samples, exceptions, states and deliveries."""
    lot = random.Random(seed)
    lines = [
        f"# Demo tower: {floors * on_a_floor} flats of 4 types. {INVENTED}",
        "# Lengths: a number is mm; a text is read as written. Each flat is measured from its own left corner.",
        "wallwright-tower = 1",
        'title = "Invented tower (demo)"',
        'number = "TWR-DEMO"',
        'client = "Invented client (demo)"',
        'designer = "Demo studio"',
        'date = "2026-03-02"',
        f'revision = "{revision}"',
        "",
    ]
    for ref in _FIRST:
        job = job_of_a if ref == "A" else f"types/{ref.lower()}.toml"
        lines += ["[[types]]", f'ref = "{ref}"', f'job = "{job}"', 'hand = "left"', ""]
    for k in range(1, (floors + 2) // 3 + 1):
        lines += ["[[deliveries]]", f'ref = "DEL{k}"', f'date = "2026-{3 + k % 9:02d}-10"', ""]
    for floor in range(1, floors + 1):
        for n in range(1, on_a_floor + 1):
            lines += _flat(floor, n, lot)
    return "\n".join(lines)


def _flat(floor: int, n: int, lot: random.Random) -> Iterator[str]:
    ref, hand = "ABCD"[(n - 1) // 2 % 4], ("left", "right")[(n - 1) % 2]
    ident = f"{floor:02d}{n:02d}"
    yield "[[flats]]"
    yield f'id = "{ident}"'
    yield f"floor = {floor}"
    yield f'type = "{ref}"'
    yield f'hand = "{hand}"'
    yield f'delivery = "DEL{(floor + 2) // 3}"'
    if floor in _STATES:
        yield f'state = "{_STATES[floor]}"'
    measured = lot.random() < 0.55 or floor in _STATES
    sizes = _sample(ref, lot)
    if measured:
        yield from _measured(ident, sizes)
    for edit, values, why in _EXCEPTIONS.get(ident, ()):
        yield "[[flats.exceptions]]"
        yield f'edit = "{edit}"'
        yield f"values = {{ {', '.join(f'{key} = {_toml(value)}' for key, value in values.items())} }}"
        yield f'why = "{why}"'
    yield ""


def _toml(value: Any) -> str:
    return f'"{value}"' if isinstance(value, str) else f"{value}"


def _sample(ref: str, lot: random.Random) -> tuple[int, int, int, int, int]:
    """Width at foot and head, height left and right, out of plumb: each the sum of four even draws, so bell-shaped."""

    def about(middle: float, spread: float) -> int:
        return round(middle + spread * (sum(lot.random() for _ in range(4)) - 2.0) * 1.7)

    width = {"A": 4202, "B": 3303, "C": 3943, "D": 3303}[ref]
    height = {"A": 2751, "B": 2701, "C": 2751, "D": 2701}[ref]
    foot, low = about(width, 7), about(height, 4)
    return foot, foot + about(1, 2), low, low + about(1, 2), about(2, 3)


def _measured(ident: str, sizes: tuple[int, int, int, int, int]) -> Iterator[str]:
    foot, head, left, right, plumb = sizes
    if ident == "0502":  # plastered twice
        foot, head = foot - 52, head - 52
    if ident == "0901":  # the partition stands a block further in
        foot, head = foot - 64, head - 64
    if ident == "1102":
        foot, head = foot + 95, head + 96
    yield "[flats.measured]"
    yield 'by = "Invented surveyor"'
    yield f"widths = [{{ at = 100, value = {foot} }}, {{ at = 2200, value = {head} }}]"
    yield f"heights = [{{ at = 300, value = {left} }}, {{ at = 3000, value = {right} }}]"
    yield f"out_of_plumb = {plumb}"
