"""The page in a real browser: dragging, typing, undo, findings, the model, a phone."""

from __future__ import annotations

import re
import struct
import time
import zlib
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import ConsoleMessage, Locator, Page, expect

from wallwright.core.units import read_length
from wallwright.derive import derive
from wallwright.studio.divisions import divisions

pytestmark = pytest.mark.browser
HEIGHT = "Screen centre, height"


@pytest.fixture
def opened(page: Page, served: Any) -> Iterator[Page]:
    """The page, open and drawn; it fails where the console says an error."""
    wrong: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        refused = re.search("status of (409|422)", message.text)  # part of the talk
        if message.type == "error" and not refused:
            wrong.append(message.text)

    page.on("console", heard)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(served.url)
    page.wait_for_selector("[data-thing=screen]")
    page.wait_for_load_state("networkidle")
    yield page
    assert wrong == []


def drag(
    page: Page,
    selector: str,
    by_x: float,
    by_y: float,
    *,
    drop: bool = True,
    at: tuple[float, float] = (0.5, 0.5),
) -> None:
    """Press in the thing's box, move in steps as a hand does, let go."""
    page.wait_for_selector("main[aria-busy=false]")
    box = page.locator(selector).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] * at[0], box["y"] + box["height"] * at[1]
    page.mouse.move(x, y)
    page.mouse.down()
    for i in range(1, 9):
        page.mouse.move(x + by_x * i / 8, y + by_y * i / 8)
    if drop:
        page.mouse.up()


def until(page: Page, true: Callable[[], bool]) -> None:
    """Wait for something that happens outside the page, as long as a busy machine may need for it."""
    end = time.monotonic() + 60
    while not true():
        said = (
            ()
            if time.monotonic() < end
            else page.locator("[role=alert], [role=status], dialog").all_inner_texts()
        )
        assert time.monotonic() < end, f"did not happen; the page says {said}"
        page.wait_for_timeout(50)


def field_of(page: Page, label: str) -> Locator:
    return page.get_by_role("textbox", name=label, exact=True)


def shown(page: Page, mark: str) -> float:
    return float(page.locator(f"[data-mark='{mark}']").get_attribute("aria-valuenow") or "nan")


def middle(box: Any) -> tuple[float, float]:
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_it_opens_to_scale_without_an_error(opened: Page, served: Any) -> None:
    state = served.state()
    assert (
        opened.title() == "Wallwright" and opened.get_by_text(state["job"]["title"], exact=True).is_visible()
    )
    screen, console = (opened.locator(f"[data-thing={name}]").bounding_box() for name in ("screen", "C1"))
    assert screen is not None and console is not None
    unit = next(u for u in state["units"] if u["ref"] == "C1")
    assert screen["width"] / console["width"] == pytest.approx(
        state["screen"]["frame"]["width"] / unit["width"], rel=0.02
    )
    drawn = opened.locator(".drawing [data-ref=C1]").first.bounding_box()
    assert drawn is not None  # what is grasped lies over what is drawn
    assert middle(drawn) == pytest.approx(middle(console), abs=1)


def test_dragging_the_height_mark_moves_the_screen_and_the_file(opened: Page, served: Any) -> None:
    before = shown(opened, "screen.centre_height")
    drag(opened, "[data-mark='screen.centre_height']", 0, -40)
    until(opened, lambda: served.job().design.screen.centre_height is not None)
    kept = served.job().design.screen.centre_height.mm
    assert kept > before + 50
    expect(opened.locator("[data-mark='screen.centre_height']")).to_have_attribute(
        "aria-valuenow", re.compile(rf"^{kept:g}$")
    )
    assert derive(served.job()).sight.screen.centre[1] == kept


def test_a_mark_dragged_past_others_stays_in_the_hand(opened: Page, served: Any) -> None:
    drawn = opened.locator(".drawing").inner_html()
    drag(opened, "[data-mark='screen.centre_height']", 0, -90, drop=False)
    # the wall has followed, the marks stand in another order
    until(opened, lambda: opened.locator(".drawing").inner_html() != drawn)
    at = opened.locator("[data-mark='screen.centre_height']").bounding_box()
    assert at is not None
    followed = opened.locator(".drawing").inner_html()
    opened.mouse.move(at["x"] + 60, at["y"] - 100, steps=6)
    until(opened, lambda: opened.locator(".drawing").inner_html() != followed)
    opened.mouse.up()
    until(opened, lambda: served.job().design.screen.centre_height is not None)
    assert served.job().design.screen.centre_height.mm > 1900


