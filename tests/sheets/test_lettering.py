"""Widths against fontTools, another reader of the same fonts."""

from __future__ import annotations

from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont

from wallwright.sheets.lettering import CAPITAL, fitted, missing, printable, text_width, wrap


def told(text: str, height: float, name: str) -> float:
    font = TTFont(str(files("wallwright").joinpath("export", "fonts", name)))
    cmap, widths = font.getBestCmap(), font["hmtx"]
    return sum(widths[cmap[ord(c)]][0] for c in text) / font["head"].unitsPerEm * height / CAPITAL


@pytest.mark.parametrize(
    "text", ["1480", "C1.1 drawers × 3", "Ø17 ±0.000", "Legal owner (designer)", "ÄÖÜß€₹"]
)
def test_widths_are_the_fonts_own(text: str) -> None:
    assert text_width(text, 2.5) == pytest.approx(told(text, 2.5, "NotoSans-Regular.ttf"), abs=1e-9)
    assert text_width(text, 3.5, bold=True) == pytest.approx(told(text, 3.5, "NotoSans-Bold.ttf"), abs=1e-9)


def test_devanagari_comes_from_its_own_font() -> None:
    assert text_width("पैनल", 2.5) == pytest.approx(
        told("पैनल", 2.5, "NotoSansDevanagari-Regular.ttf"), abs=1e-9
    )


def test_the_capitals_height_is_the_fonts_own() -> None:
    font = TTFont(str(files("wallwright").joinpath("export", "fonts", "NotoSans-Regular.ttf")))
    assert font["OS/2"].sCapHeight / font["head"].unitsPerEm == CAPITAL


def test_missing_letters_are_named_once_and_shown() -> None:
    assert missing("aᚠbᚠ⌀पै高") == "ᚠ⌀"
    assert (
        printable("aᚠb\x07c") == "a\ufffdb\ufffdc"
    )  # a control sign is no letter, whatever a font holds for it
    assert missing("\ufffd") == ""


def test_wrap_keeps_every_word_and_fits() -> None:
    text = "a sentence of some words and one verylongwordthatcannotpossiblystandononeline at its end"
    lines = wrap(text, 30, 2.5)
    assert all(text_width(line, 2.5) <= 30 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_fitted_takes_the_largest_height_then_shortens() -> None:
    assert fitted("short", 100, (5.0, 2.5)) == ("short", 5.0)
    assert fitted("a title of middle length", 50, (5.0, 2.5))[1] == 2.5
    cut, height = fitted("x" * 200, 50, (5.0, 2.5))
    assert cut.endswith("…")
    assert text_width(cut, height) <= 50
