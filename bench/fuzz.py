"""Spoiled input by the hundred thousand: every reader either reads it or refuses it in words, in bounded time and memory.

`python bench/fuzz.py` runs all targets (200,000 cases and more); `--target NAME --seed N --case I` runs one again and shows its fault. The
cases of a target follow from the seed, so that each can be made again. Each target runs in a process of its own with bounded memory, watched
by this one: a process that dies or stands still is a fault, and the next goes on behind it.
"""

from __future__ import annotations

import argparse
import atexit
import json
import mmap
import os
import random
import resource
import shutil
import signal
import struct
import subprocess
import sys
import tempfile
import time
import tomllib
import traceback
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import mutate
from results import keep

CASES = {
    "length": 70_000,
    "job": 40_000,
    "wall": 15_000,
    "cutting": 40_000,
    "site": 25_000,
    "ifc": 6_000,
    "api": 12_000,
}
"""How many of each: more than 200,000 together."""
SECONDS = 2.0
"""Processor time that one case may take."""
STILL = 30.0
"""A process that has been at one case for so long, whatever it waits for, hangs [s]."""
MEMORY = 1_000_000_000
"""Bytes that a process may take for its data, all that is loaded among it."""
AFRESH = {"ifc": 500}
"""Cases after which a new process goes on: the library that reads a model keeps 0.2 MB of each for good, and a command reads but one."""
ROOM = Path(__file__).with_name("room.ifc")
"""A small room as `wallwright issue` writes one, with most of its things left out."""
MADE = Path(__file__).parents[1] / "tests" / "sheets" / "made"

BEAT = struct.Struct("3q")
"""What a process tells as it goes: its case, how many were read and how many refused."""

Case = Callable[[random.Random], Any]
"""Makes one case and runs it. AssertionError or any error that is not documented: a fault."""


class TooSlowError(BaseException):
    """A case has taken its processor time."""


@dataclass
class Found:
    """What came of a target: cases, how many were read and how many refused, faults by place, the slowest case [s], peak memory [MB]."""

    target: str
    cases: int = 0
    read: int = 0
    refused: int = 0
    slowest: float = 0.0
    slowest_case: int = 0
    memory: float = 0.0
    apart: int = 0
    faults: Counter[str] = field(default_factory=Counter)
    example: dict[str, int] = field(default_factory=dict)


# --- the targets -------------------------------------------------------------------------------------------------------


def sources() -> tuple[bytes, ...]:
    """The job files that are spoiled: the demo jobs, and walls with every kind of unit and panel."""
    from wallwright.job.demos import demo_jobs

    return (
        *(text.encode() for text in demo_jobs().values()),
        *(path.read_bytes() for path in sorted(MADE.glob("*.toml"))),
    )


