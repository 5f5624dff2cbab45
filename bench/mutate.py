"""Documents spoiled on purpose: valid ones taken apart, put together wrongly, and written out again. Everything follows from a seed."""

from __future__ import annotations

import json
import math
import random
from typing import Any

HOURS = 9
HUGE = (10**15 + 1, -(10**18), 10**40, 10**400, 1e308, -1e308, 5e-324, 1e9, 1e5, 99_999.5, -1, 0, -0.0)
NUMBERS: tuple[Any, ...] = (*HUGE, math.nan, math.inf, -math.inf)
LENGTHS = (
    "9'-4 3/8\"", '72 3/8"', "4 ft 6", "285.3 cm", "1.2 m", "2853", "-3/8", "1/0", "½", "9'-13\"", "9' 9'", "3 in 2 ft",
    "١٢٣", "１２３", "²", "9e9", "1e400", "0x1F", "1_000", "1,200", "1.2.3", "--1", "−5", "mm", "″", "' '", "1/3/5", ".", "5.",
    "1 / 2", "0.000000001", "9" * 59, "9" * 80, "99999999999999999 m",
)  # fmt: skip
TEXTS = (
    "", " ", "x", "A" * 81, "A" * 401, "A" * 3_900, "\t", "\x1b[31m", "\x7f", "\u202e", "\u0000x", "\ud7ff", "\U0001f600", "a\nb",
    "true", "null", "../../x", "=1+1", "<script>", "{{x}}", "%s%n", "\\", '"', "'''", "#", "#12345", "2026-02-30", "2026-13-01",
    "0000-00-00", "9999-12-31", "-0001-01-01", "é" * 40, *LENGTHS,
)  # fmt: skip
WORDS = (
    "left",
    "right",
    "wall",
    "x",
    "width",
    "ref",
    "measured",
    "electrician",
    "none",
    "plywood",
    "C1",
    "T1",
    "W1",
    "S1",
)


def value(draw: random.Random) -> Any:
    """Anything that a file may hold where something else belongs."""
    match draw.randrange(10):
        case 0 | 1 | 2:
            return draw.choice(NUMBERS)
        case 3 | 4 | 5:
            return draw.choice(TEXTS)
        case 6:
            return draw.choice(WORDS)
        case 7:
            return draw.choice((True, False, [], {}, [[]], [{}], {"x": 1}, {"value": 1, "state": "sure"}))
        case 8:
            return draw.choice((draw.uniform(-1e4, 1e4), draw.randrange(-5000, 5000), draw.random()))
        case _:
            return deep(draw.choice((3, 14, 60)), draw)


def deep(levels: int, draw: random.Random) -> Any:
    """A list in a list, or a table in a table, so many levels down."""
    out: Any = 1
    for _ in range(levels):
        out = [out] if draw.random() < 0.5 else {"a": out}
    return out


def near(old: Any, draw: random.Random) -> Any:
    """A value of the same kind, other than it was."""
    if isinstance(old, bool):
        return not old
    if isinstance(old, (int, float)):
        by = draw.choice((0, -1, 0.5, 2, 10, 100, 1.0001, -0.001, 1e-9))
        try:
            return type(old)(old * by)
        except (OverflowError, ValueError):
            return 0
    if isinstance(old, str):
        return draw.choice(
            (
                old.upper(),
                old[::-1],
                old[:-1],
                old * 3,
                f" {old}",
                *draw.sample(WORDS, 2),
                draw.choice(LENGTHS),
            )
        )
    if isinstance(old, list):
        return draw.choice((old[::-1], old * 2, old[:1], [], (old or [1]) * draw.choice((5, 50, 700))))
    return {}


