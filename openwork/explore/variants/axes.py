"""The values that ``--vary`` asks for, and the variants they make.

``key=a:b:n`` runs from a to b: a key of whole numbers in steps of n, another in n equal values.
``key=a,b,c`` lists them. A key without a dot is a parameter of the pattern.
"""

from __future__ import annotations

import dataclasses
import math
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from itertools import product
from typing import TypeAlias

import numpy as np

from openwork.errors import SpecError
from openwork.explore.mass.tune import Value
from openwork.explore.variants.variants import Variant
from openwork.fill.registry import pattern_named
from openwork.spec.spec import PatternTable, Spec
from openwork.tables.table import table_of

Axis: TypeAlias = tuple[str, tuple[Value, ...]]

MOST = 600  # variants on one set of sheets
PLACES = 6  # decimals of a value in a range of reals


def axes(spec: Spec, name: str, wishes: Sequence[str]) -> dict[str, tuple[Value, ...]]:
    """Return the values by dotted key of *wishes* for variants of pattern *name*.

    Raises SpecError, all faults at once, for a wish that cannot be read, a key that does not
    exist, or one of whose values none will do.
    """
    found: dict[str, tuple[Value, ...]] = {}
    faults: list[str] = []
    for wish in wishes:
        try:
            key, values = _axis(spec, name, wish)
        except SpecError as fault:
            faults += [f"--vary {wish}: {line.strip()}" for line in fault.faults]
            continue
        if key in found:
            faults.append(f"--vary {key}: given twice")
        found[key] = values
    faults += _too_many("--vary", found.values())
    if faults:
        raise SpecError(*faults)
    return found


def _too_many(word: str, values: Iterable[Sequence[Value]]) -> list[str]:
    """Return the fault that there are too many combinations of *values*, if there are."""
    count = math.prod(map(len, values))
    if count <= MOST:
        return []
    return [f"{word}: {count} variants, at most {MOST} go on one set of sheets"]


def crossed(
    spec: Spec, name: str, vary: Mapping[str, Sequence[Value]]
) -> tuple[tuple[Variant, ...], ...]:
    """Return rows of variants of pattern *name*: the first key of *vary* across, all others down.

    Raises SpecError, all faults at once, for a key that does not exist or that takes none of its
    values.
    """
    found: list[Axis] = []
    faults: list[str] = []
    for key, values in vary.items():
        try:
            found.append((_dotted(key), tuple(dict.fromkeys(values))))
            _check(spec, name, *found[-1])
        except SpecError as fault:
            faults += fault.faults
    keys = [key for key, _ in found]
    faults += [f"vary {key}: given twice" for key in dict.fromkeys(keys) if keys.count(key) > 1]
    faults += _too_many("vary", (values for _, values in found))
    if faults:
        raise SpecError(*faults)
    (first, across), *rest = found
    downs = product(*([(key, value) for value in values] for key, values in rest))
    return tuple(
        tuple(_variant(name, ((first, value), *down)) for value in across) for down in downs
    )


def _variant(name: str, changes: tuple[tuple[str, Value], ...]) -> Variant:
    """Return the variant of pattern *name*, or of the pattern that *changes* ask for."""
    others = dict(changes)
    named = str(others.pop("pattern.name", name))
    return Variant(pattern=named, changes=tuple(others.items()))


def _axis(spec: Spec, name: str, wish: str) -> Axis:
    """Return the dotted key and the values of one wish."""
    key, equals, text = wish.partition("=")
    key, text = key.strip(), text.strip()
    if not equals or not key or not text:
        raise SpecError("no KEY=VALUES; columns=20:60:4 or web.rib=1.8,2.2 works")
    key = _dotted(key)
    values = _values(text, whole=_whole(spec, name, key))
    _check(spec, name, key, values)
    return key, values


def _dotted(key: str) -> str:
    return key if "." in key else f"pattern.{key}"


def _whole(spec: Spec, name: str, key: str) -> bool:
    """Tell whether *key* takes whole numbers."""
    table, _, last = key.partition(".")
    if table == "pattern" and last not in PatternTable.model_fields:
        fields = {field.name: field for field in dataclasses.fields(pattern_named(name))}
        return last in fields and isinstance(fields[last].default, int)
    holder = table_of(Spec.model_fields[table]) if table in Spec.model_fields else None
    field = holder.model_fields.get(last) if holder else None
    return field is not None and field.annotation is int


def _values(text: str, *, whole: bool) -> tuple[Value, ...]:
    """Return the values that *text* lists or spans.

    >>> _values("20:30:5", whole=True), _values("1:2:3", whole=False)
    ((20, 25, 30), (1.0, 1.5, 2.0))
    >>> _values("082,081", whole=False)
    ('082', '081')
    """
    if ":" not in text:
        return tuple(dict.fromkeys(_read(part.strip()) for part in text.split(",")))
    try:
        start, stop, last = (float(part) for part in text.split(":"))
    except ValueError:
        raise SpecError("a range is start:stop:step or start:stop:count, in numbers") from None
    if not (np.isfinite([start, stop, last]).all() and start <= stop and last >= 1):
        raise SpecError("a range runs upwards, with a step or count of at least 1")
    if not whole:
        return _spread(start, stop, last)
    if not (start.is_integer() and stop.is_integer() and last.is_integer()):
        raise SpecError("this key takes whole numbers; start:stop:step must be whole")
    if (stop - start) / last >= MOST:
        raise SpecError(f"more than {MOST} values; a larger step works")
    return tuple(range(int(start), int(stop) + 1, int(last)))


def _spread(start: float, stop: float, count: float) -> tuple[Value, ...]:
    if not count.is_integer() or count > MOST:
        raise SpecError(f"start:stop:count takes a whole count of at most {MOST}")
    values = np.round(np.linspace(start, stop, int(count)), PLACES).tolist()
    return tuple(dict.fromkeys(values))


def _read(text: str) -> Value:
    """Return *text* as a TOML number, else as it is."""
    try:
        value = tomllib.loads(f"value = {text}")["value"]
    except (ValueError, RecursionError):
        return text
    return value if isinstance(value, int | float | str) else text


def _check(spec: Spec, name: str, key: str, values: Sequence[Value]) -> None:
    """Raise SpecError where the key is unknown or takes none of *values*; some may fail later."""
    faults = [] if values else [f"{key}: no values; a list of at least one works"]
    for value in values:
        try:
            _variant(name, ((key, value),)).applied(spec)
        except SpecError as fault:
            faults += fault.faults
        else:
            return
    raise SpecError(*faults[:1])
