"""What a figure is, declared once where it is measured; all that tells of it reads it there."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Mapping
from dataclasses import KW_ONLY, dataclass, field
from types import MappingProxyType
from typing import Any

PLACES = MappingProxyType({"mm": 2, "g": 1, "%": 1, "MPa": 0})  # decimals that say something
MOST = 3  # decimals of what has another unit
NAME = "figure"  # of the declaration in the metadata of a field


@dataclass(frozen=True, slots=True)
class Figure:
    """Unit and one line of meaning of a figure; ``label`` where its name is no good words.

    ``better`` is 1 where more is, -1 where less is, 0 where neither. ``places`` are the decimals
    that say something, of the unit where it is None. A share shown in percent is ``percent``.
    ``short`` is another name people may give it by. ``parts`` are the numbers in it by their
    names, or in their order, where it is a table or a row of them.
    """

    unit: str
    meaning: str
    _: KW_ONLY
    label: str = ""
    better: int = 0
    places: int | None = None
    percent: bool = False
    short: str = ""
    parts: Mapping[str, Figure] = field(default_factory=dict, hash=False)

    @property
    def shown(self) -> str:
        """The unit in which it is shown."""
        return "%" if self.percent else self.unit

    @property
    def finest(self) -> int:
        """The decimals, at most, in which it is shown."""
        return PLACES.get(self.shown, MOST) if self.places is None else self.places


OTHER = Figure("", "")  # what stands in a table beside the figures in it


def figure(unit: str, meaning: str, **told: Any) -> Any:
    """Declare a field of a dataclass as a figure; *told* as in ``Figure``."""
    return dataclasses.field(metadata={NAME: Figure(unit, meaning, **told)})


def declared(kind: type) -> dict[str, Figure]:
    """Return the figures that the dataclass *kind* declares, by name.

    >>> @dataclass
    ... class Lamp:
    ...     light: float = figure("lm", "light given off", better=1)
    ...     maker: str = ""
    >>> declared(Lamp)["light"].better, [*declared(Lamp)]
    (1, ['light'])
    """
    fields = dataclasses.fields(kind)
    return {one.name: one.metadata[NAME] for one in fields if NAME in one.metadata}


def told(key: str, about: Mapping[str, Figure]) -> Figure:
    """Return what the figure *key* is; of a part of a table, its name after a dot, what that is.

    >>> about = {"rib": Figure("mm", "ribs", parts={"least": Figure("mm", "least rib")})}
    >>> told("rib.least", about).meaning, told("rib.other", about).meaning
    ('least rib', 'ribs')
    """
    if key in about:
        return about[key]
    name, _, part = key.rpartition(".")
    table = told(name, about) if name else OTHER
    return table.parts.get(part, table)


def flat(values: Mapping[str, Any], about: Mapping[str, Figure]) -> Iterator[tuple[str, float]]:
    """Yield the numbers in *values* by name, what stands in a table after a dot.

    *about* says what they are: shares may come in percent, and a row of numbers has names.
    """
    for name, value in values.items():
        one = about.get(name, OTHER)
        row = isinstance(value, list) and one.parts
        parts = dict(zip(one.parts, value, strict=True)) if row else value
        if isinstance(parts, dict):
            yield from ((f"{name}.{key}", found) for key, found in flat(parts, one.parts))
        elif isinstance(value, int | float) and math.isfinite(value):
            yield name, value * 100 if one.percent else value
