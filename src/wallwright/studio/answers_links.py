"""What is said about links, and to those who come by one."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, Field

from wallwright.sheets.roles import Role
from wallwright.studio.answers_base import Key, Line, Paragraph, Position, Strict, Written


class NewLink(Strict):
    """A link to give out. days : until it ends · price : whether a client sees the total."""

    role: Role
    label: Line
    days: Annotated[float, Field(gt=0, le=365, allow_inf_nan=False)] = 30
    price: Annotated[bool, Field(strict=True)] = False


class LinkOut(BaseModel):
    """A link that was given out. ends, made, revoked : seconds since 1970."""

    id: str
    role: Role
    label: str
    price: bool
    who: str
    made: float
    ends: float
    revoked: float | None
    holds: bool


class GivenLink(BaseModel):
    """The new link; its address is told this once."""

    link: LinkOut
    token: str
    address: str


class CommentOut(BaseModel):
    """Something said of the wall."""

    name: str
    text: str
    revision: str
    at: float


class ApprovalOut(BaseModel):
    """What was seen was agreed to. holds : the wall still shows just that, in the same revision."""

    name: str
    revision: str
    sha256: str
    at: float
    holds: bool


class CheckOut(BaseModel):
    """A line to tick. drawn, found : values by name [mm] · says : how far what was found is from what is drawn."""

    key: str
    role: Role
    title: str
    drawn: dict[str, float]
    done: bool
    found: dict[str, float]
    name: str
    at: float
    revision: str
    says: str


class Links(BaseModel):
    """All that links of a job are and brought in."""

    links: list[LinkOut]
    comments: list[CommentOut]
    approvals: list[ApprovalOut]
    checks: list[CheckOut]


class LinkSheet(BaseModel):
    """A sheet that the link shows, at /api/link/sheet/{name}.svg."""

    name: str
    title: str


class LinkView(BaseModel):
    """What someone with a link sees. sha256 : of all that a client is shown; an approval names it."""

    role: Role
    label: str
    title: str
    room: str
    revision: str
    status: str
    position: int
    ends: float
    svg: str
    price: str
    sha256: str
    sheets: list[LinkSheet]
    comments: list[CommentOut]
    approvals: list[ApprovalOut]
    checks: list[CheckOut]


class Say(Strict):
    """A comment."""

    name: Line
    text: Paragraph


class Approve(Strict):
    """What was seen is agreed to."""

    name: Line
    revision: Annotated[str, Field(pattern=r"^[A-Z0-9]{1,2}$", max_length=2)]
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$", max_length=64)]


class TickIn(Strict):
    """A check done or not, and what was found there: lengths by name, as written."""

    check: Key
    name: Line
    done: Annotated[bool, Field(strict=True)]
    found: Annotated[dict[Key, Written], Field(max_length=8)] = {}


class ReplyIn(Strict):
    """A comment of one's own on the job."""

    position: Position
    text: Paragraph
