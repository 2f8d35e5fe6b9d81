"""The figures of many rings as rows of plain numbers, to sort, filter and compare by.

Nested figures become one row for each number in them. Neutral numbers about looks have no better
and no worse.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from openwork.errors import SpecError
from openwork.measure.figures import meanings
from openwork.strength.meaning import MEANING

if TYPE_CHECKING:
    from openwork.explore.variants.variants import Entry

STRENGTH = "strength."
SHORT = MappingProxyType({"share": "solid_share", "stiffness": "strength.stiffness_vs_plate"})
DIGITS = 4  # of the largest number in a row
FINEST = MappingProxyType({"mm": 2, "g": 1, "%": 1, "MPa": 0})  # decimals that say something
PARTS = MappingProxyType(
    {
        "utilisation_rig": ("least", "likely", "greatest"),
        "utilisation_ride": ("least", "likely", "greatest"),
        "tooth_root": ("new chain", "worn-in chain"),
        "tooth_alone": ("new chain", "worn-in chain"),
    }
)
# Of figures that say more than a number, what stands for them in a row.
WHOLE = MappingProxyType(
    {"peak_stress": "value", "peak_alone": "value", "yield_new": "force", "yield_worn": "force"}
    | dict.fromkeys(("utilisation_rig", "utilisation_ride"), "utilisation")
)
LABELS = MappingProxyType(
    {
        "rib.least": "least rib",
        "rib.mean": "mean rib",
        "rib.spread": "spread of ribs",
        "edge_least": "least margin",
        "corner_least": "least inside radius",
        "edge_length": "length of edges",
        "cell_spread": "spread of areas",
        "rhythm.order": "rhythm, order",
        "machining.smallest_cutter": "smallest cutter",
        "machining.cut_length": "length of cut",
        "strength.stiffness_least": "least stiffness",
        "strength.stiffness_vs_plate": "stiffness over a plain plate",
        "strength.stiffness_vs_net": "stiffness over crossed spirals",
        "strength.lateral_bolt": "side stiffness at a bolt",
        "strength.lateral_between": "side stiffness between bolts",
        "strength.side_stress": "stress of a slanting chain",
        "strength.utilisation_static": "static utilisation",
        "strength.stiffness": "stiffness, ring alone",
        "strength.stiffness_on_spider": "stiffness on its spider",
        "strength.lateral_bolt_vs_plate": "side stiffness at a bolt over a plain plate",
        "strength.lateral_between_vs_plate": "side stiffness between bolts over a plain plate",
        "strength.plain_plate": "thickness of the plain plate",
        "strength.bolt_force": "largest bolt force on the spider",
        "strength.bolt_force_alone": "largest bolt force, ring alone",
        "strength.slip": "pedal force at which a joint slips",
        "strength.peak_alone": "peak stress, ring alone",
        "strength.yield_new": "pedal force at first yield, new chain",
        "strength.yield_worn": "pedal force at first yield, worn-in chain",
        "strength.utilisation_rig.least": "fatigue on the rig, least",
        "strength.utilisation_rig.likely": "fatigue on the rig, likely",
        "strength.utilisation_rig.greatest": "fatigue on the rig, greatest",
        "strength.utilisation_ride.least": "fatigue at your force, least",
        "strength.utilisation_ride.likely": "fatigue at your force, likely",
        "strength.utilisation_ride.greatest": "fatigue at your force, greatest",
        "strength.tooth_side": "side load of a tooth",
    }
)
MEANINGS = MappingProxyType(
    {
        "rib.least": "least metal between two openings",
        "rib.mean": "mean width of the ribs",
        "rib.spread": "standard deviation of the widths of ribs over their mean",
        "rhythm.order": "strongest angular order of the look",
        "rhythm.share": "share of that order in the look",
        "left_out.filled": "fragments filled with metal",
        "left_out.dropped": "slivers too narrow to cut, dropped",
        "machining.smallest_cutter": "diameter of the largest cutter that reaches every corner",
        "machining.cut_length": "length of every edge and hole, openings and blank",
    }
)
UNITS = MappingProxyType({"rib.spread": "1", "rhythm.order": ""})
SIGNS = MappingProxyType({"mm2": "mm²", "1/mm": "1/mm", "1": ""})
MORE = frozenset(
    {"rib.least", "edge_least", "corner_least", "machining.smallest_cutter"}
    | {STRENGTH + key for key in ("stiffness", "stiffness_least", "stiffness_vs_plate")}
    | {STRENGTH + key for key in ("stiffness_vs_net", "lateral_bolt", "lateral_between")}
    | {STRENGTH + key for key in ("stiffness_on_spider", "slip", "yield_new", "yield_worn")}
    | {STRENGTH + key for key in ("lateral_bolt_vs_plate", "lateral_between_vs_plate")}
    | {STRENGTH + key for key in ("tooth_side", "wear_reserve", "frequency", "buckling")}
)
LESS = frozenset(
    {"mass", "balance", "edge_length", "machining.cut_length", "segments"}
    | {STRENGTH + key for key in ("ovalisation", "peak_stress", "peak_alone", "side_stress")}
    | {STRENGTH + key for key in ("bolt_force", "bolt_force_alone")}
    | {STRENGTH + key for key in ("utilisation_static", "tooth_pressure")}
    | {f"{STRENGTH}{key}.{part}" for key, parts in PARTS.items() for part in parts}
    | {f"defects.{key}" for key in ("fragments", "trimmed", "slivers", "kinks", "thin_ribs")}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One figure: its name, words for it, and ``better``, 1 where more is, -1 where less is."""

    key: str
    label: str
    unit: str
    meaning: str
    better: int
    places: int