def scratch() -> Path:
    """A folder for this process, gone at its end."""
    folder = tempfile.mkdtemp(prefix="wallwright-fuzz-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return Path(folder)


def length() -> Case:
    from wallwright.core.units import LONGEST_MM, read_length

    pieces = (
        "9",
        "4",
        "'",
        '"',
        "-",
        "/",
        ".",
        " ",
        "mm",
        "cm",
        "m",
        "in",
        "ft",
        "½",
        "3/8",
        "e",
        "+",
        "٣",
        "\u2009",
        "−",
        "1" * 30,
    )

    def one(draw: random.Random) -> None:
        match draw.randrange(5):
            case 0:
                given: Any = draw.choice(mutate.NUMBERS)
            case 1:
                given = mutate.torn(draw.choice(mutate.LENGTHS).encode(), draw).decode("utf-8", "replace")
            case 2:
                given = "".join(
                    chr(draw.choice((draw.randrange(32, 127), draw.randrange(0xD7FF))))
                    for _ in range(draw.randrange(12))
                )
            case 3:
                given = draw.choice(mutate.TEXTS) + draw.choice(mutate.TEXTS)
            case _:
                given = "".join(draw.choices(pieces, k=draw.randrange(1, 9)))
        read = read_length(given)  # ValueError is its word for what cannot be read
        assert isinstance(read, float) and abs(read) <= LONGEST_MM

    return one


def job() -> Case:
    from wallwright.job.read import read_job
    from wallwright.job.write import write_job

    files = sources()
    plain = tuple(json.loads(json.dumps(tomllib.loads(data.decode()), default=str)) for data in files)

    def one(draw: random.Random) -> None:
        data = mutate.torn(draw.choice(files), draw) if draw.random() < 0.35 else _toml(draw, plain)
        found = read_job(data)
        assert read_job(write_job(found)) == found, "what was read is written and read as something else"

    return one


def wall() -> Case:
    """Those job files that can be read, to the wall and all its findings: what the page and `check` do with them."""
    from wallwright.derive import derive
    from wallwright.job.read import read_job
    from wallwright.rules.check import check

    plain = tuple(tomllib.loads(data.decode()) for data in sources())
    plain = tuple(json.loads(json.dumps(one, default=str)) for one in plain)

    def one(draw: random.Random) -> None:
        for _ in range(12):  # one that can be read, where a few tries give one
            try:
                found = read_job(_toml(draw, plain))
                break
            except ValueError:
                continue
        else:
            raise ValueError("none of these can be read")
        for finding in check(derive(found)):
            assert finding.says

    return one


def _toml(draw: random.Random, plain: tuple[Any, ...]) -> bytes:
    return mutate.toml(mutate.spoilt(draw.choice(plain), draw, plain)).encode("utf-8", "surrogatepass")


PARTS = b"name,material,length,width,quantity,grain,match\nside,ply18,2100,560,2,length,\nshelf,ply18,2'-4 3/8\",30 cm,6,none,a\n"
SHEETS = b"name,material,length,width,price,quantity,trim\nfull,ply18,2440,1220,58.5,,\noffcut,ply18,1200,600,0,2,0\n"


def cutting() -> Case:
    from wallwright.cutting.model import Problem, Saw, from_mm
    from wallwright.cutting.read import parse_parts, parse_sheets, read_replay

    saw = Saw(kerf=from_mm(3.2, rounding="up"), trim=from_mm(10, rounding="up"), stages="any")

    def cells(data: bytes, draw: random.Random) -> bytes:
        rows = [line.split(",") for line in data.decode().splitlines()]
        for _ in range(draw.choice((1, 1, 2, 3))):
            row = draw.choice(rows)
            said = mutate.value(draw) if draw.random() < 0.6 else draw.choice(rows[0])
            row[draw.randrange(len(row))] = (str(said) if abs(_size(said)) < 10**300 else "9" * 400)[:4000]
        return "\n".join(",".join(row) for row in rows).encode("utf-8", "replace")

    def one(draw: random.Random) -> None:
        parts, sheets = PARTS, SHEETS
        if draw.random() < 0.05:
            read_replay(mutate.torn(b"12,3,400/7,,9/1", draw).decode("utf-8", "replace"))
            return
        if draw.random() < 0.5:
            parts = (mutate.torn if draw.random() < 0.5 else cells)(parts, draw)
        else:
            sheets = (mutate.torn if draw.random() < 0.5 else cells)(sheets, draw)
        pieces, stock = parse_parts(parts.decode("utf-8-sig")), parse_sheets(sheets.decode("utf-8-sig"))
        Problem(pieces=pieces, sheets=stock, saw=saw)

    return one


def _size(said: Any) -> float:
    return said if isinstance(said, int) and not isinstance(said, bool) else 0


SITE = b"""wallwright-site = 1
by = "R. Invented"
date = "2026-05-02"
ceiling = 2744
diagonals = [5008, 5004]
[[boxes]]
ref = "P1"
x = 2105
z = 1102
sunk = -4
[[plumb]]
x = 0
z = 1200
out = 4
[[widths]]
at = 1000
value = 4212
[[things]]
ref = "BEAM9"
kind = "beam"
x = 0
z = 2600
width = 4200
height = 150
projection = 120
stays = true
[[seats]]
ref = "A"
eye_height = 1020
distance = 2900
"""


def site() -> Case:
    """The site's file, and where it can be read, the answer to it."""
    from wallwright.change.asfound import as_found, taken
    from wallwright.derive import derive
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job
    from wallwright.job.site import read_site

    seen = derive(read_job(demo_jobs()["bedroom"]))
    refs = [point.ref for point in seen.services.points]
    plain = (tomllib.loads(SITE.decode()),)
    count = 0

    def one(draw: random.Random) -> None:
        nonlocal count
        data = mutate.torn(SITE, draw) if draw.random() < 0.35 else _toml(draw, plain)
        found = read_site(data.replace(b'"P1"', f'"{draw.choice(refs)}"'.encode()))
        count += 1
        if count % 20 == 0:  # the answer takes a hundred times as long as the reading
            taken(seen.job, as_found(seen, found))

    return one


def ifc(apart: bool = False) -> Case:
    """A model of a room, spoiled as text and in its numbers, references and names. apart : as the command reads it, in another process"""
    from wallwright.export.ifc_read import read_room, read_room_apart

    reader = read_room_apart if apart else read_room
    small = ROOM.read_bytes()
    path = scratch() / "room.ifc"

    def one(draw: random.Random) -> None:
        data = mutate.torn(small, draw) if draw.random() < 0.4 else spoilt_step(small, draw)
        path.write_bytes(data)
        found = reader(path, draw.choice(("", "1", "Wall", "x")), other_side=draw.random() < 0.3)
        assert found.walls and found.survey.room

    return one


def spoilt_step(data: bytes, draw: random.Random) -> bytes:
    """Numbers, references, names and whole lines of a STEP file changed."""
    import re

    lines = data.decode().split("\n")
    for _ in range(draw.choice((1, 1, 2, 4))):
        i = draw.randrange(len(lines))
        kind = draw.choice(
            (r"#\d+", r"-?\d+\.\d*(?:E-?\d+)?", r"'[^']*'", r"IFC[A-Z]+", r"\$", r"\([^()]*\)")
        )
        new = draw.choice(
            ("$", "*", "#1", "#999999", f"#{draw.randrange(1, 200)}", "0.", "-1.", "1E300", "NAN", "1E-300", "''", "'\\X2\\D83D\\X0\\'",
             "'" + "A" * 3000 + "'", "()", "(())", ".T.", "IFCWALL", "IFCSPACE", "IFCFOO", "((((", "1000000.", "-0.")
        )  # fmt: skip
        there = list(re.finditer(kind, lines[i]))
        if not there or draw.random() < 0.1:
            lines[i] = draw.choice(("", lines[i] * 2, draw.choice(lines)))
            continue
        at = draw.choice(there)
        lines[i] = lines[i][: at.start()] + new + lines[i][at.end() :]
    return "\n".join(lines).encode()


def api() -> Case:
    """The page's calls with spoiled addresses and bodies: an answer in words, and never the program's own fault."""
    from fastapi.testclient import TestClient

    from wallwright.job.demos import demo_jobs
    from wallwright.job.edits import EDITS
    from wallwright.studio.app import application
    from wallwright.studio.studio import of_file

    folder = scratch()
    file = folder / "job.toml"
    file.write_text(demo_jobs()["bedroom"], encoding="utf-8")
    studio = of_file(file, worker=False)
    app = application(studio)
    client = TestClient(app, base_url="http://127.0.0.1:8470", raise_server_exceptions=False)
    described = app.openapi()
    calls = [
        (path, method, about)
        for path, methods in described["paths"].items()
        for method, about in methods.items()
    ]
    parts = described["components"]["schemas"]
    names = sorted(EDITS)

    def sample(schema: dict[str, Any], draw: random.Random, depth: int = 0) -> Any:
        """Something that fits a schema, more or less."""
        if "$ref" in schema:
            return sample(parts[schema["$ref"].rpartition("/")[2]], draw, depth + 1)
        if draw.random() < 0.06 or depth > 8:
            return mutate.value(draw)
        if "anyOf" in schema or "oneOf" in schema:
            return sample(draw.choice(schema.get("anyOf") or schema["oneOf"]), draw, depth + 1)
        if "enum" in schema or "const" in schema:
            return draw.choice(schema.get("enum") or [schema["const"]])
        match schema.get("type"):
            case "object":
                given = schema.get("properties", {})
                return {
                    key: sample(inner, draw, depth + 1) for key, inner in given.items() if draw.random() < 0.9
                }
            case "array":
                return [
                    sample(schema.get("items", {}), draw, depth + 1)
                    for _ in range(draw.choice((0, 1, 1, 2, 30)))
                ]
            case "integer":
                return draw.choice((0, 1, schema.get("minimum", -1), schema.get("maximum", 10**9), -1))
            case "number":
                return draw.uniform(-10, 5000)
            case "boolean":
                return draw.random() < 0.5
            case "string":
                return draw.choice((*mutate.TEXTS, *mutate.WORDS, *names))
            case _:
                return mutate.value(draw)

    def edit(draw: random.Random) -> dict[str, Any]:
        chosen = EDITS[draw.choice(names)]
        values = {
            name: mutate.value(draw) for name in chosen.takes if name in chosen.needs or draw.random() < 0.4
        }
        return {
            "position": client.get(f"{base}/watch").json()["position"],
            "edit": chosen.name,
            "with": values,
            "sure": draw.random() < 0.7,
        }

    base = "/api/jobs/" + client.get("/api/here").json()["first"]

    def one(draw: random.Random) -> None:
        path, method, about = draw.choice(calls)
        query: dict[str, Any] = {}
        for given in about.get("parameters", []):
            said = sample(given["schema"], draw)
            text = str(said)[:300] if not isinstance(said, int) or abs(said) < 10**300 else "9" * 400
            if given["in"] == "path":
                right = {"job": studio.first, "moment": "0", "name": "elevation"}.get(given["name"])
                text = right if right and draw.random() < 0.8 else text.replace("/", "") or "x"
                path = path.replace("{" + given["name"] + "}", _quoted(text))
            elif draw.random() < 0.8:
                query[given["name"]] = text.encode("utf-8", "replace").decode()
        body: bytes | None = None
        if method == "post":
            schema = (
                about.get("requestBody", {}).get("content", {}).get("application/json", {}).get("schema", {})
            )
            held = (
                edit(draw)
                if path.endswith(("/edit", "/try")) and draw.random() < 0.7
                else sample(schema, draw)
            )
            if draw.random() < 0.2:
                held = mutate.spoilt(held, draw) if isinstance(held, dict) else held
            body = _json(held)
            if draw.random() < 0.1:
                body = mutate.torn(body, draw)
        if path.endswith("/readings") and draw.random() < 0.8:
            body = _json(
                {"position": 0, "readings": [{"id": f"r{draw.random()}", "taken": 1.0, **edit(draw)}]}
            )
        if path.endswith("/import"):
            body = mutate.torn(demo_jobs()["living"].encode(), draw)
        answer = client.request(
            method.upper(), path, params=query, content=body, headers={"content-type": "application/json"}
        )
        assert answer.status_code < 500, f"{method} {path}: {answer.status_code} {answer.text[:200]}"
        if answer.status_code >= 400:
            says = answer.json()["error"]
            assert says["says"] and "Traceback" not in answer.text, answer.text[:200]
            raise ValueError(says["says"])

    return one


def _quoted(text: str) -> str:
    from urllib.parse import quote

    return quote(text.encode("utf-8", "replace"), safe="")


def _json(held: Any) -> bytes:
    try:
        return json.dumps(held).encode()
    except ValueError:  # a whole number that Python does not print
        return b'{"position": ' + b"9" * 5000 + b"}"


TARGETS: dict[str, Callable[[], Case]] = {
    "length": length, "job": job, "wall": wall, "cutting": cutting, "site": site, "ifc": ifc, "api": api,
}  # fmt: skip
REFUSES: tuple[type[Exception], ...] = (ValueError,)
"""What a reader refuses with: JobError among it. UnicodeDecodeError is ours to catch, but is a ValueError where no file is named."""


# --- one target, in this process ------------------------------------------------------------------------------------------


def run(
    target: str, cases: Iterable[int], seed: int, at: Callable[[int, Found], object] = lambda *_: None
) -> Found:
    """Run these cases. at : told of every case before it runs, and what was found until then"""
    one, found = TARGETS[target](), Found(target)
    before = signal.signal(signal.SIGPROF, _slow)
    try:
        for case in cases:
            at(case, found)
            _case(one, case, seed, found)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
    found.memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return found


def _case(one: Case, case: int, seed: int, found: Found) -> None:
    begun, fault = time.process_time(), ""
    signal.setitimer(signal.ITIMER_PROF, SECONDS)
    try:
        one(random.Random(f"{found.target}-{seed}-{case}"))
        found.read += 1
    except REFUSES as refusal:
        found.refused += 1
        if not str(refusal).strip():
            fault = f"{type(refusal).__name__} that says nothing {_where(refusal)}"
        elif "\n  File " in str(refusal):
            fault = "a traceback in the words"
    except TooSlowError as slow:
        fault = f"too slow {_where(slow)}"
    except BaseException as problem:
        if isinstance(problem, KeyboardInterrupt):
            raise
        fault = f"{type(problem).__name__}: {str(problem)[:100]} {_where(problem)}"
    signal.setitimer(signal.ITIMER_PROF, 0)
    took = time.process_time() - begun
    found.cases += 1
    if took > found.slowest:
        found.slowest, found.slowest_case = took, case
    if fault:
        found.faults[fault] += 1
        found.example.setdefault(fault, case)


def _slow(_number: int, _frame: object) -> None:
    raise TooSlowError


def _where(problem: BaseException) -> str:
    """The innermost line of ours on the way."""
    frames = traceback.extract_tb(problem.__traceback__)
    ours = [
        frame for frame in frames if "wallwright" in frame.filename and "site-packages" not in frame.filename
    ]
    last = (ours or frames)[-1]
    return f"at {Path(last.filename).name}:{last.lineno} ({last.name})"


# --- all targets, each in a process of its own ------------------------------------------------------------------------------


def watched(target: str, cases: int, seed: int) -> Found:
    """A target in processes with bounded memory: where one dies or stands still, that case is a fault and the next goes on behind it."""
    whole, first = Found(target), 0
    with tempfile.TemporaryDirectory() as folder:
        beat = Path(folder) / "beat"
        while first < cases:
            beat.write_bytes(BEAT.pack(first, 0, 0))
            out = Path(folder) / "out.json"
            out.unlink(missing_ok=True)
            last = min(cases, first + AFRESH.get(target, cases))
            command = [
                sys.executable,
                __file__,
                "--child",
                str(beat),
                str(out),
                target,
                str(seed),
                str(first),
                str(last),
            ]
            process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)
            try:
                died = _watch(process, beat)
            except KeyboardInterrupt:  # told with what was found until then
                process.kill()
                process.wait()
                if (part := Path(f"{out}.part")).exists():
                    _add(whole, json.loads(part.read_text()))
                return whole
            if out.exists():
                _add(whole, json.loads(out.read_text()))
                first = last
                continue
            at, read, refused = BEAT.unpack(beat.read_bytes())
            whole.cases, whole.read, whole.refused = (
                whole.cases + at - first + 1,
                whole.read + read,
                whole.refused + refused,
            )
            if target == "ifc" and died.startswith("ended with -") and _refused_apart(seed, at):
                whole.apart, whole.refused = whole.apart + 1, whole.refused + 1
                first = at + 1
                continue
            fault = f"the process {died}"
            whole.faults[fault] += 1
            whole.example.setdefault(fault, at)
            first = at + 1
    return whole


