"""How wide a text prints, from the advance widths of the fonts that are shipped, so that nothing is set over anything else.

Heights are ISO 3098 heights: of the capitals, in paper mm. All widths come out in paper mm.
"""

from __future__ import annotations

import struct
import unicodedata
from functools import lru_cache
from importlib.resources import files

from wallwright.core.drawing import Anchor

CAPITAL = 0.714
"""Height of the capitals in the fonts shipped, as a share of the font size (their OS/2 table)."""
_SCRIPTS = (
    "", "Devanagari", "Bengali", "Gujarati", "Gurmukhi", "Oriya", "Tamil", "Telugu", "Kannada", "Malayalam",
    "Arabic", "Hebrew", "Thai", "Lao", "Khmer", "Myanmar", "Sinhala", "Armenian", "Georgian", "Ethiopic",
)  # fmt: skip
_HAN = "DroidSansFallbackFull.ttf"
FAMILIES = (
    *(f"Noto Sans {script}".strip() for script in _SCRIPTS),
    "Droid Sans Fallback",
    "NanumSquareRound",
)
"""The shipped families in the order in which they are asked for a letter; the last two have Chinese and Japanese, and Korean."""
_FACES = {
    False: (*(f"NotoSans{script}-Regular.ttf" for script in _SCRIPTS), _HAN, "NanumSquareRoundR.ttf"),
    True: (*(f"NotoSans{script}-Bold.ttf" for script in _SCRIPTS), _HAN, "NanumSquareRoundB.ttf"),
}
_DEEP = frozenset("gjpqyQJ,;()[]{}|_/ç")
MISSING = "\ufffd"
"""Printed in place of a letter that no shipped font has."""


class _Face:
    """The glyph of each letter, and how far it advances, of one font file."""

    def __init__(self, name: str) -> None:
        raw = files("wallwright").joinpath("export", "fonts", name).read_bytes()
        self._tables = {
            raw[i : i + 4]: struct.unpack(">LL", raw[i + 8 : i + 16])
            for i in range(12, 12 + 16 * struct.unpack(">H", raw[4:6])[0], 16)
        }
        head, hhea = self._table(raw, b"head"), self._table(raw, b"hhea")
        self.em: int = struct.unpack(">H", head[18:20])[0]
        self._long: int = struct.unpack(">H", hhea[34:36])[0]
        self._hmtx = self._table(raw, b"hmtx")
        self._glyphs = _glyphs(self._table(raw, b"cmap"))

    def _table(self, raw: bytes, tag: bytes) -> bytes:
        start, length = self._tables[tag]
        return raw[start : start + length]

    def advance(self, letter: str) -> float | None:
        """Advance as a share of the font size; None where the font has no such letter."""
        glyph = self._glyphs.get(ord(letter), 0)
        if glyph == 0:
            return None
        at = 4 * min(glyph, self._long - 1)
        return struct.unpack(">H", self._hmtx[at : at + 2])[0] / self.em


def _glyphs(cmap: bytes) -> dict[int, int]:
    """Letter to glyph of a cmap's segment table for the basic plane (format 4; OpenType specification, cmap)."""
    out: dict[int, int] = {}
    for i in range(struct.unpack(">H", cmap[2:4])[0]):
        start: int = struct.unpack(">L", cmap[8 + 8 * i : 12 + 8 * i])[0]
        if struct.unpack(">H", cmap[start : start + 2])[0] != 4:
            continue
        count = struct.unpack(">H", cmap[start + 6 : start + 8])[0] // 2
        words = struct.unpack(f">{count}H", cmap[start + 14 : start + 14 + 2 * count])
        at = start + 16 + 2 * count
        firsts = struct.unpack(f">{count}H", cmap[at : at + 2 * count])
        deltas = struct.unpack(f">{count}H", cmap[at + 2 * count : at + 4 * count])
        ranges = struct.unpack(f">{count}H", cmap[at + 4 * count : at + 6 * count])
        for segment in range(count):
            for code in range(firsts[segment], words[segment] + 1):
                glyph = code
                if ranges[segment]:
                    where = at + 4 * count + 2 * segment + ranges[segment] + 2 * (code - firsts[segment])
                    glyph = struct.unpack(">H", cmap[where : where + 2])[0]
                    if glyph == 0:
                        continue
                out[code] = (glyph + deltas[segment]) % 65536
        return out
    raise ValueError("a shipped font has no segment table in its cmap")


