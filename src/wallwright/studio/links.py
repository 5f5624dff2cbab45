"""Links for people without an account: a client sees, comments and approves; a trade reads, ticks and enters what it found.

A link's token (256 bits) is shown once and kept as its hash. It opens one job, for one role, until it ends or is revoked.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from sqlalchemy import Connection, select, update
from sqlalchemy.dialects import postgresql, sqlite

from wallwright.sheets.roles import Role
from wallwright.studio.schema import APPROVAL, COMMENT, LINK, TICK
from wallwright.studio.store import Store, after, new_id, now, sha256

LONGEST_DAYS = 365
MOST_SAID = 500
"""Comments that one link may leave."""


@dataclass(frozen=True, slots=True)
class Link:
    """A link that was given out."""

    id: str
    job: str
    kind: str
    role: Role
    label: str
    price: bool
    who: str
    made: float
    ends: float
    revoked: float | None

    @property
    def holds(self) -> bool:
        """Whether it still opens anything."""
        return self.revoked is None and self.ends > now()


_COLUMNS = (
    LINK.c.id, LINK.c.job, LINK.c.kind, LINK.c.role, LINK.c.label, LINK.c.price, LINK.c.who, LINK.c.made, LINK.c.ends,
    LINK.c.revoked,
)  # fmt: skip


def give(
    db: Connection, job: str, role: Role, label: str, days: float, price: bool, who: str
) -> tuple[Link, str]:
    """A new link, and its token, which is never to be seen again."""
    token, at = secrets.token_urlsafe(32), now()
    kind = "client" if role == "client" else "trade"
    link = Link(new_id(), job, kind, role, label, price, who, at, at + days * 86400, None)
    values = {column.name: getattr(link, column.name) for column in _COLUMNS}
    db.execute(LINK.insert().values(**values, token=sha256(token)))
    return link, token


def of_token(db: Connection, token: str) -> Link | None:
    """The link of a token; None where there is none, or it has ended or was revoked."""
    row = db.execute(select(*_COLUMNS).where(LINK.c.token == sha256(token))).first()
    link = Link(*row) if row else None
    return link if link and link.holds else None


def of_job(db: Connection, job: str) -> list[Link]:
    """All links of a job, newest first."""
    rows = db.execute(select(*_COLUMNS).where(LINK.c.job == job).order_by(LINK.c.made.desc()))
    return [Link(*row) for row in rows]


def revoke(db: Connection, job: str, link: str) -> None:
    """From now on it opens nothing. LookupError where the job has no such link."""
    here = (LINK.c.id == link, LINK.c.job == job)
    if db.execute(update(LINK).where(*here).values(revoked=now())).rowcount != 1:
        raise LookupError(link)


def comment(
    db: Connection, job: str, link: str | None, name: str, text: str, revision: str, position: int
) -> None:
    """Something said of the wall as it stands."""
    row = {
        "id": new_id(),
        "job": job,
        "link": link,
        "name": name,
        "text": text,
        "revision": revision,
        "at": after(db, COMMENT.c.at, COMMENT.c.job == job),
    }
    db.execute(COMMENT.insert().values(**row, position=position))


def said_by(db: Connection, link: str) -> int:
    """How many comments a link has left."""
    return len(db.execute(select(COMMENT.c.id).where(COMMENT.c.link == link).limit(MOST_SAID)).all())


def comments(db: Connection, job: str) -> list[Any]:
    """All that was said of a job, oldest first."""
    return list(db.execute(select(COMMENT).where(COMMENT.c.job == job).order_by(COMMENT.c.at).limit(2000)))


def approve(db: Connection, link: Link, name: str, revision: str, position: int, sha: str) -> None:
    """What was seen is agreed to: by whom, when, which revision, and the hash of what was seen."""
    row = {
        "id": new_id(),
        "job": link.job,
        "link": link.id,
        "name": name,
        "revision": revision,
        "position": position,
    }
    at = after(db, APPROVAL.c.at, APPROVAL.c.job == link.job)
    db.execute(APPROVAL.insert().values(**row, sha=sha, at=at))


def approvals(db: Connection, job: str) -> list[Any]:
    """All approvals of a job with whether their link shows the price, newest first."""
    asked = select(APPROVAL, LINK.c.price).join(LINK, LINK.c.id == APPROVAL.c.link)
    return list(db.execute(asked.where(APPROVAL.c.job == job).order_by(APPROVAL.c.at.desc()).limit(500)))


def tick(  # noqa: PLR0913
    store: Store, link: Link, check: str, *, done: bool, found: Mapping[str, float], name: str, revision: str
) -> None:
    """What a trade says of a check; the newest word stands."""
    make: Any = postgresql.insert if store.postgres else sqlite.insert
    row = {"done": done, "found": json.dumps(dict(found)), "name": name, "revision": revision, "at": now()}
    with store.write() as db:
        one = make(TICK).values(job=link.job, role=link.role, check=check, **row)
        db.execute(one.on_conflict_do_update(index_elements=["job", "role", "check"], set_=row))


def ticks(db: Connection, job: str, role: str | None = None) -> dict[tuple[str, str], Any]:
    """What was said of the checks, by role and check."""
    asked = select(TICK).where(TICK.c.job == job)
    rows = db.execute(asked.where(TICK.c.role == role) if role else asked)
    return {(row.role, row.check): row for row in rows}


def found_of(row: Any) -> dict[str, float]:
    """The as-found values of a tick."""
    return cast("dict[str, float]", json.loads(row.found)) if row else {}
