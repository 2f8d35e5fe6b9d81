"""What the page draws a control from: the JSON Schema of the spec, resolved and put plainly.

No control is made by hand: a table or key that the schema has is on the page.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeAlias

Schema: TypeAlias = Mapping[str, Any]
Control: TypeAlias = dict[str, Any]

LOW = ("minimum", "exclusiveMinimum")
HIGH = ("maximum", "exclusiveMaximum")


def controls(schema: Schema) -> list[Control]:
    """Return the controls of the *schema* of the spec, in its order.

    The control of the pattern has, by the name of each, the controls of its own parameters.
    """
    found = _fields(schema, schema["$defs"])
    for one in found:
        if one["key"] == "pattern":
            one["patterns"] = _patterns(schema)
    return found


def _patterns(schema: Schema) -> dict[str, list[Control]]:
    rules = [rule for rule in schema["$defs"]["PatternTable"].get("allOf", ()) if "then" in rule]
    return {
        rule["if"]["properties"]["name"]["const"]: _fields(rule["then"], schema["$defs"])
        for rule in rules
    }


def _fields(table: Schema, known: Schema) -> list[Control]:
    """Return the controls of the keys of *table*; those of which it says nothing have none."""
    return [
        {
            "key": key,
            "help": one.get("description", ""),
            "default": one.get("default"),
            **_kind(one, known),
        }
        for key, one in table.get("properties", {}).items()
        if isinstance(one, dict)
    ]


def _kind(one: Schema, known: Schema) -> Control:
    """Return the kind of control that the schema *one* asks for, and what that kind needs."""
    ways = [_resolved(way, known) for way in one.get("anyOf") or one.get("oneOf") or [one]]
    optional = any(way.get("type") == "null" for way in ways)
    ways = [way for way in ways if way.get("type") != "null"]
    types = {way.get("type"): way for way in reversed(ways)}
    number = types.get("number") or types.get("integer")
    words = [word for way in ways for word in (way.get("enum") or [way.get("const")]) if word]
    if words and number is None:
        return {"kind": "choice", "optional": optional, "values": words}
    if number is not None:
        return {"kind": "number", "optional": optional, "words": words, **_range(number)}
    if "string" in types:
        return {"kind": "words", "optional": optional, "values": one.get("examples", [])}
    if "boolean" in types:
        return {"kind": "yes", "optional": optional}
    return {"optional": optional, **_nested(types, known)}


def _nested(types: Mapping[Any, Schema], known: Schema) -> Control:
    """Return the control of a table, of several by name or in a row, or of any other value."""
    table, rows = types.get("object", {}), types.get("array", {})
    item = _resolved(rows.get("items", {}), known)
    if table.get("properties"):
        return {"kind": "table", "fields": _fields(table, known)}
    if table and isinstance(own := _own(table), dict):
        return {"kind": "named", "item": {"help": own.get("description", ""), **_kind(own, known)}}
    if "properties" in item:
        return {"kind": "tables", "fields": _fields(item, known)}
    return {"kind": "value"}


def _own(table: Schema) -> Any:
    """Return the schema of what stands under names of the maker's own."""
    return [*table.get("patternProperties", {}).values(), table.get("additionalProperties")][0]


def _range(number: Schema) -> Control:
    low, high = (next((number[k] for k in keys if k in number), None) for keys in (LOW, HIGH))
    return {"whole": number["type"] == "integer", "low": low, "high": high}


def _resolved(one: Schema, known: Schema) -> Schema:
    name = one.get("$ref", "").rpartition("/")[2]
    return {**known[name], **one} if name else one
