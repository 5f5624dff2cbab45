"""The tables of the studio's database. A job's texts are kept by their SHA-256, so undo, approvals and studies share them.

Times are seconds since 1970 (UTC). Secrets (passwords, tokens) stand here only as hashes.
"""

from __future__ import annotations

from sqlalchemy import (
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)

NAMES = {
    "ix": "ix_%(column_0_label)s",
    "uq": "uq_%(table_name)s_%(column_0_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "pk": "pk_%(table_name)s",
}
TABLES = MetaData(naming_convention=NAMES)
ID, SHA = String(32), String(64)


def _job(*, key: bool = False) -> Column[str]:
    return Column("job", ID, ForeignKey("job.id"), primary_key=key, nullable=False, index=not key)


TEXT = Table(
    "text", TABLES,
    Column("sha", SHA, primary_key=True),
    Column("text", Text, nullable=False),
)  # fmt: skip
"""The text of a job file, by its SHA-256."""

JOB = Table(
    "job", TABLES,
    Column("id", ID, primary_key=True),
    Column("file", Text, unique=True),  # its path below the folder that is served; none in the hosted studio
    Column("head", Integer, nullable=False),  # the moment at which it stands
    Column("position", Integer, nullable=False),  # grows by one with every move, undo among them
    Column("archived", Boolean, nullable=False),
    Column("made", Float, nullable=False),
    Column("changed", Float, nullable=False),
)  # fmt: skip

MOMENT = Table(
    "moment", TABLES,
    _job(key=True),
    Column("number", Integer, primary_key=True),
    Column("back", Integer),  # the moment that undo leads to
    Column("forward", Integer),  # the moment that redo leads to
    Column("says", Text, nullable=False),
    Column("name", String(80)),  # given by a person
    Column("sha", SHA, ForeignKey("text.sha"), nullable=False),
    Column("who", String(80), nullable=False),
    Column("at", Float, nullable=False),
)  # fmt: skip
"""Every state a job was brought to by an edit. None is ever taken away."""

MOVE = Table(
    "move", TABLES,
    _job(key=True),
    Column("position", Integer, primary_key=True),
    Column("moment", Integer, nullable=False),
    Column("what", String(8), nullable=False),  # start, edit, file, undo, redo, return
    Column("who", String(80), nullable=False),
    Column("at", Float, nullable=False),
)  # fmt: skip
"""Every step from moment to moment, by the position it led to."""

PERSON = Table(
    "person", TABLES,
    Column("id", ID, primary_key=True),
    Column("name", String(64), nullable=False, unique=True),
    Column("role", String(16), nullable=False),
    Column("secret", Text, nullable=False),
    Column("active", Boolean, nullable=False),
    Column("made", Float, nullable=False),
)  # fmt: skip

SIGN_IN = Table(
    "sign_in", TABLES,
    Column("token", SHA, primary_key=True),
    Column("person", ID, ForeignKey("person.id"), nullable=False, index=True),
    Column("seen", Float, nullable=False),
    Column("ends", Float, nullable=False),
)  # fmt: skip

AUDIT = Table(
    "audit", TABLES,
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("at", Float, nullable=False, index=True),
    Column("who", String(80), nullable=False),
    Column("what", String(40), nullable=False),
    Column("job", ID),
    Column("detail", Text, nullable=False),
    Column("address", String(64), nullable=False),
)  # fmt: skip

LINK = Table(
    "link", TABLES,
    Column("id", ID, primary_key=True),
    _job(),
    Column("token", SHA, nullable=False, unique=True),
    Column("kind", String(8), nullable=False),  # client, trade
    Column("role", String(16), nullable=False),
    Column("label", String(80), nullable=False),
    Column("price", Boolean, nullable=False),
    Column("who", String(80), nullable=False),
    Column("made", Float, nullable=False),
    Column("ends", Float, nullable=False),
    Column("revoked", Float),
)  # fmt: skip

COMMENT = Table(
    "comment", TABLES,
    Column("id", ID, primary_key=True),
    _job(),
    Column("link", ID, ForeignKey("link.id")),
    Column("name", String(80), nullable=False),
    Column("text", Text, nullable=False),
    Column("revision", String(2), nullable=False),
    Column("position", Integer, nullable=False),
    Column("at", Float, nullable=False),
)  # fmt: skip

APPROVAL = Table(
    "approval", TABLES,
    Column("id", ID, primary_key=True),
    _job(),
    Column("link", ID, ForeignKey("link.id"), nullable=False),
    Column("name", String(80), nullable=False),
    Column("revision", String(2), nullable=False),
    Column("position", Integer, nullable=False),
    Column("sha", SHA, nullable=False),  # of what was seen
    Column("at", Float, nullable=False),
)  # fmt: skip

TICK = Table(
    "tick", TABLES,
    _job(key=True),
    Column("role", String(16), primary_key=True),
    Column("check", String(80), primary_key=True),
    Column("done", Boolean, nullable=False),
    Column("found", Text, nullable=False),  # as-found values as JSON: name to mm
    Column("name", String(80), nullable=False),
    Column("revision", String(2), nullable=False),
    Column("at", Float, nullable=False),
)  # fmt: skip
"""What a trade said of a check, the newest word; `found` holds what was measured on site."""

READING = Table(
    "reading", TABLES,
    _job(key=True),
    Column("id", String(64), primary_key=True),  # the phone's own, so that sending twice counts once
    Column("field", Text, nullable=False),  # what of the survey it sets: the later of two of one field stands
    Column("taken", Float, nullable=False),
    Column("state", String(8), nullable=False),  # made, older, refused
    Column("says", Text, nullable=False),
    Column("who", String(80), nullable=False),
    Column("at", Float, nullable=False),
)  # fmt: skip

STUDY = Table(
    "study", TABLES,
    Column("id", ID, primary_key=True),
    _job(),
    Column("kind", String(16), nullable=False),
    Column("question", Text, nullable=False),  # JSON
    Column("key", SHA, nullable=False, index=True),  # of the job and the question
    Column("sha", SHA, ForeignKey("text.sha"), nullable=False),
    Column("folder", Text, nullable=False),  # where an issue set also goes, in local mode
    Column("state", String(9), nullable=False),  # queued, running, done, failed, cancelled
    Column("share", Float, nullable=False),
    Column("what", Text, nullable=False),
    Column("error", Text, nullable=False),
    Column("worker", String(32)),
    Column("lease", Float, nullable=False),
    Column("tries", Integer, nullable=False),
    Column("who", String(80), nullable=False),
    Column("made", Float, nullable=False),
    Index("ix_study_state", "state", "made"),
)  # fmt: skip

ANSWER = Table(
    "answer", TABLES,
    Column("key", SHA, primary_key=True),
    Column("data", Text, nullable=False),  # JSON
    Column("made", Float, nullable=False),
)  # fmt: skip
"""What a study found, by the value of its question."""

ANSWER_FILE = Table(
    "answer_file", TABLES,
    Column("key", SHA, ForeignKey("answer.key"), primary_key=True),
    Column("name", String(80), primary_key=True),
    Column("data", LargeBinary, nullable=False),
)  # fmt: skip

PACE = Table(
    "pace", TABLES,
    Column("who", SHA, primary_key=True),  # the hash of whose tries are counted
    Column("left", Float, nullable=False),
    Column("since", Float, nullable=False),
)  # fmt: skip
"""Tries at a password, for all servers together."""