def test_while_dragging_the_wall_follows_and_escape_calls_it_off(opened: Page, served: Any) -> None:
    text, drawn = served.path.read_bytes(), opened.locator(".drawing").inner_html()
    drag(opened, "[data-mark='screen.centre_height']", 0, -60, drop=False)
    until(opened, lambda: opened.locator(".drawing").inner_html() != drawn)
    opened.keyboard.press("Escape")
    opened.mouse.up()
    until(opened, lambda: opened.locator(".drawing").inner_html() == drawn)
    assert served.path.read_bytes() == text and not served.state()["can_undo"]


def test_the_screen_can_be_dragged_on_the_wall(opened: Page, served: Any) -> None:
    drag(opened, "[data-thing=screen]", 60, 30)
    until(opened, lambda: served.job().design.screen.centre_x is not None)
    screen = served.job().design.screen
    assert screen.centre_x.mm % 5 == 0 and screen.centre_height.mm % 5 == 0
    expect(opened.get_by_role("button", name="Undo")).to_be_enabled()


def test_typing_a_height_in_feet(opened: Page, served: Any) -> None:
    opened.locator("[data-thing=screen]").click()
    field = field_of(opened, HEIGHT)
    field.fill("4 ft 2")
    field.press("Enter")
    expect(opened.locator("[data-mark='screen.centre_height']")).to_have_attribute("aria-valuenow", "1270")
    kept = served.job().design.screen.centre_height
    assert kept.mm == pytest.approx(read_length("4 ft 2")) and kept.written == "4 ft 2"
    opened.get_by_role("button", name="ft-in").click()
    expect(field).to_have_value("4'-2\"")


def test_a_length_that_cannot_be_read_is_told_at_the_field(opened: Page, served: Any) -> None:
    text = served.path.read_bytes()
    opened.locator("[data-thing=screen]").click()
    field = field_of(opened, HEIGHT)
    field.fill("eye level")
    field.press("Enter")
    told = opened.get_by_role("alert")
    expect(told).to_contain_text("eye")
    assert field.get_attribute("aria-invalid") == "true" and served.path.read_bytes() == text


def test_arrow_keys_move_a_mark_by_a_millimetre_and_by_ten(opened: Page, served: Any) -> None:
    before = shown(opened, "C1.z")
    opened.locator("[data-mark='C1.z']").focus()
    for key in ("ArrowUp", "ArrowUp", "Shift+ArrowUp"):
        opened.keyboard.press(key)
    until(opened, lambda: served.job().design.units[_c1(served)].z is not None)
    assert served.job().design.units[_c1(served)].z.mm == pytest.approx(before + 12, abs=0.11)
    opened.get_by_role("button", name="Undo").click()  # the run of presses is one step
    until(opened, lambda: not served.state()["can_undo"])


def _c1(served: Any) -> int:
    return [unit.ref for unit in served.job().design.units].index("C1")


def test_the_screens_size_is_chosen_and_typed(opened: Page, served: Any) -> None:
    opened.locator("[data-thing=screen]").click()
    wide = opened.locator("[data-thing=screen]").bounding_box()
    opened.get_by_role("button", name=re.compile("^55″")).click()
    opened.get_by_role("button", name="Do it").click()  # it drops the maker's sizes, and asks once
    until(opened, lambda: served.job().design.screen.diagonal == 55)
    expect(opened.locator("main")).to_have_attribute("aria-busy", "false")
    narrow = opened.locator("[data-thing=screen]").bounding_box()
    assert wide is not None and narrow is not None
    assert narrow["width"] < wide["width"]
    other = opened.get_by_label("other size, inches")
    other.fill("58")
    other.press("Enter")
    until(opened, lambda: served.job().design.screen.diagonal == 58)


