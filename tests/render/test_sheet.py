"""Contact sheets: everything in its place, nothing outside it, the same bytes every time."""

import glob
import itertools
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from fontTools.ttLib import TTFont

from openwork.errors import SpecError
from openwork.explore.variants.variants import Made, Refused, Variant
from openwork.measure.figures import Figures
from openwork.render.drawing.type import text_width, wrapped
from openwork.render.paper.frame import GUTTER, MARGIN, Frame
from openwork.render.paper.layout import PAPERS, Place, arranged, bar_length, scale
from openwork.render.sheet import caption as _caption
from openwork.render.sheet.sheet import sheet_svgs
from openwork.ring import Design
from openwork.spec.spec import changed, from_toml, to_toml
from openwork.tables.recipe import recipe
from tests._sure import sure

SVG = "{http://www.w3.org/2000/svg}"
REASON = "pattern.columns = 41: must be a multiple of 5, the symmetry the bolts leave; 40 works"


def entries(
    ring: tuple[Design, Figures],
    count: int,
    *,
    empty: Any = (),
    reason: str = REASON,
    label: Any = (("pattern.columns", 40),),
) -> Any:
    """Return *count* entries of one ring, those numbered in *empty* without it."""
    design, figures = ring
    variant = Variant(pattern="honeycomb", changes=label)
    full = Made(variant=variant, design=design, figures=figures)
    return [Refused(variant=variant, reason=reason) if k in empty else full for k in range(count)]


def texts(page: str) -> Any:
    """Return (x from, x to, baseline, size, words) of every text, by bounded widths."""
    found = []
    for e in ElementTree.fromstring(page).iter(f"{SVG}text"):
        x, y, size = (float(sure(e.get(key))) for key in ("x", "y", "font-size"))
        width = text_width(sure(e.text), size, bold=e.get("font-weight") == "bold")
        left = x - width if e.get("text-anchor") == "end" else x
        found.append((left, left + width, y, size, e.text))
    return found


def cells(page: str) -> dict[Any, Any]:
    """Return the group of each cell by its mark."""
    groups = ElementTree.fromstring(page).iter(f"{SVG}g")
    return {g.get("id"): g for g in groups if re.fullmatch(r"[A-Z]+\d+", g.get("id", ""))}


@pytest.mark.parametrize(
    ("count", "pages"), [(1, 1), (6, 1), (8, 1), (15, 1), (24, 1), (25, 2), (48, 2), (49, 3)]
)
def test_every_variant_has_its_mark_on_as_many_pages_as_needed(
    swept: tuple[Design, Figures], count: int, pages: int
) -> None:
    made = sheet_svgs(swept[0].spec, arranged([entries(swept, count)]))
    assert len(made) == pages
    marks = [mark for page in made for mark in cells(page)]
    assert len(marks) == len(set(marks)) == count


def test_numbers_run_on_over_the_pages() -> None:
    pages = arranged([list(range(30))]).pages
    assert [place.mark for place in pages[0]][:7] == ["A1", "A2", "A3", "A4", "A5", "A6", "B1"]
    assert [place.mark for place in pages[1]] == ["A7", "A8", "A9", "A10", "A11", "A12"]


