"""What is wrong with a spec, in words: key, value, limit, and the nearest thing that works."""

from __future__ import annotations

import difflib
import json
import math
import re
from collections.abc import Iterator, Mapping
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, TypeAlias, Union, get_args, get_origin

from pydantic import ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from openwork.table import Table

Keys: TypeAlias = tuple[str, ...]
Data: TypeAlias = Mapping[str, Any]

# What stands for a key that has no default.
EXAMPLES: Mapping[Keys, Any] = {
    ("ring", "teeth"): 42,
    ("mount", "circle"): 110.0,
    ("mount", "counterbore", "diameter"): 13.0,
    ("mount", "counterbore", "depth"): 1.0,
}
NOUNS: Mapping[Any, str] = {int: "whole number", float: "number", str: "text"}
SHOWN = 60  # characters of a value that a message repeats


def faults(error: ValidationError, model: type[Table], data: Data) -> dict[Keys, str]:
    """Return one message for each key of *data* at fault, without the name of its source."""
    grouped: dict[Keys, list[ErrorDetails]] = {}
    for detail in error.errors(include_url=False):
        grouped.setdefault(_keys(detail["loc"], model), []).append(detail)
    return {keys: _message(keys, details, model, data) for keys, details in grouped.items()}


def shown(value: object) -> str:
    """Return *value* as it would stand in the file, cut short where it is long.

    >>> shown((38, "x", True))
    '[38, "x", true]'
    """
    if isinstance(value, bool):
        text = str(value).lower()
    elif isinstance(value, str):
        text = json.dumps(value, ensure_ascii=not value.isprintable())
    elif isinstance(value, tuple | list):
        text = f"[{', '.join(shown(item) for item in value)}]"
    else:
        text = "a table" if isinstance(value, Mapping) else str(value)
    return text if len(text) <= SHOWN else text[: SHOWN - 3] + "..."


def printable(text: str) -> str:
    """Return *text* as one line that does nothing to a terminal."""
    return text if text.isprintable() else text.encode("unicode_escape").decode("ascii")


def expected(field: FieldInfo) -> str:
    """Return what a key takes, with its range, as "a number from 0.5 to 30"."""
    return " or ".join(_kinds(field.annotation, _limits(field.metadata)))


def limits(field: FieldInfo) -> str:
    """Return the range of a key as "0.5 to 30", nothing where it has none."""
    return re.sub(r"^ (from )?", "", _limits(field.metadata))


def table_of(field: FieldInfo) -> type[Table] | None:
    """Return the table that a key holds, None where it holds a plain value."""
    for kind in (field.annotation, *get_args(field.annotation)):
        if isinstance(kind, type) and issubclass(kind, Table):
            return kind
    return None


def _keys(loc: tuple[int | str, ...], model: type[Table]) -> Keys:
    """Return the part of *loc* that names a key of the file; pydantic adds branches and indices."""
    keys: list[str] = []
    table: type[Table] | None = model
    for step in loc:
        if table is None or not isinstance(step, str):
            break
        keys.append(step)
        table = table_of(table.model_fields[step]) if step in table.model_fields else None
    return tuple(keys)


def _message(keys: Keys, details: list[ErrorDetails], model: type[Table], data: Data) -> str:
    name = ".".join(keys)
    kinds = {detail["type"] for detail in details}
    if kinds == {"extra_forbidden"}:
        return f"{name}: unknown key; {_known(keys, model)}"
    field = _field(model, keys)
    value = _value(data, keys)
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
    bounds = [getattr(item, name) for item in field.metadata for name in ("ge", "le")
              if hasattr(item, name)]  # fmt: skip
    default = None if field.is_required() else field.get_default(call_default_factory=True)
    for candidate in (*_numbers(value, bounds), default, EXAMPLES.get(keys)):
        if candidate not in (None, ()) and _accepted(keys, candidate, model, data):
            yield candidate
            return


def _numbers(value: object, bounds: list[float]) -> Iterator[float]:
    """Yield the number that *value* may have meant, or the limit it has passed."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return
    try:
        number = float(value)
    except ValueError:
        return
    if math.isfinite(number):
        yield from (round(number), number)
    if bounds and not math.isnan(number):
        yield max(bounds) if number > max(bounds) else min(bounds)


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


def _table(model: type[Table], path: list[str]) -> type[Table]:
    for key in path:
        model = table_of(model.model_fields[key]) or model
    return model


def _field(model: type[Table], keys: Keys) -> FieldInfo:
    return _table(model, list(keys[:-1])).model_fields[keys[-1]]


def _limits(metadata: list[Any]) -> str:
    limit = {name: getattr(item, name) for item in metadata
             for name in ("ge", "le", "gt", "lt", "max_length") if hasattr(item, name)}  # fmt: skip
    if "max_length" in limit:
        return f" of at most {limit['max_length']} characters"
    if "ge" in limit and "le" in limit:
        return f" from {limit['ge']:.10g} to {limit['le']:.10g}"
    words = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}
    said = [f"{word} {limit[name]:g}" for name, word in words.items() if name in limit]
    return " " + " and ".join(said) if said else ""


def _kinds(kind: Any, limit: str, plural: bool = False) -> Iterator[str]:
    """Yield in words what each branch of an annotation takes."""
    origin, branches = get_origin(kind), get_args(kind)
    if origin is Annotated:
        yield from _kinds(branches[0], _limits(branches[1].metadata), plural)
    elif origin in (Union, UnionType):
        for branch in branches:
            yield from _kinds(branch, limit, plural)
    elif origin is Literal:
        yield from map(shown, branches)
    elif origin is tuple:
        count = "" if branches[-1] is Ellipsis else f"{len(branches)} "
        yield f"a list of {count}{next(_kinds(branches[0], limit, plural=True))}"
    elif kind in NOUNS:
        yield f"{NOUNS[kind]}s{limit}" if plural else f"a {NOUNS[kind]}{limit}"
    elif kind is not NoneType:
        yield "a table"
