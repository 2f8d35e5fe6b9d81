"""A family as a table for a spreadsheet: a row for each size, units in the heads."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from openwork.explore.family.family import Family

# Names as in family.json, a dot for what stands inside; and the unit.
COLUMNS: Mapping[str, str] = {
    "teeth": "", "made": "", "wanted.least": "g", "wanted.most": "g", "mass": "g",
    "web_rib": "mm", "rib.least": "mm", "columns": "", "rows": "", "solid_share": "1",
    "openings": "", "cell_size": "mm", "cell_proportion": "1", "edge_length": "mm",
    "drive.pitch": "mm", "drive.root": "mm", "drive.tip": "mm", "drive.over_pins": "mm",
    "drive.pull": "N", "drive.ripple": "1", "drive.even": "", "drive.gear": "1",
    "drive.development": "m", "said": "", "reason": "",
}  # fmt: skip


def family_csv(family: Family) -> str:
    """Return *family* as comma-separated values, RFC 4180 but for the ends of lines."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(f"{name} ({unit})" if unit else name for name, unit in COLUMNS.items())
    for size in family.sizes:
        known = dict(_flat(size.as_dict()))
        writer.writerow(known.get(name) for name in COLUMNS)
    return text.getvalue()


def _flat(plain: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Any]]:
    for key, value in plain.items():
        match value:
            case dict():
                yield from _flat(value, f"{above}{key}.")
            case list():
                yield above + key, "; ".join(map(str, value))
            case str():
                yield above + key, " / ".join(value.splitlines())
            case bool():
                yield above + key, "yes" if value else "no"
            case _ if key == "wanted":
                low, high = value if isinstance(value, tuple) else (value, value)
                yield from (("wanted.least", low), ("wanted.most", high))
            case _:
                yield above + key, value
