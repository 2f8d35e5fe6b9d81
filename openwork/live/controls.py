"""What the page draws a control from: the JSON Schema of the spec, resolved and put plainly.

No control is made by hand: a table or key that the schema has is on the page.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, TypeAlias

Schema: TypeAlias = Mapping[str, Any]
Control: TypeAlias = dict[str, Any]

LOW = ("minimum", "exclusiveMinimum")
HIGH = ("maximum", "exclusiveMaximum")


def controls(schema: Schema, lists: Mapping[str, Sequence[str]]) -> list[Control]:
    """Return the controls of the *schema* of the spec, in its order.

    *lists* holds words to suggest, by dotted key. The control of the pattern has, by the name of
    each, the controls of its own parameters.
    """
    found = _fields(schema, schema["$defs"], "", lists)
    for one in found:
        if one["key"] == "pattern":
            one["patterns"] = _patterns(schema, lists)
    return found


def _patterns(schema: Schema, lists: Mapping[str, Sequence[str]]) -> dict[str, list[Control]]:
    rules = schema["$defs"]["PatternTable"].get("allOf", ())
    return {
        rule["if"]["properties"]["name"]["const"]: _fields(
            {"properties": {k: v for k, v in rule["then"]["properties"].items() if v is not True}},
            schema["$defs"], "pattern", lists,
        )
        for rule in rules
    }  # fmt: skip


def _fields(
    table: Schema, known: Schema, above: str, lists: Mapping[str, Sequence[str]]
) -> list[Control]:
    needed = table.get("required", ())
    return [
        {
            "key": key,
            "help": one.get("description", ""),
            "default": one.get("default"),
            "needed": key in needed,
            **_kind(one, known, f"{above}.{key}".lstrip("."), lists),
        }
        for key, one in table.get("properties", {}).items()
    ]


def _kind(one: Schema, known: Schema, key: str, lists: Mapping[str, Sequence[str]]) -> Control:
    """Return the kind of control that the schema *one* asks for, and what that kind needs."""
    ways = [_resolved(way, known) for way in one.get("anyOf") or one.get("oneOf") or [one]]
    optional = any(way.get("type") == "null" for way in ways)
    ways = [way for way in ways if way.get("type") != "null"]
    types = {way.get("type"): way for way in reversed(ways)}
    number = types.get("number") or types.get("integer")
    word = next((way["const"] for way in ways if "const" in way), None)
    choices = next((way["enum"] for way in ways if "enum" in way), None)
    if choices is not None and number is None:
        return {"kind": "choice", "optional": optional, "values": choices}
    if number is not None:
        return {"kind": "number", "optional": optional, "word": word, **_range(number)}
    if "string" in types:
        return {"kind": "words", "optional": optional, "values": list(lists.get(key, ()))}
    if "boolean" in types:
        return {"kind": "yes", "optional": optional}
    return {"optional": optional, **_nested(types, known, key, lists)}


def _nested(
    types: Mapping[Any, Schema], known: Schema, key: str, lists: Mapping[str, Sequence[str]]
) -> Control:
    """Return the control of a table, of several tables, or of any other value."""
    table, rows = types.get("object", {}), types.get("array", {})
    item = _resolved(rows.get("items", {}), known)
    if "properties" in table:
        return {"kind": "table", "fields": _fields(table, known, key, lists)}
    if "properties" in item:
        return {"kind": "tables", "fields": _fields(item, known, key, lists)}
    return {"kind": "value"}


def _range(number: Schema) -> Control:
    low, high = (next((number[k] for k in keys if k in number), None) for keys in (LOW, HIGH))
    return {"whole": number["type"] == "integer", "low": low, "high": high}


def _resolved(one: Schema, known: Schema) -> Schema:
    name = one.get("$ref", "").rpartition("/")[2]
    return {**known[name], **one} if name else one