def test_a_size_that_is_no_number_of_inches_is_told(opened: Page, served: Any) -> None:
    text = served.path.read_bytes()
    opened.locator("[data-thing=screen]").click()
    other = opened.get_by_label("other size, inches")
    for typed in ("abc", "4 ft 2", "0"):
        other.fill(typed)
        other.press("Enter")
        expect(opened.get_by_role("alert")).to_contain_text(f"“{typed}” is no screen size")
        assert other.get_attribute("aria-invalid") == "true" and served.path.read_bytes() == text
    other.press("Escape")
    expect(opened.get_by_role("alert")).to_be_hidden()
    other.fill("58 in")
    other.press("Enter")
    opened.get_by_role("button", name="Do it").click()
    until(opened, lambda: served.job().design.screen.diagonal == 58)


def test_in_a_small_window_the_width_rod_and_the_issue_stay_in_sight(opened: Page) -> None:
    opened.set_viewport_size({"width": 1280, "height": 800})
    opened.get_by_role("button", name="Reflections").click()
    expect(opened.get_by_label("What mirrors")).to_contain_text("sun")
    expect(opened.locator("main")).to_have_attribute("aria-busy", "false")
    lowest = "e => Math.max(...[...e.querySelectorAll('.rod.x .label')].map(one => one.getBoundingClientRect().bottom))"
    until(
        opened,
        lambda: (
            opened.locator("section.wall").evaluate(lowest)
            <= opened.locator("section.wall").evaluate("e => e.getBoundingClientRect().bottom")
        ),
    )
    opened.get_by_role("button", name="Write the issue set").click()
    expect(opened.locator("#drawings .far")).to_be_in_viewport(ratio=0.9)
    expect(opened.locator("#drawings .far")).to_contain_text("files, revision", timeout=180_000)


def test_the_console_is_moved_and_resized(opened: Page, served: Any) -> None:
    before = next(u for u in served.state()["units"] if u["ref"] == "C1")
    drag(opened, "[data-thing=C1]", -50, -20, at=(0.3, 0.6))
    until(opened, lambda: served.job().design.units[_c1(served)].x is not None)
    moved = next(u for u in served.state()["units"] if u["ref"] == "C1")
    assert (
        moved["x"] < before["x"] - 100 and moved["width"] == before["width"] and moved["z"] > before["z"] + 30
    )
    drag(opened, "[data-handle='C1.right']", -60, 0)
    until(opened, lambda: served.job().design.units[_c1(served)].width is not None)
    resized = next(u for u in served.state()["units"] if u["ref"] == "C1")
    assert resized["width"] < moved["width"] - 100 and resized["x"] == moved["x"]
    field = field_of(opened, "C1 width")
    field.fill("1.5 m")
    field.press("Enter")
    until(opened, lambda: served.job().design.units[_c1(served)].width.mm == 1500)


class Late:
    """Calls of the page that match are held back until they are let go."""

    def __init__(self, page: Page, pattern: str) -> None:
        self.held: list[Any] = []
        self.free = False
        page.route(
            re.compile(pattern), lambda route: route.continue_() if self.free else self.held.append(route)
        )

    def let_go(self) -> None:
        self.free = True
        for route in self.held:
            route.continue_()


@pytest.mark.parametrize("held_back", ["edit", "things", "look"])
def test_a_width_typed_while_answers_are_late_is_kept(opened: Page, served: Any, held_back: str) -> None:
    """Typed between letting go and the answer to it; that answer, or one to what went before, is held back till after."""
    opened.locator("[data-thing=C1]").click(position={"x": 60, "y": 20})
    late = Late(opened, rf"/{held_back}(\?|$)")
    drag(opened, "[data-handle='C1.right']", -20, 0)
    until(opened, lambda: bool(late.held))
    field = field_of(opened, "C1 width")
    field.fill("1.51 m")
    field.press("Enter")
    late.let_go()

    def kept() -> bool:
        width = served.job().design.units[_c1(served)].width
        return width is not None and width.mm == 1510

    until(opened, kept)
    expect(field).to_have_value("1510")
    assert opened.locator("[role=alert]").count() == 0


