"""The recipe in every drawing: the spec it was made from, so that it can be made again."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

from openwork.spec.spec import PatternTable, to_toml

if TYPE_CHECKING:
    from openwork.ring import Design


def design_recipe(design: Design) -> str:
    """Return the spec of *design* as TOML with every parameter of its pattern filled in."""
    spec = design.spec
    table = {"name": spec.pattern.name, "seed": spec.pattern.seed, **asdict(design.pattern)}
    return to_toml(spec.model_copy(update={"pattern": PatternTable.model_validate(table)}))
