"""The recipe in a drawing, read back: the spec it was made from."""

from __future__ import annotations

from xml.etree import ElementTree

from openwork.errors import SpecError

NAMESPACE = "urn:openwork:recipe"


def recipe(svg: str) -> str:
    """Return the spec, as TOML, that a drawing was made from; raises SpecError without one."""
    try:
        found = ElementTree.fromstring(svg).find(f".//{{{NAMESPACE}}}recipe")
    except ElementTree.ParseError as fault:
        raise SpecError(f"the drawing is not well-formed XML: {fault}") from None
    if found is None or not found.text:
        raise SpecError("the drawing carries no recipe; drawings written by openwork do")
    return found.text
