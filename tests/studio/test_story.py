"""The whole story in a real browser, at a desk and on a phone: survey, design, options, approval by a link, the issue set.

Pictures of every page are kept where WALLWRIGHT_PICTURES says, else in the test's own folder.
"""

from __future__ import annotations

import gzip
import json
import os
import re
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from wallwright.studio.app import STATIC
from wallwright.studio.form_kinds import ELSEWHERE

AXE = Path(__file__).parents[2] / "frontend/node_modules/axe-core/axe.min.js"
FIRST_LOAD = 150_000
"""Most that the page loads before anything is shown, packed, without the 3D part [bytes]."""
HOSTED, PASSWORD = (
    "https://studio.example",
    "a long and plain sentence",
)  # as the fixture of the hosted studio has them
WIDTHS = {"desk": (1440, 900), "phone": (390, 844)}


class Book:
    """The pictures of a story, each page looked at for faults as it is taken."""

    def __init__(self, folder: Path, name: str) -> None:
        self.folder, self.name, self.taken = folder, name, 0

    def take(self, page: Page, what: str) -> None:
        page.wait_for_load_state("networkidle")
        self.taken += 1
        page.screenshot(
            path=self.folder / f"{self.name}-{self.taken:02d}-{what}.png", full_page=self.name == "phone"
        )
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= page.viewport_size["width"], f"{what} runs out of the page: {wide}"  # type: ignore[index]
        assert faults(page) == [], what


def faults(page: Page) -> list[Any]:
    """What axe finds against WCAG 2.2 AA; nothing where axe is not installed."""
    if not AXE.is_file():
        return []
    page.evaluate(AXE.read_text(encoding="utf-8"))
    return page.evaluate(
        "async () => (await axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'] }))"
        ".violations.map(v => [v.id, v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + ' ' + n.failureSummary)])"
    )


@pytest.fixture
def served(job_file: Path, built: None, serving: Callable[[Path], Any]) -> Any:
    """As people have it: the server in a process of its own, which shares nothing with the one that drives the browser."""
    return serving(job_file)


@pytest.fixture
def pictures(tmp_path: Path) -> Path:
    folder = Path(os.environ.get("WALLWRIGHT_PICTURES") or tmp_path / "pictures")
    folder.mkdir(parents=True, exist_ok=True)
    return folder


