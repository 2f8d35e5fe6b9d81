"""Rings side by side: the best of each row is marked, and no words leave their place."""

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

import pytest

import openwork
from openwork.errors import SpecError
from openwork.explore.variants.figure_rows import Row, numbers
from openwork.render.drawing.type import text_width
from openwork.render.paper.frame import MARGIN
from openwork.render.paper.layout import PAPERS
from openwork.render.sheet.compare import best, compare_svg, said
from openwork.render.sheet.index import index_svgs
from openwork.spec.spec import changed, from_toml
from tests._sure import sure

SVG = "{http://www.w3.org/2000/svg}"
SPEC = from_toml('title = "Harbour 42"\n[ring]\nteeth = 42\n[mount]\ncircle = 110.0\n')


@pytest.fixture(scope="module")
def rings() -> Any:
    vary: Any = {"columns": [20, 25, 30], "web.rib": [2.0, 2.6]}
    return openwork.sheet(SPEC, pattern="michell", vary=vary, strong=True)


def row(better: Any, places: int = 1) -> Any:
    return Row(key="k", label="k", unit="", meaning="", better=better, places=places)


def test_the_best_is_the_least_or_the_greatest_as_shown() -> None:
    assert best(row(-1), [3.0, 1.0, 2.0]) == {1}
    assert best(row(1), [3.0, 1.0, 3.04]) == {0, 2}
    assert best(row(0), [3.0, 1.0, 2.0]) == set()
    assert best(row(1), [3.0, 3.04, None]) == set()
    assert best(row(-1), [None, 2.0, 5.0]) == {1}


def test_numbers_are_set_with_their_decimals_and_thousands_apart() -> None:
    assert said(row(0, 0), 40610.4) == "40\u00a0610"
    assert said(row(0, 2), -0.5) == "\u22120.50"
    assert said(row(0), None) == "–"


def texts(page: str) -> Iterator[Any]:
    for e in ElementTree.fromstring(page).iter(f"{SVG}text"):
        size = float(sure(e.get("font-size")))
        wide = text_width(sure(e.text), size, bold=e.get("font-weight") == "bold")
        share = {"end": 1.0, "middle": 0.5}.get(e.get("text-anchor", ""), 0.0)
        left = float(sure(e.get("x"))) - share * wide
        yield left, left + wide, float(sure(e.get("y"))), size, e.text


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("marks", [("A1", "B3"), ("A1", "A2", "A3", "B1", "B2", "B3")])
def test_no_words_leave_the_page_or_run_into_others(
    rings: Any, marks: tuple[str, ...], paper: Any
) -> None:
    spec = changed(SPEC, {"title": "W" * 80})
    chosen = [rings.entries.at(mark) for mark in marks]
    page = compare_svg(spec, chosen, line="w" * 300, paper=paper)
    size = PAPERS[paper]
    lines: dict[Any, Any] = {}
    for left, right, base, em, words in texts(page):
        assert left >= MARGIN - 1e-3, words
        assert right <= size.width / size.module - MARGIN + 1e-3, words
        assert base - 0.75 * em >= MARGIN, words
        assert base <= size.height / size.module - MARGIN + 0.3, words
        lines.setdefault(round(base, 2), []).append((left, right, words))
    for spans in lines.values():
        spans.sort()
        for one, two in pairwise(spans):
            assert one[1] < two[0], (one, two)


def test_each_ring_is_drawn_and_the_lightest_and_the_stiffest_are_marked(rings: Any) -> None:
    marks = ("A1", "A3", "B2")
    chosen = [rings.entries.at(mark) for mark in marks]
    page = compare_svg(SPEC, chosen)
    assert set(marks) <= {g.get("id") for g in ElementTree.fromstring(page).iter(f"{SVG}g")}
    found = [numbers(entry) for _, entry in chosen]
    bold = re.findall(r'font-weight="bold"[^>]*>([^<]*)<', page)
    assert f"{min(one['mass'] for one in found):.1f}" in bold
    assert f"{max(one['mass'] for one in found):.1f}" not in bold
    stiff = max(one["strength.stiffness"] for one in found)
    assert f"{stiff:,.0f}".replace(",", "\u00a0") in bold
    assert "licensed practice" in page


def test_what_is_the_same_for_all_is_left_out(rings: Any) -> None:
    page = compare_svg(SPEC, [rings.entries.at(mark) for mark in ("A1", "B1")])
    words = [text for *_, text in texts(page)]
    assert any(text.startswith("least rib") for text in words)
    assert not any(text.startswith("pitch diameter") for text in words)


def test_a_set_is_compared_by_its_marks(rings: Any) -> None:
    page = rings.compare("A1", "b3")
    assert 'id="B3"' in page
    for marks, said_ in ((("A1",), "2 to 6"), (("A1", "Z9"), "not on the sheet")):
        with pytest.raises(SpecError, match=said_):
            rings.compare(*marks)


def test_the_index_names_every_ring_and_its_sheet(rings: Any) -> None:
    many = openwork.sheet(SPEC, pattern="spokes", vary={"count": [*range(10, 100, 5)],
                                                        "web.rib": [2.0, 2.5, 3.0]})  # fmt: skip
    pages = index_svgs(SPEC, many.entries)
    words = [text for page in pages for *_, text in texts(page)]
    assert {place.mark for place, _ in many.entries} <= set(words)
    assert any("Index of 3 sheets" in text for text in words)
    for page in pages:
        assert max(right for _, right, *_ in texts(page)) <= 297 - MARGIN + 1e-3
