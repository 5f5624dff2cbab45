"""What the fields alone cannot tell: references that must resolve, names that must stand in the library, sane extremes."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from datetime import date

from wallwright.job.brief import KEPT_WORDS
from wallwright.job.document import Job
from wallwright.job.lengths import lengths
from wallwright.job.problem import Problem, nearest, shown
from wallwright.job.scale import out_of_scale, screen_size
from wallwright.library import load, names, rates, terms

MOST_ENTRIES = 500
"""Entries of one list: far above any wall, low enough that a wrong file cannot stall the program."""


def check(job: Job) -> tuple[Problem, ...]:
    """Every problem of a job whose fields are each well formed; empty when there is none."""
    return (
        *_survey(job),
        *_taped(job),
        *out_of_scale(job),
        *screen_size(job),
        *_refs(job),
        *_kept(job),
        *_library(job),
        *_rules(job),
        *_money(job),
        *_progress(job),
    )


def _survey(job: Job) -> Iterator[Problem]:
    survey = job.survey
    for name, readings in (("widths", survey.wall.widths), ("heights", survey.wall.heights)):
        if not readings:
            yield Problem(
                f"survey.wall.{name}",
                "",
                f"needs at least one reading, such as {name} = [{{ at = 1000, value = 2750 }}]",
            )
    for field, text in (("date", job.date), ("survey.date", survey.date)):
        if text and not _is_date(text):
            yield Problem(field, shown(text), "is no day of the calendar; write YYYY-MM-DD")
    place = survey.place
    for field, value, most in (("latitude", place.latitude, 90), ("longitude", place.longitude, 180)):
        if value is not None and abs(value) > most:
            yield Problem(f"survey.place.{field}", shown(value), f"lies outside -{most} to {most} degrees")
    if place.utc_offset is not None and not -12 <= place.utc_offset <= 14:
        yield Problem("survey.place.utc_offset", shown(place.utc_offset), "lies outside -12 to 14 hours")
    low, high = survey.room.humidity_low, survey.room.humidity_high
    if low is not None and high is not None and low > high:
        yield Problem(
            "survey.room.humidity_low",
            shown(low),
            f"is more than humidity_high = {high:g}; the driest comes first",
        )
    warm = survey.room.temperature
    if warm is not None and not -10 <= warm <= 50:
        yield Problem("survey.room.temperature", shown(warm), "lies outside -10 to 50 °C")
    for name, comes in (("supply", survey.supply), ("lines_in", survey.lines_in)):
        if comes is not None and comes.comes == "wall" and comes.x is None:
            yield Problem(
                f"survey.{name}.x", "", "is missing: say how far from the wall's left corner it comes through"
            )
    yield from _entries(job)
    yield from _obstacles(job)
    for i, seat in enumerate(survey.seats):
        if seat.hours > 168:
            yield Problem(
                f"survey.seats[{i}].hours", shown(seat.hours), "is more than the 168 hours of a week"
            )


def _taped(job: Job) -> Iterator[Problem]:
    """What is designed is made and set by: no size of it comes from a photo. Source: common practice."""
    for path, length in lengths(job.design, "design"):
        if length.state == "photo":
            says = "comes from a photo, and by a photo nothing is cut or set: hold a tape to it and enter what that says"
            yield Problem(path, f"{length.mm:g}", says)


def _entries(job: Job) -> Iterator[Problem]:
    """Cables come to this wall on this wall: neither beyond its ends nor above its ceiling."""
    survey = job.survey
    if not survey.wall.widths or not survey.wall.heights:
        return  # said already
    wide = min(reading.value.mm for reading in survey.wall.widths)
    high = min(reading.value.mm for reading in survey.wall.heights) - survey.room.floor_to_come.mm
    for name, comes in (("supply", survey.supply), ("lines_in", survey.lines_in)):
        for axis, length, most, where in (
            ("x", comes and comes.x, wide, "from the wall's left corner"),
            ("z", comes and comes.z, high, "above finished floor level"),
        ):
            if length is not None and not 0 <= length.mm <= most:
                yield Problem(
                    f"survey.{name}.{axis}",
                    f"{length.mm:g}",
                    f"lies off this wall: 0 to {most:g} mm {where}",
                )


def _obstacles(job: Job) -> Iterator[Problem]:
    """Only what can bear a fixing has a base of its own, and only an accessory a cable that runs one way."""
    for i, thing in enumerate(job.survey.obstacles):
        if thing.substrate != "unknown" and thing.kind not in ("column", "beam"):
            yield Problem(
                f"survey.obstacles[{i}].substrate",
                shown(thing.substrate),
                f"is said of a {thing.kind.replace('_', ' ')}; only a column (a pier too) or a beam bears fixings: leave it out here",
            )
        if thing.cable != "unknown" and thing.kind not in ("socket", "switch", "data_point"):
            yield Problem(
                f"survey.obstacles[{i}].cable",
                shown(thing.cable),
                f"is said of a {thing.kind.replace('_', ' ')}; only a socket, switch or data point has it: leave it out here",
            )


def _progress(job: Job) -> Iterator[Problem]:
    """Each variation, snag, gate and made thing is named once."""
    now = job.progress
    for name, refs in (
        ("made", [one.ref for one in now.made]), ("gates", [one.ref for one in now.gates]),
        ("variations", [one.ref for one in now.variations]), ("snags", [one.ref for one in now.snags]),
    ):  # fmt: skip
        for i, ref in enumerate(refs):
            if ref in refs[:i]:
                says = f"is on the list already, at progress.{name}[{refs.index(ref)}]; name each once"
                yield Problem(f"progress.{name}[{i}].ref", shown(ref), says)


def _is_date(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _refs(job: Job) -> Iterator[Problem]:
    """Each ref stands for one thing; each ref named elsewhere is there."""
    survey, brief, design = job.survey, job.brief, job.design
    lists = (
        ("survey.obstacles", survey.obstacles), ("survey.seats", survey.seats), ("survey.windows", survey.windows),
        ("survey.between", survey.between), ("survey.lamps", survey.lamps),
        ("brief.people", brief.people), ("brief.devices", brief.devices), ("design.units", design.units),
        ("design.panels", design.panels), ("design.points", design.points), ("design.lights", design.lights),
        ("design.stock", design.stock),
    )  # fmt: skip
    seen: dict[str, str] = {}
    for where, things in lists:
        for i, thing in enumerate(things):
            field = f"{where}[{i}].ref"
            if thing.ref in seen:
                yield Problem(
                    field,
                    shown(thing.ref),
                    f"is the ref of {seen[thing.ref]} already; give each thing its own",
                )
            seen.setdefault(thing.ref, field.removesuffix(".ref"))
    kinds = [thing.kind for thing in brief.things]
    for i, kind in enumerate(kinds):
        if kind in kinds[:i]:
            yield Problem(
                f"brief.things[{i}].kind",
                shown(kind),
                "is on the list already; raise its count, or give this one a name of its own with its sizes and mass",
            )
    people = [person.ref for person in brief.people]
    for i, seat in enumerate(survey.seats):
        if seat.person is not None and seat.person not in people:
            yield Problem(
                f"survey.seats[{i}].person",
                shown(seat.person),
                f"is no one of brief.people; {nearest(seat.person, people)}",
            )
    holders = [unit.ref for unit in design.units] + [panel.ref for panel in design.panels]
    for i, light in enumerate(design.lights):
        if light.of is not None and light.of not in holders:
            yield Problem(
                f"design.lights[{i}].of",
                shown(light.of),
                f"is no unit or panel; {nearest(light.of, holders)}",
            )


def _kept(job: Job) -> Iterator[Problem]:
    """What is kept from swaps is there to be kept: a word or ref that names nothing would keep nothing."""
    design = job.design
    known = (
        *KEPT_WORDS,
        *(thing.ref for things in (design.units, design.panels, design.lights) for thing in things),
    )
    for i, name in enumerate(job.brief.budget.keep if job.brief.budget else ()):
        if name not in known:
            yield Problem(
                f"brief.budget.keep[{i}]",
                shown(name),
                f"names nothing that a swap could touch; {nearest(name, known)}",
            )


def _library(job: Job) -> Iterator[Problem]:
    """Each key of the library that the job names is there."""
    design = job.design
    named: list[tuple[str, str | None, str, Callable[[], Collection[str]]]] = []
    for i, unit in enumerate(design.units):
        named.append((f"design.units[{i}].board", unit.board, "board", load.boards))
        named.append((f"design.units[{i}].front_finish", unit.front_finish, "finish", load.finishes))
    for i, panel in enumerate(design.panels):
        named.append((f"design.panels[{i}].board", panel.board, "board", load.boards))
        named.append((f"design.panels[{i}].finish", panel.finish, "finish", load.finishes))
    named.extend(
        (f"design.stock[{i}].board", row.board, "board", load.boards) for i, row in enumerate(design.stock)
    )
    chosen = design.finishes
    named.append(("design.finishes.carcass_board", chosen.carcass_board, "board", load.boards))
    for which, key in (("wall", chosen.wall), ("fronts", chosen.fronts), ("panel", chosen.panel)):
        named.append((f"design.finishes.{which}", key, "finish", load.finishes))
    named.extend(
        (f"brief.devices[{i}].kind", thing.kind, "device", load.devices)
        for i, thing in enumerate(job.brief.devices)
    )
    named.extend(
        (f"brief.things[{i}].kind", thing.kind, "thing", load.things)
        for i, thing in enumerate(job.brief.things)
        if None in (thing.width, thing.depth, thing.height, thing.mass)
    )
    named.extend((f"rules.{name}", name, "limit", _limit_names) for name in job.rules)
    for field, key, word, catalogue in named:
        if key is not None and key not in catalogue():
            yield Problem(
                field,
                shown(key),
                f"the library has no {word} of that name; {nearest(key, _SPOKEN.get(word, catalogue)())}",
            )
    try:
        load.rates(design.rates)
    except ValueError as problem:
        yield Problem("design.rates", shown(design.rates), str(problem).removeprefix("design.rates: "))


_SPOKEN: dict[str, Callable[[], Collection[str]]] = {"board": names.board_words, "finish": names.finish_words}
"""What a thing may be called by, where that is more than its keys."""


def _limit_names() -> Collection[str]:
    return [limit.name for limit in load.limits()]


def _rules(job: Job) -> Iterator[Problem]:
    """The user's own limits lie where a wall can still be reckoned."""
    limits = load.limits()
    for name, value in job.rules.items():
        if name in limits and not limits[name].allows(value):
            limit = limits[name]
            yield Problem(
                f"rules.{name}",
                shown(value),
                f"must be {limit.least:g} to {limit.most:g} {limit.unit}; the library says {limit.value:g}".replace(
                    "  ", " "
                ),
            )


def _money(job: Job) -> Iterator[Problem]:
    """The user's own rates can be read against the book; stages make the whole; scope and tax name what there is."""
    try:
        book = rates.book(job.design.rates)
    except ValueError:
        return  # said already
    for key, says in rates.problems(job.design.rates, job.rates):
        yield Problem(f"rates.{key}", "", says)
    trades = {row.trade for row in book.values()} | {rate.trade for rate in job.rates.values()}
    for trade in job.terms.tax:
        if trade not in trades:
            yield Problem(f"terms.tax.{trade}", "", f"no line is of that trade; {nearest(trade, trades)}")
    for thing in job.terms.scope:
        if thing not in terms.scope():
            yield Problem(
                f"terms.scope.{thing}",
                "",
                f"the scope matrix has no such thing; {nearest(thing, terms.scope())}",
            )
    if job.terms.stages and (says := terms.whole_problem(stage.share for stage in job.terms.stages)):
        yield Problem("terms.stages", "", says)
