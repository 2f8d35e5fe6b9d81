"""The live page as a maker uses it: turned, undone, saved, kept, compared, told what is wrong."""

import os
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from openwork.drawing.outlines import outlines
from openwork.spec.spec import from_toml
from tests.live.serving import HARBOUR, ROOT, Served, served

pytestmark = pytest.mark.browser
SAVED = re.compile(r"^saved \S+/harbour\.toml")  # not what was saved beside it
QUEUE = 60_000  # ms: files for the shop wait for the thumbnail that is being drawn
NOTED = HARBOUR.replace("[web]", "[web]  # what must stay <b>bold</b>")


@pytest.fixture(scope="module")
def there(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("hone"), text=NOTED) as found:
        yield found


@pytest.fixture
def opened(browser: Browser, there: Served) -> Iterator[Callable[..., Page]]:
    """Return the function that opens the page on the file as it was at first."""
    contexts: list[Any] = []
    faults: list[str] = []
    asked: list[str] = []
    shutil.rmtree(there.folder / "harbour-kept", ignore_errors=True)
    (there.folder / "harbour.toml").write_text(NOTED, "utf-8")

    def page_of(*, width: int = 1024, height: int = 768, **options: Any) -> Page:
        context = browser.new_context(viewport={"width": width, "height": height}, **options)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(20_000)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
        page.on("request", lambda request: asked.append(request.url))
        page.goto(there.address)
        expect(reading(page, "rib")).to_contain_text("mm", timeout=20_000)
        return page

    yield page_of
    for context in contexts:
        context.close()
    assert faults == []
    assert all(url.startswith((there.address, "blob:", "data:")) for url in asked)


def reading(page: Page, key: str) -> Locator:
    return page.locator(f"#readings [data-key={key}] dd")


def slider(page: Page, key: str) -> Locator:
    return page.locator(f'[id="r-{key}"]')


def field(page: Page, key: str) -> Locator:
    return page.locator(f'[id="c-{key}"]')


def put(page: Page, key: str, value: str) -> None:
    field(page, key).fill(value)
    field(page, key).press("Enter")


def still(page: Page) -> None:
    """Wait until the ring is measured."""
    expect(page.locator("#readings [data-key=rib]:not(.old)")).to_be_visible()


def drag(page: Page, node: Locator, start: float, end: float) -> None:
    node.scroll_into_view_if_needed()
    box = node.bounding_box()
    assert box is not None
    y = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + box["width"] * start, y)
    page.mouse.down()
    for step in range(1, 9):
        part = start + (end - start) * step / 8
        page.mouse.move(box["x"] + box["width"] * part, y)
        page.wait_for_timeout(20)
    page.mouse.up()


def test_a_ring_is_dragged_undone_taken_kept_and_saved(
    opened: Callable[..., Page], there: Served
) -> None:
    page = opened()
    first = page.locator("#hole").get_attribute("d")
    expect(reading(page, "mass")).to_contain_text("62.1 g")
    drag(page, slider(page, "web.rib"), 0.33, 0.6)
    expect(page.locator('.line.changed[data-key="web.rib"] s')).to_have_text("2")
    still(page)
    assert page.locator("#hole").get_attribute("d") != first
    page.click("#undo")  # a whole drag is one step
    expect(page.locator("#undo")).to_be_disabled()
    expect(page.locator("#hole")).to_have_attribute("d", first or "")
    page.click("#redo")
    slider(page, "web.rib").focus()
    for _ in range(3):
        page.keyboard.press("ArrowRight")  # presses in quick order are one step
    page.click("#undo")
    page.click("#undo")
    expect(page.locator("#undo")).to_be_disabled()
    take = page.locator(".pick[data-family=michell]")
    take.scroll_into_view_if_needed()
    expect(take).to_contain_text("70.0 g", timeout=20_000)
    take.click()
    expect(field(page, "pattern.name")).to_have_value("michell")
    expect(reading(page, "mass")).to_contain_text("70.0 g")
    still(page)
    page.click("#keep")
    expect(page.locator("#shelf .pick")).to_contain_text("ring1")
    before = page.locator("#hole").get_attribute("d") or ""
    put(page, "web.hem", "3.6")
    expect(page.locator("#hole")).not_to_have_attribute("d", before)
    shown = page.locator("#hole").get_attribute("d")
    page.click("#save")
    expect(page.locator("#said")).to_have_text(SAVED)
    expect(page.locator("#save")).to_be_disabled()
    text = (there.folder / "harbour.toml").read_text("utf-8")
    assert "# what must stay" in text
    assert from_toml(text).web.hem == 3.6
    page.reload()
    still(page)
    assert page.locator("#hole").get_attribute("d") == shown
    expect(page.locator("#shelf .pick")).to_have_count(1)


