"""A slip in the writing of a TOML file, in plain words: where it is, what stands there, and what would do."""

from __future__ import annotations

import re
from tomllib import TOMLDecodeError

LONGEST = 24
"""Characters of what stands there that are shown."""
VALUE = 'a value is a number, a text in quotes ("12 mm", "brick"), true or false in small letters, a [ list ] or a { table }'
AFTER = (
    'one value on a line, and nothing after it: a length with its unit stands in quotes ("12 mm"), decimals stand after a '
    "point, no number begins with 0, a remark begins with #"
)
SAYS: tuple[tuple[str, str], ...] = (
    (r"Illegal character '\\n'", 'a text is not closed: its second " is missing on this line'),
    (r"Illegal character|Found invalid character", "this character may not stand here: take it out"),
    (r"""Unterminated string|Expected '"+'|Expected "'+\"""", "a text is not closed: its closing quotes are missing"),
    (r"Unescaped", r'in a text in quotes \ is written \\, or put the text in single quotes: ' + r"'C:\jobs'"),
    (r"Invalid hex|Escaped character", r"\u is followed by four hexadecimal digits of a character; write the character itself"),
    (r"Invalid date", 'no such day or time is in the calendar: a date is written "2026-03-02", year, month, day'),
    (r"Invalid value", VALUE),
    (r"Expected newline", AFTER),
    (r"Expected '='", "a name is followed by = and its value (title = \"Living room\"); a name of several words is written with _"),
    (r"Expected ']]'", "a heading of a list of things is closed with two brackets: [[survey.seats]]"),
    (r"Expected ']'", "a heading is closed with a bracket: [survey]"),
    (r"Unclosed array", "a list is not closed: its ] is missing"),
    (r"Unclosed inline table", "a table is not closed: its } is missing, and between { and } it stands on one line"),
    (r"Duplicate inline|Cannot overwrite", "it is given twice: keep one of the two"),
    (r"Cannot declare|redefine namespace|immutable namespace", "this heading or its table stands in the file already: put "
     "what belongs to it under one heading; of things in a list each begins with two brackets, [[survey.seats]]"),
    (r"Invalid initial|Invalid statement", 'a line is a heading, [survey], a name with its value, title = "Living room", or a remark, # …'),
)  # fmt: skip
"""What the reader's messages mean, and what would do."""


def slip(text: str, problem: TOMLDecodeError) -> tuple[str, str]:
    """Where a slip is, and what is wrong there. text : of the file"""
    said = str(problem)
    at = re.search(r"\(at (?:line (\d+), column (\d+)|end of document)\)", said)
    what = said[: at.start()].strip() if at else said
    means = next((means for pattern, means in SAYS if re.search(pattern, what)), what[:200])
    if at is None or not at[1]:
        return "end of file", f"is not TOML: the file ends here; {means}"
    line, column = int(at[1]), int(at[2])
    written = text.splitlines()[line - 1] if line <= len(text.splitlines()) else ""
    rest = written[column - 1 :].strip()
    stands = f"there stands {_short(rest)}" if rest else f"the line ends here: {_short(written.strip())}"
    return f"line {line}, column {column}", f"is not TOML: {stands}; {means}"


def _short(text: str) -> str:
    return f"`{text}`" if len(text) <= LONGEST else f"`{text[:LONGEST]}…`"
