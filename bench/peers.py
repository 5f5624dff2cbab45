"""The same questions put to others: a packing library, plain CP-SAT models, a year worked out moment by moment, a general drawing program.

`python bench/peers.py [cutting|storage|year|drawing ...]`. Each peer gets the same data and, where it searches, the same seconds. None is
asked for what it does not claim to do: what it leaves out of the question is said in its row.
"""

from __future__ import annotations

import io
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from cutting import library, wall
from results import keep
from storage import bays, household
from timing import cpu_ms

SECONDS = 5.0
"""For each search."""
SEEDS = (0, 1, 2)


# --- cutting -------------------------------------------------------------------------------------------------------------


def cutting() -> None:
    """A wall of 60 parts on three boards and two sheet sizes: the price of the sheets, all over the bound of the same problem."""
    from wallwright.cutting import warm
    from wallwright.cutting.solve import quick, solve
    from wallwright.cutting.verify import verify

    warm.main()
    ours = first = bound = packed = modelled = 0.0
    failed = 0
    for seed in SEEDS:
        problem = wall(seed)
        solve(problem, seconds=0.5)  # loads the kernels
        plan = solve(problem, seconds=SECONDS)
        assert not list(verify(problem, plan)) and not plan.unplaced
        ours, first, bound = ours + plan.price, first + quick(problem).price, bound + plan.price_bound
        packed += _packed(problem)
        price = _modelled(problem)
        failed += price is None
        modelled += price or 0.0
    of = lambda price: f"{100 * (price / bound - 1):.1f} % over the bound"  # noqa: E731
    free = f"a packing library that knows no kerf and no grain, so that its plans are not these: {of(packed)}"
    solved = f", without the condition that a saw cuts through: {of(modelled)}"
    model = "a plain CP-SAT model" + (f": none within {SECONDS:g} s" if failed else solved)
    print(f"cutting: ours {of(ours)}, the first plan {of(first)}; {free}; {model}")
    keep(f"3 walls of 60 parts in {SECONDS:g} s each: price over the proven bound", 100 * (ours / bound - 1), "%", group="cutting",
         limit="0 %: no plan costs less than the bound; on so few sheets not every bound can be met", peer=f"{free}; {model}")  # fmt: skip
    times = cpu_ms(lambda: quick(wall(0)), 15)
    keep("the first plan of such a wall, at every change", times, "ms", budget=4.0, group="cutting", limit="each part is looked at once",
         peer=f"{of(first)}")  # fmt: skip


def _packed(problem: Any) -> float:
    """The packing library's price: material by material, its parts and sheets without kerf; the trim taken off the sheet."""
    total = 0.0
    for material in sorted({sheet.material for sheet in problem.sheets}):
        trim = problem.saw.trim
        sheets = tuple(
            replace(s, length=s.length - 2 * trim, width=s.width - 2 * trim)
            for s in problem.sheets
            if s.material == material
        )
        pieces = tuple(p for p in problem.pieces if p.material == material)
        found = library(replace(problem, pieces=pieces, sheets=sheets), SECONDS / 3)
        assert found is not None
        total += found[0]
    return total


def _modelled(problem: Any) -> float | None:
    """A plain model: every part a rectangle with kerf on one sheet of a row of sheets, none upon another; the price made small."""
    from ortools.sat.python import cp_model

    total, saw = 0.0, problem.saw
    for material in sorted({sheet.material for sheet in problem.sheets}):
        kinds = [s for s in problem.sheets if s.material == material]
        parts = [p for p in problem.pieces if p.material == material for _ in range(p.quantity)]
        area = sum(p.length * p.width for p in parts)
        most = 3 + int(area / (kinds[0].length * kinds[0].width) * 1.6)
        model = cp_model.CpModel()
        used = [[model.new_bool_var("") for _ in range(most)] for _ in kinds]
        rectangles: list[list[tuple[list[Any], list[Any]]]] = [[([], []) for _ in range(most)] for _ in kinds]
        for part in parts:
            places = []
            for k, kind in enumerate(kinds):
                for n in range(most):
                    for turned in (False, True) if part.grain == "none" else (False,):
                        a, b = (part.width, part.length) if turned else (part.length, part.width)
                        width, height = (
                            kind.length - 2 * saw.trim + saw.kerf,
                            kind.width - 2 * saw.trim + saw.kerf,
                        )
                        if a + saw.kerf > width or b + saw.kerf > height:
                            continue
                        here = model.new_bool_var("")
                        x, y = (
                            model.new_int_var(0, width - a - saw.kerf, ""),
                            model.new_int_var(0, height - b - saw.kerf, ""),
                        )
                        rectangles[k][n][0].append(
                            model.new_optional_fixed_size_interval_var(x, a + saw.kerf, here, "")
                        )
                        rectangles[k][n][1].append(
                            model.new_optional_fixed_size_interval_var(y, b + saw.kerf, here, "")
                        )
                        model.add_implication(here, used[k][n])
                        places.append(here)
            model.add_exactly_one(places)
        for k in range(len(kinds)):
            for n in range(most):
                model.add_no_overlap_2d(*rectangles[k][n])
                if n:
                    model.add_implication(used[k][n], used[k][n - 1])
        model.minimize(
            sum(int(kind.price) * one for kind, row in zip(kinds, used, strict=True) for one in row)
        )
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = SECONDS / 3
        if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        total += solver.objective_value
    return total


