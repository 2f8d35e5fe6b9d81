"""The sheet of a family as it lies on the page, read back from its SVG and its PDF."""

import dataclasses
import re
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from svgelements import Path

from openwork.explore.family.consistency import consistency
from openwork.explore.family.family import Family, family
from openwork.explore.family.size import RefusedSize
from openwork.render.family.chart import Scale, ticks
from openwork.render.family.sheet import family_svgs
from openwork.spec.spec import from_toml

SVG = "{http://www.w3.org/2000/svg}"
TEXT = """
title = "Harbour 42"
[ring]
teeth = 42
[mount]
circle = 110.0
[pattern]
name = "honeycomb"
columns = 40
[goal]
mass = 70.0
teeth = [40, 42, 44, 46]
[drive]
cog = 14
wheel = 700.0
"""


@cache
def four() -> Family:
    return family(from_toml(TEXT))


def pages(found: Family, paper: str = "A4") -> list[ElementTree.Element]:
    return [ElementTree.fromstring(page) for page in family_svgs(found, paper=paper)]


def group(page: ElementTree.Element, name: str) -> ElementTree.Element:
    return next(one for one in page.iter(f"{SVG}g") if one.get("id") == name)


def words(element: ElementTree.Element) -> list[str]:
    return [one.text or "" for one in element.iter(f"{SVG}text")]


def many(count: int) -> Family:
    """Return *count* sizes, all the ring of 42 teeth under other counts."""
    base = four().made[1]
    sizes = tuple(dataclasses.replace(base, teeth=20 + k) for k in range(count))
    return Family(spec=four().spec, plan=four().plan, sizes=sizes, consistency=consistency(sizes))


def test_every_size_stands_with_its_figures() -> None:
    (page,) = pages(four())
    for size in four().made:
        said = words(group(page, f"teeth-{size.teeth}"))
        drive = size.drive
        assert {
            str(size.teeth),
            f"{size.figures.mass:.1f} g",
            f"{size.figures.rib['least']:.2f} mm",
            f"{drive.pull:.0f} N · {100 * drive.ripple:.2f} %",
            f"pitch {drive.pitch:.2f}",
            f"root {drive.root:.2f}",
            f"tip {drive.tip:.2f}",
            f"pins {drive.over_pins:.2f}",
            "even",
            f"{size.teeth / 14:.2f} · {drive.development:.2f} m",
        } <= set(said)


def test_all_sizes_are_at_the_scale_of_the_foot() -> None:
    (page,) = pages(four())
    told = next(text for text in words(group(page, "foot")) if text.startswith("scale"))
    reduction = float(told.rpartition(" ")[2])
    for size in four().made:
        (path,) = group(page, f"teeth-{size.teeth}").findall(f"{SVG}path")
        scale = float(re.findall(r"scale\(([\d.]+)\)", path.get("transform", ""))[0])
        left, _, right, _ = Path(path.get("d", "")).bbox()
        # A tooth may lack on either side where their count is odd, a gap lies on +x.
        wide = size.design.blank.tip_diameter / reduction
        assert (right - left) * scale == pytest.approx(wide, rel=0.03)


def test_the_chart_has_a_dot_for_each_size_at_its_mass() -> None:
    (page,) = pages(four())
    dots = group(page, "charts").findall(f"{SVG}circle")
    assert len(dots) == 2 * len(four().sizes)
    across = [float(dot.get("cx", "")) for dot in dots[:4]]
    steps = [b - a for a, b in pairwise(across)]
    assert steps == pytest.approx([steps[0]] * 3, abs=2e-3)
    ribs = [size.figures.rib["least"] for size in four().made]
    heights = [float(dot.get("cy", "")) for dot in dots[4:]]
    # More rib stands higher on the page, in proportion.
    slope = (heights[-1] - heights[0]) / (ribs[-1] - ribs[0])
    assert slope < 0
    assert heights == pytest.approx([heights[0] + slope * (r - ribs[0]) for r in ribs], abs=2e-3)


