"""The outline drawing, read back by svgelements, which shares nothing with the writer."""

import dataclasses
import re
from collections.abc import Callable
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
import svgelements
from hypothesis import given
from hypothesis import strategies as st

import openwork
from openwork.errors import SpecError
from openwork.measure.figures import Figures
from openwork.render.drawing.path import compact_path, exact_path
from openwork.render.ring.outline import ring_svg
from openwork.ring import Design
from openwork.shape.contour import (
    Contour,
    Points,
    area,
    centroid,
    circle,
    is_circle,
    polygon_contour,
)
from openwork.spec.spec import changed, from_toml
from openwork.tables.recipe import recipe
from tests._sure import sure

SVG = "{http://www.w3.org/2000/svg}"
GROUPS = ("teeth", "edge", "bolts", "openings", "band")


def shapes(drawing: Any, name: str) -> Any:
    """Return the paths and circles of the group *name*."""
    group = next(e for e in drawing.elements() if getattr(e, "id", None) == name)
    return [e for e in group if isinstance(e, svgelements.Shape)]


def shoelace(points: Points) -> Any:
    x, y = points.T
    return abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def expected(design: Design) -> Any:
    blank = design.blank
    return dict(
        zip(
            GROUPS,
            [
                (blank.outline,),
                (blank.edge,),
                blank.bolts,
                design.openings,
                (circle(blank.shroud),),
            ],
            strict=True,
        )
    )


def test_size_is_in_mm_and_one_unit_is_one_mm(
    ring: tuple[Design, Figures], read: Callable[[str], Any], outline: Callable[..., Points]
) -> None:
    text = ring_svg(*ring)
    root = ElementTree.fromstring(text)
    width = float(sure(root.get("width")).removesuffix("mm"))
    assert root.get("height") == root.get("width")
    assert root.get("viewBox") == f"0 0 {width:g} {width:g}"
    (teeth,) = shapes(read(text), "teeth")
    radii = np.hypot(*(outline(teeth, parts=16) - width / 2).T)
    assert radii.max() == pytest.approx(ring[0].blank.tip_diameter / 2, rel=2e-6)
    assert radii.max() < width / 2


def test_areas_and_places_agree_contour_by_contour(
    ring: tuple[Design, Figures], read: Callable[[str], Any], outline: Callable[..., Points]
) -> None:
    design, figures = ring
    drawing = read(ring_svg(design, figures))
    middle = drawing.width / 2
    for name, contours in expected(design).items():
        found = shapes(drawing, name)
        assert len(found) == len(contours)
        for shape, contour in zip(found, contours, strict=True):
            points = outline(shape)
            assert shoelace(points) == pytest.approx(area(contour), rel=2e-4)
            x, y = centroid(contour)
            box = shape.bbox()
            assert box[0] < middle + x < box[2]
            assert box[1] < middle - y < box[3]


def test_y_axis_points_up(
    swept: tuple[Design, Figures], read: Callable[[str], Any], outline: Callable[..., Points]
) -> None:
    """A swept rib is no mirror image of itself: read back, its openings must be where ours are."""
    design, figures = swept
    drawing = read(ring_svg(design, figures))
    middle = drawing.width / 2
    for shape, contour in zip(shapes(drawing, "openings"), design.openings, strict=True):
        corners = contour.points * [1, -1] + middle
        away = np.linalg.norm(corners[:, None] - outline(shape)[None], axis=2).min(axis=1)
        assert away.max() < 1e-4
    upside_down = design.openings[0].points + middle
    points = outline(shapes(drawing, "openings")[0])
    assert np.linalg.norm(upside_down[:, None] - points[None], axis=2).min(axis=1).max() > 1


@pytest.mark.parametrize("flag", [0, 1])
def test_a_wrong_arc_flag_is_noticed(
    swept: tuple[Design, Figures],
    read: Callable[[str], Any],
    outline: Callable[..., Points],
    flag: int,
) -> None:
    """The comparison of areas must be able to fail."""
    design, figures = swept
    text = ring_svg(design, figures)
    head, group, tail = text.partition('<g id="openings">')

    def turned(match: re.Match[str]) -> Any:
        flags = [int(match[2]), int(match[3])]
        flags[flag] = 1 - flags[flag]
        return f"{match[1]}{flags[0]} {flags[1]} "

    damaged = head + group + re.sub(r"(A\S+ 0 )(\d) (\d) ", turned, tail, count=1)
    (shape, *_), contour = shapes(read(damaged), "openings"), design.openings[0]
    assert shoelace(outline(shape)) != pytest.approx(area(contour), rel=2e-4)


def test_every_path_is_one_closed_contour_of_lines_and_arcs(ring: tuple[Design, Figures]) -> None:
    root = ElementTree.fromstring(ring_svg(*ring))
    paths = [*root.iter(f"{SVG}path")]
    assert len(paths) >= 1
    for path in paths:
        assert re.fullmatch(r"M[^MZ]+Z", sure(path.get("d")))
        assert set(re.findall("[A-Za-z]", sure(path.get("d")))) <= set("MLAZ")