def test_what_was_changed_elsewhere_is_never_written_over(
    opened: Callable[..., Page], there: Served
) -> None:
    path = there.folder / "harbour.toml"
    page = opened()
    put(page, "web.rim", "3.4")
    path.write_text(NOTED.replace("hem = 3.0", "hem = 3.1"), "utf-8")
    page.click("#save")
    expect(page.locator("#faults")).to_contain_text("was changed outside this page")
    assert "hem = 3.1" in path.read_text("utf-8")
    page.get_by_role("button", name="Save mine beside it").click()
    expect(page.locator("#said")).to_contain_text("harbour-1.toml")
    assert from_toml((there.folder / "harbour-1.toml").read_text("utf-8")).web.rim == 3.4
    page.click("#save")
    page.get_by_role("button", name="Read it again").click()
    expect(field(page, "web.hem")).to_have_value("3.1")
    page.click("#undo")  # what was mine is a step back
    expect(field(page, "web.rim")).to_have_value("3.4")
    path.unlink()
    page.click("#save")
    expect(page.locator("#faults")).to_contain_text("gone from its folder")
    page.get_by_role("button", name="Write it again").click()
    expect(page.locator("#said")).to_have_text(SAVED)
    assert from_toml(path.read_text("utf-8")).web.rim == 3.4
    (there.folder / "harbour-1.toml").unlink()


def test_a_file_that_is_no_spec_any_more_is_told_and_read_again(
    opened: Callable[..., Page], there: Served
) -> None:
    page = opened()
    (there.folder / "harbour.toml").write_text("[web\nrib = ", "utf-8")
    page.reload()
    expect(page.locator("#faults")).to_contain_text("not TOML")
    (there.folder / "harbour.toml").write_text(NOTED, "utf-8")
    page.get_by_role("button", name="Read it again").click()
    still(page)
    expect(page.locator("#faults")).to_be_empty()


def test_what_cannot_be_keeps_the_last_ring_and_offers_what_would_work(
    opened: Callable[..., Page],
) -> None:
    page = opened()
    before = page.locator("#hole").get_attribute("d")
    put(page, "pattern.columns", "41")
    expect(page.locator("#faults")).to_contain_text("a multiple of 5")
    expect(page.locator("#ring.stale")).to_be_visible()
    assert page.locator("#hole").get_attribute("d") == before
    expect(page.locator('.line.bad[data-key="pattern.columns"]')).to_be_visible()
    page.get_by_role("button", name="pattern.columns = 45").click()
    expect(page.locator("#ring:not(.stale)")).to_be_visible()
    expect(page.locator("#faults")).to_be_empty()
    put(page, "web.rib", "thin")
    expect(page.locator("#faults")).to_contain_text("not a value of TOML")


