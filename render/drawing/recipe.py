"""The recipe in every drawing: the spec it was made from, so that it can be made again."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING
from xml.etree import ElementTree

from openwork.errors import SpecError
from openwork.spec.spec import PatternTable, to_toml

if TYPE_CHECKING:
    from openwork.ring import Design

NAMESPACE = "urn:openwork:recipe"


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