def test_round_holes_are_circles(ring: tuple[Design, Figures], read: Callable[[str], Any]) -> None:
    design, figures = ring
    drawing = read(ring_svg(design, figures))
    assert all(isinstance(e, svgelements.Circle) for e in shapes(drawing, "bolts"))
    round_ = sum(is_circle(one) for one in design.openings)
    found = shapes(drawing, "openings")
    assert sum(isinstance(e, svgelements.Circle) for e in found) == round_
    for hole in shapes(drawing, "bolts"):
        assert 2 * hole.implicit_r == pytest.approx(design.spec.mount.hole, rel=2e-6)


def test_nothing_stands_between_the_numbers_and_the_part(ring: tuple[Design, Figures]) -> None:
    text = ring_svg(*ring)
    root = ElementTree.fromstring(text)
    assert root.get("fill-rule") == "evenodd"
    for element in root.iter():
        assert not {"transform", "style", "class"} & element.attrib.keys()
        assert element.tag.removeprefix(SVG) in {
            "svg", "title", "desc", "metadata", "g", "path", "circle",
        } | {"{urn:openwork:recipe}recipe"}  # fmt: skip
    assert not re.search(r"-0(?![.\d])", "".join(root.itertext()) and text.split("</metadata>")[1])
    assert [g.get("id") for g in root.iter(f"{SVG}g")] == list(GROUPS)


def test_a_drawing_is_made_again_from_itself(ring: tuple[Design, Figures]) -> None:
    text = ring_svg(*ring)
    again = openwork.design(from_toml(recipe(text)))
    assert again.openings == ring[0].openings
    assert ring_svg(again, openwork.figures(again)) == text


def test_the_recipe_names_every_parameter_of_the_pattern(ring: tuple[Design, Figures]) -> None:
    design, figures = ring
    spec = from_toml(recipe(ring_svg(design, figures)))
    named = spec.pattern.parameters
    assert named == {field: getattr(design.pattern, field) for field in named}
    assert named.keys() == {field.name for field in dataclasses.fields(design.pattern)}
    assert spec.pattern.seed == design.spec.pattern.seed


@pytest.mark.parametrize(
    "title", ["<script>alert('x')</script>", "]]><g/>", '&lt; & "quoted"', "Quay ø 東", "--><!--"]
)
def test_titles_are_text_and_nothing_else(swept: tuple[Design, Figures], title: str) -> None:
    design, figures = swept
    named = openwork.design(changed(design.spec, {"title": title}))
    text = ring_svg(named, figures)
    root = ElementTree.fromstring(text)
    assert sure(root.find(f"{SVG}title")).text == title
    assert from_toml(recipe(text)).title == title
    plain = ElementTree.fromstring(ring_svg(design, figures))
    assert [e.tag for e in root.iter()] == [e.tag for e in plain.iter()]


def test_drawings_without_a_recipe_are_refused() -> None:
    with pytest.raises(SpecError, match="no recipe"):
        recipe('<svg xmlns="http://www.w3.org/2000/svg"/>')
    with pytest.raises(SpecError, match="not well-formed"):
        recipe("<svg")


bulges = st.one_of(
    st.just(0.0),
    st.floats(-3, 3).filter(lambda b: abs(b) > 1e-3),
    st.floats(-1e-4, 1e-4).map(lambda d: 1 + d),
    st.floats(-1e-4, 1e-4).map(lambda d: -1 + d),
)


@given(
    st.lists(bulges, min_size=4, max_size=4),
    st.lists(st.floats(1, 30), min_size=4, max_size=4),
    st.floats(0, 6),
)
def test_any_piece_survives_the_rounding(
    bulges: list[float], lengths: list[float], turn: float
) -> None:
    """Each piece as read back passes through its own middle, also arcs near a half circle."""
    angle = turn + np.arange(4) * np.pi / 2
    points = np.array(lengths)[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    contour = Contour(points, np.array(bulges))
    normal = contour.chords @ np.array([[0.0, -1.0], [1.0, 0.0]])
    middles = points + contour.chords / 2 + normal * (contour.bulges / 2)[:, None]
    for text, tolerance in (
        (exact_path(contour, 40), 1e-4),
        (compact_path([contour], 0.01), 0.05),
    ):
        path = svgelements.Path(text)
        pieces = [s for s in path if isinstance(s, svgelements.Arc | svgelements.Line)]
        closing = [s for s in path if isinstance(s, svgelements.Close)]
        found = [s.point(0.5) for s in pieces]
        if len(found) < 4:
            found.append(closing[0].point(0.5))
        unit, shift = (1, 40) if tolerance < 0.01 else (0.01, 0)
        where = (np.array([[p.x, p.y] for p in found]) * unit - shift) * [1, -1]
        assert np.abs(where - middles).max() < tolerance


def test_numbers_carry_six_decimals() -> None:
    text = exact_path(polygon_contour([(1 / 3, 0), (2, -1e-9), (0, 2)]), 0)
    assert text == "M0.333333,0L2,0L0,-2Z"
