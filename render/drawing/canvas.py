"""The canvas that every drawing shares: its root element, mm, one user unit a mm."""

from __future__ import annotations

import re
from importlib.metadata import version
from xml.etree import ElementTree

from openwork.render.drawing.element import Element, worded
from openwork.render.drawing.path import number
from openwork.render.drawing.recipe import NAMESPACE

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class Drawing(Element):
    """The root of a drawing: title, words, recipe and definitions stand before what is drawn."""

    def __init__(self, title: str, recipe: str, **attributes: object) -> None:
        super().__init__("svg", xmlns=SVG, **attributes)
        self.title, self.about, self.recipe = clean(title), "", clean(recipe)
        self.defs = Element("defs")

    def xml(self) -> ElementTree.Element:
        """Return the whole drawing for writing."""
        root = super().xml()
        metadata = ElementTree.Element("metadata")
        recipe = {"xmlns": NAMESPACE, "version": version("openwork")}
        ElementTree.SubElement(metadata, "recipe", recipe).text = self.recipe
        about = [worded("desc", self.about).xml()] if self.about else []
        defs = [self.defs.xml()] if self.defs.children else []
        root[:0] = [worded("title", self.title).xml(), *about, metadata, *defs]
        if any("xlink:href" in one.attrib for one in root.iter()):
            root.set("xmlns:xlink", XLINK)
        return root


def canvas(width: float, height: float, *, title: str, recipe: str) -> Drawing:
    """Return an empty drawing of *width* by *height* mm, one user unit a mm."""
    size = {"width": f"{number(width)}mm", "height": f"{number(height)}mm"}
    return Drawing(title, recipe, viewBox=f"0 0 {number(width)} {number(height)}", **size)


def describe(drawing: Drawing, words: str) -> None:
    """Put *words* into the drawing's description, after its title."""
    drawing.about = clean(words)


def written(drawing: Drawing) -> str:
    """Return the drawing as text, the same bytes for the same drawing."""
    root = drawing.xml()
    ElementTree.indent(root, " ")
    text = ElementTree.tostring(root, encoding="unicode").replace("\r", "&#13;")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'


def clean(text: str) -> str:
    """Return *text* with what XML cannot carry replaced by the mark for an unknown character.

    >>> clean("a\\x00b")
    'a�b'
    """
    return NOT_XML.sub("\ufffd", text)
