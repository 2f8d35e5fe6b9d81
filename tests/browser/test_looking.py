"""A ring at large, rings side by side, two laid over, and the files a ring leaves with."""

import io
import math
import re
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
import svgelements
from PIL import Image
from playwright.sync_api import Locator, Page, expect

import openwork
from openwork.explore.variants.figure_rows import numbers, rows
from openwork.explore.variants.variants import Entry, Made, Variant, made
from openwork.render.drawing.recipe import design_recipe
from openwork.render.ring.outline import half_width
from openwork.render.ring.tones import tones
from openwork.ring import Design
from openwork.shape.contour import sampled
from openwork.spec.spec import changed, from_toml
from openwork.tables.recipe import recipe
from tests._sure import one_of, sure
from tests.browser.conftest import SPEC

pytestmark = pytest.mark.browser


def enlarged(page: Page, mark: str) -> Locator:
    page.locator(f".cell[data-mark={mark}] .picture").click()
    return page.locator("#large")


def saved(page: Page, words: str) -> tuple[str, str]:
    with page.expect_download() as waiting:
        page.get_by_role("button", name=words).click()
    return waiting.value.suggested_filename, waiting.value.path().read_text("utf-8")


def rounded(value: Any, places: int) -> Decimal:
    """Return the digits of ECMA-262's toFixed: halves away from zero."""
    return Decimal(value).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


def shown(value: Any, places: int) -> str:
    text = f"{rounded(value, places)}".replace("-", "−")
    whole, dot, rest = text.partition(".")
    spaced = whole if len(whole) < 5 else re.sub(r"\B(?=(\d{3})+$)", "\u202f", whole)
    return spaced + dot + rest