def test_outlines_lie_about_one_centre() -> None:
    (page,) = pages(four())
    paths = group(page, "outlines").findall(f"{SVG}path")
    # An outline for each size, the inner edge, the bolts in the quarter, the bolt circle.
    assert len(paths) == len(four().sizes) + 1 + 2 + 1
    ends = [[float(n) for n in re.findall(r"[\d.]+", path.get("d", ""))] for path in paths[:4]]
    right = [max(numbers[::2]) for numbers in ends]
    assert right == sorted(right)


def test_nothing_leaves_the_page() -> None:
    for paper in ("A4", "A3", "Letter"):
        for found in (four(), many(1), many(16)):
            for page in pages(found, paper):
                _, _, wide, tall = map(float, page.get("viewBox", "").split())
                for text in page.iter(f"{SVG}text"):
                    x, y = float(text.get("x", "")), float(text.get("y", ""))
                    assert 6.9 <= x <= wide - 6.9
                    assert 6.9 <= y <= tall - 6.9


def test_nothing_has_no_minus() -> None:
    found = four().consistency
    spread = dataclasses.replace(found.spreads[0], least=-0.001, mean=-0.2)
    family_ = dataclasses.replace(four(), consistency=dataclasses.replace(found, spreads=(spread,)))
    said = words(group(pages(family_)[0], "consistency"))
    assert "0.00" in said
    assert "-0.20" in said
    assert "-0.00" not in said


def test_a_sheet_is_black_and_white() -> None:
    text = family_svgs(four())[0]
    colours = set(re.findall(r"#[0-9a-fA-F]{3,6}\b", text.partition("</metadata>")[2]))
    assert colours <= {"#000", "#fff"}


@pytest.mark.parametrize(("count", "pages_"), [(1, 1), (16, 1), (17, 2), (142, 9)])
def test_more_sizes_than_a_page_holds_take_more_pages(count: int, pages_: int) -> None:
    found = pages(many(count))
    assert len(found) == pages_
    shown = [one.get("id") for page in found for one in page.iter(f"{SVG}g")]
    assert [name for name in shown if name and name.startswith("teeth-")] == [
        f"teeth-{20 + k}" for k in range(count)
    ]


def test_a_size_that_cannot_be_made_keeps_its_place() -> None:
    spec = from_toml(TEXT, changes={"goal.teeth": [28, 42]})
    base = four().made[1]
    sizes = (
        RefusedSize(teeth=28, wanted=70.0, drive=base.drive,
                    reason="web.rib: 70 g cannot be reached\nthe limit is the blank"),
        base,
    )  # fmt: skip
    alike = four().consistency
    (page,) = pages(Family(spec=spec, plan=four().plan, sizes=sizes, consistency=alike))
    said = " ".join(words(group(page, "teeth-28")))
    assert said.startswith("28 teeth cannot be made web.rib: 70 g cannot be reached. The limit is")
    hollow = [
        one for one in group(page, "charts").iter(f"{SVG}circle") if one.get("fill") != "#000"
    ]
    assert len(hollow) == 1


@pytest.mark.parametrize(
    ("low", "high"), [(62.0, 98.0), (0.0013, 0.0021), (-4.0, 1e6), (99.9, 100)]
)
def test_ticks_are_few_round_and_inside(low: float, high: float) -> None:
    found = ticks(low, high)
    assert 1 <= len(found) <= 4
    assert all(low - 1e-9 <= value <= high + 1e-9 for value in found)
    for start, stop in pairwise(found):
        assert float(f"{stop - start:.0e}"[0]) in (1, 2, 5)


def test_a_scale_of_nothing_puts_all_in_the_middle() -> None:
    assert Scale(5.0, 5.0, 10.0, 20.0).at(5.0) == 15.0


def test_the_pdf_has_every_page_at_its_size_and_the_same_words() -> None:
    pdfium = pytest.importorskip("pypdfium2")
    pdf = pytest.importorskip("openwork.render.paper.pdf")
    svgs = family_svgs(many(17))
    data = pdf.pages_pdf(svgs, "Harbour 42")
    assert data == pdf.pages_pdf(svgs, "Harbour 42")
    document = pdfium.PdfDocument(data)
    assert len(document) == 2
    for page in document:
        size = [25.4 / 72 * side for side in page.get_size()]
        assert size == pytest.approx([297.0, 210.0], abs=0.01)
        text = page.get_textpage().get_text_range()
        assert "Harbour 42" in text
        assert "local codes apply" in text
