"""Speed of the structure stage on the demo walls, and of a many-span board."""

from __future__ import annotations

from timing import median_ms


def main() -> None:
    """Print one row a question: measured, budget."""
    from wallwright.derive import Wall, derive
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job
    from wallwright.structure import plan, span
    from wallwright.structure.record import Structure

    rows: list[tuple[str, float, float]] = []
    for room in ("living", "bedroom"):
        wall = derive(read_job(demo_jobs()[room]))

        def stage(w: Wall = wall) -> Structure:
            return plan.plan(w.job, w.face, w.sight.screen, w.setout, w.carcass, w.storage, w.limits)

        rows.append((f"structure of {room}", median_ms(stage, 200), 2.0))
    laid = span.Laid((600.0,) * 8, 1e9, (100.0, 100.0))
    rows.append(("a board over nine supports", median_ms(lambda: span.worst_even(laid, 0.1, 0.3), 200), 3.0))
    for name, took, budget in rows:
        print(f"{name:<40}{took:8.2f} ms   budget {budget:5.1f} ms   {'ok' if took <= budget else 'OVER'}")


if __name__ == "__main__":
    main()
