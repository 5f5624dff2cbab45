"""Invented briefs to propose walls for: a job as text, from a wall, seats, boxes and things."""

from __future__ import annotations

from dataclasses import replace

from wallwright.job.demos import demo_jobs
from wallwright.job.design import Design
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.options.hunt import Search
from wallwright.options.propose import Given, Options, propose

HEAD = """wallwright-job = 1
title = "Invented"
[survey]
date = "2026-02-16"
finish_complete = true
[survey.room]
kind = "{kind}"
depth = {depth}
floor_finished = true
[survey.wall]
widths = [{{ at = 1000, value = {{ value = {width}, state = "verified" }} }}]
heights = [{{ at = 1400, value = {{ value = {height}, state = "verified" }} }}]
substrate = "{substrate}"
leaf = {leaf}
damp = "dry"
"""
SOFA = """[[survey.seats]]
ref = "A"
kind = "sofa"
x = {x}
distance = {distance}
eye_height = {eye}
"""


def head(width: float = 4000, height: float = 2700, **other: object) -> str:
    """The wall: brick, in a living room, unless it is said."""
    return HEAD.format(
        width=width, height=height, **({"kind": "living", "depth": 4500, "substrate": "brick", "leaf": 230} | other)
    )  # fmt: skip


def sofa(distance: float, x: float = 2000, eye: float = 1080) -> str:
    """A sofa before the wall."""
    return SOFA.format(x=x, distance=distance, eye=eye)


def brief(*, budget: float = 0, style: tuple[str, ...] = (), extra: str = "") -> str:
    """The brief's own table; extra : more lines of it."""
    style_line = f"style = [{', '.join(repr(word) for word in style)}]\n".replace("'", '"') if style else ""
    money = f"[brief.budget]\namount = {budget}\n" if budget else ""
    return f"[brief]\n{style_line}{extra}{money}"


def boxes(*kinds: str) -> str:
    """Boxes by kind."""
    return "".join(f'[[brief.devices]]\nref = "d{k}"\nkind = "{kind}"\n' for k, kind in enumerate(kinds))


def things(**counts: int) -> str:
    """Things to keep by kind."""
    return "".join(f'[[brief.things]]\nkind = "{kind}"\ncount = {count}\n' for kind, count in counts.items())


def obstacle(
    ref: str, kind: str, box: tuple[float, float, float, float], projection: float = 0, extra: str = ""
) -> str:
    """Something on the wall: (x, z, width, height)."""
    x, z, width, height = box
    return (
        f'[[survey.obstacles]]\nref = "{ref}"\nkind = "{kind}"\nx = {x}\nz = {z}\nwidth = {width}\nheight = {height}\n'
        f"projection = {projection}\n{extra}"
    )


def plain_brief(budget: float = 2500, distance: float = 3000, style: tuple[str, ...] = ()) -> Job:
    """A usual wall: two boxes, some books."""
    return read_job(
        head() + sofa(distance) + brief(budget=budget, style=style) + boxes("set_top_box", "router") + things(paperback=60)
    )  # fmt: skip


def demo_brief(name: str = "living") -> Job:
    """The survey and the brief of a demo wall, its design empty."""
    return replace(read_job(demo_jobs()[name]), design=Design())


_FOUND: dict[str, Options] = {}


def proposed(job: Job, n: int = 3, design: Given = "both") -> Options:
    """What is proposed for a job, worked out once: what is found depends on these three alone, and nothing in it can be changed."""
    key = repr((job, n, design))
    if key not in _FOUND:
        _FOUND[key] = propose(job, n, design=design)
    return _FOUND[key]


_SEARCHED: dict[str, Search] = {}


def searched_through(job: Job) -> Search:
    """The whole search for a job, run once; who asks only reads what it found."""
    key = repr(job)
    if key not in _SEARCHED:
        _SEARCHED[key] = Search(job)
        _SEARCHED[key].run()
    return _SEARCHED[key]