def test_a_large_ring_tells_all_its_figures_with_unit_and_meaning(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    dialog = enlarged(page, "A2")
    found: dict[str, list[tuple[str, str]]] = {}
    for line in dialog.locator(".figures tr").all():
        name, meaning = line.locator("th").inner_text().split("\n")
        found.setdefault(name, []).append((line.locator("td").inner_text(), meaning))
    mine = numbers(few["A2"])
    for row in rows(map(numbers, few.values())):
        if row.key not in mine:
            continue
        unit = f"\u00a0{row.unit}" if row.unit else ""
        assert (shown(mine[row.key], row.places) + unit, row.meaning) in found[row.label]
    assert sum(len(one) for one in found.values()) == len(mine)
    words = dialog.inner_text()
    assert "ISO 4210" in words
    assert all(note in words for note in sure(one_of(Made, few["A2"]).strength).notes)


def test_arrows_and_buttons_lead_on_and_escape_leads_back(
    visit: Callable[..., Page], small: Path
) -> None:
    page = visit(small)
    enlarged(page, "A1")
    title = page.locator("#large-title b")
    page.keyboard.press("ArrowRight")
    assert title.inner_text() == "A2"
    page.get_by_role("button", name="Previous ring").click()
    assert title.inner_text() == "A1"
    assert page.get_by_role("button", name="Previous ring").is_disabled()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert title.inner_text() == "A4"  # A3 cannot be made
    page.keyboard.press("Escape")
    assert not page.locator("#large").is_visible()
    expect(page.locator(".cell[data-mark=A4] .picture")).to_be_focused()


def test_the_spec_of_a_ring_is_saved(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    page = visit(small)
    enlarged(page, "A2")
    name, text = saved(page, "Save spec")
    assert name == "A2.toml"
    assert text == design_recipe(one_of(Made, few["A2"]).design)
    assert openwork.design(from_toml(text)).openings == one_of(Made, few["A2"]).design.openings


def test_the_outline_of_a_ring_is_saved_in_mm(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry]
) -> None:
    """Read by svgelements; every contour within 0.003 mm of the design's."""
    page = visit(small)
    for mark in ("A2", "B1", "B3"):
        enlarged(page, mark)
        name, text = saved(page, "Save outline")
        page.keyboard.press("Escape")
        assert name == f"{mark}.svg"
        agrees(text, one_of(Made, few[mark]).design)


def test_pockets_are_floors_and_no_holes(
    visit: Callable[..., Page], shown: Callable[..., Path]
) -> None:
    """Seen from the front or not, they are in the outline that is saved, in a group of theirs."""
    for face, seen in (("front", 1), ("back", 0)):
        pocket = {"which": "outer", "face": face}
        spec = changed(from_toml(SPEC), {"pocket": pocket, "web.bevel": [0.2, 0.5]})
        ring = one_of(Made, made(spec, Variant(pattern="honeycomb")))
        page = visit(shown([ring]))
        dialog = enlarged(page, "A1")
        floor = tones(spec.look).floor
        assert dialog.locator(f"svg path.metal[fill='{floor}']").count() == seen
        _, text = saved(page, "Save outline")
        group = text.partition(f'id="{"pockets" if seen else "pockets-back"}"')[2]
        assert group.partition("</g>")[0].count("<path") == len(ring.design.pockets) > 0
        agrees(text, ring.design)


def agrees(text: str, design: Design) -> None:
    assert recipe(text) == design_recipe(design)
    blank = design.blank
    wanted = [blank.outline, blank.edge, *blank.bolts, *design.openings]
    drawing = svgelements.SVG.parse(io.StringIO(text), ppi=25.4)
    paths = [one for one in drawing.elements() if isinstance(one, svgelements.Path)]
    assert len(paths) == len(wanted)
    middle = float(text.partition('viewBox="0 0 ')[2].split()[0]) / 2
    assert all(isinstance(path[-1], svgelements.Close) for path in paths)
    shapes = [_points(path, middle) for path in paths]
    for contour in wanted:
        true = shapely.LinearRing(sampled(contour, 5e-4))
        nearest = min(shapes, key=lambda ring: ring.centroid.distance(true.centroid)
                      + abs(ring.length - true.length))  # fmt: skip
        assert shapely.hausdorff_distance(nearest, true) < 0.003


def _points(path: str, middle: Any) -> Any:
    found = []
    for piece in path:
        if isinstance(piece, svgelements.Arc):
            step = 2 * math.acos(1 - 5e-4 / piece.rx)  # chords within half a micrometre of the arc
            count = math.ceil(abs(piece.sweep) / step)
            found.append(np.array(piece.npoint(np.arange(count) / count)))
        elif isinstance(piece, svgelements.Line | svgelements.Close) and piece.length() > 0:
            found.append(np.array([[piece.start.x, piece.start.y]]))
    return shapely.LinearRing((np.concatenate(found) - middle) * [1, -1])


def chosen(page: Page, *marks: str) -> None:
    for mark in marks:
        page.get_by_role("button", name=f"Lay {mark} beside others").click()


def test_four_rings_at_most_lie_side_by_side(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    chosen(page, "A1")
    assert page.locator("#compare").is_disabled()
    chosen(page, "A2", "B1", "B2", "B3")
    assert "4 rings at most" in page.locator(".note").inner_text()
    page.get_by_role("button", name="Take A2 away").click()
    page.click("#compare")
    heads = page.locator("#beside thead th b").all_inner_texts()
    assert heads == ["A1", "B1", "B2"]


@pytest.mark.parametrize("marks", [["A1", "A2"], ["B1", "A1", "B3"], ["A1", "A2", "B1", "B2"]])
def test_the_best_of_each_row_is_marked(
    visit: Callable[..., Page], small: Path, few: dict[str, Entry], marks: list[str]
) -> None:
    page = visit(small)
    chosen(page, *marks)
    page.click("#compare")
    found = {}
    for words, texts, best in page.evaluate(
        """() => [...document.querySelectorAll("#beside tbody tr:not(.title)")].map(row => {
            const cells = [...row.querySelectorAll("td")];
            return [row.querySelector("th").innerText,
                cells.map(cell => cell.firstChild.textContent),
                cells.map(cell => cell.matches(".best"))];
        })"""
    ):
        found[words] = (texts, best)
    columns = [numbers(few[mark]) for mark in marks]
    marked = 0
    for row in rows(map(numbers, few.values())):
        if not any(row.key in column for column in columns):
            continue
        words = f"{row.label}, {row.unit}" if row.unit else row.label
        texts, best = found[words]
        values = [column.get(row.key) for column in columns]
        assert texts == ["–" if v is None else shown(v, row.places) for v in values]
        seen = [rounded(v, row.places) for v in values if v is not None]
        apart = row.better and len(set(texts) - {"–"}) > 1
        top = (max(seen) if row.better > 0 else min(seen)) if apart else None
        wanted = [v is not None and rounded(v, row.places) == top for v in values]
        assert best == wanted, row.key
        marked += sum(best)
    assert marked > 5
    hidden = page.locator("#beside .best .unseen")
    assert hidden.count() == marked  # told to those who cannot see the dot


def test_two_outlines_are_laid_over(visit: Callable[..., Page], small: Path) -> None:
    page = visit(small)
    chosen(page, "A1", "B1", "B2")
    page.click("#compare")
    page.click("#overlay")
    picture = page.locator(".overlay .view")
    assert picture.get_attribute("aria-label") == "A1 and B1 laid over each other"
    paths = [page.locator(f".overlaid .{name}").get_attribute("d") for name in ("first", "second")]
    page.get_by_label("Second ring").select_option("B2")
    assert picture.get_attribute("aria-label") == "A1 and B2 laid over each other"
    again = [page.locator(f".overlaid .{name}").get_attribute("d") for name in ("first", "second")]
    assert again[0] == paths[0]
    assert again[1] != paths[1]
    page.click("#overlay")
    assert not picture.is_visible()


def test_bevels_are_lit_as_in_the_preview(
    visit: Callable[..., Page], bevelled: tuple[Path, Design]
) -> None:
    """Colours half way up the bevels, those of Python's own facets beside the page's."""
    path, design = bevelled
    page = visit(path, width=1400, height=1200)
    enlarged(page, "A1")
    half = design.blank.tip_diameter / 2 + 1.5
    openings = [shapely.Polygon(sampled(one, 0.01)) for one in design.openings]
    points = np.concatenate(
        [one.buffer(design.spec.web.widest_bevel / 2).exterior.coords for one in openings]
    )
    mine = colours(page.locator("#large .ring"), points, half)
    other = page.context.new_page()  # one without the page's policy
    other.set_content(
        "<style>body { margin: 0 } svg { display: block; width: 900px; height: 900px }</style>"
        + design._repr_svg_()
    )
    theirs = colours(other.locator("svg"), points, half_width(design))
    assert theirs.std() > 20  # light and shade are far apart
    assert np.abs(mine - theirs).mean() < 3


def colours(picture: Any, points: Any, half: float) -> Any:
    """Return the colours (n, 3) at *points*, mm, of a picture *half* mm to each side."""
    pixels = np.asarray(Image.open(io.BytesIO(picture.screenshot())).convert("RGB"), dtype=float)
    places = np.column_stack([half - points[:, 1], half + points[:, 0]]) / (2 * half)
    return pixels[tuple((places * pixels.shape[:2]).astype(int).T)]