@lru_cache(maxsize=32)
def _face(name: str) -> _Face:
    return _Face(name)


@lru_cache(maxsize=8192)
def _advance(letter: str, bold: bool) -> float | None:
    for name in _FACES[bold]:
        found = _face(name).advance(letter)
        if found is not None:
            return found
    return None


@lru_cache(maxsize=8192)
def common(letter: str) -> bool:
    """Whether the first family has this letter in both weights: no other is asked for it."""
    return all(_face(names[0]).advance(letter) is not None for names in _FACES.values())


@lru_cache(maxsize=16384)
def missing(text: str) -> str:
    """The letters of a text that no shipped font has, each once, in order."""
    return "".join(dict.fromkeys(c for c in text if c not in "\n\u200c\u200d" and not _has(c)))


def _has(letter: str) -> bool:
    """Whether a shipped font has it. Control signs and what Unicode keeps free are no letters, whatever a font says."""
    return (
        unicodedata.category(letter) not in ("Cc", "Cs", "Co", "Cn") and _advance(letter, False) is not None
    )


def printable(text: str) -> str:
    """The text with letters that cannot be printed shown as an empty box: seen and reported, never silently dropped."""
    lost = missing(text)
    return text.translate({ord(c): MISSING for c in lost}) if lost else text


@lru_cache(maxsize=16384)
def text_width(text: str, height: float, bold: bool = False) -> float:
    """How wide the text prints [mm]. Kerning and ligatures, which only narrow it, are left out."""
    advances = (_advance(c, bold) for c in text)
    return sum(0.6 if a is None else a for a in advances) * height / CAPITAL


@lru_cache(maxsize=16384)
def text_depth(text: str, height: float) -> float:
    """How far the text reaches below its base line [mm]."""
    if any(ord(c) > 0x02FF and not 0x2000 <= ord(c) < 0x2C00 for c in text):
        return 0.45 * height
    return 0.3 * height if _DEEP.intersection(text) else 0.05 * height


@lru_cache(maxsize=16384)
def text_rise(text: str, height: float) -> float:
    """How far the text reaches above its base line [mm]."""
    if any(0x0590 <= ord(c) < 0x1E00 for c in text):
        return 1.35 * height
    return 1.22 * height if any(ord(c) >= 0x2E80 for c in text) else 1.08 * height


def anchored(anchor: Anchor, width: float) -> float:
    """Where a text of that width begins, from the point it is anchored at."""
    return {"start": 0.0, "middle": -width / 2, "end": -width}[anchor]


def wrap(text: str, width: float, height: float, bold: bool = False) -> list[str]:
    """The text in lines no wider than `width`; a word wider than that is broken."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for word in paragraph.split(" "):
            tried = f"{line} {word}" if line else word
            if text_width(tried, height, bold) <= width:
                line = tried
                continue
            if line:
                lines.append(line)
            while text_width(word, height, bold) > width and len(word) > 1:
                cut = next(
                    n
                    for n in range(len(word) - 1, 0, -1)
                    if n == 1 or text_width(word[:n], height, bold) <= width
                )
                lines.append(word[:cut])
                word = word[cut:]
            line = word
        lines.append(line)
    return lines


def fitted(text: str, width: float, heights: tuple[float, ...], bold: bool = False) -> tuple[str, float]:
    """The text at the largest of `heights` at which it fits; at the smallest one it is shortened with an ellipsis."""
    for height in heights:
        if text_width(text, height, bold) <= width:
            return text, height
    height = heights[-1]
    while text and text_width(f"{text}…", height, bold) > width:
        text = text[:-1]
    return f"{text}…", height
