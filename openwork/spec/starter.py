"""The commented spec that a new ring starts from."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, TypeAlias

from pydantic.fields import FieldInfo

from openwork.fill.registry import pattern_named, patterns
from openwork.part.blank import Ring
from openwork.part.prices import Prices
from openwork.spec.spec import PatternTable, Spec
from openwork.tables.faults import EXAMPLES
from openwork.tables.table import Table, table_of
from openwork.tables.toml import written
from openwork.tables.wording import limits

# A ring of a harbour courier's fleet; everything else stands at its default.
DEMO: dict[tuple[str, ...], Any] = {
    **EXAMPLES,
    ("title",): "Harbour 42",
    ("goal", "mass"): 75.0,
    ("goal", "teeth"): [38, 46],
    ("drive", "cog"): 16,
    ("drive", "wheel"): 680.0,
}
# What stands, as a comment, for a key that means something when it is left out.
SKETCHES: dict[tuple[str, ...], Any] = {
    ("goal", "mass"): 75.0,
    ("goal", "hold"): "mass",
    ("goal", "share"): 0.55,
    ("goal", "least_rib"): 2.0,
    ("goal", "plate"): (4.0, 5.0),
}
Given: TypeAlias = Mapping[tuple[str, ...], Any]
NOTHING: Given = MappingProxyType({})
KEY_WIDTH = 26  # characters before a comment
HEAD = """\
# A chainring: what is left out of this file stands at the value shown.
# Lengths are in mm, masses in g, angles in degrees.
"""


def template(given: Given = NOTHING) -> str:
    """Return a spec with every key, its range and its meaning.

    A key has the value *given*, the demo's or its default. Of another tooth count than the demo's
    the title and the pattern follow, and the mass is left open.
    """
    values = {**DEMO, **_following(given), **given}
    lines = [HEAD + _line(("title",), Spec.model_fields["title"], "", values)]
    for name, field in Spec.model_fields.items():
        table = table_of(field)
        if table is not None:
            lines += [f"\n[{name}]", *_keys(name, table, values)]
    return "\n".join(lines) + "\n"


def _following(given: Given) -> dict[tuple[str, ...], Any]:
    """Return what follows from the tooth count *given*, or from another bolt circle."""
    found: dict[tuple[str, ...], Any] = {}
    if teeth := given.get(("ring", "teeth")):
        found |= {("title",): f"Harbour {teeth}", ("goal", "teeth"): [teeth - 2, teeth + 2]}
    return found | ({("goal", "mass"): None} if given else {})


def _keys(name: str, table: type[Table], values: Given) -> Iterator[str]:
    if table is PatternTable:
        yield from _pattern(table.model_fields)
    if table is Prices:
        example = written(Ring.model_fields["material"].default, 12.0)
        yield _commented(
            f"# {example}", "price per kg, in any currency, for the cost of alloys", ""
        )
    if table in (PatternTable, Prices):
        return
    for key, field in table.model_fields.items():
        yield _line((name, key), field, limits(field), values)


def _pattern(fields: Mapping[str, FieldInfo]) -> Iterator[str]:
    """Yield the pattern's name, the seed and the parameters of the default pattern."""
    yield _line(("pattern", "name"), fields["name"], ", ".join(sorted(patterns())), DEMO)
    yield _line(("pattern", "seed"), fields["seed"], "", DEMO)
    yield from _parameters(fields["name"].default)


def _line(keys: tuple[str, ...], field: FieldInfo, span: str, values: Given) -> str:
    """Return one key with its comment, itself a comment where leaving it out means something."""
    value = values.get(keys, None if field.is_required() else field.default)
    inner = table_of(field)
    if value is None and keys in SKETCHES:
        return _commented("# " + written(keys[-1], SKETCHES[keys]), field.description or "", span)
    if value is None and inner is not None:
        value = {
            key: EXAMPLES.get((*keys, key), one.default)
            for key, one in inner.model_fields.items()
            if (*keys, key) in EXAMPLES or one.default is not None
        }
        return _commented("# " + written(keys[-1], value), field.description or "", "")
    return _commented(written(keys[-1], value), field.description or "", span)


def _parameters(name: str) -> Iterator[str]:
    """Yield the pattern's own parameters; those the web chooses by itself as comments."""
    for field in dataclasses.fields(pattern_named(name)):
        meta = field.metadata
        given = DEMO.get(("pattern", field.name))
        span = ", ".join(meta["choices"]) or f"{meta['low']:g} to {meta['high']:g}"
        line = written(field.name, field.default if given is None else given)
        note = "" if given is not None or not meta["suited"] else "; chosen to suit if left out"
        yield _commented(line if given is not None else f"# {line}", meta["help"] + note, span)


def _commented(line: str, help_text: str, span: str) -> str:
    return f"{line:<{KEY_WIDTH}} # {help_text}" + (f" ({span})" if span else "")
