"""What a notebook shows, and the names a script needs."""

from __future__ import annotations

import base64
import re
import subprocess
import sys
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

import openwork
from openwork.errors import RuleError, SpecError
from openwork.explore.family.family import Family
from openwork.explore.variants.variants import Variant, made
from openwork.render.choice import Sheet
from openwork.render.family.sheet import family_svgs
from openwork.render.paper.layout import arranged
from openwork.ring import Design
from openwork.spec.spec import Spec, changed, from_toml
from openwork.tables.recipe import recipe

SPEC = """
title = "Harbour <b>42</b>"
[ring]
teeth = 42
[mount]
circle = 110.0
counterbore = { diameter = 13.0, depth = 1.0 }
[pattern]
name = "spokes"
"""


def spec(**changes: object) -> Spec:
    return from_toml(SPEC, changes={key.replace("_", "."): value for key, value in changes.items()})


def picture(ring: Design) -> str:
    return ring._repr_svg_()


def ids(svg: str) -> list[str]:
    return [e.get("id", "") for e in ElementTree.fromstring(svg).iter() if e.get("id")]


def links(svg: str) -> set[str]:
    return set(re.findall(r'(?:url\(|href=")#([^)"]+)', svg))


def test_a_ring_shows_itself_as_an_svg_element() -> None:
    ring = openwork.design(spec(look_shadow=True))
    text = picture(ring)
    root = ElementTree.fromstring(text)
    assert text.startswith("<svg")  # an XML declaration has no place inside a document
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert root.get("width", "").endswith("mm")
    assert openwork.design(from_toml(recipe(text))).openings == ring.openings


@pytest.mark.parametrize("change", [{"look_finish": "gold"}, {"web_rib": 2.2}, {"title": "Quay"}])
def test_two_rings_of_a_notebook_share_no_id(change: dict[str, object]) -> None:
    one, other = (picture(openwork.design(spec(**some))) for some in ({}, change))
    assert len(ids(one)) == len(set(ids(one))) > 3
    assert not set(ids(one)) & set(ids(other))
    for text in (one, other):
        assert links(text)
        assert links(text) <= set(ids(text))


def test_the_same_ring_is_shown_by_the_same_bytes() -> None:
    assert picture(openwork.design(spec())) == picture(openwork.design(spec()))


def test_what_is_shown_fits_a_line_in_words() -> None:
    ring = openwork.design(spec())
    rings = openwork.sheet(spec(), vary={"count": [15, 20]})
    sizes = openwork.family(spec(goal_teeth=[42, 43], goal_hold="rib"))
    assert repr(ring) == "<Harbour <b>42</b>: 42 teeth, spokes, 20 openings>"
    assert repr(rings) == "<Harbour <b>42</b>: a sheet of 2 variants>"
    assert repr(sizes) == "<Harbour <b>42</b>: a family of 42, 43 teeth>"


class Images(HTMLParser):
    """The images of a piece of HTML, and all its elements."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.images: list[dict[str, str | None]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        if tag == "img":
            self.images.append(dict(attrs))


def shown(rings: Sheet | Family) -> list[str]:
    """Return the drawings in what a notebook shows of *rings*."""
    parts = Images(rings._repr_html_())
    assert set(parts.tags) == {"div", "img"}
    assert {image["alt"] for image in parts.images} == {rings.spec.title}
    found = []
    for image in parts.images:
        kind, _, data = (image["src"] or "").partition(";base64,")
        assert kind == "data:image/svg+xml"
        found.append(base64.b64decode(data).decode())
    return found


def test_variants_show_themselves_as_sheets() -> None:
    rings = openwork.sheet(spec(), vary={"count": [15, 20, 25], "web.rib": (2.0, 2.5)})
    assert list(rings) == ["A1", "A2", "A3", "B1", "B2", "B3"]
    assert len(rings) == 6
    assert tuple(shown(rings)) == rings.pages()
    assert set(rings) <= set(ids(rings.pages()[0]))


def test_more_variants_than_a_page_holds_show_every_page() -> None:
    entry = made(spec(), Variant(pattern="spokes"))
    assert len(shown(Sheet(spec=spec(), entries=arranged([[entry] * 30])))) == 2


def test_a_family_shows_itself_as_its_sheets() -> None:
    sizes = openwork.family(spec(goal_teeth=[42, 43], goal_hold="rib"))
    assert tuple(shown(sizes)) == family_svgs(sizes)
    assert {"teeth-42", "teeth-43"} <= set(ids(shown(sizes)[0]))


def test_a_ring_is_taken_from_its_mark() -> None:
    rings = openwork.sheet(spec(), pattern="honeycomb", vary={"columns": [40, 41]})
    assert rings["a1"].pattern == openwork.design(changed(spec(), {"pattern": {
        "name": "honeycomb", "seed": 1, "columns": 40}})).pattern  # fmt: skip
    with pytest.raises(RuleError, match=r"A2: cannot be made: .*multiple of"):
        rings["A2"]
    with pytest.raises(SpecError, match="mark 'Z9': not on the sheet"):
        rings["Z9"]
    assert '"title":"Harbour \\u003cb\\u003e42' in rings.page()


def test_all_patterns_are_tried_where_none_is_named() -> None:
    rings = openwork.sheet(spec(), count=5)
    assert len({entry.variant.pattern for _, entry in rings.entries}) == 5


@pytest.mark.parametrize(
    ("vary", "words"),
    [
        ({"colums": [40]}, "pattern.colums"),
        ({"web.rib": [-1.0]}, "web.rib"),
        ({"count": []}, "pattern.count: no values"),
        ({"count": [20], "pattern.count": [25]}, "vary pattern.count: given twice"),
        ({"count": range(3, 63), "web.rib": [2 + k / 100 for k in range(11)]}, "660 variants"),
    ],
)
def test_what_cannot_vary_is_refused(vary: dict[str, list[float]], words: str) -> None:
    with pytest.raises(SpecError, match=re.escape(words)):
        openwork.sheet(spec(), vary=vary)


def test_the_front_door_shows_what_is_public_and_nothing_else() -> None:
    functions = {"design", "family", "figures", "load", "sheet", "tune"}
    errors = {"OutOfReachError", "RuleError", "SpecError"}
    assert set(dir(openwork)) == set(openwork.__all__) == functions | errors
    assert all(issubclass(getattr(openwork, name), Exception) for name in errors)


def test_nothing_is_imported_before_its_time() -> None:
    code = (
        "import sys, openwork\ndir(openwork)\n"
        "heavy = {'numpy', 'shapely', 'pydantic', 'click'}\n"
        "assert not heavy & set(sys.modules)\n"
        "assert all(callable(getattr(openwork, name)) for name in openwork.__all__)\n"
        "assert heavy - {'click'} <= set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
