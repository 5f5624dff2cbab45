"""What the program saves, each as a scene: how it is set up, done, and looked at after the process was killed or refused in the midst of it.

Every look opens what lies there as the next start would, and says "old" or "new"; whatever is neither fails in it.
"""

from __future__ import annotations

import errno
import random
import shutil
import sqlite3
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))
try:
    import syscalls
    from syscalls import Call, Traced
finally:
    sys.path.pop(0)

from wallwright.export.files import write_atomic
from wallwright.export.package import MANIFEST, _bring_in
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.studio import accounts, backup, history, studies
from wallwright.studio.schema import AUDIT, TABLES
from wallwright.studio.session import Session, enter_file, open_file
from wallwright.studio.store import NAME, Store

OLD, NEW, AGAIN = "the title before", "the title after", "with room again"
DATABASE, BACKUP = "studio.db", "studio.backup"


def retitle(title: str) -> list[Any]:
    return [("set_title", {"title": title})]


@dataclass(frozen=True)
class Scene:
    """One kind of saving. All are handed the folder of their run, a copy of what `begin` made.

    prepare : in the child, before · work : what is stopped, in the child · then : in the child where it was refused, with the disk well again
    look : in this process, once the child is gone; told whether the work had been acknowledged
    """

    name: str
    begin: Callable[[Path], None]
    prepare: Callable[[Path], Any]
    work: Callable[[Any], Any]
    look: Callable[[Path], str]
    then: Callable[[Any], Any] = lambda _: None


def litter(folder: Path) -> list[str]:
    """What is half written, or was to be put away."""
    return [
        path.name
        for path in folder.rglob("*")
        if path.name.endswith((".part", ".new", ".old")) or path.name.startswith(".backup-")
    ]


def sound(database: Path) -> None:
    """SQLite's own look at a database, every page and every row that refers to another."""
    with closing(sqlite3.connect(database)) as db:
        assert db.execute("pragma integrity_check").fetchall() == [("ok",)]
        assert db.execute("pragma foreign_key_check").fetchall() == []


# --- a file -----------------------------------------------------------------------------------------------------------


def _file_begun(folder: Path) -> None:
    (folder / "job.toml").write_bytes(b"old" * 5000)


def _file_looked(folder: Path) -> str:
    return {b"old" * 5000: "old", b"new" * 9000: "new"}[(folder / "job.toml").read_bytes()]


# --- a step: the database and the job file ----------------------------------------------------------------------------


def _step_begun(folder: Path) -> None:
    (folder / "job.toml").write_text(demo_jobs()["bedroom"], encoding="utf-8")
    session = open_file(folder / "job.toml")
    session.edit(retitle(OLD), 0)
    session.store.close()


def _step_made(session: Session) -> None:
    session.edit(retitle(NEW), session.view().position)


def _told(session: Session) -> list[str]:
    with session.store.read() as db:
        return [one.says for one in history.moments(db, session.job, 10**6)]


def _step_looked(folder: Path) -> str:
    """The file holds a job, the page shows that job, the history tells the same, and goes on from there."""
    sound(folder / NAME)
    kept = read_job((folder / "job.toml").read_bytes())
    session = open_file(folder / "job.toml")
    view = session.view()
    title = view.wall.job.title
    assert kept == view.wall.job and title in (OLD, NEW) and not view.trouble
    told = [says for says in _told(session) if AGAIN not in says]
    assert OLD in told[-2] and len(told) == 2 + (title == NEW), (
        told
    )  # the step before is there whatever happens
    assert session.undo(view.position).wall.job.title != title
    session.store.close()
    return "old" if title == OLD else "new"


def _step_again(session: Session) -> Any:
    """After a refusal, in the same process: nothing of it was kept, or it stands as a change made in the file; and one can go on."""
    shown = session.view()
    told = _told(session)
    assert shown.wall.job == read_job((session.file or Path()).read_bytes())
    title = shown.wall.job.title
    again = session.edit(retitle(AGAIN), shown.position)
    assert again.wall.job.title == AGAIN == read_job((session.file or Path()).read_bytes()).title
    session.undo(again.position)
    assert session.view().wall.job.title == title
    return {
        "title": title,
        "steps": len(told),
        "from_file": shown.from_file,
        "litter": litter((session.file or Path()).parent),
    }


