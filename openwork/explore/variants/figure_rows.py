"""The figures of many rings as rows of plain numbers, to sort, filter and compare by.

Nested figures become one row for each number in them. Neutral numbers about looks have no better
and no worse.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from openwork.errors import SpecError
from openwork.explore.variants.variants import Entry, Refused
from openwork.measure.figures import meanings
from openwork.strength.meaning import MEANING
from openwork.tables.figure import Figure, flat, told

STRENGTH = "strength."
DIGITS = 4  # of the largest number in a row
SIGNS = MappingProxyType({"mm2": "mm²", "1": ""})


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One figure: its name, words for it, and ``better``, 1 where more is, -1 where less is."""

    key: str
    label: str
    unit: str
    meaning: str
    better: int
    places: int


def everything() -> dict[str, Figure]:
    """Return what every figure is, those of strength too, by the names ``numbers`` gives them."""
    return {**meanings(), **{STRENGTH + name: about for name, about in MEANING.items()}}


def numbers(entry: Entry) -> dict[str, float]:
    """Return every figure of *entry* that is a number, by name; shares in percent."""
    if isinstance(entry, Refused):
        return {}
    found = dict(flat(entry.figures.as_dict(), meanings()))
    if entry.strength is not None:
        strength = entry.strength.as_dict()
        for name, about in MEANING.items():
            if about.entry and strength[name] is not None:
                strength[name] = strength[name][about.entry]
        found |= flat({STRENGTH + name: strength[name] for name in MEANING}, everything())
    return found


def known(name: str) -> str | None:
    """Return the figure called *name* as ``numbers`` calls it or the table it is in; None if none.

    >>> known("mass"), known("aside"), known("frequency"), known("rib.least"), known("beauty")
    ('mass', 'strength.lateral_between_vs_plate', 'strength.frequency', 'rib.least', None)
    """
    full = _short().get(name, name)
    for key in (full, STRENGTH + full):
        if any(key == one or key.startswith(f"{one}.") for one in everything()):
            return key
    return None


def names() -> list[str]:
    """Return every name that ``known`` finds, parts of tables left out."""
    return [*_short(), *everything()]


def _short() -> dict[str, str]:
    return {about.short: name for name, about in everything().items() if about.short}


def by_figure(entries: Iterable[Entry], key: str) -> list[Entry]:
    """Return *entries* by the figure *key*, the best first, else the least; without one last.

    Of a table of figures its first counts. Raises SpecError where no ring has the figure.

    >>> by_figure([], "mass")
    []
    """
    ordered = [*entries]
    found = [numbers(entry) for entry in ordered]
    columns = [row for row in rows(found) if row.key == key or row.key.startswith(f"{key}.")]
    if not columns and any(found):
        raise SpecError(f"{key}: none of the rings has this figure; mass works")
    if not columns:
        return ordered
    first = columns[0]
    sign = -1 if first.better > 0 else 1
    values = [sign * one.get(first.key, math.inf * sign) for one in found]
    return [ordered[k] for k in sorted(range(len(ordered)), key=values.__getitem__)]


def rows(found: Iterable[Mapping[str, float]]) -> tuple[Row, ...]:
    """Return the rows that hold the numbers in *found*, in the order of the figures."""
    columns: dict[str, list[float]] = {}
    for one in found:
        for key, value in one.items():
            columns.setdefault(key, []).append(value)
    return tuple(_row(key, values) for key, values in columns.items())


def _row(key: str, values: Iterable[float]) -> Row:
    about = told(key, everything())
    plain = key.removeprefix(STRENGTH)
    return Row(
        key=key,
        label=about.label or plain.replace("_", " ").replace(".", ", "),
        unit=SIGNS.get(about.shown, about.shown),
        meaning=about.meaning + _bias(key),
        better=about.better,
        places=_places(values, about.finest),
    )


def _bias(key: str) -> str:
    plain = key.removeprefix(STRENGTH)
    return f"; {MEANING[plain.partition('.')[0]].bias}" if plain != key else ""


def _places(values: Iterable[float], finest: int) -> int:
    """Return the decimals, at most *finest*, that show the largest of *values* to four digits.

    >>> _places([169.87, 3.2], 2), _places([3.774, 1.5], 2), _places([40, 44], 3)
    (1, 2, 0)
    """
    sizes = [abs(value) for value in values]
    if all(float(size).is_integer() for size in sizes):
        return 0
    return max(0, min(finest, DIGITS - 1 - math.floor(math.log10(max(sizes)))))
