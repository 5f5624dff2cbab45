"""The quote as a PDF, and rates files written and read back."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from wallwright.derive import derive
from wallwright.export.quote import quote_pdf
from wallwright.export.rates import rates_text, read_rates_file
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.library.rates import book
from wallwright.sheets.quote import quote_paper

JOB = read_job(demo_jobs()["living"])


def test_the_pdf_holds_what_the_paper_says_and_is_the_same_twice(tmp_path: Path) -> None:
    wall = derive(JOB)
    paper = quote_paper(wall)
    data = quote_pdf(paper, "¤")
    assert data == quote_pdf(paper, "¤")
    file = tmp_path / "quote.pdf"
    file.write_bytes(data)
    said = " ".join(
        subprocess.run(
            ["pdftotext", "-layout", file, "-"], capture_output=True, text=True, check=True
        ).stdout.split()
    )
    for text in (
        *(row[0] for row in paper.stages),
        paper.sums[-1][1].replace("\u00a0", " "),
        "What is not in the price",
        "no offer",
    ):
        assert " ".join(text.split()) in said, text


def test_a_large_price_keeps_clear_of_its_label(tmp_path: Path) -> None:
    job = apply(
        apply(JOB, "set_currency", {"currency": "INR"}), "set_own_rates", {"rates": {"board_ply18": 95555.55}}
    )
    wall = derive(job)
    file = tmp_path / "quote.pdf"
    file.write_bytes(quote_pdf(quote_paper(wall), "INR"))
    words = re.findall(
        r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="[\d.]+">([^<]*)</word>',
        subprocess.run(["pdftotext", "-bbox", file, "-"], capture_output=True, text=True, check=True).stdout,
    )
    labels = [(float(right), float(y)) for _, y, right, text in words if text == "Price"]
    assert labels
    right, y = labels[-1]
    amount = min(float(left) for left, at, _, text in words if abs(float(at) - y) < 2 and text != "Price")
    assert wall.money.total > 10**8
    assert amount - right > 10  # points: a gap that the eye reads


def test_a_book_written_out_and_read_back_is_the_same_book(tmp_path: Path) -> None:
    file = tmp_path / "my_rates.toml"
    file.write_text(rates_text(book()), encoding="utf-8")
    job = apply(JOB, "set_own_rates", {"rates": read_rates_file(file)})
    again = book("demo", job.rates)
    for key, row in book().items():
        new = again[key]
        assert (new.name, new.trade, new.unit, new.amount, new.hours) == (
            row.name,
            row.trade,
            row.unit,
            row.amount,
            row.hours,
        )
    own, demo = derive(job).money, derive(JOB).money
    assert (own.total, [line.amount for line in own.lines]) == (
        demo.total,
        [line.amount for line in demo.lines],
    )
    assert own.invented == ()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("board_ply18 = 3", "does not begin with wallwright-rates = 1"),
        ("wallwright-rates = 1\nboard_ply18 = ", "is not TOML"),
        ("wallwright-rates = 1\n", "holds no rate"),
    ],
)
def test_a_file_that_is_none_is_refused_by_its_name(tmp_path: Path, text: str, says: str) -> None:
    file = tmp_path / "x.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(JobError, match=says) as caught:
        read_rates_file(file)
    assert "x.toml" in str(caught.value)