def test_a_table_keeps_its_rows_and_columns() -> None:
    table = [[(row, column) for column in range(10)] for row in range(5)]
    laid = arranged(table)
    assert [len(page) for page in laid.pages] == [24, 16, 6, 4]
    assert all((place.row, place.column) == item for place, item in laid)
    assert laid.at("c4")[1] == (2, 3)
    assert laid.at("E10")[0] == Place(4, 9)
    with pytest.raises(SpecError, match="E11"):
        laid.at("E11")


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("count", [5, 8, 15, 40])
@pytest.mark.parametrize(
    "label",
    [
        (("pattern.columns", 40),),
        (("pattern.columns", 40), ("web.rib", 2.25), ("pattern.phase", "node")),
        tuple((f"pattern.{'parameter' * k}", -123.456789) for k in range(1, 5)),
    ],
)
def test_no_text_leaves_its_cell_or_the_page(
    swept: tuple[Design, Figures], paper: Any, count: int, label: Any
) -> None:
    design, figures = swept
    spec = changed(design.spec, {"title": "W" * 80})
    laid = arranged([entries((design, figures), count, empty={1}, label=label)])
    size = PAPERS[paper]
    for page in sheet_svgs(spec, laid, paper=paper, date="2026-11-25"):
        root = ElementTree.fromstring(page)
        width, height = (float(v) for v in sure(root.get("viewBox")).split()[2:])
        assert width == pytest.approx(size.width / size.module, abs=1e-3)
        for left, right, base, em, words in texts(page):
            assert left >= MARGIN - 1e-3, words
            assert right <= width - MARGIN + 1e-3, words
            assert base - 0.75 * em >= MARGIN, words
            assert base + 0.2 * em <= height - MARGIN + 0.3, words
        _check_cells(page, Frame(paper=size, grid=laid.grid, words=0.0))


def _check_cells(page: str, frame: Any) -> None:
    wide, tall = frame.cell
    for mark, group in cells(page).items():
        place = Place(*_place(mark))
        x, y = frame.corner(place)
        lines: dict[Any, Any] = {}
        for left, right, base, em, words in texts(ElementTree.tostring(group, "unicode")):
            assert x - 1e-3 <= left, words
            assert right <= x + wide + 1e-3, words
            assert y - 1e-3 <= base - 0.75 * em, words
            assert base + 0.2 * em <= y + tall + 0.3, words
            lines.setdefault(round(base, 2), []).append((left, right))
        for spans in lines.values():
            spans.sort()
            assert all(one[1] < two[0] for one, two in itertools.pairwise(spans))


def _place(mark: str) -> Any:
    letters, digits = sure(re.fullmatch(r"([A-Z]+)(\d+)", mark)).groups()
    row = 0
    for letter in letters:
        row = 26 * row + ord(letter) - ord("A") + 1
    return row - 1, int(digits) - 1


def test_rings_stay_clear_of_marks_bars_and_captions(
    swept: tuple[Design, Figures], pixels: Callable[[str, int], Any]
) -> None:
    """Drawn with words and bars alone and with the rings alone, no pixel is black in both."""
    page = sheet_svgs(swept[0].spec, arranged([entries(swept, 24)]))[0]
    words = re.sub(r"<path [^>]*/>", "", page)
    rings = re.sub(r"<(text|line|rect fill=.#000).*?(</text>|/>)", "", page)
    black = []
    for text in (words, rings):
        picture = pixels(text, 2400).astype(int)
        light = picture[..., 0] * picture[..., 3] // 255 + 255 - picture[..., 3]
        black.append(light < 128)
    assert black[0].any()
    assert black[1].any()
    assert not (black[0] & black[1]).any()


def test_an_empty_cell_says_why(swept: tuple[Design, Figures]) -> None:
    page = sheet_svgs(swept[0].spec, arranged([entries(swept, 24, empty={7})]))[0]
    cell = cells(page)["B2"]
    assert len(cells(page)) == 24
    assert not [*cell.iter(f"{SVG}path")]
    said = " ".join(e.text for e in cell.iter(f"{SVG}text"))
    assert "cannot be made" in said
    assert REASON in said


def test_a_reason_too_long_for_its_cell_is_cut_and_says_so(swept: tuple[Design, Figures]) -> None:
    page = sheet_svgs(swept[0].spec, arranged([entries(swept, 24, empty={0}, reason="why " * 900)]))
    lines = [e.text for e in cells(page[0])["A1"].iter(f"{SVG}text")]
    assert any(line.endswith("…") for line in lines)
    _check_cells(page[0], Frame(paper=PAPERS["A4"], grid=arranged([range(24)]).grid, words=0.0))


