"""Speed of the build against its budgets: 12 units of 176 boards and 60 units of 816, derived, and with all rules.

Each is told twice, in CPU time: for the first time, with every answer forgotten that the engine keeps, and after an edit, each
repeat with one unit at a width it never had. The budget is for both. The rules are asked as an edit asks them; the cures that are tried
on the wall have a row of their own.
"""

from __future__ import annotations

from dataclasses import replace

from timing import as_served, cpu_ms, first_and_edited, forget, told

from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit, UnitKind
from wallwright.job.document import Job
from wallwright.job.survey import Reading

RULES_ALONE = 10.0
"""Budget of all rules on a wall that is derived already [ms]."""
TRIED = 200.0
"""Budget of the cures that are found by trying them on the wall [ms]: they are asked for after an edit is answered."""


def wall_of(units: int, width: float) -> Job:
    """The living-room demo on a long invented wall, with so many units of all kinds side by side and one over the other. Up to 20 m
    it is a sound job, so that cures are tried on it; a longer one than a job may have shows how the work grows with the units.
    """
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job

    job = read_job(demo_jobs()["living"])
    kinds: tuple[UnitKind, ...] = ("tower", "loft", "console", "open_shelves", "desk", "shelf")
    heights = {"tower": 2200, "loft": 350, "console": 400, "open_shelves": 1200, "desk": 420, "shelf": 27}
    feet = {"tower": 0, "loft": 2300, "console": 203, "open_shelves": 0, "desk": 710, "shelf": 1800}
    made: list[Unit] = []
    step = (width - 100) / units
    for k in range(units):
        kind = kinds[k % len(kinds)]
        bays = (Bay("drawers", drawers=2), Bay("shutter", shelves=2)) if kind in ("tower", "console") else ()
        made.append(
            Unit(
                f"U{k + 1}", kind, x=Length(50 + k * step), z=Length(float(feet[kind])), width=Length(step - 12),
                height=Length(float(heights[kind])), bays=bays,
            )
        )  # fmt: skip
    wall = replace(job.survey.wall, widths=(Reading(Length(1000.0), Length(width)),), diagonals=())
    screen = replace(job.design.screen, centre_x=Length(width / 2))
    consoles = (unit.ref for unit in made if unit.kind == "console")
    lights = tuple(
        light if light.of == "W1" else replace(light, of=next(consoles)) for light in job.design.lights
    )
    design = replace(job.design, units=tuple(made), screen=screen, lights=lights)
    return replace(job, survey=replace(job.survey, wall=wall, obstacles=()), design=design)


def main() -> None:
    """Print one row a question: measured, budget."""
    from wallwright.carcass import plan, setout
    from wallwright.core.finding import Rule
    from wallwright.derive import Wall, derive
    from wallwright.rules import RULES, check

    as_served()
    for units, width, budget in ((12, 9000.0, 10.0), (60, 42000.0, 50.0)):
        job = wall_of(units, width)
        wall = derive(job)

        own = [rule for name, rule in RULES.items() if name.startswith("carcass.")]
        boards = len(wall.carcass.parts)

        def build(one: Job, wall: Wall = wall, own: list[Rule] = own) -> object:
            out = setout.plan(one, wall.face, wall.sight.screen.frame, wall.limits)
            return plan.plan(one, wall.face, out, wall.limits), [list(rule.find(wall)) for rule in own]

        def checked(one: Job) -> object:
            return check(derive(one), cures=False)

        for name, work in (
            ("units and boards, with the rules of the carcass", build),
            ("whole wall derived", derive),
            ("whole wall derived, all rules", checked),
        ):
            first, after = first_and_edited(job, work, 15 if units < 20 else 4)
            told(f"{units} units, {boards} boards: {name}, first", first, budget)
            told(f"{units} units, {boards} boards: {name}, edit", after, budget)
        rules = cpu_ms(lambda wall=wall: check(wall, cures=False), 20)
        told(f"{units} units, {boards} boards: all rules alone", rules, RULES_ALONE)
        anew = cpu_ms(lambda wall=wall: check(wall), 5, forget)
        told(
            f"{units} units, {boards} boards: the same with the cures that are tried on the wall, anew",
            anew,
            TRIED,
        )


if __name__ == "__main__":
    main()
