"""What is wrong with a spec: key, value, limit, and the nearest thing that works."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from pydantic import ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from openwork.tables.table import NAME, TABLE, Table, named_tables_of, table_of
from openwork.tables.wording import bounds, expected, shown

Keys: TypeAlias = tuple[str, ...]
Data: TypeAlias = Mapping[str, Any]
OWN_NAME = "[key]"  # pydantic's word for a fault of the name itself


@dataclass(frozen=True, slots=True)
class Named:
    """Tables of one kind, each under a name of the user's own."""

    table: type[Table]


Holder: TypeAlias = type[Table] | Named

# Keys that had the name of another key, of another meaning.
RENAMED: Mapping[Keys, str] = {
    ("load", "chain"): "wear",
    ("load", "finish"): "surface",
    ("load", "offset"): "slant",
    ("load", "phase"): "lead",
}

# What stands for a key that has no default.
EXAMPLES: Mapping[Keys, Any] = {
    ("ring", "teeth"): 42,
    ("ring", "sides", "relief"): 0.7,
    ("mount", "circle"): 110.0,
    ("mount", "counterbore", "diameter"): 14.5,
    ("mount", "counterbore", "depth"): 1.0,
    ("mount", "countersink", "diameter"): 14.0,
}


def faults(error: ValidationError, model: type[Table], data: Data) -> dict[Keys, str]:
    """Return one message for each key of *data* at fault, without the name of its source."""
    grouped: dict[Keys, list[ErrorDetails]] = {}
    for detail in error.errors(include_url=False):
        grouped.setdefault(_keys(detail["loc"], model), []).append(detail)
    return {keys: _message(keys, details, model, data) for keys, details in grouped.items()}


def _keys(loc: tuple[int | str, ...], model: type[Table]) -> Keys:
    """Return the part of *loc* that names a key of the file; pydantic adds branches and indices."""
    keys: list[str] = []
    holder: Holder | None = model
    for step in loc:
        if holder is None or not isinstance(step, str):
            break
        if step in (NAME, TABLE, OWN_NAME):
            continue
        keys.append(step)
        holder = _within(holder, step)
    return tuple(keys)


def _within(holder: Holder, key: str) -> Holder | None:
    """Return what *key* holds: a table, tables by name, or None for a plain value."""
    if isinstance(holder, Named):
        return holder.table
    field = holder.model_fields.get(key)
    if field is None:
        return None
    several = named_tables_of(field)
    return Named(several) if several else table_of(field)


def _message(keys: Keys, details: list[ErrorDetails], model: type[Table], data: Data) -> str:
    name = ".".join(keys)
    kinds = {detail["type"] for detail in details}
    if kinds == {"extra_forbidden"}:
        if keys in RENAMED:
            return f"{name}: is called {keys[0]}.{RENAMED[keys]}"
        return f"{name}: unknown key; {_known(keys, model)}"
    if kinds == {"string_pattern_mismatch"}:
        return f'{name}: a name of small letters, figures, "-" and "_" works, as "a"'
    field = _field(model, keys)
    value = _value(data, keys)
    if kinds == {"too_long"} and isinstance(value, Mapping):
        return f"{name}: {len(value)} tables, at most {details[0]['ctx']['max_length']}"
    works = "".join(f"; {shown(item)} works" for item in _nearest(keys, field, model, data))
    for detail in details:
        if detail["type"] == "value_error":
            return _said(name, value, str(detail["ctx"]["error"]), works)
    at_fault = f"{name}: missing" if kinds == {"missing"} else f"{name} = {shown(value)}"
    return f"{at_fault}: must be {expected(field)}{works}"


def _said(name: str, value: object, text: str, works: str) -> str:
    """Return the message of a table's own check under the key it is about."""
    if isinstance(value, Mapping):
        return f"{name}.{text}" if re.match(r"\w+: ", text) else f"{name}: {text}"
    said = "|".join(re.escape(form) for form in (shown(value), repr(value)))
    lead = rf"^(?:{re.escape(name.rpartition('.')[2])} )?(?:{said})(?: is|:)? "
    hint = "" if re.search(r"works|nearest", text) else works
    return f"{name} = {shown(value)}: {re.sub(lead, '', text)}{hint}"


def _known(keys: Keys, model: type[Table]) -> str:
    """Return which key was meant: the nearest of the table, or the same in another table."""
    *path, last = keys
    table = _table(model, path)
    near = difflib.get_close_matches(last, table.model_fields, n=1)
    if near:
        return f"{'.'.join([*path, near[0]])} is nearest"
    for name, field in model.model_fields.items():
        other = table_of(field)
        if other is not None and last in other.model_fields:
            return f"{name}.{last} is nearest"
    where = f"[{'.'.join(path)}]" if path else "the file"
    return f"{where} takes {', '.join(table.model_fields)}"


def _nearest(keys: Keys, field: FieldInfo, model: type[Table], data: Data) -> Iterator[Any]:
    """Yield at most one value, tried and found good: the nearest, the default or an example."""
    value = _value(data, keys)
    least, most = (
        [getattr(item, name) for item in bounds(field) if hasattr(item, name)]
        for name in ("ge", "le")
    )
    default = None if field.is_required() else field.get_default(call_default_factory=True)
    for candidate in (*_numbers(value, least, most), default, EXAMPLES.get(keys)):
        if candidate in (None, ()) or isinstance(candidate, Table | Mapping):
            continue
        if _accepted(keys, candidate, model, data):
            yield candidate
            return


def _numbers(value: object, least: list[float], most: list[float]) -> Iterator[float]:
    """Yield the number that *value* may have meant, or the limit it has passed."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return
    try:
        number = float(value)
    except ValueError:
        return
    if math.isfinite(number):
        yield from (round(number), number)
    if not math.isnan(number):
        yield from (limit for limit in least if number < limit)
        yield from (limit for limit in most if number > limit)


def _accepted(keys: Keys, candidate: object, model: type[Table], data: Data) -> bool:
    try:
        model.model_validate(replaced(data, keys, candidate))
    except ValidationError as error:
        found = [_keys(detail["loc"], model) for detail in error.errors()]
        return all(keys[: len(other)] != other for other in found)
    return True


def replaced(data: Data, keys: Keys, value: object) -> dict[str, Any]:
    """Return *data* with the entry at *keys* changed, tables made where missing."""
    key, *rest = keys
    inner = data.get(key)
    if rest:
        value = replaced(inner if isinstance(inner, Mapping) else {}, tuple(rest), value)
    return {**data, key: value}


def _value(data: Any, keys: Keys) -> Any:
    for key in keys:
        data = data[key] if isinstance(data, Mapping) and key in data else None
    return data


def _holder(model: type[Table], path: Sequence[str]) -> Holder:
    holder: Holder = model
    for key in path:
        holder = _within(holder, key) or holder
    return holder


def _table(model: type[Table], path: Sequence[str]) -> type[Table]:
    holder = _holder(model, path)
    return holder.table if isinstance(holder, Named) else holder


def _field(model: type[Table], keys: Keys) -> FieldInfo:
    holder = _holder(model, keys[:-1])
    if isinstance(holder, Named):
        return FieldInfo.from_annotation(holder.table)
    return holder.model_fields[keys[-1]]