def test_an_answer_that_comes_before_the_first_key_does_not_stand_before_what_is_typed(
    opened: Page, served: Any
) -> None:
    """The field has the focus and all of it is selected; then the number in it changes; then one types."""
    opened.locator("[data-thing=C1]").click(position={"x": 60, "y": 20})
    late = Late(opened, r"/(edit|look|try)\?")
    field = field_of(opened, "C1 width")
    before = field.input_value()
    drag(opened, "[data-handle='C1.right']", -20, 0)
    field.focus()
    until(opened, lambda: any("/edit?" in route.request.url for route in late.held))
    late.let_go()
    expect(field).not_to_have_value(before)
    opened.keyboard.type("1.51 m")
    opened.keyboard.press("Enter")
    until(opened, lambda: served.job().design.units[_c1(served)].width.mm == 1510)
    assert opened.locator("[role=alert]").count() == 0


def test_a_unit_that_is_chosen_already_stays_chosen_when_it_is_dragged(opened: Page, served: Any) -> None:
    opened.locator("[data-thing=C1]").click(position={"x": 60, "y": 20})
    drag(opened, "[data-thing=C1]", 0, -20, at=(0.3, 0.6))
    until(opened, lambda: served.job().design.units[_c1(served)].z is not None)
    expect(opened.locator("#thing h2")).to_have_text(re.compile("console C1", re.IGNORECASE))
    opened.wait_for_selector("main[aria-busy=false]")
    box = opened.locator("[data-thing=C1]").bounding_box()
    assert box is not None  # pressed again, without a drag, it opens up
    opened.mouse.click(box["x"] + box["width"] * 0.3, box["y"] + box["height"] * 0.6)
    expect(opened.locator("#thing h2")).to_have_text(re.compile("Bay C1.1"))
    mark = opened.locator("[data-handle='C1.1.right']")
    before = float(mark.get_attribute("aria-valuenow") or "nan")
    drag(opened, "[data-handle='C1.1.right']", 30, 0)
    until(opened, lambda: bool(served.job().design.units[_c1(served)].bays))
    opened.wait_for_selector("main[aria-busy=false]")
    dragged = float(mark.get_attribute("aria-valuenow") or "nan")
    assert dragged > before + 50
    mark.focus()
    opened.keyboard.press("Shift+ArrowLeft")
    expect(mark).to_have_attribute("aria-valuenow", f"{dragged - 10:g}")
    field = field_of(opened, "C1.1 right side, from the left")
    opened.wait_for_selector("main[aria-busy=false]")
    field.fill(f"{before:.1f}")
    field.press("Enter")
    until(
        opened,
        lambda: (
            next(m.at for m in divisions(derive(served.job())) if m.name == "C1.1.right")
            == pytest.approx(before, abs=0.2)
        ),
    )
    opened.get_by_role("button", name="Make automatic: C1.1 right side, from the left").click()
    until(opened, lambda: not served.job().design.units[_c1(served)].bays)


def test_undo_and_redo_by_button_and_by_keys(opened: Page, served: Any) -> None:
    text = served.path.read_bytes()
    drag(opened, "[data-mark='screen.centre_height']", 0, -40)
    until(opened, lambda: served.path.read_bytes() != text)
    changed = served.path.read_bytes()
    expect(opened.get_by_role("button", name="Undo")).to_be_enabled()
    opened.keyboard.press("Control+z")
    until(opened, lambda: served.path.read_bytes() == text)
    expect(opened.get_by_role("button", name="Redo")).to_be_enabled()
    opened.keyboard.press("Control+Shift+Z")
    until(opened, lambda: served.path.read_bytes() == changed)
    opened.get_by_role("button", name="Undo").click()
    until(opened, lambda: served.path.read_bytes() == text)


def test_a_finding_appears_shows_its_place_and_is_cured(opened: Page, served: Any) -> None:
    opened.locator("[data-thing=screen]").click()
    field = field_of(opened, HEIGHT)
    field.fill("1900")
    field.press("Enter")
    expect(opened.locator("#findings")).to_contain_text("more than its posture likes")
    for more in opened.locator(
        "#findings summary"
    ).all():  # findings of one cause lie folded below the worst of them
        more.click()
    finding = opened.locator("#findings .finding", has_text=re.compile("more than its posture likes")).first
    expect(finding).to_contain_text("measured")
    expect(finding).to_contain_text(re.compile("Fix|Consider"))
    finding.focus()
    expect(opened.locator(".place")).to_be_visible()
    finding.get_by_role(
        "button", name=re.compile("^set the screen's centre height to [0-9]+ mm(: .*)?$")
    ).click()
    expect(opened.locator("#findings .finding", has_text="more than its posture likes")).to_have_count(0)
    assert derive(served.job()).sight.heights.used < 1500


