"""The page without a browser: one file, safe words, the same bytes, not too large."""

import base64
import hashlib
import json
import math
import re
from dataclasses import replace
from html.parser import HTMLParser
from typing import Any

import pytest
import svgelements

from openwork.explore.variants.figure_rows import numbers
from openwork.explore.variants.variants import Made, Refused, Variant, made
from openwork.measure.figures import Figures
from openwork.render.browser.page import page_html
from openwork.render.drawing.recipe import design_recipe
from openwork.render.paper.layout import arranged
from openwork.ring import Design
from openwork.shape.contour import area
from openwork.spec.spec import changed, from_toml
from openwork.tables.caution import CAUTION
from tests._sure import sure

HOSTILE = "</script><script>alert(1)</script><!--<b>&amp;\"'"
SILENT = ("src", "srcset", "data", "poster", "action", "formaction", "background", "ping")


class Elements(HTMLParser):
    """The elements of a page, and the words first in each, as Python's own parser reads them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        self.words.append("")

    def handle_data(self, data: str) -> None:
        if self.words:
            self.words[-1] += data

    def inside(self, tag: str) -> list[str]:
        """Return the words of every element called *tag*."""
        pairs = zip(self.found, self.words, strict=True)
        return [words.strip() for (name, _), words in pairs if name == tag]


def entries(ring: tuple[Design, Figures], reason: str = "") -> Any:
    """Return one ring and, with a *reason*, one that cannot be made."""
    design, figures = ring
    variant = Variant(pattern=design.spec.pattern.name, changes=(("pattern.count", 20),))
    full = Made(variant=variant, design=design, figures=figures)
    wrong = Refused(variant=Variant(pattern=HOSTILE), reason=reason)
    return arranged([[full, wrong] if reason else [full]])


def island(text: str) -> Any:
    """Return the data of a page."""
    (found,) = re.findall(r'<script id="sheet" type="application/json">(.*?)</script>', text, re.S)
    return json.loads(found)


@pytest.fixture
def page(swept: tuple[Design, Figures]) -> Any:
    """The page of one ring and of one that cannot be made, under a title that is no markup."""
    spec = changed(swept[0].spec, {"title": HOSTILE})
    return page_html(spec, entries(swept, HOSTILE))


def test_nothing_is_fetched(page: str) -> None:
    """Every address in the file is the name of an XML vocabulary, never loaded, or an anchor."""
    for tag, attributes in Elements(page).found:
        assert not set(SILENT) & set(attributes), tag
        assert sure(attributes.get("href", "#")).startswith("#")
        assert tag not in {"link", "iframe", "object", "embed", "img", "base"}
    addresses = set(re.findall(r"\b(?:https?|ftp|wss?)://[^\s\"'<>\\]+", page))
    assert addresses == {"http://www.w3.org/2000/svg"}
    assert not re.search(r"@import|url\((?!#)|\bimport\(|fetch\(|XMLHttpRequest|WebSocket", page)


def test_the_policy_names_the_one_script_and_style_and_nothing_else(page: str) -> None:
    """Content Security Policy Level 3: the digest is of the element's exact text."""
    policy = next(
        sure(attributes["content"])
        for tag, attributes in Elements(page).found
        if attributes.get("http-equiv") == "Content-Security-Policy"
    )
    rules = {rule.partition(" ")[0]: rule.partition(" ")[2] for rule in policy.split("; ")}
    assert rules["default-src"] == "'none'"
    for tag in ("style", "script"):
        (text,) = re.findall(rf'<{tag}(?: type="module")?>(.*?)</{tag}>', page, re.S)
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert rules[f"{tag}-src"] == f"'sha256-{digest}'"
    assert "unsafe" not in policy


def test_markup_in_titles_names_and_reasons_is_text(page: str) -> None:
    parts = Elements(page)
    assert parts.inside("title") == parts.inside("h1") == [HOSTILE]
    tags = [tag for tag, _ in parts.found]
    assert tags.count("script") == 2  # the data and the one program
    assert "b" not in tags
    data = island(page)
    assert data["title"] == HOSTILE
    assert data["variants"][1]["pattern"] == data["variants"][1]["reason"] == HOSTILE


def test_the_data_hold_what_was_measured(swept: tuple[Design, Figures]) -> None:
    design, figures = swept
    data = island(page_html(design.spec, entries(swept)))
    (ring,) = data["variants"]
    found = dict(zip([row["key"] for row in data["figures"]], ring["values"], strict=True))
    (entry,) = [one for _, one in entries(swept)]
    assert found == pytest.approx(numbers(entry))
    assert found["mass"] == pytest.approx(figures.mass, abs=1e-4)
    assert (ring["mark"], ring["pattern"]) == ("A1", "spokes")
    assert design_recipe(design) == ring["spec"]
    assert from_toml(ring["spec"]).pattern.name == "spokes"
    assert data["caution"] == CAUTION
    assert data["light"] == pytest.approx(-0.75 * math.pi)  # from the upper left, y downwards


def test_an_opening_in_the_data_is_an_opening_of_the_ring(swept: tuple[Design, Figures]) -> None:
    """Areas by svgelements, an independent reader, in micrometres; chords lose under 0.1 %."""
    design, _ = swept
    data = island(page_html(design.spec, entries(swept)))
    (ring,) = data["variants"]
    assert ring["fold"] == 5
    paths = svgelements.Path(ring["openings"]).as_subpaths()
    areas = [abs(_area(svgelements.Path(one))) * 1e-6 for one in paths]
    assert areas == pytest.approx([area(one) for one in design.sector], rel=1e-3)


def _area(path: Any, parts: int = 64) -> Any:
    points = [piece.point(k / parts) for piece in path for k in range(parts)]
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return sum(a.x * b.y - b.x * a.y for a, b in pairs) / 2


def test_the_same_input_gives_the_same_bytes(swept: tuple[Design, Figures]) -> None:
    again = replace(swept[0])
    spec = swept[0].spec
    first = page_html(spec, entries(swept, "too wide"))
    assert first == page_html(spec, entries((again, swept[1]), "too wide"))
    assert first != page_html(spec, entries(swept, "too narrow"))


def test_two_hundred_variants_stay_below_eight_megabytes(swept: tuple[Design, Figures]) -> None:
    """Waves of a gyroid take the longest outlines of all patterns."""
    spec = swept[0].spec
    one = made(spec, Variant(pattern="gyroid"), strong=True)
    text = page_html(spec, arranged([[one] * 200]))
    data = island(text)
    assert len(data["variants"]) == 200
    assert len(data["variants"][0]["openings"]) > 4000
    assert len(data["blanks"]) == 1
    assert len(text.encode()) < 8e6


def test_a_page_of_rings_that_cannot_be_made_is_a_page(swept: tuple[Design, Figures]) -> None:
    variant = Variant(pattern="spokes")
    text = page_html(swept[0].spec, arranged([[Refused(variant=variant, reason="too wide")]]))
    data = island(text)
    assert data["figures"] == data["blanks"] == []
    assert data["variants"][0]["reason"] == "too wide"