# --- storage -------------------------------------------------------------------------------------------------------------


def storage() -> None:
    """300 things to 40 bays of 3 levels: the score of the allotment over what no allotment can be better than."""
    from wallwright.job.brief import Person
    from wallwright.library import load
    from wallwright.storage.allot import allot, counts_of, fits_of
    from wallwright.storage.best import allot_best
    from wallwright.storage.fit import score, terms_of
    from wallwright.storage.reach import reach_of
    from wallwright.storage.relaxed import least_score

    limits = load.limits()
    terms = terms_of(reach_of((Person("A", None, 35), Person("B", None, 4)), limits), limits)
    quick = best = plain = bound = took = fast = 0.0
    allot_best(household(9, 4, 2), bays(9, 2, 0), terms)
    for seed in (1, 2):
        wanted, there = household(seed, 300, 300), bays(seed + 100, 40, 2)
        begun = time.process_time()
        counts = counts_of(wanted, there, allot(wanted, there, terms))
        fast += (time.process_time() - begun) * 1000 / 2
        quick += score(wanted, there, counts, terms)
        begun = time.perf_counter()
        found = allot_best(wanted, there, terms, prove=False)
        took += (time.perf_counter() - begun) / 2
        fits = fits_of(wanted, there, terms)
        bound += max(found.bound, least_score(wanted, there, fits, terms, SECONDS))
        best += found.score
        plain += _assigned(wanted, there, fits, terms)
    of = lambda points: f"{100 * (points / bound - 1):.2f} % over the bound"  # noqa: E731
    peer = f"a plain CP-SAT model in {SECONDS:g} s: {of(plain)}"
    print(f"storage: ours {of(best)} in {took:.2f} s, the quick one {of(quick)} in {fast:.1f} ms; {peer}")
    keep("300 things to 120 levels: score over the proven bound", 100 * (best / bound - 1), "%", budget=1.0, group="storage",
         limit="0 % = the bound itself", peer=peer, seconds=round(took, 2))  # fmt: skip
    keep(
        "the quick allotment, at every change",
        fast,
        "ms",
        budget=20.0,
        group="storage",
        limit="every fit is looked at once",
        peer=of(quick),
    )