def test_on_the_mass_everything_else_can_be_turned(opened: Callable[..., Page]) -> None:
    page = opened()
    page.get_by_role("switch", name="on the mass").click()
    expect(reading(page, "mass")).to_contain_text("70.0 g")
    expect(slider(page, "web.rib")).to_be_disabled()
    drag(page, slider(page, "web.rim"), 0.33, 0.5)
    still(page)
    expect(reading(page, "mass")).to_contain_text("70.0 g")
    drag(page, slider(page, "web.rim"), 0.5, 0.95)
    expect(page.locator("#faults")).to_contain_text("by ribs alone")
    page.click("#undo")
    expect(reading(page, "mass")).to_contain_text("70.0 g")
    turned = field(page, "web.rib").input_value()
    page.get_by_role("switch", name="on the mass").click()
    expect(field(page, "web.rib")).to_have_value(turned)  # it stays where it was turned to
    put(page, "goal.mass", "110")
    page.get_by_role("switch", name="on the mass").click()
    page.get_by_role("button", name="Turn the whole ring to it").click()
    expect(page.locator("#faults")).to_contain_text("110 g cannot be reached")
    page.get_by_role("button", name="goal.plate = ").click()
    page.get_by_role("button", name="Turn the whole ring to it").click()
    expect(reading(page, "mass")).to_contain_text("110.0 g")


def test_two_kept_rings_are_laid_over_each_other(opened: Callable[..., Page]) -> None:
    page = opened()
    page.click("#keep")
    expect(page.locator("#shelf .pick")).to_have_count(1)
    page.locator(".pick[data-family=spokes]").click()
    expect(page.locator("#bevel")).to_be_attached()
    still(page)
    page.click("#keep")
    expect(page.locator("#shelf .pick")).to_have_count(2)
    for box in page.locator("#shelf .tick").all():
        box.check()
    page.get_by_role("button", name="Lay two over each other").click()
    expect(page.locator("#beside p.first")).to_contain_text("honeycomb")
    expect(page.locator("#beside p.second")).to_contain_text("spokes")
    assert page.locator("#overlay path").count() == 2 + 5 + 5
    page.keyboard.press("Escape")
    page.locator("#shelf .pick").first.click()
    expect(field(page, "pattern.name")).to_have_value("honeycomb")


def test_files_for_the_shop_are_written(opened: Callable[..., Page], there: Served) -> None:
    page = opened()
    page.get_by_role("button", name="Write the files").click()
    expect(page.locator("#said")).to_contain_text("wrote out/ring.svg", timeout=QUEUE)
    assert (there.folder / "out" / "ring.svg").read_text("utf-8").startswith("<?xml")
    assert (there.folder / "out" / "handover.json").exists()


def test_what_the_disk_refuses_is_told_and_nothing_is_lost(
    opened: Callable[..., Page], there: Served, tmp_path: Path
) -> None:
    """A file stands where the folder for the shop would be, and another where kept rings go."""
    out, shelf = there.folder / "out", there.folder / "harbour-kept"
    if out.exists():
        out.rename(tmp_path / "out")
    try:
        for one in (out, shelf):
            one.write_text("in the way", "utf-8")
        page = opened()
        put(page, "web.rim", "3.3")
        still(page)
        for press in ("Write the files", "Keep this one"):
            page.get_by_role("button", name=press).click()
            expect(page.locator("#faults")).to_contain_text("nothing was written", timeout=QUEUE)
        expect(field(page, "web.rim")).to_have_value("3.3")
        page.click("#save")
        expect(page.locator("#said")).to_have_text(SAVED)
        assert out.read_text("utf-8") == shelf.read_text("utf-8") == "in the way"
    finally:
        for one in (out, shelf):
            one.unlink(missing_ok=True)


def test_a_table_is_added_and_taken_out_from_the_schema_alone(
    opened: Callable[..., Page],
) -> None:
    page = opened()
    page.locator("#t-mount summary").click()
    page.get_by_role("button", name="Add mount.counterbore").click()
    expect(page.locator("#faults")).to_contain_text("mount.counterbore.diameter: missing")
    for offer in ("diameter = 14.5", "depth = 1"):
        page.get_by_role("button", name=offer).first.click()
    expect(page.locator("#ring:not(.stale)")).to_be_visible()
    expect(field(page, "mount.counterbore.diameter")).to_have_value("14.5")
    page.get_by_role("button", name="Take out mount.counterbore").click()
    expect(page.get_by_role("button", name="Add mount.counterbore")).to_be_visible()


