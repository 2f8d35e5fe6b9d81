"""What the live page owes everyone: any width, both schemes, a finger, a printer, a reader."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.test_manners import CONTRAST, SCHEMES, inside
from tests.live.serving import HARBOUR, Served, served

pytestmark = pytest.mark.browser
WIDTHS = (380, 1024, 1920)


@pytest.fixture(scope="module")
def there(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("hone"), text=HARBOUR) as found:
        yield found


@pytest.fixture(scope="module")
def page_at(browser: Browser, there: Served) -> Iterator[Callable[[int], Page]]:
    """Return the page of each width, opened once, with a fault and its offers shown."""
    pages: dict[int, Page] = {}

    def page_of(width: int) -> Page:
        if width not in pages:
            page = browser.new_page(viewport={"width": width, "height": 820}, bypass_csp=True)
            page.goto(there.address)
            expect(page.locator("#readings [data-key=rib]:not(.old)")).to_be_visible(timeout=30_000)
            page.click("#keep")
            page.locator('[id="c-pattern.columns"]').fill("41")
            page.locator('[id="c-pattern.columns"]').press("Enter")
            expect(page.locator(".offer").first).to_be_visible(timeout=20_000)
            page.locator("#form summary").first.click()
            pages[width] = page
        return pages[width]

    yield page_of
    for page in pages.values():
        page.close()


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_is_wider_than_the_window(page_at: Callable[[int], Page], width: int) -> None:
    page = page_at(width)
    inside(page, "document.documentElement")
    inside(page, "document.querySelector('#panel')")


@pytest.mark.parametrize("width", WIDTHS)
def test_all_words_reach_the_contrast_of_wcag_aa(
    page_at: Callable[[int], Page], width: int
) -> None:
    page = page_at(width)
    page.evaluate(CONTRAST)
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        found: list[Any] = page.evaluate("unreadable()")
        assert len(found) > 60
        assert [one for one in found if one[1] < 4.5] == [], scheme


@pytest.mark.parametrize("width", WIDTHS)
def test_controls_are_large_enough_for_a_finger(page_at: Callable[[int], Page], width: int) -> None:
    """WCAG 2.2, 2.5.8: 24 by 24 CSS pixels."""
    controls = "button, select, input, summary, a:not(.skip), label.pair, label.switch"
    sizes = page_at(width).locator(controls).evaluate_all(
        """all => all.filter(node => node.checkVisibility()).map(node => {
            const { width, height } = node.getBoundingClientRect();
            return [Math.min(width, height), node.outerHTML.slice(0, 120)];
        })"""
    )  # fmt: skip
    assert len(sizes) > 60
    assert [one for one in sizes if one[0] < 23.99] == []


def test_every_control_has_a_name(page_at: Callable[[int], Page]) -> None:
    page = page_at(1024)
    tree = page.context.new_cdp_session(page).send("Accessibility.getFullAXTree")
    roles = {"slider", "textbox", "button", "checkbox", "switch", "combobox", "radio", "link"}
    found = [
        (node["role"]["value"], node.get("name", {}).get("value", ""))
        for node in tree["nodes"]
        if not node.get("ignored") and node.get("role", {}).get("value") in roles
    ]
    assert len(found) > 60
    assert [one for one in found if not one[1].strip()] == []
    assert ("switch", "on the mass") in found
    assert ("slider", "rib") in found


def test_readings_and_faults_are_told_to_who_hears_the_page(
    page_at: Callable[[int], Page],
) -> None:
    page = page_at(1024)
    assert page.locator("#faults").get_attribute("role") == "alert"
    assert page.locator("#said").get_attribute("role") == "status"
    assert page.locator("#heard").get_attribute("aria-live") == "polite"
    expect(page.locator("#heard")).to_contain_text("gram, 80 openings, least rib 2.00")
    assert "Physical tests" in page.locator("#caution").inner_text()


def test_motion_stops_where_the_reader_asks(page_at: Callable[[int], Page]) -> None:
    page = page_at(1024)
    for wish, moving in (("reduce", False), ("no-preference", True)):
        page.emulate_media(reduced_motion=wish)  # type: ignore[arg-type]
        times = page.evaluate(
            """() => [...document.querySelectorAll("*")].flatMap(node => {
                const style = getComputedStyle(node);
                return [style.transitionDuration, style.animationDuration].map(parseFloat);
            })"""
        )
        assert (max(times) > 0) == moving


def test_what_is_focused_is_not_hidden_by_the_ring(page_at: Callable[[int], Page]) -> None:
    """WCAG 2.2, 2.4.11: on a phone the ring stays in sight, above what is focused."""
    page = page_at(380)
    for key in ("web.rib", "ring.teeth", "pattern.columns"):
        page.locator(f'[id="c-{key}"]').focus()
        field = page.locator(f'[id="c-{key}"]').bounding_box()
        stage = page.locator(".stage").bounding_box()
        assert field is not None
        assert stage is not None
        assert field["y"] >= stage["y"] + stage["height"] - 1, key
        assert stage["height"] < 0.75 * 820


def test_on_paper_there_is_the_ring_and_nothing_to_press(page_at: Callable[[int], Page]) -> None:
    page = page_at(1024)
    page.emulate_media(media="print")
    assert page.locator("#ring svg").is_visible()
    assert page.locator("#readings").is_visible()
    for one in ("#save", "#families", "#formats", '[id="r-web.rib"]'):
        assert not page.locator(one).is_visible(), one
    page.emulate_media(media="screen")