# --- a commit of the hosted studio, and the end of its server -----------------------------------------------------------


def _hosted(folder: Path) -> tuple[Store, str]:
    store = Store(f"sqlite:///{folder.absolute()}/{DATABASE}")
    with store.read() as db:
        return store, str(db.exec_driver_sql("select id from job").scalar_one())


def _commit_begun(folder: Path) -> None:
    store = Store(f"sqlite:///{folder.absolute()}/{DATABASE}")
    with store.write() as db:
        job = history.begin(db, demo_jobs()["bedroom"], "Olga")
        accounts.note(db, "Olga", "made a wall", job=job)
    Session(store, job).edit(retitle(OLD), 0)
    store.close()


def _commit_prepared(folder: Path) -> tuple[Session, int]:
    store, job = _hosted(folder)
    session = Session(store, job)
    return session, session.view().position


def _commit_made(given: tuple[Session, int]) -> None:
    session, position = given
    session.edit(retitle(NEW), position, also=lambda db: accounts.note(db, "Olga", NEW, job=session.job))
    syscalls.acknowledge()
    session.store.close()  # what the log holds is brought into the database, and the log taken away


def _commit_looked(folder: Path) -> str:
    sound(folder / DATABASE)
    store, job = _hosted(folder)
    with store.read() as db:
        at = history.standing(db, job)
        moves = db.exec_driver_sql('select count(*) from "move"').scalar_one()
        noted = NEW in [row.what for row in db.execute(AUDIT.select())]
    store.close()
    title = read_job(at.text).title
    assert title in (OLD, NEW) and noted == (title == NEW) and moves == at.position + 1
    return "old" if title == OLD else "new"


# --- a study's answer ----------------------------------------------------------------------------------------------------

ANSWER = {"a.bin": bytes(range(256)) * 700, "b.bin": b"b" * 9000}


def _answer_kept(store: Store) -> None:
    studies.keep(store, "k" * 64, {"a": 1.5}, ANSWER)


def _answer_looked(folder: Path) -> str:
    sound(folder / DATABASE)
    store, _ = _hosted(folder)
    kept = studies.kept(store, "k" * 64)
    with store.read() as db:
        files = {name: studies.file_of(db, "k" * 64, name) for name in studies.files_of(db, "k" * 64)}
    store.close()
    assert (kept, files) in ((None, {}), ({"a": 1.5}, ANSWER))
    return "new" if kept else "old"


# --- a database that is opened for the first time -------------------------------------------------------------------------


def _tables_looked(folder: Path) -> str:
    """All of them or none; and where none are, the next opening makes them."""
    with closing(sqlite3.connect(folder / DATABASE)) as db:
        made = {row[0] for row in db.execute("select name from sqlite_master where type = 'table'")}
    assert made in (set(), {*TABLES.tables, "alembic_version"}), made
    store = Store(f"sqlite:///{folder.absolute()}/{DATABASE}")
    with store.write() as db:
        history.begin(db, demo_jobs()["bedroom"], "Olga")
    store.close()
    sound(folder / DATABASE)
    return "new" if made else "old"


# --- a backup, and back ------------------------------------------------------------------------------------------------


def _backup_looked(folder: Path) -> str:
    assert _commit_looked(folder) == "old"
    if not (folder / BACKUP).exists():
        return "old"
    assert {one.table: one.rows for one in backup.verify(folder / BACKUP)}["moment"] == 2
    return "new"


