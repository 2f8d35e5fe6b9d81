"""A family as a table for a spreadsheet: a row for each size, units in the heads."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from openwork.explore.family.size import about

if TYPE_CHECKING:
    from openwork.explore.family.family import Family


def family_csv(family: Family) -> str:
    """Return *family* as comma-separated values, RFC 4180 but for the ends of lines."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    columns = dict(_columns(reckoned=any(size.strength for size in family.made)))
    writer.writerow(f"{name} ({unit})" if unit else name for name, unit in columns.items())
    for size in family.sizes:
        known = dict(_cells(size.as_dict()))
        writer.writerow(known.get(name) for name in columns)
    return text.getvalue()


def _columns(*, reckoned: bool) -> Iterator[tuple[str, str]]:
    """Yield names as in family.json, a dot for what stands inside, each with its unit.

    Those of strength only where it was *reckoned*.
    """
    for name, one in about().items():
        if name == "strength" and not reckoned:
            continue
        if not one.parts:
            yield name, one.unit
        yield from ((f"{name}.{part}", two.unit) for part, two in one.parts.items())


def _cells(plain: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Any]]:
    for key, value in plain.items():
        match value:
            case _ if key == "wanted":
                low, high = value if isinstance(value, list) else (value, value)
                yield from (("wanted.least", low), ("wanted.most", high))
            case dict():
                yield from _cells(value, f"{above}{key}.")
            case list():
                yield above + key, "; ".join(map(str, value))
            case str():
                yield above + key, " / ".join(value.splitlines())
            case bool():
                yield above + key, "yes" if value else "no"
            case _:
                yield above + key, value
