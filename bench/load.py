"""200 people at a hosted studio: two server processes at one database, on this machine's loopback address.

Each person looks, edits and drags as one does at a wall, with time to think between; at each turn a server is chosen as a proxy would. PostgreSQL
where its programs are on this machine, else SQLite. Then one person alone, edit after edit: the processor time of each kind of call, on which
the capacity plan of the docs is reckoned. `python bench/load.py [SECONDS] [PEOPLE]`
"""

from __future__ import annotations

import http.client
import importlib.util
import json
import os
import random
import signal
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from results import keep

ADDRESS = "https://studio.example"
SECONDS, PEOPLE, JOBS, SERVERS = 60.0, 200, 100, 2
THINK = (2.0, 8.0, 30.0)
"""Seconds between what one does: at least, on average, at most."""
DRAG = 12
"""Looks that the page asks for while one drags, one after the other."""
WEIGHED = 6
"""Steps of a drag between two times that the page has it weighed."""
P95 = {"edit": 1000.0, "look": 500.0, "drag": 1000.0}
"""Milliseconds of the wall clock within which 95 of 100 are answered, with all that runs on the same two processors."""
STUDIO = Path(__file__).parents[1] / "tests" / "studio" / "conftest.py"


@dataclass
class Server:
    """A server process, its port, and the processor time it has used."""

    process: subprocess.Popen[str]
    port: int

    def processor(self) -> float:
        """Seconds, those of its threads among them."""
        fields = Path(f"/proc/{self.process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def memory(self) -> float:
        """MB now."""
        return (
            int(Path(f"/proc/{self.process.pid}/statm").read_text().split()[1])
            * os.sysconf("SC_PAGE_SIZE")
            / 1e6
        )


def started(database: str) -> Server:
    code = f"from wallwright.studio.serve import run_hosted; run_hosted({database!r}, {ADDRESS!r}, '127.0.0.1', 0)"
    said = (
        Path(tempfile.gettempdir()) / f"wallwright-load-{os.getpid()}.log"
    )  # what goes wrong in a server stands there
    with said.open("a") as faults:
        process = subprocess.Popen(
            [sys.executable, "-uc", code], stdout=subprocess.PIPE, stderr=faults, text=True
        )
    assert process.stdout is not None
    return Server(process, int(process.stdout.readline().split("127.0.0.1:")[1].partition(".")[0]))


def database(stack: ExitStack) -> tuple[str, str]:
    """An empty database, and what kind it is."""
    spec = importlib.util.spec_from_file_location("studio_fixtures", STUDIO)
    assert spec and spec.loader
    studio = importlib.util.module_from_spec(spec)
    sys.modules["studio_fixtures"] = studio
    spec.loader.exec_module(studio)
    if studio.postgres_programs() is None:
        return f"sqlite:///{stack.enter_context(tempfile.TemporaryDirectory())}/studio.db", "SQLite"
    return studio.fresh_database(stack.enter_context(studio.postgres_cluster())), "PostgreSQL"


@dataclass
class Told:
    """What came of the calls: milliseconds by kind, and how often each answer came that was none of 200."""

    took: dict[str, list[float]] = field(default_factory=lambda: {"edit": [], "look": [], "drag": []})
    other: Counter[str] = field(default_factory=Counter)
    lock: threading.Lock = field(default_factory=threading.Lock)


class Person:
    """Somebody at a wall, with a browser that is signed in."""

    def __init__(
        self, number: int, job: str, token: str, csrf: str, servers: list[Server], told: Told
    ) -> None:
        self.draw, self.servers, self.told = random.Random(number), servers, told
        self.base, self.number, self.position = f"/api/jobs/{job}", number, 0
        self.headers = {"host": "studio.example", "origin": ADDRESS, "content-type": "application/json", "x-csrf-token": csrf,
                        "cookie": f"__Host-wallwright={token}"}  # fmt: skip
        self.lines = [http.client.HTTPConnection("127.0.0.1", one.port, timeout=60) for one in servers]

    def call(
        self, kind: str, method: str, path: str, body: Any = None, server: int | None = None
    ) -> dict[str, Any] | None:
        """One call to one of the servers; its time counts by its kind."""
        line = self.lines[self.draw.randrange(len(self.lines)) if server is None else server]
        begun = time.perf_counter()
        for again in (
            True,
            False,
        ):  # a line that lay idle may have been closed meanwhile: a browser opens another
            try:
                line.request(
                    method, self.base + path, None if body is None else json.dumps(body), self.headers
                )
                answer = line.getresponse()
                data = answer.read()
                break
            except OSError as problem:
                line.close()
                if again and isinstance(problem, (ConnectionError, http.client.RemoteDisconnected)):
                    continue
                with self.told.lock:
                    self.told.other[type(problem).__name__] += 1
                return None
        with self.told.lock:
            self.told.took[kind].append((time.perf_counter() - begun) * 1000)
            if answer.status != 200:
                self.told.other[f"{kind} {answer.status}"] += 1
        if answer.status not in (200, 409):
            return None
        read: dict[str, Any] = json.loads(data) if data[:1] == b"{" else {}
        state = read.get("state", read)
        self.position = state.get("position", self.position)
        return read

    def look(self, server: int | None = None) -> None:
        self.call(
            "look",
            "GET",
            self.draw.choice(("/state", "/state", "/sheet/elevation.svg", "/history")),
            server=server,
        )

    def edit(self, server: int | None = None) -> None:
        body = {
            "position": self.position,
            "edit": "set_screen_height",
            "with": {"centre_height": 1100 + self.draw.randrange(120)},
            "sure": True,
        }
        self.call("edit", "POST", "/edit", body, server)

    def drag(self) -> None:
        """The page asks for a look when the last one is answered; at the end the thing is dropped, which is an edit."""
        for i in range(DRAG):
            self.step(1100 + 2 * i)
            if i % WEIGHED == WEIGHED - 1:
                self.weigh(1100 + 2 * i)
        self.edit()

    def step(self, height: float, server: int | None = None) -> None:
        """One step of a drag, as the page has it: what is drawn of the wall with the mark there, and nothing kept."""
        self._held("/look", height, server)

    def weigh(self, height: float, server: int | None = None) -> None:
        """What would come of the drag, findings and money: the page asks for it a few times a second beside the steps."""
        self._held("/try", height, server)

    def _held(self, path: str, height: float, server: int | None) -> None:
        marks = {"screen.centre_height": height}
        self.call("drag", "POST", f"{path}?scale=20", {"position": self.position, "marks": marks}, server)

    def live(self, end: float) -> None:
        self.call("look", "GET", "/state")
        while True:
            least, usual, most = THINK
            time.sleep(min(most, least + self.draw.expovariate(1 / (usual - least))))
            if time.monotonic() > end:
                return
            chance = self.draw.random()
            (self.look if chance < 0.6 else self.edit if chance < 0.9 else self.drag)()


def prepared(url: str, people: int) -> list[tuple[str, str, str]]:
    """Jobs, people and their sessions: job, token and word of each. One hash serves them all, for nobody types a password here."""
    from wallwright.job.demos import demo_jobs
    from wallwright.studio import accounts, history
    from wallwright.studio.schema import PERSON
    from wallwright.studio.store import Store, new_id, now

    store = Store(url)
    texts = [demo_jobs()[name] for name in ("living", "bedroom")]
    with store.write() as db:
        jobs = [history.begin(db, texts[i % 2].replace("# ", f"# {i} ", 1), "bench") for i in range(JOBS)]
        ids = [new_id() for _ in range(people)]
        for i, ident in enumerate(ids):
            row = {
                "id": ident,
                "name": f"P{i}",
                "role": "designer",
                "secret": "x",
                "active": True,
                "made": now(),
            }
            db.execute(PERSON.insert().values(**row))
    tokens = [accounts.begin_session(store, ident) for ident in ids]
    store.close()
    return [(jobs[i % JOBS], token, accounts.csrf_of(token)) for i, token in enumerate(tokens)]


def alone(person: Person, server: Server, times: int = 40) -> dict[str, float]:
    """Processor milliseconds of the server for each kind of call, one after the other; the second half of them, when all is warm."""
    out: dict[str, float] = {}
    kinds = {
        "edit": lambda: person.edit(0),
        "state": lambda: person.call("look", "GET", "/state", server=0),
        "watch": lambda: person.call("look", "GET", "/watch", server=0),
        "sheet": lambda: person.call("look", "GET", "/sheet/elevation.svg", server=0),
        "drag": lambda: person.step(1100 + person.draw.randrange(200), server=0),
        "weigh": lambda: person.weigh(1100 + person.draw.randrange(200), server=0),
    }  # fmt: skip
    for kind, call in kinds.items():
        for half in range(2):
            before = server.processor()
            for _ in range(times):
                call()
                time.sleep(
                    0.07 if kind in ("edit", "drag", "weigh") else 0
                )  # within the pace that one person is given
            if half:
                out[kind] = (server.processor() - before) * 1000 / times
    return out


def disk(url: str, edits: int) -> float:
    """Bytes that the database grows by with an edit, from what its rows hold."""
    from sqlalchemy import func, select

    from wallwright.studio.schema import MOMENT, TEXT
    from wallwright.studio.store import Store

    store = Store(url)
    with store.read() as db:
        texts = db.execute(select(func.sum(func.length(TEXT.c.text)))).scalar_one()
        moments = db.execute(select(func.count()).select_from(MOMENT)).scalar_one()
    store.close()
    return (int(texts) + 300 * int(moments)) / max(1, int(moments))


def main() -> None:
    """Print what came of it; 1 where an answer was the program's fault."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(3))  # the servers and the database end with it
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else SECONDS
    people = int(sys.argv[2]) if len(sys.argv) > 2 else PEOPLE
    with ExitStack() as stack:
        url, kind = database(stack)
        who = prepared(url, people + 1)
        servers = [started(url) for _ in range(SERVERS)]
        for one in servers:
            stack.callback(one.process.wait)
            stack.callback(one.process.kill)
        empty = statistics.mean(one.memory() for one in servers)
        told = Told()
        crowd = [Person(i, *who[i], servers, told) for i in range(people)]
        end = time.monotonic() + seconds
        busy = sum(one.processor() for one in servers)
        threads = [threading.Thread(target=one.live, args=(end,), daemon=True) for one in crowd]
        for thread in threads:
            thread.start()
            time.sleep(min(0.02, seconds / people / 4))
        for thread in threads:
            thread.join()
        took = time.monotonic() - end + seconds
        busy = sum(one.processor() for one in servers) - busy
        filled = statistics.mean(one.memory() for one in servers)
        calls = sum(len(times) for times in told.took.values())
        faults = sum(count for name, count in told.other.items() if name.split()[-1] != "409")
        single = alone(Person(9999, *who[people], servers, Told()), servers[0])
        grows = disk(url, 0)
        _tell(people, kind, took, calls, faults, told, busy, empty, filled, single, grows)
    sys.exit(1 if faults else 0)


def _tell(  # noqa: PLR0913
    people: int, kind: str, took: float, calls: int, faults: int, told: Told, busy: float, empty: float, filled: float,
    single: dict[str, float], grows: float,
) -> None:  # fmt: skip
    stale = sum(count for name, count in told.other.items() if name.endswith("409"))
    print(
        f"{people} people, {SERVERS} servers, {kind}: {calls} calls in {took:.0f} s ({calls / took:.1f} a second), {faults} failed, "
        f"{stale} edits met another's of the same thing"
    )
    if faults:
        print(f"  {dict(told.other)}")
    for name, times in told.took.items():
        if len(times) > 20:
            p = statistics.quantiles(times, n=100)
            print(
                f"  {name:<5} {len(times):>6} calls   p50 {p[49]:7.0f} ms   p95 {p[94]:7.0f} ms   p99 {p[98]:7.0f} ms"
            )
            keep(f"{people} people at once: {name}, p95", p[94], "ms", budget=P95[name], group="studio",
                 limit=f"{single['state' if name == 'look' else name]:.0f} ms of processor time of the server alone",
                 peer="", p50=round(p[49]), p99=round(p[98]), calls=len(times))  # fmt: skip
    print(
        f"  servers' processor time {busy:.1f} s = {busy / took / SERVERS:.0%} of a processor each; {busy / calls * 1000:.1f} ms a call"
    )
    print(f"  memory of a server: {empty:.0f} MB at its start, {filled:.0f} MB with {JOBS} jobs open")
    print(
        "  alone, processor time of the server: "
        + ", ".join(f"{name} {ms:.1f} ms" for name, ms in single.items())
    )
    print(f"  the database grows by {grows / 1000:.1f} kB an edit")
    keep(f"{people} people at once: calls that failed", faults, "calls", budget=0, group="studio", limit="0", database=kind,
         calls=calls, seconds=round(took, 1), stale=stale, busy=round(busy, 1), each=round(busy / calls * 1000, 2),
         empty=round(empty), filled=round(filled), jobs=JOBS, people=people, servers=SERVERS, single=single, grows=round(grows))  # fmt: skip
    keep("an edit, processor time of the server", single["edit"], "ms", budget=60, group="studio",
         limit="derive + all rules, and one write that is on the disk")  # fmt: skip


if __name__ == "__main__":
    main()