def _restore_begun(folder: Path) -> None:
    """A folder of job files with a backup of another state beside it."""
    walls = folder / "walls"
    walls.mkdir()
    (walls / "job.toml").write_text(demo_jobs()["bedroom"], encoding="utf-8")
    (walls / "second.toml").write_text(demo_jobs()["living"], encoding="utf-8")
    session = open_file(walls / "job.toml")
    enter_file(session.store, "second.toml", demo_jobs()["living"])
    session.edit(retitle(NEW), 0)
    backup.back_up(str(walls), folder / BACKUP)
    session.store.close()
    for path in walls.iterdir():
        path.unlink()
    _step_begun(walls)


def _restored(folder: Path) -> None:
    backup.restore(folder / BACKUP, str(folder / "walls"), replace=True)


def _restore_looked(folder: Path) -> str:
    """The one history or the other; no job file touched or half; and the restore can be done again."""
    walls = folder / "walls"
    sound(walls / NAME)
    second = walls / "second.toml"
    assert not second.exists() or second.read_text(encoding="utf-8") == demo_jobs()["living"]
    assert read_job((walls / "job.toml").read_bytes()).title == OLD  # files that are there stay
    store = Store(f"sqlite:///{(walls / NAME).absolute()}")
    with store.read() as db:
        names = sorted(row[0] for row in db.exec_driver_sql("select file from job"))
        titles = {
            read_job(history.standing(db, row[0]).text).title
            for row in db.exec_driver_sql("select id from job where file = 'job.toml'")
        }
    store.close()
    assert (names, titles) in ((["job.toml"], {OLD}), (["job.toml", "second.toml"], {NEW}))
    _restored(folder)
    assert second.read_text(encoding="utf-8") == demo_jobs()["living"]
    return "old" if titles == {OLD} else "new"


# --- an issue set --------------------------------------------------------------------------------------------------------


def issue_set(of: str) -> dict[str, bytes]:
    """A small one of ours."""
    names = ("a.pdf", "b.csv", "c.dxf")
    listed = ",".join(f'{{"name": "{name}"}}' for name in names)
    manifest = f'{{"wallwright-issue": 1, "files": [{listed}], "of": "{of}"}}'
    return {**{name: (of * 3000).encode() for name in names}, MANIFEST: manifest.encode()}


def _set_looked(folder: Path) -> str:
    held = {path.name: path.read_bytes() for path in (folder / "set").iterdir()}
    return {True: "old", False: "new"}[[issue_set("old"), issue_set("new")].index(held) == 0]


SCENES = {
    scene.name: scene
    for scene in (
        Scene(
            "a job file", _file_begun, lambda folder: folder / "job.toml", lambda path: write_atomic(path, b"new" * 9000), _file_looked
        ),
        Scene(
            "a step", _step_begun, lambda folder: open_file(folder / "job.toml"), _step_made, _step_looked, _step_again
        ),
        Scene("a commit", _commit_begun, _commit_prepared, _commit_made, _commit_looked),
        Scene("an answer", _commit_begun, lambda folder: _hosted(folder)[0], _answer_kept, _answer_looked),
        Scene(
            "the tables",
            lambda folder: None,
            lambda folder: f"sqlite:///{folder.absolute()}/{DATABASE}",
            lambda url: Store(url).close(),
            _tables_looked,
        ),
        Scene(
            "a backup",
            _commit_begun,
            lambda folder: folder,
            lambda folder: backup.back_up(f"sqlite:///{folder.absolute()}/{DATABASE}", folder / BACKUP),
            _backup_looked,
        ),
        Scene("a restore", _restore_begun, lambda folder: folder, _restored, _restore_looked),
        Scene(
            "an issue set",
            lambda folder: _bring_in(folder / "set", issue_set("old")),
            lambda folder: folder,
            lambda folder: _bring_in(folder / "set", issue_set("new")),
            _set_looked,
        ),
    )
}  # fmt: skip


@dataclass(frozen=True)
class Run:
    """One run of a scene: what was done to it, at which call, and what it left."""

    what: str
    call: Call
    traced: Traced
    left: str


