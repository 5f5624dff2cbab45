"""Lengths as people write them: read once, exactly, at the edge; kept as typed.

Inside the program every length is a float in millimetres. The text that the user typed stays beside it in `Length`.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

INCH = 25.4
FOOT = 304.8

State = Literal["assumed", "photo", "measured", "verified"]
"""How a length was got: by nobody, read from a photo, taped once, taped twice or by two means."""

_EXACT_INCH = Fraction(254, 10)
_UNIT_MM: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": _EXACT_INCH,
    "ft": _EXACT_INCH * 12,
}
_SPELLINGS: dict[str, str] = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "''": "in",
    "ft": "ft", "foot": "ft", "feet": "ft", "'": "ft", "′": "ft", "’": "ft",
}  # fmt: skip
_VULGAR: dict[str, str] = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_TOKEN = re.compile(r"\s*(?:(\d+)/(\d+)|(\d+(?:\.\d+)?|\.\d+)|([a-zA-Z]+|''|[\"″”'′’])|(-))")
_FRACTION = re.compile(r"\s*\d+/\d+")
_WOULD_DO = (
    'write millimetres as a number, or a text such as 2853, 285.3 cm, 1.2 m, 9\'-4 3/8", 72 3/8" or 4 ft 6'
)
LONGEST_TEXT = 60
LONGEST_MM = 1e9


@dataclass(frozen=True, slots=True)
class Length:
    """A length with the text it was typed as, how sure it is, and by how much it may be off.

    mm : the value [mm] · written : as typed · state : assumed, photo, measured or verified · tolerance : ± [mm]
    """

    mm: float
    written: str = ""
    state: State = "assumed"
    tolerance: float = 0.0

    def __float__(self) -> float:
        """The value in mm."""
        return self.mm

    @property
    def taped(self) -> bool:
        """Whether somebody held a tape to it: what nobody did is neither frozen nor cut by."""
        return self.state in ("measured", "verified")


def read_length(value: str | float | int) -> float:
    """A written length in mm. Raises ValueError that says what was read and what would do."""
    if type(value) in (int, float) and abs(value) <= LONGEST_MM:  # pyright: ignore[reportArgumentType]
        return float(
            value
        )  # a bare number is what it says: most lengths of a job, and each is read at every edit
    exact = read_exact(value)
    if abs(exact) > LONGEST_MM:
        raise ValueError(f"a length of more than {LONGEST_MM / 1e6:g} km is no length of a room; {_WOULD_DO}")
    return float(exact)


def read_exact(value: str | float | int) -> Fraction:
    """A written length as an exact fraction of mm: inches are 25.4 mm, nothing is rounded on the way.

    A bare number is millimetres; after feet, a bare number is inches (`4 ft 6` is four foot six).
    """
    if isinstance(value, bool):
        raise ValueError(f"a length cannot be {str(value).lower()}; {_WOULD_DO}")
    if isinstance(value, (int, float)):
        if isinstance(value, float) and not math.isfinite(value):
            raise ValueError(f"a length cannot be {value}; {_WOULD_DO}")
        return Fraction(value) if isinstance(value, int) else Fraction(str(value))
    text = value.strip()
    if len(text) > LONGEST_TEXT:
        raise ValueError(f"a length of {len(text)} characters is too long to read; {_WOULD_DO}")
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, f" {plain} ")
    negative = text.lstrip().startswith(("-", "−"))
    if negative:
        text = text.lstrip()[1:]
    total = _sum_of_terms(_tokens(text, value), value)
    return -total if negative else total


def _tokens(text: str, written: str) -> list[Fraction | str]:
    """Numbers and unit names in the order written; a whole number joined to the fraction behind it."""
    out: list[Fraction | str] = []
    at = 0
    text = text.rstrip()
    while at < len(text):
        found = _TOKEN.match(text, at)
        if not found:
            raise ValueError(f"cannot read the length {written!r} at {text[at:].strip()!r}; {_WOULD_DO}")
        at = found.end()
        top, bottom, number, word, dash = found.groups()
        if dash:  # the joiner of 9'-4" stands behind a unit, that of 72-3/8" before a fraction
            if not out or not (isinstance(out[-1], str) or _FRACTION.match(text, at)):
                raise ValueError(f"cannot read the length {written!r} at '-'; {_WOULD_DO}")
            continue
        if top is not None:
            if int(bottom) == 0:
                raise ValueError(f"cannot read the length {written!r}: a fraction over 0")
            part = Fraction(int(top), int(bottom))
            if out and isinstance(out[-1], Fraction) and out[-1].denominator == 1:
                out[-1] = out[-1] + part
            else:
                out.append(part)
        elif number is not None:
            out.append(Fraction(number))
        else:
            unit = _SPELLINGS.get(word.lower())
            if unit is None:
                raise ValueError(
                    f"{word!r} in the length {written!r} is not a unit of length; use mm, cm, m, in or ft"
                )
            out.append(unit)
    return out


def _sum_of_terms(tokens: list[Fraction | str], written: str) -> Fraction:
    """Add number-unit pairs, larger unit first; each unit at most once."""
    if not tokens:
        raise ValueError(f"an empty length; {_WOULD_DO}")
    total = Fraction(0)
    last: str | None = None
    at = 0
    while at < len(tokens):
        number = tokens[at]
        if isinstance(number, str):
            raise ValueError(
                f"cannot read the length {written!r}: the unit {number!r} has no number before it; {_WOULD_DO}"
            )
        following = tokens[at + 1] if at + 1 < len(tokens) else None
        if isinstance(following, str):
            unit, at = following, at + 2
        else:
            unit, at = ("in" if last == "ft" else "mm"), at + 1
            if at < len(tokens) or (last is not None and last != "ft"):
                raise ValueError(
                    f"cannot read the length {written!r}: two numbers without a unit between; {_WOULD_DO}"
                )
        if last == "ft" and unit == "in" and number >= 12:
            raise ValueError(
                f"cannot read the length {written!r}: {float(number):g} inches behind feet; 12 inches are a foot"
            )
        if last is not None and _UNIT_MM[unit] >= _UNIT_MM[last]:
            raise ValueError(
                f"cannot read the length {written!r}: {unit} behind {last}; write the larger unit first"
            )
        total += number * _UNIT_MM[unit]
        last = unit
    return total


def show_mm(mm: float, decimals: int = 0) -> str:
    """Millimetres for print, a whole number unless the fraction shows: 1480, 12.5."""
    text = f"{mm:.{decimals}f}"
    return "0" if text in ("-0", "-0.0") else text


def show_level(mm: float) -> str:
    """A level mark in metres with three decimals and a sign: +1.150 (from FFL)."""
    return f"{mm / 1000:+.3f}" if round(mm) else "±0.000"


def show_feet(mm: float, parts: int = 8) -> str:
    """Feet and inches to the nearest 1/`parts` inch, as 9'-4 3/8 with its inch mark."""
    sign = "-" if mm < 0 else ""
    units = round(abs(Fraction(str(mm))) / _EXACT_INCH * parts)
    inches, rest = divmod(units, parts)
    feet, inches = divmod(inches, 12)
    fraction = f" {Fraction(rest, parts)}" if rest else ""
    return f"{sign}{feet}'-{inches}{fraction}\"" if feet else f'{sign}{inches}{fraction}"'
