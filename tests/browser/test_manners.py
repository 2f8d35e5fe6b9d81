"""What a page owes everyone: safe, readable, by keyboard alone, at any width, dark and light."""

import itertools
import json
from collections.abc import Callable
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page, expect

pytestmark = pytest.mark.browser
SCHEMES: tuple[Literal["light"], Literal["dark"]] = ("light", "dark")

# Relative luminance and contrast as WCAG 2.2 defines them; a colour that lets light through is
# laid on what stands behind it.
CONTRAST = """(() => {
  const parts = words => {
    const [r, g, b, a = 1] = words.match(/[\\d.]+/g).map(Number);
    return [r, g, b, a];
  };
  const over = (top, under) => top.slice(0, 3).map((v, k) => v * top[3] + under[k] * (1 - top[3]));
  const light = rgb => {
    const [r, g, b] = rgb.map(v => v / 255)
      .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ground = node => {
    if (!node) return [255, 255, 255];
    const own = parts(getComputedStyle(node).backgroundColor);
    return own[3] === 1 ? own.slice(0, 3) : over(own, ground(node.parentElement));
  };
  window.contrast = (node, property) => {
    const under = ground(property === "backgroundColor" ? node.parentElement : node);
    const [a, b] = [light(over(parts(getComputedStyle(node)[property]), under)), light(under)];
    return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  };
  window.unreadable = () => [...document.querySelectorAll("body *")].filter(node =>
    [...node.childNodes].some(one => one.nodeType === 3 && one.textContent.trim()) &&
    !node.closest("script, style, noscript, option, optgroup, .unseen") && node.checkVisibility()
  ).map(node => [node.outerHTML.slice(0, 90),
    contrast(node, node.closest("svg") ? "fill" : "color")]);
})()"""


def readable(page: Page) -> None:
    page.evaluate(CONTRAST)
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        found = page.evaluate("unreadable()")
        assert len(found) > 10
        assert [one for one in found if one[1] < 4.5] == [], scheme


def lit(page: Page, selector: str, what: str) -> float:
    found: float = page.evaluate(
        "([s, what]) => contrast(document.querySelector(s), what)", [selector, what]
    )
    return found