def numbers(entry: Entry) -> dict[str, float]:
    """Return every figure of *entry* that is a number, by name; shares in percent."""
    if entry.figures is None:
        return {}
    plain = entry.figures.as_dict()
    plain["solid_share"] *= 100
    found = dict(_flat("", plain))
    if entry.strength is not None:
        strength = entry.strength.as_dict()
        for name, part in WHOLE.items():
            if strength[name] is not None:
                strength[name] = strength[name][part]
        found |= _flat(STRENGTH, {name: strength[name] for name in MEANING})
    return found


def known(name: str) -> str | None:
    """Return the figure called *name* as ``numbers`` calls it or the table it is in; None if none.

    >>> known("mass"), known("share"), known("frequency"), known("rib.least"), known("beauty")
    ('mass', 'solid_share', 'strength.frequency', 'rib.least', None)
    """
    full = SHORT.get(name, name)
    for prefix, table in (("", meanings()), (STRENGTH, MEANING)):
        plain = full.removeprefix(prefix)
        if plain.partition(".")[0] in table:
            return prefix + plain
    return None


def names() -> list[str]:
    """Return every name that ``known`` finds, parts of tables left out."""
    return [*SHORT, *meanings(), *(STRENGTH + name for name in MEANING)]


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


def _flat(prefix: str, values: Mapping[str, Any]) -> Iterator[tuple[str, float]]:
    for name, value in values.items():
        key = f"{prefix}{name}"
        if isinstance(value, dict):
            yield from _flat(f"{key}.", value)
        elif isinstance(value, list) and name in PARTS:
            yield from _flat(f"{key}.", dict(zip(PARTS[name], value, strict=True)))
        elif isinstance(value, int | float) and math.isfinite(value):
            yield key, value


def _row(key: str, values: Iterable[float]) -> Row:
    plain = key.removeprefix(STRENGTH)
    name = plain.partition(".")[0]
    if key != plain:
        about = MEANING[name]
        unit, meaning = about.unit, f"{about.meaning}; {about.bias}"
    else:
        unit, meaning = (meanings()[name][word] for word in ("unit", "meaning"))
    unit = "%" if key == "solid_share" else UNITS.get(key, unit)
    return Row(
        key=key,
        label=LABELS.get(key, plain.replace("_", " ").replace(".", ", ")),
        unit=SIGNS.get(unit, unit),
        meaning=MEANINGS.get(key, meaning),
        better=(key in MORE) - (key in LESS),
        places=_places(values, FINEST.get(unit, 3)),
    )


def _places(values: Iterable[float], finest: int) -> int:
    """Return the decimals, at most *finest*, that show the largest of *values* to four digits.

    >>> _places([169.87, 3.2], 2), _places([3.774, 1.5], 2), _places([40, 44], 3)
    (1, 2, 0)
    """
    sizes = [abs(value) for value in values]
    if all(float(size).is_integer() for size in sizes):
        return 0
    return max(0, min(finest, DIGITS - 1 - math.floor(math.log10(max(sizes)))))