def _assigned(
    wanted: Sequence[Any], levels: Sequence[Any], fits: Sequence[dict[int, Any]], terms: Any
) -> float:
    """The score of a plain model: how many of each kind on each level, in whole columns; lengths to 0.1 mm, masses to a gram."""
    from ortools.sat.python import cp_model

    from wallwright.storage.fit import left_cost

    model, points, whole = cp_model.CpModel(), [], 1000
    run: list[list[Any]] = [[] for _ in levels]
    load: list[list[Any]] = [[] for _ in levels]
    total = 0.0
    for demand, ways in zip(wanted, fits, strict=True):
        lost, here = left_cost(demand, terms), []
        total += lost * demand.count
        for i, how in ways.items():
            up = min(how.most, demand.count)
            number, some, columns = (
                model.new_int_var(0, up, ""),
                model.new_bool_var(""),
                model.new_int_var(0, -(-up // how.per), ""),
            )
            model.add(number <= up * some)
            model.add(number <= how.per * columns)
            run[i].append(round(how.each * 10 + 0.499) * columns)
            load[i].append(round(demand.one * 1000 + 0.499) * number)
            points += [round((how.cost - lost) * whole) * number, round(terms.split * whole) * some]
            here.append(number)
        if here:
            model.add(sum(here) <= demand.count)
    for i, level in enumerate(levels):
        if run[i]:
            model.add(sum(run[i]) <= int(level.run * 10))
            model.add(sum(load[i]) <= int(level.load * 1000))
    model.minimize(sum(points))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = SECONDS
    solver.solve(model)
    return total + solver.objective_value / whole


# --- the year --------------------------------------------------------------------------------------------------------------


def year() -> None:
    """The sun on the picture over a year by quarter hours: all moments at once, beside one moment after another."""
    import pandas
    from pvlib import solarposition

    from wallwright.job.demos import demo_jobs
    from wallwright.job.edits import apply
    from wallwright.job.face import wall_face
    from wallwright.job.read import read_job
    from wallwright.library import load
    from wallwright.sight.mirrored import glass_of
    from wallwright.sight.plan import plan
    from wallwright.sight.season import SunQuestion, ask
    from wallwright.sight.sun_patch import sun_patch, to_sun
    from wallwright.sight.year import year as ours

    job = read_job(demo_jobs()["living"])
    job = apply(
        job,
        "add_window",
        {"ref": "WX", "wall": "opposite", "along": 1200, "sill": 900, "width": 1800, "height": 1200},
    )
    face = wall_face(job.survey)
    sight = plan(job, face, load.limits())
    question = ask(job.survey, face, glass_of(sight.screen), sight.seats)
    assert isinstance(question, SunQuestion)
    question = replace(question, year=2025, step=15.0, days=())
    asked = iter(range(10**6))
    took = cpu_ms(lambda: ours(replace(question, longitude=question.longitude + next(asked) * 1e-9)), 5)
    hours = next(one.total for one in ours(question).on_screen if one.window == "all")

    begun = time.process_time()
    offset = question.longitude / 15 if question.utc_offset is None else question.utc_offset
    stamps = pandas.date_range("2025-01-01 00:07:30", "2025-12-31 23:59", freq="15min") - pandas.Timedelta(
        hours=offset
    )
    places = solarposition.get_solarposition(stamps.tz_localize("UTC"), question.latitude, question.longitude)
    found = 0.0
    for azimuth, elevation in zip(places["azimuth"], places["apparent_elevation"], strict=True):
        if elevation > 0:
            sun = to_sun(azimuth, elevation, question.bearing)
            found += 0.25 * any(sun_patch(question.glass, pane, sun, elevation) for pane in question.panes)
    naive = (time.process_time() - begun) * 1000
    peer = f"moment after moment with the sun's places of a solar library: {naive:.0f} ms for {found:.1f} h (ours {hours:.1f} h)"
    print(f"year: ours {took:.1f} ms, seats mirrored too; {peer}")
    keep("the sun over a year by quarter hours, on the picture and in every eye", took, "ms", budget=500.0, group="sight",
         limit=f"{int((places['apparent_elevation'] > 0).sum())} moments with the sun up", peer=peer)  # fmt: skip
    assert abs(found - hours) <= 0.02 * max(found, hours, 10.0), (found, hours)


# --- drawing ---------------------------------------------------------------------------------------------------------------


def drawing() -> None:
    """The elevation sheet of the demo wall as a picture: ours, and our DXF drawn by the DXF library's own drawing program."""
    import ezdxf
    from ezdxf.addons.drawing import Frontend, RenderContext, layout, svg

    from wallwright.derive import derive
    from wallwright.export.dxf import sheet_dxf
    from wallwright.export.svg import sheet_svg
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job
    from wallwright.sheets import elevation

    sheet = elevation.sheet(derive(read_job(demo_jobs()["living"])))
    data = sheet_dxf(sheet)
    own = len(sheet_svg(sheet))
    took = cpu_ms(lambda: sheet_svg(sheet), 15)
    written = cpu_ms(lambda: sheet_dxf(sheet), 5)

    def general() -> str:
        doc = ezdxf.read(io.StringIO(data.decode("utf-8")))
        backend = svg.SVGBackend()
        Frontend(RenderContext(doc), backend).draw_layout(
            doc.paperspace() if len(doc.paperspace()) > 20 else doc.modelspace()
        )
        return str(backend.get_string(layout.Page(420, 297, layout.Units.mm)))

    size = len(general())
    naive = cpu_ms(general, 3)
    peer = f"the DXF library's drawing program, of our DXF of the same sheet: {naive:.0f} ms, {size / 1000:.0f} kB"
    print(f"drawing: ours {took:.2f} ms, {own / 1000:.0f} kB; the DXF itself {written:.0f} ms; {peer}")
    keep(
        "the elevation sheet as SVG",
        took,
        "ms",
        budget=10.0,
        group="sheets",
        limit=f"{own / 1000:.0f} kB to write",
        peer=peer,
    )


QUESTIONS: dict[str, Callable[[], None]] = {
    "cutting": cutting,
    "storage": storage,
    "year": year,
    "drawing": drawing,
}


def main() -> None:
    """Print a row a question."""
    for name in sys.argv[1:] or QUESTIONS:
        QUESTIONS[name]()


if __name__ == "__main__":
    main()
