"""Sorting, filtering and circling, each control as a hand or a keyboard would use it."""

import math
import statistics
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from openwork.explore.variants.figure_rows import numbers, rows
from openwork.explore.variants.variants import Entry, Made, Refused, Variant
from tests._sure import sure

pytestmark = pytest.mark.browser
KEYS = ("mass", "rib.least", "strength.stiffness")


def marks(page: Page) -> list[str]:
    found: list[str] = page.locator("#rings > li").evaluate_all(
        "all => all.map(one => one.dataset.mark)"
    )
    return found


def count(page: Page) -> str:
    return page.locator("#count").inner_text()


def known(few: dict[str, Entry], key: str) -> dict[str, Any]:
    """Return the value of a figure by mark, as Python has it."""
    return {mark: numbers(entry)[key] for mark, entry in few.items() if isinstance(entry, Made)}


def test_every_variant_has_its_place(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    assert marks(page) == list(few)
    assert count(page) == "8 rings, 1 cannot be made"
    empty = page.locator(".cell.empty")
    assert empty.count() == 1
    assert "multiple of" in empty.inner_text()
    assert empty.locator("button").count() == 0


def orders(page: Page) -> Any:
    """Return every figure to sort by, with the marks as first laid out and the other way round."""
    return page.evaluate(
        """() => {
            const select = document.getElementById("sort");
            const marks = () => [...document.querySelectorAll("#rings > li")]
                .map(one => one.dataset.mark);
            return [...select.options].map(one => one.value).filter(Boolean).map(key => {
                select.value = key;
                select.dispatchEvent(new Event("change"));
                const first = marks();
                document.getElementById("way").click();
                return [key, first, marks()];
            });
        }"""
    )


def test_every_figure_sorts_both_ways(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    found = orders(visit(small))
    better = {row.key: row.better for row in rows(map(numbers, few.values()))}
    assert set(KEYS) < {key for key, *_ in found}
    assert len(found) > 20
    for key, *both in found:
        values = known(few, key)
        first = better[key] > 0
        for down, order in zip((first, not first), both, strict=True):
            assert isinstance(few[order[-1]], Refused)
            seen = [values[mark] for mark in order[:-1]]
            assert seen == sorted(values.values(), reverse=down), key


def test_a_figure_is_chosen_from_the_list(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    page.select_option("#sort", "mass")
    mass = known(few, "mass")
    assert marks(page)[:-1] == sorted(mass, key=mass.__getitem__)
    page.click("#way")
    assert marks(page)[:-1] == sorted(mass, key=mass.__getitem__, reverse=True)


def test_the_place_on_the_sheet_is_an_order_too(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    page.select_option("#sort", "mass")
    assert marks(page) != list(few)
    page.select_option("#sort", "")
    assert marks(page) == list(few)
    page.click("#way")
    assert marks(page) == list(few)[::-1]


def test_a_bar_under_each_ring_is_as_long_as_its_figure(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    page.select_option("#sort", "mass")
    mass = known(few, "mass")
    for mark, value in mass.items():
        cell = page.locator(f"[data-mark={mark}].cell")
        wide = sure(cell.locator(".amount").bounding_box())["width"]
        share = wide / sure(cell.bounding_box())["width"]
        assert math.isclose(share, value / max(mass.values()), abs_tol=0.01)


def test_patterns_are_filtered(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    page.get_by_role("checkbox", name="honeycomb").uncheck()
    rest = [mark for mark, entry in few.items() if entry.variant.pattern != "honeycomb"]
    assert marks(page) == rest
    assert count(page).startswith(f"{len(rest)} of 8 rings")
    page.get_by_role("button", name="None", exact=True).click()
    assert marks(page) == []
    assert page.locator("#nothing").is_visible()
    page.get_by_role("checkbox", name="circles").check()
    assert not page.locator("#nothing").is_visible()
    assert [few[mark].variant.pattern for mark in marks(page)] == ["circles"] * 2
    page.get_by_role("button", name="All patterns").click()
    assert marks(page) == list(few)


def test_the_fewer_are_left_the_larger_they_stand(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small, width=1400)
    before = sure(page.locator("[data-mark=B1].cell").bounding_box())["width"]
    page.get_by_role("button", name="None", exact=True).click()
    page.get_by_role("checkbox", name="circles").check()
    assert sure(page.locator("[data-mark=B2].cell").bounding_box())["width"] > 1.2 * before


@pytest.mark.parametrize("key", KEYS)
def test_ranges_are_filtered_by_keyboard(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry], key: str
) -> None:
    page = visit(small)
    low, high = page.locator(f"[data-key='{key}'] input").all()
    values = known(few, key)
    least, most = min(values.values()), max(values.values())
    low.focus()
    for _ in range(3):
        page.keyboard.press("PageUp")
    bound = least + (most - least) * float(low.input_value()) / 200
    assert bound > least
    assert marks(page) == [mark for mark, value in values.items() if value >= bound]
    high.focus()
    page.keyboard.press("Home")
    assert high.input_value() == low.input_value()
    page.click("#all")
    assert marks(page) == list(few)
    assert low.input_value() == "0"
    assert high.input_value() == "200"


def test_circled_rings_are_kept_and_shown_alone(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    for mark in ("A1", "B1"):
        page.get_by_role("button", name=f"Circle {mark}").click()
    page.locator("#only-circled").check()
    assert marks(page) == ["A1", "B1"]
    page.reload()
    assert page.get_by_role("button", name="Circle B1").get_attribute("aria-pressed") == "true"
    page.get_by_role("button", name="Circle B1").click()
    page.locator("#only-circled").check()
    assert marks(page) == ["A1"]


def test_the_list_of_marks_is_saved(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    page.get_by_role("button", name="Circle A2").click()
    page.get_by_role("button", name="Circle A1").click()
    with page.expect_download() as waiting:
        page.click("#save-marks")
    assert waiting.value.suggested_filename == "marks.txt"
    text = waiting.value.path().read_text("utf-8")
    assert "--pick A1 --pick A2" in text
    mass = known(few, "mass")
    assert all(f"{mass[mark]:.1f}" in text for mark in ("A1", "A2"))
    assert "A3" not in text


def test_points_stand_where_mass_and_stiffness_put_them(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    dots = page.locator(".dot").all()
    stiff, mass = known(few, "strength.stiffness"), known(few, "mass")
    assert {dot.get_attribute("data-mark") for dot in dots} == set(stiff)
    boxes: dict[str, Any] = {
        sure(dot.get_attribute("data-mark")): dot.locator(".spot").bounding_box() for dot in dots
    }
    for values, axis, sign in ((mass, "x", 1), (stiff, "y", -1)):
        first, last = min(values, key=values.__getitem__), max(values, key=values.__getitem__)
        for mark, box in boxes.items():
            share = (box[axis] - boxes[first][axis]) / (boxes[last][axis] - boxes[first][axis])
            wanted = (values[mark] - values[first]) / (values[last] - values[first])
            assert abs(share - wanted) < 0.01, (mark, axis)
        assert sign * (boxes[last][axis] - boxes[first][axis]) > 0


def test_without_strength_the_plot_shows_the_solid_share(
    visit: Callable[..., Page], great: Path
) -> None:
    page = visit(great)
    assert "solid share" in sure(page.locator("#plot").get_attribute("aria-label"))
    assert page.locator("[data-key='strength.stiffness']").count() == 0


def test_points_open_and_follow_the_filters(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    page.locator(".dot[data-mark=B1] .spot").click(force=True)
    assert page.locator("#large-title b").inner_text() == "B1"
    page.keyboard.press("Escape")
    page.get_by_role("button", name="None", exact=True).click()
    assert page.locator(".dot.out").count() == page.locator(".dot").count()


def test_two_hundred_rings_are_sorted_in_a_tenth_of_a_second(
    visit: Callable[..., Page], great: Path
) -> None:
    page = visit(great, width=1920, height=1080)
    assert len(marks(page)) == 200
    took = page.evaluate(
        """() => ["mass", "openings", "circularity", "rib.least", "", "area"].map(key => {
            const select = document.getElementById("sort");
            const start = performance.now();
            select.value = key;
            select.dispatchEvent(new Event("change"));
            document.getElementById("rings").lastElementChild.getBoundingClientRect();
            return performance.now() - start;
        })"""
    )
    assert statistics.median(took) < 100, took
    assert great.stat().st_size < 8e6


@pytest.mark.parametrize("names", [["Z"], ["A1"], ["A1", "A1"], ["A1", "A3"]])
def test_a_sheet_of_next_to_nothing_works(
    visit: Callable[..., Page], few: dict[str, Entry], shown: Callable[..., Path], names: list[str]
) -> None:
    """No ring at all, one, two alike, and one beside one that cannot be made."""
    wrong = Refused(variant=Variant(pattern="arcs"), reason="too wide")
    page = visit(shown([few.get(name, wrong) for name in names]))
    assert len(marks(page)) == len(names)
    made = page.locator(".picture").count()
    assert made == sum(name == "A1" for name in names)
    assert page.locator(".range").count() == 0
    assert page.locator("#plot").count() == bool(made)
    page.locator("#way").click()
    if made:
        page.locator(".picture").first.click()
        assert page.locator("#large-title").is_visible()
        page.keyboard.press("Escape")
        assert page.locator(".dot").count() == made
