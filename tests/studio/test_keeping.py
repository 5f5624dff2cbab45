"""Answers of studies do not stay for ever: what nobody asks for goes by its age, and what has no room by how long nobody asked."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from sqlalchemy import select, update

from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.studio import history, keeping, studies, worker
from wallwright.studio.keeping import DAY, Keeping, clear_away
from wallwright.studio.schema import ANSWER
from wallwright.studio.store import Store, now

WIDE = Keeping(answer_age=90, set_age=3650, answers_size=1000)


@pytest.fixture
def kept(database: str) -> Iterator[tuple[Store, str]]:
    store = Store(database)
    with store.write() as db:
        job = history.begin(db, demo_jobs()["bedroom"], "you")
    yield store, job
    store.close()


def answered(kept: tuple[Store, str], kind: str, number: int, days: float, size: int = 10) -> studies.Study:
    """A study with its answer, last asked for so many days ago."""
    store, job = kept
    question = {"number": number} if kind == "options" else {}
    study = studies.ask(store, job, demo_jobs()["bedroom"], kind, question, "you")
    if study.state == "queued":
        assert studies.claim(store, "w") == study.id
        studies.keep(store, study.key, {"a": number}, {"x.bin": b"x" * size})
        assert studies.finish(store, study.id)
    aged(store, study.key, days)
    return study


def aged(store: Store, key: str, days: float) -> None:
    with store.write() as db:
        db.execute(update(ANSWER).where(ANSWER.c.key == key).values(made=now() - days * DAY))


def there(store: Store) -> set[str]:
    with store.read() as db:
        keys = set(db.execute(select(ANSWER.c.key)).scalars())
        assert all(studies.files_of(db, key) in (["x.bin"], []) for key in keys)
    return keys


def state(kept: tuple[Store, str], study: studies.Study) -> tuple[str, str]:
    with kept[0].read() as db:
        now_it = studies.one(db, kept[1], study.id)
    return now_it.state, now_it.error


def test_what_nobody_asked_for_goes_by_its_age_and_says_so(kept: tuple[Store, str]) -> None:
    old, young = answered(kept, "options", 1, 91), answered(kept, "options", 2, 89)
    issued = answered(kept, "issue", 0, 3649)
    assert clear_away(kept[0], WIDE) == 1
    assert there(kept[0]) == {young.key, issued.key}
    assert state(kept, old) == ("failed", "its answer was cleared away (too long ago); ask again")
    assert state(kept, young) == state(kept, issued) == ("done", "")
    again = answered(kept, "options", 1, 0)  # it is found again by asking
    assert again.id != old.id and again.state == "queued" and state(kept, again)[0] == "done"
    aged(kept[0], issued.key, 3651)
    assert clear_away(kept[0], WIDE) == 1 and state(kept, issued)[0] == "failed"


def test_to_ask_again_makes_an_answer_young(kept: tuple[Store, str]) -> None:
    study = answered(kept, "options", 1, 91)
    asked = studies.ask(kept[0], kept[1], demo_jobs()["bedroom"], "options", {"number": 1}, "you")
    assert asked.state == "done" and asked.id != study.id
    assert clear_away(kept[0], WIDE) == 0
    aged(kept[0], study.key, 91)
    studies.keep(kept[0], study.key, {"a": 2}, {})  # worked out once more, by one who did not look
    assert clear_away(kept[0], WIDE) == 0 and studies.kept(kept[0], study.key) == {"a": 1}


def test_what_has_no_room_goes_the_longest_not_asked_for_first_and_sets_last(kept: tuple[Store, str]) -> None:
    size = 300_000
    issued = answered(kept, "issue", 0, 80, size)
    a, b, c = (answered(kept, "options", number, days, size) for number, days in ((1, 50), (2, 70), (3, 20)))
    fresh = answered(kept, "options", 4, 0, size)
    assert clear_away(kept[0], Keeping(90, 3650, 1.6)) == 0  # 1.5 MB
    assert clear_away(kept[0], Keeping(90, 3650, 1.3)) == 1 and b.key not in there(kept[0])
    assert clear_away(kept[0], Keeping(90, 3650, 0.7)) == 2
    assert there(kept[0]) == {issued.key, fresh.key} and state(kept, a) == state(kept, c)
    assert "for want of room" in state(kept, a)[1]
    assert clear_away(kept[0], Keeping(90, 3650, 0.1)) == 1  # a set too where there is nothing else
    assert there(kept[0]) == {fresh.key}  # asked for within the hour: it stays, and the look comes to its end


def test_more_than_one_transaction_holds(kept: tuple[Store, str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keeping, "AT_ONCE", 3)
    for number in range(8):
        studies.keep(kept[0], f"{number:064}", {}, {"x.bin": b"x" * 100_000})
        aged(kept[0], f"{number:064}", 100 if number < 7 else 1)
    assert clear_away(kept[0], Keeping(99, 3650, 1000)) == 7
    for number in range(7):
        studies.keep(kept[0], f"{number:064}", {}, {"x.bin": b"x" * 100_000})
        aged(kept[0], f"{number:064}", 2 + number)
    assert clear_away(kept[0], Keeping(99, 3650, 0.15)) == 7 and there(kept[0]) == {f"{7:064}"}


def test_a_worker_clears_away(kept: tuple[Store, str], monkeypatch: pytest.MonkeyPatch) -> None:
    class Gone(worker.Server):
        def there(self, seconds: float) -> bool:
            return False

    old, young = answered(kept, "options", 1, 9), answered(kept, "options", 2, 4)
    monkeypatch.setenv("WALLWRIGHT_ANSWER_AGE", "5")
    worker.work_off(kept[0].url, Gone(listens=False))
    assert there(kept[0]) == {young.key} and state(kept, old)[0] == "failed"


def test_a_studio_sets_its_own_limits_within_reason(monkeypatch: pytest.MonkeyPatch) -> None:
    assert keeping.keeping({}) == Keeping(90, 3650, 50_000)
    assert all(row.source and row.certainty for row in keeping.limits().values())
    own = {"WALLWRIGHT_ANSWER_AGE": "30", "WALLWRIGHT_ANSWERS_SIZE": "2e3", "WALLWRIGHT_SET_AGE": " "}
    assert keeping.keeping(own) == Keeping(30, 3650, 2000)
    for said in ("0", "-5", "nan", "for ever", "1e99"):
        with pytest.raises(JobError, match=r"WALLWRIGHT_SET_AGE = .*days from 1 to 36500; without it 3650"):
            keeping.keeping({"WALLWRIGHT_SET_AGE": said})
    monkeypatch.setenv("WALLWRIGHT_ANSWERS_SIZE", "1")  # told where the server begins, not in its worker
    with pytest.raises(JobError, match="MB from 10"):
        worker.Worker("sqlite:///x.db")