def runs(
    scene: Scene, scratch: Path, ways: Mapping[str, int], pick: Pick = lambda _way, calls, _most: calls
) -> Iterator[Run]:
    """The scene once whole, then stopped in each of these ways at each of its calls (or those that are picked).

    ways : what is done, and at how many calls: "kill"; "tear" = when half of what it writes is written; "28 once" = an errno, "28 on" = from
    then on
    """
    begun = scratch / "begun"
    begun.mkdir()
    scene.begin(begun)
    number = 0

    def one(decide: syscalls.Decision) -> tuple[Traced, Path]:
        nonlocal number
        number += 1
        folder = Path(shutil.copytree(begun, scratch / f"run{number}", symlinks=True))
        return syscalls.traced(scene.work, decide, lambda: scene.prepare(folder), scene.then), folder

    scene.work(
        scene.prepare(Path(shutil.copytree(begun, scratch / "loaded")))
    )  # what is loaded but once is by now, here and in every child
    whole, folder = one(lambda _: "")
    assert whole.error is None and whole.told and scene.look(folder) == "new", whole
    calls = list(whole.calls)
    for way, most in ways.items():
        stopping = [one_call for one_call in calls if _stops(way, one_call)]
        for picked in pick(way, stopping, most):
            for call in reversed([one_call for one_call in stopping if one_call.at <= picked.at]):
                found, folder = one(_at(way, call))
                left = scene.look(folder)
                shutil.rmtree(folder)
                if len(found.calls) >= call.at:
                    assert found.killed == (way in ("kill", "tear")), (way, call, found)
                    yield Run(way, call, found, left)
                    break
                # it came to its end with fewer: SQLite's pages fall a little otherwise each time, so the call before it is tried
                assert not found.killed and left == "new"


def _stops(way: str, call: Call) -> bool:
    return (
        True
        if way == "kill"
        else call.number in syscalls.WRITES
        if way == "tear"
        else bool(_refuses(int(way.split()[0]), call))
    )


def _refuses(number: int, call: Call) -> bool:
    return call.refusable == "room" or (call.refusable == "disk" and number != errno.ENOSPC)


def _at(way: str, call: Call) -> syscalls.Decision:
    if way in ("kill", "tear"):
        return lambda now: way if now.at == call.at else ""
    number, on = int(way.split()[0]), way.endswith("on")
    return lambda now: (
        number if _refuses(number, now) and (now.at == call.at or (on and now.at > call.at)) else ""
    )


Pick = Callable[[str, list[Call], int], list[Call]]


def sampled(seed: int) -> Pick:
    """So many of the calls: the first and the last, of each kind that changes a disk the last, and others by a seed."""

    def pick(way: str, calls: list[Call], most: int) -> list[Call]:
        if len(calls) <= most:
            return calls
        draw = random.Random(f"{seed} {way}")
        last = {call.number: call for call in calls if call.number in syscalls.NAMES}
        chosen = {calls[-1], *(calls[:1] if most > 1 else ())}
        for some in (list(last.values()), calls):
            rest = [call for call in some if call not in chosen]
            chosen |= set(draw.sample(rest, min(most - len(chosen), len(rest))))
        return sorted(chosen, key=lambda call: call.at)

    return pick


def wrong(run: Run) -> str:
    """What is wrong with a run; empty where all is well: what was told is there, what was refused in words is not, and nothing else is told."""
    traced = run.traced
    if traced.told and run.left != "new":
        return "acknowledged, and gone"
    if traced.error is None:
        return ""
    kind, says = traced.error["kind"], traced.error["says"]
    if kind not in ("JobError", "OSError", "PermissionError") or len(says) < 10:
        return f"not refused in words: {kind}: {says}"
    again = traced.after or {"litter": [], "title": OLD}
    full = run.what.startswith(
        f"{errno.ENOSPC} "
    )  # a disk that fails for good takes nothing back either, nor away
    if full and "look whether it was kept" not in says and (run.left != "old" or again["title"] != OLD):
        return f"refused, and there: {says}"
    if full and again["litter"]:
        return f"left behind: {again['litter']}"
    if again["title"] != OLD and "was saved with the change" not in says:
        return f"the file was changed, and nobody told: {says}"
    return ""