def _refused_apart(seed: int, case: int) -> bool:
    """Whether a model that ends the reading library is refused in words by the process around it."""
    try:
        ifc(apart=True)(random.Random(f"ifc-{seed}-{case}"))
    except ValueError as refusal:
        return "came to grief" in str(refusal)
    return False


def _watch(process: subprocess.Popen[str], beat: Path) -> str:
    last, since = -1, time.monotonic()
    while True:
        try:
            process.communicate(timeout=1.0)
            return f"ended with {process.returncode}"
        except subprocess.TimeoutExpired:
            now = BEAT.unpack(beat.read_bytes())[0]
            if now != last:
                last, since = now, time.monotonic()
            elif time.monotonic() - since > STILL:
                process.kill()
                process.communicate()
                return "stood still"


def _add(whole: Found, part: dict[str, Any]) -> None:
    for name in ("cases", "read", "refused"):
        setattr(whole, name, getattr(whole, name) + part[name])
    whole.memory = max(whole.memory, part["memory"])
    if part["slowest"] > whole.slowest:
        whole.slowest, whole.slowest_case = part["slowest"], part["slowest_case"]
    whole.faults.update(part["faults"])
    for fault, case in part["example"].items():
        whole.example.setdefault(fault, case)


def child(beat: str, out: str, target: str, seed: str, first: str, last: str) -> None:
    """The process that runs a target's cases."""
    resource.setrlimit(resource.RLIMIT_DATA, (MEMORY, MEMORY))
    with open(beat, "r+b") as file, mmap.mmap(file.fileno(), BEAT.size) as seen:

        def at(case: int, found: Found) -> None:
            seen[:] = BEAT.pack(case, found.read, found.refused)
            if found.cases % 200 == 0:
                found.memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
                Path(f"{out}.part").write_text(json.dumps(found.__dict__))

        found = run(target, range(int(first), int(last)), int(seed), at)
    Path(out).write_text(json.dumps(found.__dict__))


