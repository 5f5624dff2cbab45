"""Speed of the reflections: one position, the cures of a window, and the sun over a year, against their budgets."""

from __future__ import annotations

from dataclasses import replace

from timing import median_ms


def main() -> None:
    """Print one row a question: measured, budget."""
    from wallwright.job.demos import demo_jobs
    from wallwright.job.edits import apply
    from wallwright.job.face import wall_face
    from wallwright.job.read import read_job
    from wallwright.library import load
    from wallwright.sight.cure_setting import setting_of
    from wallwright.sight.cures import cures
    from wallwright.sight.mirrored import glass_of, of_room
    from wallwright.sight.plan import plan
    from wallwright.sight.season import SunQuestion, ask
    from wallwright.sight.year import daylight, year

    job = read_job(demo_jobs()["living"])
    limits, face = load.limits(), wall_face(job.survey)
    plain = job
    for i, (x, away) in enumerate(((900, 2400), (3300, 2500), (2100, 2900))):
        job = apply(job, "add_seat", {"ref": f"X{i}", "kind": "chair", "x": x, "distance": away})
    for ref, wall, along in (("WX", "opposite", 1200), ("WY", "right", 1800)):
        window = {"ref": ref, "wall": wall, "along": along, "sill": 900, "width": 1800, "height": 1200}
        job = apply(job, "add_window", window)
    for i in range(6):
        job = apply(
            job,
            "add_lamp",
            {"ref": f"L{i}", "kind": "downlight", "x": 700 * i + 300, "distance": 2500, "z": 2700},
        )
    for i in range(2):
        job = apply(
            job,
            "add_lamp",
            {"ref": f"F{i}", "kind": "floor_lamp", "x": 3000 * i + 300, "distance": 3500, "z": 1500},
        )
    sight = plan(job, face, limits)
    seats, screen = sight.seats, sight.screen
    setting = setting_of(job, face, screen, seats, limits)
    question = ask(job.survey, face, glass_of(screen), seats)
    assert isinstance(question, SunQuestion)
    asked = iter(range(10**6))

    def fresh(step: float) -> SunQuestion:
        """A question nobody asked before, in another place each time: nothing of it is kept."""
        return replace(question, step=step, longitude=question.longitude + next(asked) * 1e-6)

    rows = [
        (f"one position: {len(seats)} seats, 3 windows, 8 lamps", median_ms(
            lambda: of_room(job.survey, None, face, seats, screen, limits), 50), 2.0),
        ("cures of one window", median_ms(lambda: cures(setting.others[1], 1.0, setting, limits), 20), 20.0),
        (f"the year by hour: {len(seats)} seats, 3 windows", median_ms(lambda: year(fresh(60.0)), 7), 500.0),
        ("the year by quarter hours", median_ms(lambda: year(fresh(15.0)), 7), 500.0),
        ("of which the sun's places", median_ms(
            lambda: daylight(18.5, 73.9 + next(asked) * 1e-6, 5.5, 2025, 15.0, ()), 7), 500.0),
        ("the whole sight stage, demo", median_ms(lambda: plan(plain, face, limits), 40), 2.0),
        ("the whole sight stage, with all of these", median_ms(lambda: plan(job, face, limits), 40), 5.0),
    ]  # fmt: skip
    for name, took, budget in rows:
        print(f"{name:<52}{took:10.2f} ms   budget {budget:7.0f} ms   {'ok' if took <= budget else 'OVER'}")


if __name__ == "__main__":
    main()