def places(document: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every table, list and value."""
    out = [path] if path else []
    inner = (
        document.items()
        if isinstance(document, dict)
        else enumerate(document)
        if isinstance(document, list)
        else ()
    )
    for step, child in inner:
        out += places(child, (*path, step))
    return out


def spoilt(document: Any, draw: random.Random, others: tuple[Any, ...] = ()) -> Any:
    """The document with one to four changes: left out, doubled, renamed, moved, of another kind, near to what it was."""
    out = json.loads(json.dumps(document))
    for _ in range(draw.choice((1, 1, 1, 2, 4))):
        there = places(out)
        if not there:
            break
        *path, last = draw.choice(there)
        holder = out
        for step in path:
            holder = holder[step]
        _change(holder, last, draw, others or (document,))
    return out


def _change(holder: Any, last: Any, draw: random.Random, others: tuple[Any, ...]) -> None:
    old = holder[last]
    match draw.randrange(HOURS):
        case 0:
            del holder[last]
        case 1 | 2:
            holder[last] = value(draw)
        case 3 | 4 | 5:
            holder[last] = near(old, draw)
        case 6 if isinstance(holder, list):
            holder.insert(last, json.loads(json.dumps(old)))
        case 6:
            holder[draw.choice((f"{last}x", str(last).upper(), "x", draw.choice(TEXTS)))] = holder.pop(last)
        case 7:  # something from elsewhere in a document of this kind
            donor = draw.choice(others)
            taken = donor
            for step in draw.choice(places(donor)):
                taken = taken[step]
            holder[last] = json.loads(json.dumps(taken))
        case _:
            if isinstance(holder, dict):
                holder[draw.choice(WORDS)] = value(draw)
            else:
                holder.append(value(draw))


# --- written out -------------------------------------------------------------------------------------------------------


def toml(document: dict[str, Any]) -> str:
    """The document as TOML, whatever it holds."""
    return "\n".join(_table(document, ""))


def _table(table: dict[str, Any], path: str) -> list[str]:
    plain, inner = [], []
    for key, held in table.items():
        name = f"{path}.{_key(key)}" if path else _key(key)
        if isinstance(held, dict) and held and path.count(".") < 3:
            inner += [f"[{name}]", *_table(held, name)]
        elif (
            isinstance(held, list)
            and held
            and all(isinstance(one, dict) for one in held)
            and path.count(".") < 3
        ):
            for one in held:
                inner += [f"[[{name}]]", *_table(one, name)]
        else:
            plain.append(f"{_key(key)} = {written(held)}")
    return plain + inner


def _key(key: str) -> str:
    return key if key and key.isascii() and key.replace("_", "").replace("-", "").isalnum() else _text(key)


def _text(text: str) -> str:
    out = json.dumps(text, ensure_ascii=False)
    return "".join(c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}" for c in out)


def written(held: Any) -> str:
    """A value as TOML has it."""
    if isinstance(held, bool):
        return "true" if held else "false"
    if isinstance(held, int):
        return hex(held) if abs(held) > 10**300 and held > 0 else str(held)
    if isinstance(held, float):
        return (
            "nan" if math.isnan(held) else ("inf" if held > 0 else "-inf") if math.isinf(held) else repr(held)
        )
    if isinstance(held, str):
        return _text(held)
    if isinstance(held, list):
        parts = [written(one) for one in held]
        return f"[{(',' + chr(10) if len(parts) > 20 else ', ').join(parts)}]"
    return "{" + ", ".join(f"{_key(key)} = {written(one)}" for key, one in held.items()) + "}"


# --- the text itself ---------------------------------------------------------------------------------------------------

BITS = (
    b"\0", b"\xff", b"\xef\xbb\xbf", b"\r", b"\r\n", b"\n\n", b"[" * 300, b"{a=" * 200, b'"' * 3, b"'''", b"=", b"#", b",", b";", b"\x1b",
    b"A" * 5000, b"9" * 5000, b"1e999", b"nan", "１２".encode(), "\u2028".encode(), b"\xc3", b"[[x]]", b"a.b.c = 1\n", b"\t", b"''",
)  # fmt: skip


def torn(data: bytes, draw: random.Random) -> bytes:
    """The bytes with one to three faults of a disk, a cable or an editor."""
    for _ in range(draw.choice((1, 1, 2, 3))):
        data = _torn_once(data, draw)
    return data


def _torn_once(data: bytes, draw: random.Random) -> bytes:
    at = draw.randrange(len(data) + 1)
    end = min(len(data), at + draw.choice((1, 2, 8, 60, 400)))
    lines = data.splitlines(keepends=True)
    match draw.randrange(9):
        case 0:
            return data[:at]
        case 1:
            return data[at:]
        case 2:
            flipped = bytearray(data)
            for _ in range(draw.choice((1, 3, 20))):
                if flipped:
                    flipped[draw.randrange(len(flipped))] ^= 1 << draw.randrange(8)
            return bytes(flipped)
        case 3:
            return data[:at] + draw.choice(BITS) + data[at:]
        case 4:
            return data[:at] + data[end:]
        case 5:
            return data[:at] + data[at:end] * draw.choice((2, 3, 40)) + data[end:]
        case 6:
            return data.replace(
                b"\n", draw.choice((b"\r\n", b"\r", b"\n\r", b"\x0b")), draw.choice((1, 5, -1))
            )
        case 7 if lines:
            i, j = draw.randrange(len(lines)), draw.randrange(len(lines))
            lines[i], lines[j] = lines[j], lines[i]
            return b"".join(lines)
        case _ if lines:
            del lines[draw.randrange(len(lines))]
            return b"".join(lines)
        case _:
            return data + draw.choice(BITS)