def test_a_sheet_of_nothing_but_reasons_is_drawn(swept: tuple[Design, Figures]) -> None:
    page = sheet_svgs(swept[0].spec, arranged([entries(swept, 3, empty={0, 1, 2})]))[0]
    assert "scale 1" not in page
    assert len(cells(page)) == 3


def test_rings_are_drawn_to_the_stated_scale(
    swept: tuple[Design, Figures], read: Callable[[str], Any]
) -> None:
    """svgelements measures the drawn ring; the scale in words must give its real size."""
    design, _ = swept
    for paper in PAPERS:
        page = sheet_svgs(design.spec, arranged([entries(swept, 24)]), paper=paper)[0]
        stated = float(sure(re.search(r"scale 1 : ([\d.]+)", page))[1])
        drawing = read(page)
        cell = next(e for e in drawing.elements() if getattr(e, "id", None) == "C4")
        ring = next(e for e in cell if type(e).__name__ == "Path")
        left, _, right, _ = ring.bbox()
        across = max(p[0] for p in design.blank.outline.points) - min(
            p[0] for p in design.blank.outline.points
        )
        assert (right - left) * stated == pytest.approx(across, rel=5e-3)


def test_the_scale_bar_is_as_long_as_it_says(
    swept: tuple[Design, Figures], read: Callable[[str], Any]
) -> None:
    page = sheet_svgs(swept[0].spec, arranged([entries(swept, 24)]), paper="A3")[0]
    stated = float(sure(re.search(r"scale 1 : ([\d.]+)", page))[1])
    length = float(sure(re.search(r">([\d.]+) mm</text>", page.split('id="foot"')[1]))[1])
    foot = next(e for e in read(page).elements() if getattr(e, "id", None) == "foot")
    lines = [e.bbox() for e in foot if type(e).__name__ == "SimpleLine"]
    flat = sorted(box[2] - box[0] for box in lines if box[2] - box[0] > 1)
    assert flat[0] * stated == pytest.approx(length, rel=1e-3)


def test_pages_are_landscape_and_real_paper(swept: tuple[Design, Figures]) -> None:
    """ISO 216 A4 and A3; ANSI/ASME Y14.1 Letter, 11 by 8.5 inches."""
    sizes = {"A4": (297, 210), "A3": (420, 297), "Letter": (279.4, 215.9)}
    for paper, (width, height) in sizes.items():
        page = sheet_svgs(swept[0].spec, arranged([entries(swept, 2)]), paper=paper)[0]
        root = ElementTree.fromstring(page)
        assert (root.get("width"), root.get("height")) == (f"{width:g}mm", f"{height:g}mm")


def test_the_same_variants_give_the_same_bytes(swept: tuple[Design, Figures]) -> None:
    laid = arranged([entries(swept, 30, empty={4})])
    assert sheet_svgs(swept[0].spec, laid) == sheet_svgs(swept[0].spec, laid)
    assert "20" not in re.findall(
        r">(\d\d)\d\d-\d\d-\d\d<", "".join(sheet_svgs(swept[0].spec, laid))
    )


def test_titles_and_reasons_are_text_and_nothing_else(swept: tuple[Design, Figures]) -> None:
    bad = "<script>alert('x')</script>"
    spec = changed(swept[0].spec, {"title": bad})
    page = sheet_svgs(spec, arranged([entries(swept, 2, empty={1}, reason=bad)]))[0]
    root = ElementTree.fromstring(page)
    assert not [e for e in root.iter() if "script" in e.tag]
    assert [e.text for e in root.iter(f"{SVG}text")].count(bad) == 2


def test_figures_stand_under_each_ring_with_the_caution(swept: tuple[Design, Figures]) -> None:
    design, figures = swept
    page = sheet_svgs(design.spec, arranged([entries(swept, 6)]))[0]
    said = [e.text for e in cells(page)["B3"].iter(f"{SVG}text")]
    assert f"{figures.mass:.1f} g" in said
    assert f"{100 * figures.solid_share:.0f} % · {figures.rib['least']:.2f} mm" in said
    assert "B3" in said
    assert "honeycomb" in said
    assert "columns\u00a040" in said
    assert "estimates" in page