def test_an_entry_under_a_name_of_ones_own_is_added(opened: Callable[..., Page]) -> None:
    page = opened()
    page.get_by_label("name of a new prices").fill("7075-T6")
    page.get_by_role("button", name="Add prices").click()
    put(page, "prices.7075-T6", "9.5")
    expect(page.locator('.line.changed[data-key="prices.7075-T6"]')).to_be_visible()
    expect(page.locator("#faults")).to_be_empty()
    page.click("#undo")
    page.click("#undo")
    expect(field(page, "prices.7075-T6")).to_have_count(0)


def test_a_value_of_toml_is_typed_as_in_the_file(opened: Callable[..., Page]) -> None:
    page = opened()
    page.locator("#t-mount summary").click()
    put(page, "mount.angles", "[0, 72, 144, 216, 288]")
    expect(field(page, "mount.angles")).to_have_value("[0, 72, 144, 216, 288]")
    put(page, "ring.chain", "{ inner = 2.38, roller = 7.75 }")
    expect(page.locator('.line.changed[data-key="ring.chain"]')).to_be_visible()
    expect(page.locator("#faults")).to_be_empty()


def test_words_of_the_file_are_never_markup(opened: Callable[..., Page]) -> None:
    page = opened()
    expect(page.locator("#t-web")).to_contain_text("what must stay <b>bold</b>")
    put(page, "title", "<img src=x onerror=alert(1)>")
    expect(page.locator("h1")).to_have_text("<img src=x onerror=alert(1)>")
    assert page.locator("h1 img, #t-web b").count() == 0


def test_everything_is_done_by_keyboard_alone(opened: Callable[..., Page], there: Served) -> None:
    page = opened()
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="To the spec")).to_be_focused()
    page.locator("#t-web").locator("input").first.focus()
    for _ in range(5):
        page.keyboard.press("ArrowDown")
    expect(slider(page, "web.rib")).to_be_focused()
    page.keyboard.press("ArrowRight")
    expect(page.locator('.line.changed[data-key="web.rib"]')).to_be_visible()
    page.keyboard.press("Control+z")
    expect(page.locator('.line.changed[data-key="web.rib"]')).to_have_count(0)
    page.keyboard.press("Control+y")
    page.keyboard.press("Control+s")
    expect(page.locator("#said")).to_have_text(SAVED)
    assert from_toml((there.folder / "harbour.toml").read_text("utf-8")).web.rib != 2.0
    expect(slider(page, "web.rib")).to_be_focused()


def test_a_table_is_one_stop_of_the_tab_key(opened: Callable[..., Page]) -> None:
    page = opened()
    stops = page.locator('#form [tabindex="0"]').count()
    tables = page.locator("#form .table").count()
    assert tables <= stops <= tables + 2
    assert page.locator('#families [tabindex="0"]').count() == 1


def test_a_foreign_page_cannot_open_the_socket(browser: Browser, there: Served) -> None:
    page = browser.new_page()
    page.goto("data:text/html,<title>elsewhere</title>")
    closed = page.evaluate(
        """address => new Promise(done => {
            const socket = new WebSocket(address);
            socket.onopen = () => done("open");
            socket.onclose = ({ code }) => done(code);
        })""",
        f"ws://{there.host}{there.path}talk",
    )
    page.close()
    assert closed == 1006


