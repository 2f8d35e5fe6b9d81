"""The canvas that every drawing shares: svgwrite's elements, mm, one user unit a mm.

The library that writes the elements stays behind this room.
"""

from __future__ import annotations

import re
from importlib.metadata import version
from typing import Any
from xml.etree import ElementTree

import svgwrite

from openwork.render.drawing.path import number
from openwork.tables.recipe import NAMESPACE

NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


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
