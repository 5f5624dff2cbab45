"""The whole story in a real browser, at a desk and on a phone: survey, design, options, approval by a link, the issue set.

At the desk the way from the list of walls to the issue set is gone by keys alone: by Tab to each thing, never put there by the test.

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
from playwright.sync_api import Browser, BrowserContext, Locator, Page, Route, expect

from wallwright.studio.app import STATIC
from wallwright.studio.form_kinds import ELSEWHERE
from wallwright.studio.schema import SIGN_IN

AXE = Path(__file__).parents[2] / "frontend/node_modules/axe-core/axe.min.js"
FIRST_LOAD = 150_000
"""Most that the page loads before anything is shown, packed, without the 3D part [bytes]."""
HOSTED, PASSWORD = (
    "https://studio.example",
    "a long and plain sentence",
)  # as the fixture of the hosted studio has them
SMALL = """() => [...document.querySelectorAll('button, input, select, textarea, summary, a.button')]
    .filter(e => e.checkVisibility({ visibilityProperty: true }) && !e.closest('.unseen'))
    .map(e => [e, (e.matches('[type=checkbox], [type=radio]') && e.closest('label') || e).getBoundingClientRect()])
    .filter(([, box]) => box.width && box.height && Math.min(box.width, box.height) < 23.5)
    .map(([e, box]) => `${Math.round(box.width)} × ${Math.round(box.height)} ${e.outerHTML.slice(0, 120)}`)"""
"""What is smaller than a target may be: 24 px either way (WCAG 2.2, 2.5.8)."""
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
        assert page.evaluate(SMALL) == [], what


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


STEPS = """(target) => {
    const seen = e => e.checkVisibility({ visibilityProperty: true }) && !e.disabled && !e.closest('[inert]')
    const all = [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex]')]
        .filter(e => (e === target || e === document.activeElement || (e.tabIndex >= 0 && seen(e))))
    return [all.indexOf(target) - all.indexOf(document.activeElement), target.tabIndex]
}"""
"""How many presses of Tab it should be from where one is to a thing (less than 0: back), and its place in the order."""
ASTRAY = 12
"""Presses that a page may take more or fewer than counted: groups of radio buttons, what scrolls."""


def tab_to(page: Page, target: Locator) -> None:
    """Go to something as one does without a mouse: by Tab alone, and see that one is there."""
    target.wait_for()
    steps, place = target.evaluate(STEPS)
    assert place >= 0, f"{target} is in no order of Tab"
    key = "Tab" if steps > 0 else "Shift+Tab"
    for _ in range(max(0, abs(steps) - ASTRAY)):
        page.keyboard.press(key)
    for _ in range(3 * ASTRAY):
        if target.evaluate("e => e === document.activeElement"):
            break
        steps, _ = target.evaluate(STEPS)
        page.keyboard.press("Tab" if steps > 0 else "Shift+Tab")
    expect(target).to_be_focused()
    assert target.evaluate("e => e.matches(':focus-visible')"), f"nobody sees that {target} has the focus"


def press(page: Page, target: Locator, where: str) -> None:
    """At a desk by keys alone, on a phone with the finger."""
    if where == "desk":
        tab_to(page, target)
        page.keyboard.press("Enter")
    else:
        target.click()


def write(page: Page, target: Locator, text: str, where: str) -> None:
    """Into a field, over what stands there."""
    if where == "desk":
        tab_to(page, target)
        page.keyboard.press("Control+a")
        page.keyboard.type(text)
    else:
        target.fill(text)


def room(page: Page, name: str, where: str = "phone") -> None:
    rooms = page.get_by_role("navigation", name="Rooms of this wall")
    press(page, rooms.get_by_role("link", name=name, exact=True), where)
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
    press(page, page.locator(".job h3 a"), where)
    page.wait_for_selector("[data-thing=screen]")
    book.take(page, "wall")

    # survey: a reading on site
    room(page, "On site", where)
    press(page, page.get_by_role("button", name="Height", exact=True), where)
    write(page, page.get_by_label("Taken at this distance from the left corner"), "1500", where)
    write(page, page.get_by_label("The tape says"), "2.748 m", where)
    press(page, page.get_by_role("button", name="Keep it").first, where)
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
    room(page, "Options", where)
    press(page, page.get_by_role("button", name="Work out three"), where)
    take = page.get_by_role("button", name=re.compile("^Take “")).first
    expect(take).to_be_enabled(timeout=180_000)
    expect(page.locator(".opt svg")).to_have_count(4)
    book.take(page, "options")
    before = served.path.read_text(encoding="utf-8")
    press(page, take, where)
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
    room(page, "Share", where)
    write(page, page.get_by_label("Who gets it"), "Invented client", where)
    press(page, page.get_by_role("button", name="Make the link"), where)
    address = page.locator("[data-given]").input_value()
    assert "/link#" in address
    book.take(page, "share")
    client = guest.new_page()
    client.on("pageerror", lambda error: wrong.append(str(error)))
    client.goto(address)
    write(client, client.get_by_label("Your name"), "Asha Client", where)
    write(client, client.get_by_label("What you want to say"), "<b>Warm</b> light, please", where)
    press(client, client.get_by_role("button", name="Say it"), where)
    expect(client.get_by_text("<b>Warm</b> light, please")).to_be_visible()
    client.get_by_label("Your name").fill("")
    tab_to(client, client.get_by_role("button", name="I approve this wall"))
    client.keyboard.press("Enter")
    expect(client.get_by_role("button", name="Yes, under my name")).to_be_focused()
    client.keyboard.press("Enter")
    expect(client.get_by_role("alert")).to_contain_text("Give your name first")
    expect(client.get_by_label("Your name")).to_be_focused()
    client.keyboard.type("Asha Client")
    tab_to(client, client.get_by_role("button", name="Yes, Asha Client"))
    client.keyboard.press("Enter")
    expect(client.get_by_text("Asha Client approved revision")).to_be_visible()
    expect(client.get_by_role("heading", name="Approve")).to_be_focused()
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
    room(page, "Wall", where)
    press(page, page.get_by_role("button", name="Write the issue set"), where)
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
    expect(page.get_by_role("alert")).to_have_count(0)  # said once, where it waits
    assert all(reading.value.mm != 4190 for reading in served.job().survey.wall.widths)
    page.get_by_label("Taken at this height above the floor").fill("100")
    page.get_by_label("The tape says").fill("13' 9 1/8\"")
    page.get_by_role("button", name="Keep it").first.click()
    page.locator("summary", has_text="Plumb grid").click()
    page.get_by_label("Stands out at 200 from the left, 200 above the floor").fill("-2")
    # later somebody at the desk enters another measure of the same place
    value = {"value": 4215, "state": "measured", "tolerance": 2}
    change = {
        "position": served.state()["position"],
        "edit": "set_wall_reading",
        "with": {"which": "width", "at": 100, "value": value},
    }
    asked = urllib.request.Request(
        f"{served.url}api/edit", json.dumps(change).encode(), {"content-type": "application/json"}
    )
    urllib.request.urlopen(asked).close()
    page.context.set_offline(False)
    # the browser tells the page that there is signal again, and it sends by itself
    expect(page.get_by_text(re.compile("kept on this phone"))).to_have_count(0)
    assert any(reading.value.mm == 4190 for reading in served.job().survey.wall.widths)
    page.reload()  # what was not used stays until somebody has seen it, and what was half entered too
    older = page.get_by_role("group", name="Not used: width at 100: 13' 9 1/8\"")
    expect(older).to_contain_text("a later reading of the same stands")
    page.locator("summary", has_text="Plumb grid").click()
    expect(page.get_by_label("Stands out at 200 from the left, 200 above the floor")).to_have_value("-2")
    low = lambda: next(one.value.mm for one in served.job().survey.wall.widths if one.at.mm == 100)  # noqa: E731
    assert low() == 4215
    older.get_by_role("button", name="Use it all the same").click()
    expect(older).to_have_count(0)
    until(page, lambda: low() == pytest.approx(4194.175))


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
    write(page, page.get_by_label("Password"), PASSWORD, "desk")
    page.keyboard.press("Enter")
    write(page, page.get_by_label("Name of the wall, if you have one"), "Invented flat 3B", "desk")
    press(page, page.get_by_role("button", name="New wall"), "desk")
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
    # what is refused is not shown as if it held
    own = page.get_by_label("What Olga Owner may do")
    own.select_option("reader")
    expect(page.get_by_role("alert")).to_contain_text("the last owner")
    expect(own).to_have_value("owner")
    # a password that was forgotten is set anew
    page.get_by_role("button", name="New password for Dev Designer").click()
    page.get_by_label("New password for Dev Designer").fill("another invented password")
    page.get_by_role("button", name="Set it").click()
    expect(page.get_by_text("Dev Designer has a new password and is signed out.")).to_be_visible()
    expect(page.get_by_role("region", name="What was done").first).to_contain_text(
        "Dev Designer: new password"
    )
    page.get_by_role("button", name="New password for Dev Designer").click()
    page.set_viewport_size({"width": 390, "height": 844})
    page.emulate_media(color_scheme="dark")
    book.take(page, "people_phone")
    page.emulate_media(color_scheme="light")
    page.set_viewport_size({"width": 1440, "height": 900})
    # a session that has ended is asked for again over the page, and what was being done is done
    page.get_by_label("Name", exact=True).fill("Rita Reader")
    page.get_by_label("First password").fill("an invented first password")
    with hosted_studio.store.write() as db:
        db.execute(SIGN_IN.delete())
    page.get_by_role("button", name="Make an account").click()
    again = page.get_by_role("dialog", name="Sign in again")
    expect(again.get_by_label("Name")).to_have_value("Olga Owner")
    expect(again.get_by_label("Password")).to_be_focused()
    page.keyboard.press("Escape")
    book.take(page, "session_ended")
    again.get_by_label("Password").fill(PASSWORD)
    page.keyboard.press("Enter")
    expect(again).to_have_count(0)
    expect(page.get_by_role("rowheader", name="Rita Reader")).to_be_visible()
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