def test_a_finger_on_a_slider_does_not_scroll_the_page_away(opened: Callable[..., Page]) -> None:
    page = opened(width=380, height=780, has_touch=True, is_mobile=True, bypass_csp=True)
    node = slider(page, "web.rib")
    node.scroll_into_view_if_needed()
    box = node.bounding_box()
    assert box is not None
    before = page.evaluate("scrollY")
    touch = page.context.new_cdp_session(page)
    y = box["y"] + box["height"] / 2
    for step in range(12):
        kind = "touchStart" if step == 0 else "touchMove"
        x = box["x"] + box["width"] * (0.33 + step / 40)
        point = {"x": x, "y": y + step}
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [point]})
        page.wait_for_timeout(20)
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    expect(page.locator('.line.changed[data-key="web.rib"]')).to_be_visible()
    assert page.evaluate("scrollY") == before
    ring = page.locator("#ring").bounding_box()
    assert ring is not None
    assert ring["y"] >= -1  # it stays in sight


@pytest.mark.skipif(os.name == "nt", reason="signals")
def test_a_server_that_has_ended_is_told_and_the_spec_can_be_taken(
    browser: Browser, tmp_path: Path
) -> None:
    page = browser.new_page(accept_downloads=True)
    with served(tmp_path) as there:
        page.goto(there.address)
        still(page)
        put(page, "web.hem", "3.2")
        still(page)
    expect(page.locator("#faults")).to_contain_text("The server has ended")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Take the spec with you").click()
    assert from_toml(waiting.value.path().read_text("utf-8")).web.hem == 3.2
    page.close()


GULL = (ROOT / "gallery/motif/gull/gull.svg").read_bytes()
DROP = """async ([name, text]) => {
  const data = new DataTransfer();
  data.items.add(new File([text], name, { type: "image/svg+xml" }));
  const told = (kind) => document.querySelector("#ring").dispatchEvent(
    new DragEvent(kind, { bubbles: true, cancelable: true, dataTransfer: data }));
  told("dragover");
  const shown = document.body.dataset.drop !== undefined;
  told("drop");
  return shown && document.body.dataset.drop === undefined;
}"""


def test_a_drawing_dropped_on_the_page_is_the_pattern(
    opened: Callable[..., Page], there: Served
) -> None:
    page = opened()
    first = page.locator("#hole").get_attribute("d") or ""
    assert page.evaluate(DROP, ["gull.svg", GULL.decode()])
    expect(page.locator("#said")).to_have_text("gull.svg is the pattern now.")
    expect(field(page, "pattern.name")).to_have_value("motif")
    expect(page.locator("#hole")).not_to_have_attribute("d", first)
    still(page)
    page.click("#save")
    expect(page.locator("#said")).to_have_text(SAVED)
    saved = from_toml((there.folder / "harbour.toml").read_text("utf-8"))
    assert saved.pattern.parameters["outlines"] == outlines(GULL, "gull.svg")
    page.click("#undo")
    expect(page.locator("#hole")).to_have_attribute("d", first)


def test_a_drawing_is_chosen_by_a_button_and_a_bad_one_changes_nothing(
    opened: Callable[..., Page],
) -> None:
    page = opened()
    first = page.locator("#hole").get_attribute("d") or ""
    bad = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
    for name, data, words in (
        ("bad<b>.svg", bad, "scripts are not taken"),
        ("large.svg", b"<" * (1 << 20 | 1), "over 1048576 bytes"),
        ("ring.png", b"\x89PNG\r\n\x1a\n" + bytes(40), "ring.png"),
    ):
        page.locator("#drawing").set_input_files(
            {"name": name, "mimeType": "image/svg+xml", "buffer": data}
        )
        expect(page.locator("#faults")).to_contain_text(words)
        expect(page.locator("#faults b")).to_have_count(0)
    assert page.locator("#hole").get_attribute("d") == first
    expect(page.locator("#undo")).to_be_disabled()
    with page.expect_file_chooser() as choosing:
        page.get_by_role("button", name="Your own drawing").click()
    choosing.value.set_files(ROOT / "gallery/motif/gull/gull.svg")
    expect(field(page, "pattern.name")).to_have_value("motif")
    expect(page.locator("#faults")).to_be_empty()