@pytest.fixture
def guest(browser: Browser) -> Iterator[BrowserContext]:
    """A browser of somebody else: no cookie, nothing kept."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    yield context
    context.close()


def until(page: Page, true: Callable[[], bool]) -> None:
    """Wait for something that happens outside the page, as long as a busy machine may need for it."""
    end = time.monotonic() + 60
    while not true():
        assert time.monotonic() < end, "did not happen"
        page.wait_for_timeout(50)


def obstacle(served: Any, ref: str) -> Any:
    return next(one for one in served.job().survey.obstacles if one.ref == ref)


def room(page: Page, name: str) -> None:
    page.get_by_role("navigation", name="Rooms of this wall").get_by_role(
        "link", name=name, exact=True
    ).click()
    page.wait_for_load_state("networkidle")


@pytest.mark.parametrize("where", list(WIDTHS))
def test_from_the_survey_to_the_issue_set(
    page: Page, guest: BrowserContext, served: Any, pictures: Path, where: str
) -> None:
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    width, height = WIDTHS[where]
    page.set_viewport_size({"width": width, "height": height})
    book = Book(pictures, where)

    # the list, and the wall in it
    page.goto(f"{served.url}#/jobs")
    expect(page.locator(".job")).to_have_count(1)
    book.take(page, "walls")
    page.locator(".job h3 a").click()
    page.wait_for_selector("[data-thing=screen]")
    book.take(page, "wall")

    # survey: a reading on site
    room(page, "On site")
    page.get_by_role("button", name="Height", exact=True).click()
    page.get_by_label("Taken at this distance from the left corner").fill("1500")
    page.get_by_label("The tape says").fill("2.748 m")
    page.get_by_role("button", name="Keep it").first.click()
    expect(page.get_by_text("height at 1500: 2.748 m is kept.")).to_be_visible()
    expect(page.locator(".taken")).to_contain_text("Height at 1500 from the left: 2748")
    taken = next(one for one in served.job().survey.wall.heights if one.at.mm == 1500)
    assert (taken.value.mm, taken.value.state) == (2748, "measured")
    book.take(page, "site")

    # survey by forms: the substrate of an obstacle, a surveyed value's state
    room(page, "Survey")
    kind = page.get_by_role("region", name="Wall", exact=True).get_by_label("Substrate")
    kind.select_option(label="concrete")
    until(page, lambda: served.job().survey.wall.substrate == "concrete")
    book.take(page, "survey")
    kind.select_option(label="brick")
    until(page, lambda: served.job().survey.wall.substrate == "brick")

    # brief and decisions
    room(page, "Brief")
    budget = page.get_by_role("region", name="Budget").get_by_label("Amount")
    budget.fill("2500")
    budget.press("Enter")
    until(page, lambda: served.job().brief.budget.amount == 2500)
    book.take(page, "brief")
    room(page, "Decisions")
    expect(page.get_by_role("region", name="Screen", exact=True)).to_be_visible()
    book.take(page, "decisions")
    room(page, "Wall")
    for layer in ("Cables and points", "Do not drill", "What lives where", "Reflections"):
        page.get_by_role("button", name=layer).click()
        page.wait_for_load_state("networkidle")
    expect(page.locator("[data-layer]")).to_have_count(4)
    book.take(page, "layers")
    for view in ("Plan", "Section", "From a seat"):
        page.get_by_role("button", name=view, exact=True).click()
        book.take(page, view.replace(" ", "_").lower())

    # options
    room(page, "Options")
    page.get_by_role("button", name="Work out three").click()
    take = page.get_by_role("button", name=re.compile("^Take “")).first
    expect(take).to_be_enabled(timeout=180_000)
    expect(page.locator(".opt svg")).to_have_count(4)
    book.take(page, "options")
    before = served.path.read_text(encoding="utf-8")
    take.click()
    expect(page.get_by_text("The wall has changed since")).to_be_visible()
    assert served.path.read_text(encoding="utf-8") != before

    # history: name it, compare, go back
    room(page, "History")
    here = page.locator("li.here")
    here.get_by_role("button", name=re.compile("^Name")).click()
    page.get_by_label("Name of this moment").fill("The open shelf")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(here).to_contain_text("The open shelf")
    radios = page.get_by_role("radio", name=re.compile("^Compare from"))
    radios.nth(1).check()
    page.get_by_role("radio", name=re.compile("^Compare to")).first.check()
    expect(page.locator(".difference")).to_contain_text("Decided")
    book.take(page, "history")
    page.get_by_role("button", name=re.compile("^Go back")).first.click()
    expect(page.locator("li.here")).to_contain_text("back to")
    assert served.path.read_text(encoding="utf-8") == before

    # a link for the client, who comments and approves
    room(page, "Share")
    page.get_by_label("Who gets it").fill("Invented client")
    page.get_by_role("button", name="Make the link").click()
    address = page.locator("[data-given]").input_value()
    assert "/link#" in address
    book.take(page, "share")
    client = guest.new_page()
    client.on("pageerror", lambda error: wrong.append(str(error)))
    client.goto(address)
    client.get_by_label("Your name").fill("Asha Client")
    client.get_by_label("What you want to say").fill("<b>Warm</b> light, please")
    client.get_by_role("button", name="Say it").click()
    expect(client.get_by_text("<b>Warm</b> light, please")).to_be_visible()
    client.get_by_role("button", name="I approve this wall").click()
    client.get_by_role("button", name="Yes, Asha Client").click()
    expect(client.get_by_text("Asha Client approved revision")).to_be_visible()
    client.wait_for_load_state("networkidle")
    client.screenshot(path=pictures / f"{where}-link.png", full_page=True)
    assert faults(client) == []
    room(page, "Wall")
    room(page, "Share")
    expect(page.get_by_text("✓ holds")).to_be_visible()
    book.take(page, "approved")

    # a change afterwards: the approval holds no longer
    room(page, "Title block")
    letter = page.get_by_label("Revision")
    letter.fill("B")
    letter.press("Enter")
    expect(page.get_by_text("revision B")).to_be_visible()
    room(page, "Share")
    expect(page.get_by_text("✗ no longer holds")).to_be_visible()
    page.get_by_role("button", name=re.compile("^Take back the link")).click()
    expect(page.get_by_text("taken back just now")).to_be_visible()
    client.reload()
    expect(client.get_by_role("alert")).to_contain_text("taken back")

    # the issue set
    room(page, "Wall")
    page.get_by_role("button", name="Write the issue set").click()
    expect(page.get_by_text(re.compile(r"\d+ files, revision B"))).to_be_visible(timeout=180_000)
    book.take(page, "issued")
    assert wrong == []


def test_a_seat_is_dragged_in_plan_and_moved_by_keys(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(served.url)
    page.wait_for_selector("[data-thing=screen]")
    page.get_by_role("button", name="Plan", exact=True).click()
    seat = page.locator("[data-plan=A]")
    box = seat.bounding_box()
    assert box is not None
    was = next(one for one in served.job().survey.seats if one.ref == "A")
    page.mouse.move(box["x"] + 8, box["y"] + 8)
    page.mouse.down()
    page.mouse.move(box["x"] - 32, box["y"] - 32, steps=6)
    expect(page.locator(".plan .dim").first).to_be_visible()
    page.mouse.up()
    page.wait_for_selector("main[aria-busy=false]")
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    now = next(one for one in served.job().survey.seats if one.ref == "A")
    assert now.x.mm < was.x.mm - 50
    assert now.distance.mm < was.distance.mm - 50  # up on the plan is nearer to the wall
    seat.focus()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("button", name="Undo")).to_have_attribute(
        "title", re.compile(f"seat A: {now.x.mm + 10:g} mm from the left corner")
    )


def test_an_obstacle_is_dragged_and_its_fields_are_set(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(served.url)
    page.wait_for_selector("[data-thing=EX1]")
    box = page.locator("[data-thing=EX1]").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 5, box["y"] + 5)
    page.mouse.down()
    page.mouse.move(box["x"] + 55, box["y"] - 25, steps=6)
    page.mouse.up()
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    moved = obstacle(served, "EX1")
    assert moved.x.mm > 3400
    assert moved.z.mm > 300
    form = page.get_by_role("region", name="Socket EX1")
    form.get_by_label("Cable", exact=True).select_option(label="upright")
    until(page, lambda: obstacle(served, "EX1").cable == "upright")


def test_readings_wait_without_signal_and_are_sent_later(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{served.url}#/site")
    page.get_by_label("The tape says").wait_for()
    until(page, lambda: page.evaluate("navigator.serviceWorker.controller !== null"))
    page.wait_for_load_state("networkidle")
    page.context.set_offline(True)
    page.reload()  # the page itself is kept on the phone
    page.get_by_label("The tape says").fill("4190")
    page.get_by_role("button", name="Keep it").first.click()
    expect(page.get_by_text("1 kept on this phone")).to_be_visible()
    assert all(reading.value.mm != 4190 for reading in served.job().survey.wall.widths)
    page.context.set_offline(False)
    # the browser tells the page that there is signal again, and it sends by itself
    expect(page.get_by_text("1 kept on this phone")).to_have_count(0)
    assert any(reading.value.mm == 4190 for reading in served.job().survey.wall.widths)


def test_people_sign_in_to_the_hosted_studio(page: Page, hosted_studio: Any, pictures: Path) -> None:
    if not (STATIC / "index.html").is_file():
        pytest.skip("the page is not built here")
    client = hosted_studio.browser()
    passed_on = ("content-type", "x-csrf-token", "authorization")

    def through(route: Route) -> None:  # what a proxy that speaks TLS does
        asked = route.request
        headers = {name: value for name, value in asked.headers.items() if name in passed_on}
        answer = client.request(asked.method, asked.url, headers=headers, content=asked.post_data_buffer)
        told = {
            name: value
            for name, value in answer.headers.items()
            if name in ("content-type", "content-security-policy")
        }
        route.fulfill(status=answer.status_code, headers=told, body=answer.content)

    page.route(f"{HOSTED}/**", through)
    page.set_viewport_size({"width": 1440, "height": 900})
    book = Book(pictures, "hosted")
    page.goto(HOSTED)
    page.get_by_label("Name").fill("Olga Owner")
    page.get_by_label("Password").fill("not this one, surely")
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("alert")).to_be_visible()
    book.take(page, "sign_in")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_label("Name of the wall, if you have one").fill("Invented flat 3B")
    page.get_by_role("button", name="New wall").click()
    page.wait_for_selector("[data-thing=screen]")
    expect(page.get_by_text("Invented flat 3B", exact=True)).to_be_visible()
    screen = page.locator("[data-mark='screen.centre_height']")
    before = float(screen.get_attribute("aria-valuenow") or "nan")
    screen.focus()
    page.keyboard.press("ArrowUp")  # a change carries the word that only the signed-in page knows
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    expect(screen).to_have_attribute("aria-valuenow", re.compile(f"^{before + 1:g}"))
    page.get_by_role("link", name="People").click()
    page.get_by_label("Name", exact=True).fill("Dev Designer")
    page.get_by_label("First password").fill("an invented first password")
    page.get_by_role("button", name="Make an account").click()
    expect(page.get_by_role("rowheader", name="Dev Designer")).to_be_visible()
    expect(page.get_by_role("region", name="What was done").first).to_contain_text("Olga Owner")
    book.take(page, "people")
    page.get_by_role("link", name="All walls").click()
    card = page.locator(".job", has_text="Invented flat 3B")
    card.get_by_role("button", name="Duplicate").click()
    expect(page.locator(".job")).to_have_count(2)
    page.locator(".job").first.get_by_role("button", name="Put away").click()
    expect(page.locator(".job")).to_have_count(1)
    page.get_by_role("button", name="Show what was put away").click()
    page.get_by_role("button", name="Bring back").click()
    expect(page.get_by_text("is back in the list")).to_be_visible()
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()


def test_the_first_load_is_small() -> None:
    if not (STATIC / "index.html").is_file():
        pytest.skip("the page is not built here")
    index = (STATIC / "index.html").read_text(encoding="utf-8")
    first = [STATIC / name.lstrip("/") for name in re.findall(r'(?:src|href)="(/assets/[^"]+)"', index)]
    assert len(first) >= 2
    packed = sum(len(gzip.compress(file.read_bytes())) for file in (*first, STATIC / "index.html"))
    assert packed < FIRST_LOAD
    assert not any("viewer" in file.name for file in first)


def test_every_edit_of_a_part_can_be_reached_on_the_page(served: Any) -> None:
    """What the forms offer, over an invented job with one of everything, is the whole register but what other controls do."""
    from wallwright.job.edits import EDITS

    with urllib.request.urlopen(f"{served.url}api/forms") as answer:
        forms = json.load(answer)["forms"]
    reached = {field["edit"] for form in forms for field in form["fields"]}
    reached |= {action["edit"] for form in forms for action in form["actions"]}
    with_their_thing = {  # things of which the demo has none: their form comes with them
        "set_lamp", "remove_lamp", "remove_between", "set_between", "move_point", "set_point", "remove_point", "set_stock", "remove_stock",
        "unsign_gate", "price_variation", "accept_variation", "refuse_variation", "finish_variation", "close_snag",
    }  # fmt: skip
    assert set(EDITS) - reached <= ELSEWHERE | with_their_thing
