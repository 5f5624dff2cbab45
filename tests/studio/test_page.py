"""The page in a real browser: dragging, typing, undo, findings, the model, a phone."""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import ConsoleMessage, Locator, Page, expect

from wallwright.core.units import read_length
from wallwright.derive import derive

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
    """Wait for something that happens outside the page."""
    for _ in range(100):
        if true():
            return
        page.wait_for_timeout(50)
    raise AssertionError("did not happen")


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
    drag(opened, "[data-mark='screen.centre_height']", 0, -90, drop=False)
    opened.wait_for_timeout(300)  # the wall has followed, the marks stand in another order
    at = opened.locator("[data-mark='screen.centre_height']").bounding_box()
    assert at is not None
    opened.mouse.move(at["x"] + 60, at["y"] - 100, steps=6)
    opened.wait_for_timeout(300)
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
    narrow = opened.locator("[data-thing=screen]").bounding_box()
    assert wide is not None and narrow is not None
    assert narrow["width"] < wide["width"]
    other = opened.get_by_label("other size, inches")
    other.fill("58")
    other.press("Enter")
    until(opened, lambda: served.job().design.screen.diagonal == 58)


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
    finding = opened.get_by_role("group", name="Finding 1", exact=True)
    expect(finding).to_contain_text("above the line that suits")
    expect(finding).to_contain_text("measured")
    expect(finding).to_contain_text(re.compile("Fix|Consider"))
    finding.focus()
    expect(opened.locator(".place")).to_be_visible()
    finding.get_by_role("button").first.click()
    until(opened, lambda: derive(served.job()).sight.heights.used < 1500)
    expect(opened.locator("#findings")).not_to_contain_text("above the line that suits")
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
    canvas.wait_for(timeout=20_000)
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
    drag(opened, "[data-mark='screen.centre_height']", 0, -40)
    expect(opened.get_by_role("alert")).to_contain_text("changed elsewhere")
    expect(opened.get_by_text("screen 55″")).to_be_visible()
    assert served.job().design.screen.centre_height is None  # nothing was done to a wall that was not seen
    drag(opened, "[data-mark='screen.centre_height']", 0, -40)
    until(opened, lambda: served.job().design.screen.centre_height is not None)


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
    from pathlib import Path

    file = Path(__file__).parents[2] / "frontend/node_modules/axe-core/axe.min.js"
    if not file.is_file():
        pytest.skip("axe-core is not installed (`make test` installs it)")
    return file.read_text(encoding="utf-8")