def again(target: str, seed: int, case: int) -> None:
    """One case once more, with the whole way to its fault."""
    TARGETS[target]()(random.Random(f"{target}-{seed}-{case}"))


def main() -> None:
    """Run what is asked for, and print a row a target; 1 where there was a fault."""
    if sys.argv[1:2] == ["--child"]:
        child(*sys.argv[2:])
        return
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--target", choices=TARGETS)
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--case", type=int)
    ask.add_argument("--share", type=float, default=1.0, help="of the cases: 0.05 for a short run")
    given = ask.parse_args()
    if given.case is not None:
        again(given.target, given.seed, given.case)
        return
    slowest = memory = cases = 0.0
    print(f"{'target':<9}{'cases':>9}{'read':>9}{'refused':>9}{'faults':>8}{'slowest':>12}{'memory':>10}")
    wrong = 0
    for target in [given.target] if given.target else TARGETS:
        found = watched(target, max(1, round(CASES[target] * given.share)), given.seed)
        wrong += sum(found.faults.values())
        cases, slowest, memory = cases + found.cases, max(slowest, found.slowest), max(memory, found.memory)
        print(
            f"{target:<9}{found.cases:>9}{found.read:>9}{found.refused:>9}{sum(found.faults.values()):>8}"
            f"{found.slowest * 1000:>9.0f} ms{found.memory:>7.0f} MB",
            flush=True,
        )
        if found.apart:
            print(
                f"    {found.apart} ended the reading library, and were refused in words by the process around it"
            )
        for fault, count in found.faults.most_common():
            print(
                f"    {count} × {fault}   (--target {target} --seed {given.seed} --case {found.example[fault]})",
                flush=True,
            )
    keep(f"spoiled input, {cases:.0f} cases: faults", wrong, "", budget=0, group="safety", limit="0")
    keep(
        "the slowest of these cases",
        slowest * 1000,
        "ms",
        budget=SECONDS * 1000,
        group="safety",
        limit="a case that is read is derived too",
    )
    keep(
        "the largest process of these",
        memory,
        "MB",
        budget=MEMORY / 1e6,
        group="safety",
        limit="what the libraries take when loaded",
    )
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    main()
