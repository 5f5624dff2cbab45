"""The rooms of a wall in a real browser: the way back into the budget, a change decided, the site's word, and the look of all of them."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
AXE = Path(__file__).parents[2] / "frontend/node_modules/axe-core/axe.min.js"
LONG = 180_000
ROOMS = ("Wall", "Survey", "Brief", "Decisions", "Options", "Money", "Change", "History", "Share", "On site", "As found", "Photo", "Progress",
         "Title block")  # fmt: skip
FAULTS = """async (rules) => (await axe.run(document, { runOnly: rules })).violations
    .map(v => [v.id, v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + ' ' + n.failureSummary)])"""
AA = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]
SMALL = """() => [...document.querySelectorAll('button, input, select, textarea, summary, a')]
    .filter(e => e.checkVisibility({ visibilityProperty: true }) && !e.closest('.unseen'))
    .map(e => [e, (e.matches('[type=checkbox], [type=radio]') && e.closest('label') || e).getBoundingClientRect(),
               parseFloat(getComputedStyle(e, '::after').height) || 0])
    .filter(([, box, around]) => box.width && box.height && Math.max(box.height, around) < 43.5)
    .map(([e, box]) => `${Math.round(box.width)} × ${Math.round(box.height)} ${e.outerHTML.slice(0, 120)}`)"""
"""What a finger cannot hit: lower than 44 px, unless it reaches further than it shows."""


def open_wall(page: Page, url: str, room: str = "") -> None:
    page.goto(f"{url}#/{room}")
    page.get_by_role("navigation", name="Rooms of this wall").wait_for(timeout=LONG)


def go(page: Page, name: str) -> None:
    rooms = page.get_by_role("navigation", name="Rooms of this wall")
    rooms.get_by_role("link", name=name, exact=True).click()
    expect(rooms.get_by_role("link", name=name, exact=True)).to_have_attribute("aria-current", "page")
    page.wait_for_load_state("networkidle")


def sound(page: Page, what: str, rules: list[str]) -> None:
    """No fault by axe (where it is installed), and nothing that runs out of the page."""
    if AXE.is_file():
        if not page.evaluate("typeof axe !== 'undefined'"):
            page.evaluate(AXE.read_text(encoding="utf-8"))
        assert page.evaluate(FAULTS, rules) == [], what
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, what


def on_a_phone(page: Page, what: str) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.wait_for_load_state("networkidle")
    sound(page, what, AA)
    assert page.evaluate(SMALL) == [], what


def test_back_into_the_budget_is_looked_for_listed_and_done(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 1280, "height": 800})
    open_wall(page, served.url, "brief")
    amount = page.get_by_role("region", name="Budget").get_by_label("Amount")
    amount.fill("1900")
    amount.press("Enter")
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    go(page, "Money")
    page.get_by_role("button", name="Look for the way back").click()
    expect(page.get_by_role("progressbar", name="How far it is")).to_be_visible()
    every = page.get_by_role("button", name=re.compile("^Do all"))
    every.wait_for(timeout=LONG)
    told = page.get_by_role("region", name="Back into the budget")
    expect(told).to_contain_text("over the budget of ¤ 1,900.00")
    expect(told).to_contain_text(re.compile("swaps? leads? back to"))
    sound(page, "money", AA)
    page.get_by_text(re.compile("more that were weighed")).click()
    page.get_by_text(re.compile("would put something wrong")).click()
    expect(told.get_by_text("Not possible:").first).to_be_visible()
    on_a_phone(page, "money on a phone")
    every.click()
    expect(page.get_by_text("The wall has changed since")).to_be_visible()
    expect(every).to_be_disabled()  # it was of the wall as it stood
    money = served.state()["money"]
    assert money["total"] <= money["budget"] == 190_000


def test_a_change_is_told_before_it_is_accepted_and_another_refused(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 1280, "height": 800})
    open_wall(page, served.url)
    page.locator("[data-thing=screen]").click()
    height = page.get_by_role("textbox", name="Screen centre, height", exact=True)
    height.fill("1200")
    height.press("Enter")
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    go(page, "Change")
    page.get_by_role("button", name="Tell what it touches").click()
    page.get_by_role("heading", name="Money and days").wait_for(timeout=LONG)
    expect(page.get_by_role("region", name="Decided otherwise")).to_contain_text("screen centre height")
    expect(page.get_by_role("region", name=re.compile("^Outlets"))).to_contain_text("P1")
    expect(page.get_by_role("heading", name=re.compile(r"Issued again: \d\d documents"))).to_be_visible()
    sound(page, "change", AA)
    accept = page.get_by_role("button", name="Accept it")
    expect(accept).to_be_disabled()  # nobody decides yet
    page.get_by_label("Who decides").fill("Invented client")
    page.get_by_label("Why").fill("sits lower")
    on_a_phone(page, "change on a phone")
    accept.click()
    expect(page.get_by_text("revision B")).to_be_visible()
    (variation,) = served.job().progress.variations
    assert (variation.state, variation.by, variation.reason) == ("approved", "Invented client", "sits lower")
    expect(page.get_by_role("button", name="Undo")).to_have_attribute(
        "title", "Variation V1 accepted by Invented client: sits lower"
    )


def test_the_site_enters_what_it_found_hears_the_answer_and_it_is_taken(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    open_wall(page, served.url, "found")
    p1 = next(one for one in served.state()["points"] if one["ref"] == "P1")
    page.get_by_label("Which box").select_option("P1")
    expect(page.get_by_text(f"Drawn {round(p1['x'])} from the left corner")).to_be_visible()
    page.get_by_label("Its middle from the left corner").fill(f"{round(p1['x']) - 90}")
    page.get_by_label("Its middle above the floor").fill(f"{round(p1['z'])}")
    page.get_by_role("button", name="Keep the box").click()
    page.get_by_label("Stands out at 200 from the left, 200 above the floor").fill("2")
    page.get_by_label("Stands out at 4000 from the left, 200 above the floor").fill("-3")
    page.get_by_label("Width, 1000 above the floor").fill("4.198 m")
    page.get_by_role("region", name="Beams and what stands").get_by_role("combobox").first.select_option(
        label="one that nobody surveyed"
    )
    for name, value in (
        ("Underside above the floor", "2600"), ("Stands out by", "60"), ("Left edge from the left corner", "0"), ("Width", "4200"),
        ("Height", "148"),
    ):  # fmt: skip
        page.get_by_label(name, exact=True).fill(value)
    page.get_by_role("button", name="Keep it").click()
    page.reload()  # what was entered stays on the phone
    expect(page.get_by_text("Kept on this phone")).to_be_visible()
    page.get_by_label("Who was there").fill("Elia")
    page.get_by_role("button", name="May it stay?").click()
    verdicts = page.locator(".verdicts > li")
    expect(verdicts.first).to_be_visible()
    answers = verdicts.locator(".answer").all_inner_texts()
    assert len(answers) == 4 and all(re.match("(✓ Accept|◆ Adjust|■ Stop)", one) for one in answers), answers
    box = verdicts.filter(has_text="P1 box")
    expect(box).to_contain_text("90 off, 5 mm allowed")
    on_a_phone(page, "as found")
    page.get_by_role("button", name="Take it into the job").click()
    expect(page.get_by_text("It is in the job, as verified.")).to_be_visible()
    job = served.job()
    point = next(one for one in job.design.points if one.ref == "P1")
    assert (point.x.mm, point.x.state) == (round(p1["x"]) - 90, "verified")
    reading = next(one for one in job.survey.wall.widths if one.at.mm == 1000)
    assert (reading.value.mm, reading.value.written, reading.value.state) == (4198, "4.198 m", "verified")


def test_an_outlet_that_nobody_pinned_is_dragged_and_moved_by_keys(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    open_wall(page, served.url)
    page.get_by_role("button", name="Cables and points").click()
    assert all(point.ref != "P1" for point in served.job().design.points)
    was = next(one for one in served.state()["points"] if one["ref"] == "P1")
    outlet = page.locator("[data-thing=P1]")
    box = outlet.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 20, y - 10, steps=5)
    expect(page.locator(".over .dim").first).to_be_visible()
    page.mouse.up()
    expect(page.get_by_role("button", name="Undo")).to_have_attribute(
        "title", re.compile("^Place twin socket P1|^Place .*P1")
    )
    pinned = next(one for one in served.job().design.points if one.ref == "P1")
    assert pinned.x.mm < was["x"] - 20 and pinned.z.mm > was["z"] + 10
    page.wait_for_selector("main[aria-busy=false]")
    outlet.focus()
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    expect(page.get_by_role("button", name="Undo")).to_have_attribute("title", re.compile("^Move P1 to "))
    moved = next(one for one in served.job().design.points if one.ref == "P1")
    assert (moved.x.mm, moved.z.mm) == (pinned.x.mm + 3, pinned.z.mm)


def test_a_run_of_light_is_drawn_in_and_moved_by_keys(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    open_wall(page, served.url)
    light = page.locator("[data-thing=G1]")
    box = light.bounding_box()
    assert box is not None and served.job().design.lights[0].setback is None
    x, y = box["x"] + box["width"] / 2, box["y"] + 3
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 12, steps=4)
    expect(page.locator(".over .dim").first).to_contain_text("from its edge")
    page.mouse.up()
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_have_attribute("title", re.compile("^Lay light G1 .* mm behind its edge"))
    inset = served.job().design.lights[0].setback
    assert inset is not None and inset.mm > 40
    page.wait_for_selector("main[aria-busy=false]")
    light.focus()
    page.keyboard.press("ArrowUp")
    expect(undo).to_have_attribute("title", re.compile(f"{inset.mm - 1:g} mm behind its edge"))
    page.wait_for_selector("main[aria-busy=false]")
    along = page.locator("[data-thing=G2]")
    box, tower = along.bounding_box(), page.locator("[data-thing=T1]").bounding_box()
    assert box is not None and tower is not None
    x, y = box["x"] + box["width"] / 3, box["y"] + box["height"] - 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 10, steps=4)  # down on the drawing: away from the wall
    dim = page.locator(".over .dim").first
    expect(dim).to_contain_text("mm behind its edge")
    page.mouse.move(tower["x"] + tower["width"], tower["y"] + tower["height"] / 2, steps=4)
    expect(dim).to_contain_text("beside T1")
    page.mouse.up()
    expect(undo).to_have_attribute("title", re.compile("^Lay light G2 beside the tower T1"))
    assert served.job().design.lights[1].along == "tower_side"
    page.wait_for_selector("main[aria-busy=false]")
    along.focus()
    page.keyboard.press("ArrowRight")  # from the tower at the left to the next unit that can carry it
    expect(undo).to_have_attribute("title", re.compile("^Lay light G2 under the console C1"))
    page.wait_for_selector("main[aria-busy=false]")
    page.get_by_role("button", name="Plan", exact=True).click()
    under = page.locator("[data-plan=G2]")
    under.focus()
    page.keyboard.press("ArrowDown")  # away from the wall: nearer to the console's front
    expect(undo).to_have_attribute("title", re.compile("^Lay light G2 .* mm behind its edge"))


def test_a_trade_ticks_by_its_link_and_enters_what_it_found(page: Page, served: Any) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    open_wall(page, served.url, "share")
    page.get_by_role("region", name="Give out a link").get_by_role("combobox").select_option("electrician")
    page.get_by_label("Who gets it").fill("Invented electrician")
    page.get_by_role("button", name="Make the link").click()
    address = page.locator("[data-given]").input_value()
    guest = page.context.new_page()
    guest.set_default_timeout(LONG)
    guest.set_viewport_size({"width": 390, "height": 844})
    guest.goto(address)
    guest.get_by_label("Your name").fill("Elia")
    outlet = guest.locator(".checks li", has_text=re.compile("P1 "))
    drawn = next(one for one in served.state()["points"] if one["ref"] == "P1")
    outlet.get_by_label(re.compile("^from the left")).fill(f"{drawn['x'] + 30:g}")
    outlet.get_by_label(re.compile("^above the floor")).fill(f"{drawn['z']:g}")
    outlet.get_by_role("button", name=re.compile("^Done")).click()
    expect(outlet).to_contain_text("30 mm right")
    expect(outlet).to_contain_text("✓")
    assert guest.evaluate(SMALL) == []
    sound(guest, "a trade's link", AA)
    outlet.get_by_label(re.compile("^from the left")).fill("a hand")
    outlet.get_by_role("button", name=re.compile("^Done")).click()
    expect(guest.get_by_role("alert")).to_contain_text("hand")
    guest.close()
    go(page, "Wall")
    go(page, "Share")
    expect(page.get_by_role("row", name=re.compile("P1"))).to_contain_text("30 mm right")


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_every_room_is_sound_and_hit_by_a_finger(page: Page, served: Any, mode: str) -> None:
    """In the light by all rules; in the dark, where nothing else differs, for the contrast."""
    page.emulate_media(color_scheme=mode, reduced_motion="reduce")  # type: ignore[arg-type]
    page.set_viewport_size({"width": 390, "height": 844})
    open_wall(page, served.url)
    strip = page.get_by_role("navigation", name="Rooms of this wall")
    for name in ROOMS:
        go(page, name)
        expect(strip.get_by_role("link", name=name, exact=True)).to_be_in_viewport(ratio=0.9)
        expect(page.get_by_text("Opening …")).to_have_count(0)
        for _ in range(2):  # each that is opened is no longer among the folded
            if page.locator("details:not([open]) > summary").count():
                page.locator("details:not([open]) > summary").first.click()
        page.wait_for_load_state("networkidle")
        if mode == "light":
            assert page.evaluate(SMALL) == [], name
        sound(page, f"{name}, {mode}", ["color-contrast"] if mode == "dark" else AA)
