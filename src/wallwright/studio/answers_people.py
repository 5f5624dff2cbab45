"""What is said about people: who is here, signing in, accounts, the audit log."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, Field

from wallwright.studio.answers_base import Line, Strict

Role = Literal["owner", "designer", "reader"]
Password = Annotated[str, Field(min_length=12, max_length=200)]


class Here(BaseModel):
    """What the page must know before anything else.

    first : the job to open at once; empty = show the list · csrf : to be sent as X-CSRF-Token with every change
    """

    mode: Literal["local", "hosted"]
    name: str
    role: Role | None
    csrf: str
    first: str


class SignIn(Strict):
    """Name and password."""

    name: Line
    password: Annotated[str, Field(min_length=1, max_length=200)]


class NewPerson(Strict):
    """An account to be made."""

    name: Annotated[Line, Field(max_length=64)]
    password: Password
    role: Role


class PersonChange(Strict):
    """What is to be different about an account; a new password or an account closed ends its sessions."""

    role: Role | None = None
    active: bool | None = None
    password: Password | None = None


class NewPassword(Strict):
    """One's own password changed; all other sessions of the account end."""

    old: Annotated[str, Field(min_length=1, max_length=200)]
    new: Password


class PersonOut(BaseModel):
    """An account."""

    id: str
    name: str
    role: Role
    active: bool
    made: float


class People(BaseModel):
    """All accounts."""

    people: list[PersonOut]


class AuditLine(BaseModel):
    """One line of the audit log. at : seconds since 1970."""

    id: int
    at: float
    who: str
    what: str
    job: str
    detail: str
    address: str


class Audit(BaseModel):
    """Newest first."""

    lines: list[AuditLine]
