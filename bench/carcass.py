"""Speed of the build against its budgets: 12 units of about 150 boards and 60 units of about 600, derived, and with all rules."""

from __future__ import annotations

from dataclasses import replace

from timing import median_ms

from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit, UnitKind
from wallwright.job.document import Job
from wallwright.job.survey import Reading


def wall_of(units: int, width: float) -> Job:
    """The living-room demo on a long invented wall, with so many units of all kinds side by side and one over the other."""
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
    return replace(
        job, survey=replace(job.survey, wall=wall, obstacles=()), design=replace(job.design, units=tuple(made), screen=screen)
    )  # fmt: skip


def main() -> None:
    """Print one row a question: measured, budget."""
    from wallwright.carcass import plan, setout
    from wallwright.core.finding import Rule
    from wallwright.derive import Wall, derive
    from wallwright.rules import RULES, check

    for units, width, budget in ((12, 9000.0, 10.0), (60, 42000.0, 50.0)):
        job = wall_of(units, width)
        wall = derive(job)

        own = [rule for name, rule in RULES.items() if name.startswith("carcass.")]
        boards = len(wall.carcass.parts)

        def build(job: Job = job, wall: Wall = wall, own: list[Rule] = own) -> object:
            out = setout.plan(job, wall.face, wall.sight.screen.frame, wall.limits)
            return plan.plan(job, wall.face, out, wall.limits), [list(rule.find(wall)) for rule in own]

        def whole(job: Job = job) -> object:
            return derive(job)

        def checked(job: Job = job) -> object:
            return check(derive(job))

        rows = (
            ("units and boards, with the rules of the carcass", build),
            ("whole wall derived", whole),
            ("whole wall derived, all rules", checked),
        )
        for name, work in rows:
            took = median_ms(work, 15)
            said = "ok" if took <= budget else "OVER"
            print(
                f"{units:3d} units, {boards:4d} boards: {name:<50}{took:8.1f} ms   budget {budget:4.0f} ms   {said}"
            )


if __name__ == "__main__":
    main()
