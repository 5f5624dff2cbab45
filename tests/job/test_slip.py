"""A slip in the writing of a job file: its place, what stands there, and what would do; never the parser's own words."""

from __future__ import annotations

import inspect
import re
import tomllib

import pytest

from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.job.slip import SAYS

SLIPS = [
    ('title = "x\n', "line 1, column 11", '`title = "x`', 'its second " is missing'),
    ("title = x\n", "line 1, column 9", "`x`", "a text in quotes"),
    ("dry = True\n", "line 1, column 7", "`True`", "true or false in small letters"),
    ("[survey\nfoo=1\n", "line 1, column 8", "`[survey`", "closed with a bracket"),
    ("[[survey.seats]\n", "line 1, column 15", "`]`", "two brackets"),
    ("a = 1\na = 2\n", "line 2, column 6", "`a = 2`", "given twice"),
    ("x = 12mm\n", "line 1, column 7", "`mm`", '"12 mm"'),
    ("x = 1,5\n", "line 1, column 6", "`,5`", "decimals stand after a point"),
    ("x = 07\n", "line 1, column 6", "`7`", "no number begins with 0"),
    ("x : 3\n", "line 1, column 3", "`: 3`", "followed by ="),
    ("[a]\n[a]\n", "line 2, column 3", "`]`", "already"),
    ("a = { b = 1 }\na.c = 2\n", "line 2, column 8", "`a.c = 2`", "already"),
    ("x = { a = 1, a = 2 }\n", "line 1, column 19", "`}`", "given twice"),
    ("x = [ 1, 2\n", "end of file", "the file ends here", "its ] is missing"),
    ("x = { a = 1\n", "line 1, column 12", "the line ends here", "its } is missing"),
    ("x = 'abc", "end of file", "the file ends here", "closing quotes"),
    ('x = "C:\\jobs"\n', "line 1, column 10", "`obs\"`", "written \\\\"),
    ('x = """abc', "end of file", "the file ends here", "closing quotes"),
    ('{"a": 1}', "line 1, column 1", '`{"a": 1}`', "a line is a heading"),
    ("date = 2026-02-30\n", "line 1, column 8", "`2026-02-30`", "2026-03-02"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "where", "stands", "does"), SLIPS)
def test_a_slip_says_where_what_and_what_would_do(text: str, where: str, stands: str, does: str) -> None:
    with pytest.raises(JobError) as error:
        read_job(text)
    (problem,) = error.value.problems
    assert problem.field == where
    assert problem.says.startswith("is not TOML: ") and stands in problem.says and does in problem.says
    assert not re.search(r"Expected|Invalid|Illegal|Cannot|Unclosed|Unterminated|namespace", problem.says)


def test_every_message_of_the_reader_has_its_words() -> None:
    """Read from the reader's own source, so that a newer Python that says another thing is seen here."""
    source = inspect.getsource(tomllib._parser)  # type: ignore[attr-defined]
    said = [
        text
        for _, text in re.findall(r"""suffixed_err\(\s*src, \w+, f?(["'])(.*?)\1""", source)
        if "{expect" not in text
    ]
    assert len(said) > 15
    assert [text for text in said if not any(re.search(pattern, text) for pattern, _ in SAYS)] == []


def test_an_empty_file_is_said_to_be_empty() -> None:
    with pytest.raises(JobError, match=r"is empty: a job begins with the line `wallwright-job = 1`"):
        read_job("# nothing yet\n")


@pytest.mark.parametrize(
    ("given", "meant"), [('"rupees"', "'INR'"), ('"Japanese Yen"', "'JPY'"), ('"pounds"', ""), ("5", ""), ('""', "")]
)  # fmt: skip
def test_a_currency_says_what_it_looks_like(given: str, meant: str) -> None:
    with pytest.raises(JobError) as error:
        read_job(f'wallwright-job = 1\ntitle = "x"\ncurrency = {given}\n')
    (says,) = (problem.says for problem in error.value.problems if problem.field == "currency")
    assert says.startswith("must be the three letters of ISO 4217 (INR, EUR, USD, GBP) or the sign (₹, €)")
    assert says.endswith(f"did you mean {meant}?") if meant else "did you mean" not in says
