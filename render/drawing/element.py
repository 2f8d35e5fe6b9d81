"""The elements of SVG 1.1 that drawings are made of, written by the XML library of Python.

Keywords become attributes, ``_`` in their names ``-``; an empty one is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeAlias
from xml.etree import ElementTree

Place: TypeAlias = tuple[object, object]  # x and y in user units, as numbers or as they are written


class Element:
    """One element, its attributes and what stands in it.

    >>> group = Element("g", stroke_width=0.5, id="")
    >>> _ = group.add(circle((1, 2), 3))
    >>> ElementTree.tostring(group.xml(), encoding="unicode")
    '<g stroke-width="0.5"><circle cx="1" cy="2" r="3" /></g>'
    """

    def __init__(self, tag: str, /, **attributes: object) -> None:
        self.tag, self.words = tag, ""
        self.attributes: dict[str, str] = {}
        self.children: list[Element] = []
        self.update(attributes)

    def __setitem__(self, name: str, value: object) -> None:
        self.attributes[name.replace("_", "-")] = str(value)

    def update(self, attributes: Mapping[str, object]) -> None:
        """Set every one of *attributes*."""
        for name, value in attributes.items():
            self[name] = value

    def add(self, child: Element) -> Element:
        """Put *child* after what stands in this, and return it."""
        self.children.append(child)
        return child

    def xml(self) -> ElementTree.Element:
        """Return this and all in it for writing, attributes in the order of the alphabet."""
        given = {name: value for name, value in sorted(self.attributes.items()) if value}
        found = ElementTree.Element(self.tag, given)
        found.text = self.words or None
        found.extend(child.xml() for child in self.children)
        return found


def worded(tag: str, words: str, /, **attributes: object) -> Element:
    """Return an element that holds *words*."""
    found = Element(tag, **attributes)
    found.words = words
    return found


def g(**style: object) -> Element:
    """Return an empty group."""
    return Element("g", **style)


def path(data: str, **style: object) -> Element:
    """Return an outline by its path data."""
    return Element("path", d=data, **style)


def circle(centre: Place, radius: object, **style: object) -> Element:
    """Return a circle."""
    return Element("circle", cx=centre[0], cy=centre[1], r=radius, **style)


def line(start: Place, stop: Place, **style: object) -> Element:
    """Return a straight line."""
    return Element("line", x1=start[0], y1=start[1], x2=stop[0], y2=stop[1], **style)


def rect(corner: Place, size: Place, **style: object) -> Element:
    """Return a rectangle by its upper left *corner*."""
    width, height = size
    return Element("rect", x=corner[0], y=corner[1], width=width, height=height, **style)


def polygon(corners: Iterable[Place], **style: object) -> Element:
    """Return a closed polygon."""
    return Element("polygon", points=" ".join(f"{x},{y}" for x, y in corners), **style)


def text(words: str, at: Place, **style: object) -> Element:
    """Return a line of text on the base line that begins *at* a place."""
    return worded("text", words, x=at[0], y=at[1], **style)


def use(name: str, **style: object) -> Element:
    """Return another showing of the element called *name*."""
    return Element("use", **{"xlink:href": f"#{name}"}, **style)