def test_all_words_reach_the_contrast_of_wcag_aa(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    page.get_by_role("button", name="Circle A1").click()
    for mark in ("A1", "A2"):
        page.get_by_role("button", name=f"Lay {mark} beside others").click()
    readable(page)
    page.locator(".cell[data-mark=A1] .picture").click()
    readable(page)
    page.keyboard.press("Escape")
    page.click("#compare")
    page.click("#overlay")
    readable(page)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_lines_that_mean_something_reach_three_to_one(
    visit: Callable[..., Page], small: Path, scheme: str
) -> None:
    """WCAG 2.2, 1.4.11: controls, focus and graphics."""
    page = visit(small, color_scheme=scheme)
    page.get_by_role("button", name="Circle A1").click()
    page.evaluate(CONTRAST)
    lines = {
        ".metal": "stroke", ".pencil": "stroke", ".dot:not(.circled) .spot": "stroke",
        ".dot.circled .spot": "fill", ".rug line": "stroke", "#way": "borderTopColor",
        "select": "borderTopColor", ".icon circle": "stroke", "#save-marks": "borderTopColor",
    }  # fmt: skip
    assert {key: lit(page, key, what) for key, what in lines.items()
            if lit(page, key, what) < 3} == {}  # fmt: skip
    page.keyboard.press("Tab")
    ring = page.evaluate("contrast(document.activeElement, 'outlineColor')")
    assert ring >= 3
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"


def test_the_scheme_of_the_reader_is_kept(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    grounds = {"light": "rgb(255, 255, 255)", "dark": "rgb(19, 20, 21)"}
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        assert page.evaluate("getComputedStyle(document.body).backgroundColor") == grounds[scheme]


def test_motion_stops_where_the_reader_asks(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    wishes: tuple[tuple[Literal["reduce", "no-preference"], bool], ...]
    wishes = (("reduce", False), ("no-preference", True))
    for wish, moving in wishes:
        page.emulate_media(reduced_motion=wish)
        times = page.evaluate(
            """() => [...document.querySelectorAll("*")].flatMap(node => {
                const style = getComputedStyle(node);
                return [style.transitionDuration, style.animationDuration].map(parseFloat);
            })"""
        )
        assert (max(times) > 0) == moving


@pytest.mark.parametrize("width", [380, 1024, 1920])
def test_nothing_is_wider_than_the_window(
    visit: Callable[..., Page], small: Path, width: int
) -> None:
    page = visit(small, width=width, height=820)
    for mark in ("A1", "A2", "B1", "B2"):
        page.get_by_role("button", name=f"Lay {mark} beside others").click()
    if width == 380:
        assert not page.locator("#sort").is_visible()
        page.click("#unfold")
    assert page.locator("#sort").is_visible()
    assert page.locator("#plot").is_visible()
    inside(page, "document.documentElement")
    page.locator(".cell[data-mark=A1] .picture").click()
    inside(page, "document.querySelector('#large .split')")
    page.keyboard.press("Escape")
    page.click("#compare")
    page.click("#overlay")
    inside(page, "document.querySelector('#beside .scroll')")
    sizes = page.evaluate(
        """() => [...document.querySelectorAll("#beside *")].filter(node =>
            node.checkVisibility() && [...node.childNodes].some(
                one => one.nodeType === 3 && one.textContent.trim()))
            .map(node => parseFloat(getComputedStyle(node).fontSize))"""
    )
    assert min(sizes) >= 12


def inside(page: Page, node: str) -> None:
    wide = page.evaluate(f"(node => [node.scrollWidth, node.clientWidth])({node})")
    assert wide[0] <= wide[1]


@pytest.mark.parametrize("width", [380, 1920])
def test_controls_are_large_enough_for_a_finger(
    visit: Callable[..., Page], small: Path, width: int
) -> None:
    """WCAG 2.2, 2.5.8: 24 by 24 CSS pixels; a point of the plot may be reached by its cell."""
    page = visit(small, width=width, height=820)
    if width == 380:
        page.click("#unfold")
    page.get_by_role("button", name="Circle A1").click()
    page.get_by_role("button", name="Lay A1 beside others").click()
    sizes = page.locator("button, select, label.tick").evaluate_all(
        """all => all.filter(node => node.checkVisibility()).map(node => {
            const { width, height } = node.getBoundingClientRect();
            return [Math.min(width, height), node.outerHTML];
        })"""
    )
    assert len(sizes) > 30
    assert [one for one in sizes if one[0] < 24] == []


def focused(page: Page) -> str:
    found: str = page.evaluate(
        """() => { const node = document.activeElement;
        return node.id || node.getAttribute("aria-label") || node.textContent; }"""
    )
    return found


def tab_to(page: Page, words: str, most: int = 60) -> None:
    for _ in range(most):
        page.keyboard.press("Tab")
        if (focused(page) or "").startswith(words):
            return
    raise AssertionError(f"Tab does not reach {words}")


def test_everything_is_done_by_keyboard_alone(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    page.keyboard.press("Tab")
    assert focused(page) == "To the rings"
    tab_to(page, "sort")
    before = page.locator(".cell").first.get_attribute("data-mark")
    page.keyboard.type("mass")
    assert page.locator("#sort").input_value() == "mass"
    assert page.locator(".cell").first.get_attribute("data-mark") != before
    tab_to(page, "Circle")
    start = page.evaluate("document.activeElement.closest('.cell').dataset.mark")
    page.keyboard.press("Space")
    assert page.locator(f".cell[data-mark={start}] .mark").get_attribute("aria-pressed") == "true"
    page.keyboard.press("ArrowRight")
    assert focused(page).startswith("Circle")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    tab_to(page, "compare")
    page.keyboard.press("Enter")
    assert page.locator("#beside").is_visible()
    tab_to(page, "overlay")
    page.keyboard.press("Space")
    assert page.locator(".overlay").is_visible()
    page.keyboard.press("Escape")
    expect(page.locator("#compare")).to_be_focused()


def test_arrows_lead_through_grid_and_plot(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    page.locator(".cell[data-mark=A1] .picture").focus()
    for key, mark in (("ArrowRight", "A2"), ("ArrowRight", "A4"), ("ArrowLeft", "A2"),
                      ("End", "B4"), ("Home", "A1")):  # fmt: skip
        page.keyboard.press(key)
        found = page.evaluate("document.activeElement.closest('.cell').dataset.mark")
        assert found == mark, key
    stops = page.locator("#rings button[tabindex='0'], #rings button:not([tabindex])").count()
    assert stops == 3
    first = page.locator(".dot[tabindex='0']")
    assert first.count() == 1
    first.focus()
    page.keyboard.press("ArrowUp")
    mark = page.evaluate("document.activeElement.dataset.mark")
    assert page.locator(".lamp.on").count() == 1
    page.keyboard.press("Enter")
    assert page.locator("#large-title b").inner_text() == mark
    page.keyboard.press("Escape")
    expect(page.locator(f".dot[data-mark={mark}]")).to_be_focused()


def test_markup_in_a_spec_is_shown_as_text(
    visit: Callable[..., Page], hostile: tuple[Path, str]
) -> None:
    path, title = hostile
    page = visit(path)
    assert page.locator("h1").inner_text() == title
    assert page.title() == title
    assert page.locator("h1 *").count() == 0
    assert "<b>bold</b>" in page.locator(".cell.empty").inner_text()
    assert page.locator(".cell.empty b, .cell img").count() == 0
    page.get_by_role("button", name="Circle A1").click()
    page.locator(".picture").first.click()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save outline").click()
    assert "&lt;/script&gt;" in waiting.value.path().read_text("utf-8")


def test_the_page_asks_for_nothing_and_could_load_nothing(browser: Browser, small: Path) -> None:
    context = browser.new_context()
    page = context.new_page()
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(small.as_uri())
    assert asked == [small.as_uri()]
    refused = page.evaluate(
        """async () => {
            const found = [];
            document.addEventListener("securitypolicyviolation",
                event => found.push(event.effectiveDirective));
            await fetch("https://localhost:9/").catch(() => {});
            const image = new Image();
            image.src = "https://localhost:9/a.png";
            const script = document.createElement("script");
            script.textContent = "window.ran = true";
            document.body.append(image, script);
            const link = document.createElement("p");
            link.setAttribute("onclick", "window.ran = true");
            document.body.append(link);
            link.click();
            await new Promise(done => setTimeout(done, 100));
            return [window.ran === true, found.sort()];
        }"""
    )
    context.close()
    assert refused == [
        False, ["connect-src", "img-src", "script-src-attr", "script-src-elem"]
    ]  # fmt: skip


def test_the_page_works_where_nothing_may_be_remembered(
    visit: Callable[..., Page], small: Path
) -> None:
    barred = (
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('barred') } })"
    )
    page = visit(small, script=barred)
    page.get_by_role("button", name="Circle A1").click()
    assert page.locator("#tray").inner_text().startswith("1 circled")


def test_what_was_remembered_wrongly_is_let_go(visit: Callable[..., Page], small: Path) -> None:
    key = json.loads(small.read_text("utf-8").split('type="application/json">')[1]
                     .split("</script>")[0])["key"]  # fmt: skip
    for wrong in ("{", '["Z9"]', "7"):
        script = f"localStorage.setItem('openwork {key}', {json.dumps(wrong)})"
        page = visit(small, script=script)
        assert page.locator(".cell").count() == 8
        assert not page.locator("#tray").is_visible()


def test_without_script_the_page_says_where_the_rings_are(
    visit: Callable[..., Page], small: Path
) -> None:
    page = visit(small, java_script_enabled=False)
    assert "sheet.svg" in page.locator(".noscript").inner_text()


def test_focus_can_be_seen_on_every_stop(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    seen = set()
    for _ in itertools.repeat(None, 40):
        page.keyboard.press("Tab")
        style = page.evaluate(
            """() => { const node = document.activeElement;
            const own = getComputedStyle(node);
            const thumb = node.type === "range";
            const point = node.closest(".dot");
            const line = point ? getComputedStyle(point.firstChild).stroke : own.outlineStyle;
            return [node.outerHTML, thumb || (line !== "none" && line !== "")]; }"""
        )
        if style[0].startswith("<body"):
            continue  # past the last stop the browser's own controls have it
        seen.add(style[0])
        assert style[1], style[0]
    assert len(seen) > 20


@pytest.mark.parametrize("finish", ["black", "#101010", "gold", "white"])
def test_metal_stands_out_from_what_is_behind_it(
    visit: Callable[..., Page], finished: Callable[[str], Path], finish: str
) -> None:
    """WCAG 2.2, 1.4.11, by metal or outline; on dark paper, where lines glare, also the metal."""
    page = visit(finished(finish))
    page.evaluate(CONTRAST)
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        behind, line = page.evaluate(
            """() => {
                const probe = document.querySelector(".picture");
                const ground = document.querySelector(".ground");
                const fill = ground && getComputedStyle(ground).fill;
                if (fill && !fill.endsWith(", 0)")) probe.style.background = fill;
                const sheet = JSON.parse(document.getElementById("sheet").textContent);
                probe.style.color = sheet.blanks[0].plate[0];
                return [contrast(probe, "color"),
                    contrast(document.querySelector(".metal"), "stroke")];
            }"""
        )
        assert max(behind, line) >= 3
        if scheme == "dark":
            assert behind >= 2


def test_every_ring_is_printed_and_no_control(visit: Callable[..., Page], great: Path) -> None:
    page = visit(great)
    page.emulate_media(media="print")
    seen = page.locator(".cell").evaluate_all(
        """all => all.filter(one => one.querySelector(".metal")
            .checkVisibility({ contentVisibilityAuto: true })).length"""
    )
    assert seen == 200
    assert not page.locator("#tools").is_visible()