def test_why_opens_the_working(opened: Page) -> None:
    opened.locator("[data-thing=screen]").click()
    opened.get_by_role("button", name=f"Why? {HEIGHT}").click()
    dialog = opened.get_by_role("dialog")
    expect(dialog).to_contain_text("screen.centre_height")
    expect(dialog).to_contain_text("Source:")
    opened.keyboard.press("Escape")
    expect(dialog).to_be_hidden()


def test_money_is_told_against_the_budget_by_trade(opened: Page, served: Any) -> None:
    money, card = served.state()["money"], opened.locator("#money")
    expect(card).to_contain_text(money["total_shown"])
    expect(card).to_contain_text(money["budget_shown"])
    for line in money["trades"]:
        expect(card).to_contain_text(line["shown"])


def test_the_model_is_loaded_only_when_asked_for_and_drawn(opened: Page) -> None:
    asked: list[str] = []
    opened.on("request", lambda request: asked.append(request.url))
    opened.get_by_role("button", name="3D view").click()
    canvas = opened.locator("canvas[data-ready]")
    canvas.wait_for(timeout=60_000)
    assert any("viewer" in url for url in asked) and any("wall.glb" in url for url in asked)
    first = colours(canvas.screenshot())
    assert len(first) > 20  # wall, boards, screen and floor in their shades, not one flat colour
    canvas.focus()
    for _ in range(4):
        opened.keyboard.press("ArrowRight")
    assert colours(canvas.screenshot()) != first


def colours(png: bytes) -> dict[bytes, int]:
    """How often each colour stands in an 8-bit RGB(A) PNG (the filters of ISO/IEC 15948, clause 9)."""
    at, data, width, kind = 8, b"", 0, 2
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        name, body = png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        if name == b"IHDR":
            width, kind = struct.unpack(">I", body[:4])[0], body[9]
        elif name == b"IDAT":
            data += body
        at += length + 12
    n = 4 if kind == 6 else 3
    raw, stride = zlib.decompress(data), width * n
    before, counted = bytearray(stride), dict[bytes, int]()
    for start in range(0, len(raw), stride + 1):
        line = _unfiltered(raw[start], bytearray(raw[start + 1 : start + 1 + stride]), before, n)
        for i in range(0, stride, n):
            colour = bytes(line[i : i + 3])
            counted[colour] = counted.get(colour, 0) + 1
        before = line
    return counted


