"""The client's quote: what it must say, and what it must never show."""

from __future__ import annotations

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.sheets.quote import QuotePaper, quote_paper, valid_until
from wallwright.tables.quote import quote as bill

JOB = read_job(demo_jobs()["living"])


def texts(paper: QuotePaper) -> str:
    rows = (paper.head, paper.items, paper.sums, paper.stages, paper.scope)
    return "\n".join(
        [
            paper.offer,
            *paper.includes,
            *paper.excludes,
            *paper.changes,
            *paper.warnings,
            *("\t".join(r) for t in rows for r in t),
        ]
    )


def made(job: Job = JOB) -> tuple[Wall, QuotePaper]:
    wall = derive(job)
    return wall, quote_paper(wall)


def test_it_shows_the_price_and_how_it_is_paid() -> None:
    wall, paper = made()
    assert paper.sums[-1] == ("Price", wall.money.shown(wall.money.total))
    assert len(paper.items) >= len(wall.setout.units) + len(wall.setout.zones)
    assert sum(float(row[1].removesuffix(" %")) for row in paper.stages) == 100
    assert any("signed" in line for line in paper.changes)
    assert any("screen" in line.lower() for line in paper.excludes)


def test_it_never_shows_what_the_designer_earns() -> None:
    wall, paper = made()
    said = texts(paper).lower()
    for word in ("margin", "overhead", "contingency", "reserve", "mark-up"):
        assert word not in said
    for step in wall.money.steps:
        if step.amount:
            assert wall.money.notation.amount(step.amount) not in said
    assert wall.money.notation.amount(wall.money.direct) not in said


def test_demo_rates_make_it_no_offer() -> None:
    wall, paper = made()
    assert any(line.startswith("Invented demo rates: this is no offer") for line in paper.warnings)
    assert f"{len(wall.money.lines)}" in paper.warnings[0]


def test_single_prices_are_hidden_where_the_terms_say_so() -> None:
    _, shown = made()
    wall, hidden = made(apply(JOB, "set_terms", {"rates_shown": False}))
    assert all(row[3] for row in shown.items)
    assert not any(row[3] for row in hidden.items)
    assert hidden.sums[-1][1] == wall.money.shown(wall.money.total)


@pytest.mark.parametrize(("days", "until"), [(None, "2026-04-01"), (14, "2026-03-16"), (365, "2027-03-02")])
def test_how_long_it_holds(days: int | None, until: str) -> None:
    job = JOB if days is None else apply(JOB, "set_terms", {"valid_days": days})
    wall, paper = made(job)  # dated 2026-03-02; 30 days unless said
    assert valid_until(wall) == until
    assert ("Holds until", until) in paper.head


def test_taxes_are_told_apart() -> None:
    job = apply(
        apply(JOB, "set_limit", {"name": "money.tax", "value": 18}),
        "set_tax",
        {"trade": "electrical", "percent": 12},
    )
    wall, paper = made(job)
    assert [label.partition(" on ")[0] for label, _ in paper.sums] == [
        "Price before tax",
        "Tax 12 %",
        "Tax 18 %",
        "Price",
    ]
    owed = sum(part.amount for part in wall.money.taxes)
    assert paper.sums[0][1] == wall.money.shown(wall.money.total - owed)
    assert not any("tax" in line for line in paper.warnings)


def test_a_price_without_tax_says_so_and_asks_the_designer_to_see_to_it() -> None:
    wall, paper = made()
    assert "No tax is in the price (tax 0 %)." in paper.warnings
    told = [note for note in bill(wall).notes if "no tax" in note.lower()]
    assert len(told) == 1 and "accountant" in told[0] and "money.tax" in told[0]
    taxed, _ = made(apply(JOB, "set_tax", {"trade": "electrical", "percent": 12}))
    assert not any("no tax" in note.lower() for note in bill(taxed).notes)


def test_what_the_terms_add_is_there() -> None:
    job = apply(JOB, "set_inclusions", {"includes": ["Two samples of each face"], "excludes": ["Curtains"]})
    _, paper = made(job)
    assert "Two samples of each face" in paper.includes
    assert "Curtains" in paper.excludes


def test_quantities_in_feet() -> None:
    _, paper = made(
        apply(JOB, "set_terms", {"measure": "feet", "decimal_mark": "comma", "grouping": "thousand"})
    )
    panel = next(row for row in paper.items if row[1].startswith("Panel"))
    assert panel[2].endswith("sq ft")
    assert "," in panel[2]
