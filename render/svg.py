"""SVG drawings: the exact outline of a ring for the shop, and the canvas the pictures share.

The outline is what a cutter follows: mm throughout, one user unit is one mm, absolute arcs, no
transforms, no style sheets, nothing derived from a stroke. Every drawing carries its recipe, so
that it can be made again from itself. The library that writes the elements stays behind this
module.
"""

from __future__ import annotations

import math
import re
from dataclasses import asdict
from importlib.metadata import version
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import svgwrite
from svgwrite.base import BaseElement

from openwork.errors import SpecError
from openwork.shape.contour import Contour, is_circle
from openwork.spec import PatternTable, to_toml

from ._path import exact_path, number

if TYPE_CHECKING:
    from openwork.design import Design
    from openwork.figures import Figures

NAMESPACE = "urn:openwork:recipe"
CAUTION = (
    "Figures are estimates. Physical tests such as those of ISO 4210 and licensed practice "
    "decide; local codes apply."
)
HAIRLINE = 0.1  # mm
CLEAR = 1.0  # mm, least distance of the ring from the border of its drawing
NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def ring_svg(design: Design, figures: Figures) -> str:
    """Return the outline drawing of *design*, mm, with its figures in words and its recipe.

    Groups: ``teeth`` the outer outline, ``edge`` the inner edge, ``bolts`` and ``openings``.
    """
    blank = design.blank
    middle = half_width(design)
    drawing = canvas(2 * middle, 2 * middle, title=design.spec.title, recipe=design_recipe(design))
    describe(drawing, _summary(figures))
    pen = {"fill": "none", "stroke": "#000", "stroke_width": HAIRLINE, "fill_rule": "evenodd"}
    drawing.update(pen)
    parts = {
        "teeth": (blank.outline,),
        "edge": (blank.edge,),
        "bolts": blank.bolts,
        "openings": design.openings,
    }
    for name, contours in parts.items():
        group = drawing.add(drawing.g(id=name))
        for contour in contours:
            group.add(_outline(drawing, contour, middle))
    return written(drawing)


def half_width(design: Design) -> int:
    """Return half the width of the drawing, mm: whole, so that the centre has round numbers."""
    return math.ceil(design.blank.tip_diameter / 2 + CLEAR)


def canvas(width: float, height: float, *, title: str, recipe: str) -> Any:
    """Return an empty drawing of *width* by *height* mm, one user unit a mm."""
    drawing = svgwrite.Drawing(
        size=(f"{number(width)}mm", f"{number(height)}mm"),
        viewBox=f"0 0 {number(width)} {number(height)}",
        debug=False,
    )
    drawing.set_desc(title=clean(title))
    element = ElementTree.Element("recipe", xmlns=NAMESPACE, version=version("openwork"))
    element.text = clean(recipe)
    drawing.set_metadata(element)
    return drawing


def describe(drawing: Any, words: str) -> None:
    """Put *words* into the drawing's description, after its title."""
    title = drawing.elements.pop(0)
    drawing.set_desc(desc=clean(words))
    drawing.elements.insert(0, title)


def written(drawing: Any) -> str:
    """Return the drawing as text, the same bytes for the same drawing."""
    drawing.elements = [e for e in drawing.elements if e is not drawing.defs or e.elements]
    root = drawing.get_xml()
    for unused in ("baseProfile", "version", "xmlns:ev"):
        del root.attrib[unused]
    if all("xlink:href" not in element.attrib for element in root.iter()):
        del root.attrib["xmlns:xlink"]
    ElementTree.indent(root, " ")
    text = ElementTree.tostring(root, encoding="unicode").replace("\r", "&#13;")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'


def clean(text: str) -> str:
    """Return *text* with what XML cannot carry replaced by the mark for an unknown character.

    >>> clean("a\\x00b")
    'a�b'
    """
    return NOT_XML.sub("\ufffd", text)


def design_recipe(design: Design) -> str:
    """Return the spec of *design* as TOML with every parameter of its pattern filled in."""
    spec = design.spec
    table = {"name": spec.pattern.name, "seed": spec.pattern.seed, **asdict(design.pattern)}
    return to_toml(spec.model_copy(update={"pattern": PatternTable.model_validate(table)}))


def recipe(svg: str) -> str:
    """Return the spec, as TOML, that a drawing was made from; raises SpecError without one."""
    try:
        found = ElementTree.fromstring(svg).find(f".//{{{NAMESPACE}}}recipe")
    except ElementTree.ParseError as fault:
        raise SpecError(f"the drawing is not well-formed XML: {fault}") from None
    if found is None or not found.text:
        raise SpecError("the drawing carries no recipe; drawings written by openwork do")
    return found.text


def _outline(drawing: Any, contour: Contour, middle: float) -> BaseElement:
    if is_circle(contour):
        x, y = contour.centres[0] * [1, -1] + middle
        return drawing.circle((number(x), number(y)), number(contour.radii[0]))
    return drawing.path(exact_path(contour, middle))


def _summary(figures: Figures) -> str:
    return (
        f"Nominal contours in mm, no cutter or kerf compensation. Mass {figures.mass:.1f} g, "
        f"solid share of the web {100 * figures.solid_share:.0f} %, "
        f"least rib {figures.rib['least']:.2f} mm, "
        f"least inside radius {figures.corner_least:.2f} mm. {CAUTION}"
    )