def _unfiltered(kind: int, line: bytearray, up: bytearray, n: int) -> bytearray:
    for i in range(len(line)):
        a, b, c = (line[i - n] if i >= n else 0), up[i], (up[i - n] if i >= n else 0)
        p = a + b - c
        paeth = min((abs(p - a), 0, a), (abs(p - b), 1, b), (abs(p - c), 2, c))[2]
        line[i] = (line[i] + (0, a, b, (a + b) // 2, paeth)[kind]) & 255
    return line


def test_on_a_phone_nothing_runs_out_of_the_page(opened: Page, served: Any) -> None:
    opened.set_viewport_size({"width": 390, "height": 844})
    opened.reload()
    opened.wait_for_selector("[data-thing=screen]")
    for thing in (None, "screen", "C1"):
        if thing:
            opened.locator(f"[data-thing={thing}]").click()
        assert opened.evaluate("document.documentElement.scrollWidth") <= 390
    count = opened.locator("a.count")
    expect(count).to_be_in_viewport()
    expect(count).to_contain_text(f"{len(served.state()['findings'])} findings")
    opened.get_by_role("button", name=re.compile("C1 top .* mm")).click()
    field = field_of(opened, "C1 top, height")
    field.fill("650")
    field.press("Enter")
    until(opened, lambda: served.job().design.units[_c1(served)].height is not None)


def test_a_page_left_behind_hears_of_it_and_goes_on(opened: Page, served: Any) -> None:
    other = opened.context.new_page()
    other.goto(served.url)
    other.wait_for_selector("[data-thing=screen]")
    other.locator("[data-thing=screen]").click()
    other.get_by_role("button", name=re.compile("^55″")).click()
    other.get_by_role("button", name="Do it").click()
    until(other, lambda: served.job().design.screen.diagonal == 55)
    other.close()
    # it hears of it at its next look at the file
    expect(opened.get_by_text("changed on another page")).to_be_visible()
    expect(opened.get_by_text("· screen 55″")).to_be_visible()
    assert served.job().design.screen.centre_height is None  # nothing was done to a wall that was not seen
    drag(opened, "[data-mark='screen.centre_height']", 0, -40)
    until(opened, lambda: served.job().design.screen.centre_height is not None)


def test_a_size_is_asked_about_once_and_may_be_left(opened: Page, served: Any) -> None:
    text = served.path.read_bytes()
    opened.locator("[data-thing=screen]").click()
    expect(
        opened.get_by_role("button", name=re.compile("^55″.*drops the maker's frame, mass and hole group"))
    ).to_be_visible()
    other = opened.get_by_label("other size, inches")
    other.fill("58")
    other.press("Enter")
    question = opened.get_by_role("dialog")
    expect(question).to_contain_text("drops the maker's frame 1448 × 830 × 60 mm")
    question.get_by_role("button", name="Leave it as it was").click()
    expect(question).to_be_hidden()
    expect(other).to_have_value("65")
    assert served.path.read_bytes() == text
    other.fill("58")
    other.press("Enter")
    question.get_by_role("button", name="Do it").click()
    until(opened, lambda: served.job().design.screen.diagonal == 58)
    opened.get_by_role("button", name="Undo").click()
    until(opened, lambda: served.path.read_bytes() == text)


def test_what_moved_along_is_said_while_dragging_and_after(opened: Page) -> None:
    drag(opened, "[data-mark='screen.centre_height']", 0, -60, drop=False)
    line = opened.locator(".moved")
    expect(line).to_contain_text(re.compile(r"Also moved: .*C1 underside 203 → \d+"))
    opened.mouse.up()
    expect(line).to_contain_text("Also moved with the last step")
    expect(opened.locator("[aria-live=polite].unseen")).to_contain_text(
        re.compile(r"Also moved: .*C1 underside 203 →")
    )


def test_a_step_shows_its_findings_what_it_waits_for_and_its_room(opened: Page, served: Any) -> None:
    findings = served.state()["findings"]
    here = [f for f in findings if f["stage"] == "Services"]
    assert 0 < len(here) < len(findings)
    opened.get_by_role("link", name=re.compile("Services")).click()
    expect(opened.locator("#findings .finding")).to_have_count(len(here))
    opened.get_by_role("link", name=re.compile("Brief .")).click()
    card = opened.locator("#findings")
    expect(card).to_contain_text("Waits for nothing")
    expect(card.get_by_role("link", name="the brief")).to_have_attribute("href", "#/brief")
    opened.get_by_role("button", name="Show the findings of all steps").click()
    expect(opened.locator("#findings .finding")).to_have_count(len(findings))
    path = served.path
    path.write_text(re.sub(r"floor_finished = true", "floor_finished = false", path.read_text()), "utf-8")
    services = opened.get_by_role("navigation", name="Steps in the trade's order").get_by_role(
        "link", name=re.compile("Services")
    )
    expect(services).to_contain_text("waits for Wall: the floor is not finished")
    services.click()
    expect(card.get_by_role("listitem").filter(has_text="the floor is not finished")).to_be_visible()
    card.get_by_role("button", name="Wall", exact=True).click()
    expect(opened.get_by_role("heading", name="Findings: Wall")).to_be_visible()


def test_what_is_chosen_is_beside_the_drawing_without_scrolling(opened: Page) -> None:
    opened.locator("[data-thing=T1]").click(position={"x": 12, "y": 200})
    wall, panel = opened.locator("#wall").bounding_box(), opened.locator("#thing").bounding_box()
    expect(field_of(opened, "T1 height")).to_be_in_viewport(ratio=1)
    assert wall is not None and panel is not None and panel["x"] >= wall["x"] + wall["width"]
    assert opened.evaluate("document.documentElement.scrollHeight") <= 900


def test_outlets_carry_their_refs_and_open_bays_their_shelves(opened: Page, served: Any) -> None:
    points = served.state()["points"]
    assert points
    for point in points:
        expect(opened.locator(f"[data-point={point['ref']}]")).to_have_text(point["ref"])
    wall = derive(served.job())
    (bay,) = [b for b in wall.carcass.bays if b.unit == "T2" and b.front == "open"]
    boards = [p for p in wall.carcass.parts if p.unit == "T2" and p.role == "shelf" and p.block.z > bay.box.z]
    assert boards and opened.locator(".drawing .shelves [data-ref=T2]").count() == len(boards)


def test_feet_are_told_beside_the_millimetres_of_a_finding(opened: Page) -> None:
    expect(opened.locator("#findings .feet")).to_have_count(0)
    opened.get_by_role("button", name="ft-in").click()
    expect(opened.locator("#findings .feet").first).to_contain_text(re.compile(r'\d mm = .*"'))
    for label in opened.locator(".label .name").all():
        cut = "e => e.scrollHeight > e.clientHeight + 1 || e.scrollWidth > e.clientWidth + 1"
        assert not label.evaluate(cut), label.inner_text()


def test_the_rates_are_said_to_be_invented(opened: Page) -> None:
    expect(opened.locator("#money .total")).to_contain_text("invented rates")
    expect(opened.locator("#money")).to_contain_text("the screen and the devices are not in it")
    expect(opened.locator("#money")).to_contain_text("15 % of the price, before reserve and tax")


def test_a_change_of_the_file_is_noticed_and_a_slip_leaves_the_last_good_wall(
    opened: Page, served: Any
) -> None:
    text = served.path.read_text(encoding="utf-8")
    served.path.write_text(text.replace("diagonal = 65", "diagonal = = 65"), encoding="utf-8")
    told = opened.get_by_role("alert")
    where = re.compile(r"job\.toml, line \d+, column \d+.*diagonal = = 65", re.DOTALL)
    expect(told).to_contain_text(where)
    opened.reload()
    expect(opened.locator("[data-thing=screen]")).to_be_visible()
    expect(told).to_contain_text("last good wall")
    served.path.write_text(
        text.replace("[design.screen]", "[design.screen]\ncentre_x = 2222", 1), encoding="utf-8"
    )
    expect(opened.get_by_text("changed by another program: reloaded")).to_be_visible()
    expect(told).to_have_count(0)
    assert shown(opened, "screen.centre_x") == 2222


def test_the_eye_stays_in_the_room_and_the_model_in_view(opened: Page) -> None:
    opened.get_by_role("button", name="3D view").click()
    canvas = opened.locator("canvas[data-ready]")
    canvas.wait_for(timeout=60_000)
    box = canvas.bounding_box()
    assert box is not None
    eyes: set[str] = set()
    for way in (-1, 1):
        for _ in range(4):
            opened.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
            opened.mouse.down()
            opened.mouse.move(box["x"] + box["width"] / 2 + way * 400, box["y"] + 20, steps=5)
            opened.mouse.up()
        eye = canvas.get_attribute("data-eye") or ""
        eyes.add(eye)
        _, up, out = (float(n) for n in eye.split())
        assert out > 0.5 and up > 0  # before the wall (z = 0) and above the floor [m]
    assert len(eyes) == 2  # it did turn
    opened.get_by_role("button", name="All in view").click()
    wide, high = box["width"], box["height"]
    for x, y, w, h in ((0, 0, 3, high), (wide - 3, 0, 3, high), (0, 0, wide, 3), (0, high - 3, wide, 3)):
        edge = opened.screenshot(clip={"x": box["x"] + x, "y": box["y"] + y, "width": w, "height": h})
        ground = max(colours(edge).values())
        assert ground > 0.6 * sum(
            colours(edge).values()
        )  # ground (and the frame's line), no part of the model


def test_on_a_phone_numbers_are_there_and_fingers_hit_what_they_must(opened: Page, served: Any) -> None:
    opened.set_viewport_size({"width": 390, "height": 844})
    opened.reload()
    opened.wait_for_selector("[data-thing=screen]")
    opened.locator("[data-thing=screen]").click()
    state = served.state()
    figures = opened.locator(".rod.z .figure").all_text_contents()
    assert len(figures) == len(state["rods"]["heights"])
    assert f"{state['screen']['centre_height']:g}" in figures
    expect(opened.locator(".corner")).to_have_text("mm")
    for thing in ("screen", "C1"):
        opened.locator(f"[data-thing={thing}]").focus()
        for rod, axis in (("z", "y"), ("x", "x")):
            boxes = [b for knob in opened.locator(f".rod.{rod} .knob").all() if (b := knob.bounding_box())]
            assert boxes and all(b["width"] >= 44 and b["height"] >= 44 for b in boxes)
            starts = sorted(b[axis] for b in boxes)
            assert all(b - a >= 43.5 for a, b in pairwise(starts)), (thing, rod)
    for control in opened.locator("button:visible, input:visible, nav a:visible").all():
        box = control.bounding_box()
        assert box is not None and box["height"] >= 43.5, control.evaluate("e => e.outerHTML")


OWN = """r => { const b = r.getBoundingClientRect()
    const at = [...Array(64).keys()].map(i => [b.x + b.width * (i % 8 + .5) / 8, b.y + b.height * (Math.floor(i / 8) + .5) / 8])
    return at.filter(([x, y]) => document.elementFromPoint(x, y) === r).length / 64 }"""
"""The share of a thing that a press reaches, and not what lies over it."""


def test_on_a_phone_no_flag_hides_what_it_stands_at(page: Page, faulty_served: Any) -> None:
    page.set_viewport_size({"width": 390, "height": 1100})
    page.goto(faulty_served.url)
    page.wait_for_selector("[data-thing=L1]")
    assert page.locator("a.flag").count() > 5
    for thing in ("C1", "T1", "S1", "screen"):
        assert page.locator(f"[data-thing={thing}]").evaluate(OWN) > 0.5, thing
    named = page.get_by_label("Choose from a list")  # for whom all that is too small
    for thing, title in (("L1", "led feed L1"), ("A", "Seat A"), ("C1", "console C1")):
        named.select_option(thing)
        expect(page.locator("#thing h2")).to_have_text(re.compile(title, re.I))
        expect(named).to_have_value(thing)


def test_on_a_phone_the_strip_of_steps_says_that_there_are_more(opened: Page) -> None:
    opened.set_viewport_size({"width": 390, "height": 844})
    more, last = (
        opened.get_by_role("button", name="More steps to the right"),
        opened.get_by_role("link", name=re.compile("Drawings")),
    )
    expect(more).to_be_visible()
    expect(last).not_to_be_in_viewport()
    more.click()
    # it scrolls smoothly: pressed on until there is no more of it
    until(
        opened,
        lambda: opened.evaluate(
            "() => { const m = document.querySelector('nav .more'); m?.click(); return !m }"
        ),
    )
    expect(more).to_be_hidden()
    expect(last).to_be_in_viewport()


@pytest.mark.parametrize("width", [1440, 390])
def test_axe_finds_no_fault_at_aa(opened: Page, width: int) -> None:
    axe = _axe()
    opened.set_viewport_size({"width": width, "height": 900})
    opened.reload()
    opened.wait_for_selector("[data-thing=screen]")
    opened.locator("[data-thing=screen]").click()
    opened.evaluate(axe)
    found = opened.evaluate(
        "async () => (await axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'] }))"
        ".violations.map(v => [v.id, v.nodes.slice(0, 4).map(n => n.html.slice(0, 160) + ' ' + n.failureSummary)])"
    )
    assert found == []


def _axe() -> str:
    file = Path(__file__).parents[2] / "frontend/node_modules/axe-core/axe.min.js"
    if not file.is_file():
        pytest.skip("axe-core is not installed (`make test` installs it)")
    return file.read_text(encoding="utf-8")