def test_a_sheet_carries_its_spec_and_what_each_mark_changes(swept: tuple[Design, Figures]) -> None:
    design, _ = swept
    page = sheet_svgs(design.spec, arranged([entries(swept, 2)]))[0]
    assert from_toml(recipe(page)) == design.spec
    assert recipe(page).startswith(to_toml(design.spec))
    assert '# A2: pattern.name = "honeycomb", pattern.columns = 40' in recipe(page)


def test_what_varies_is_left_out_of_the_common_line(swept: tuple[Design, Figures]) -> None:
    spec = swept[0].spec
    same = sheet_svgs(spec, arranged([entries(swept, 2)]))[0]
    varied = sheet_svgs(spec, arranged([entries(swept, 2, label=(("web.rib", 2.5),))]))[0]
    assert "rib from 2 mm" in same
    assert "rib from 2 mm" not in varied.split("</metadata>")[1]


def test_one_scale_holds_the_largest_ring(
    swept: tuple[Design, Figures], ring: tuple[Design, Figures]
) -> None:
    both = [*entries(swept, 1), *entries(ring, 1)]
    page = sheet_svgs(swept[0].spec, arranged([both]))[0]
    stated = float(sure(re.search(r"scale 1 : ([\d.]+)", page))[1])
    frame = Frame(paper=PAPERS["A4"], grid=arranged([both]).grid, words=0.0)
    words = max(_caption.caption(one, frame.cell[0]).height for one in both)
    room = replace(frame, words=words).room
    largest = max(ring[0].blank.tip_diameter, swept[0].blank.tip_diameter)
    assert largest / stated <= room < largest / (stated - 0.5)


def test_scales_and_bars_are_round() -> None:
    assert scale(180.0, 36.0) == 5.0
    assert scale(180.1, 36.0) == 5.5
    assert bar_length(5.0, 28.0) == 100
    assert bar_length(2.5, 28.0) == 50


def test_cells_do_not_overlap() -> None:
    frame = Frame(paper=PAPERS["A4"], grid=arranged([range(24)]).grid, words=9.0)
    wide, tall = frame.cell
    x, y = frame.corner(Place(1, 1))
    assert frame.corner(Place(1, 2))[0] == pytest.approx(x + wide + GUTTER)
    assert frame.corner(Place(2, 1))[1] >= y + tall
    assert frame.corner(Place(5, 7)) == frame.corner(Place(1, 1))


FONTS = [
    Path(path)
    for name in ("DejaVuSans", "LiberationSans-Regular", "Arimo-Regular", "NotoSans-Regular",
                 "DejaVuSans-Bold", "LiberationSans-Bold", "NotoSans-Bold")
    for path in glob.glob(f"/usr/share/fonts/**/{name}.ttf", recursive=True)
]  # fmt: skip


@pytest.mark.skipif(not FONTS, reason="NO SANS-SERIF FONT ON THIS MACHINE TO MEASURE AGAINST")
@pytest.mark.parametrize("path", FONTS, ids=lambda path: path.stem)
def test_widths_bound_the_advance_widths_of_real_faces(path: Path) -> None:
    font = TTFont(path)
    names, widths, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    bold = "Bold" in path.stem
    for code in [*range(32, 0x250), *range(0x370, 0x500), 0x2026, 0x2014, 0x2212]:
        if code in names:
            bound = text_width(chr(code), 1.0, bold=bold)
            assert widths[names[code]][0] / em <= bound, chr(code)


def test_wrapping_loses_no_letter() -> None:
    text = "a narrow column, and oneverylongwordthatdoesnotfit in it"
    lines = wrapped(text, 20.0, 2.3)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(text_width(line, 2.3) <= 20.0 for line in lines)
