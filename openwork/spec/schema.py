"""The JSON Schema of the spec file, for editors.

The file shipped knows the tables alone, so that a new pattern leaves it as it is; ``openwork new
--schema`` writes one that knows the patterns too. ``python -m openwork.spec.schema`` renews the
file.
"""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from openwork.fill.registry import Pattern
from openwork.spec.spec import PatternTable, Spec

SCHEMA = Path(__file__).parents[1] / "spec.schema.json"
TYPES = {int: "integer", float: "number", str: "string"}


def schema(known: Mapping[str, type[Pattern]]) -> dict[str, Any]:
    """Return the schema: the tables' own, and the parameters of each of the *known* patterns.

    Where none is known, any name and any parameter passes.
    """
    found = Spec.model_json_schema()
    found = {"$schema": "https://json-schema.org/draft/2020-12/schema", **found}
    if known:
        table = found["$defs"][PatternTable.__name__]
        own = table["properties"]
        table["properties"] = {**own, "name": {**own["name"], "enum": sorted(known)}}
        table["allOf"] = [_parameters_of(name, known[name], own) for name in sorted(known)]
    return found


def text(known: Mapping[str, type[Pattern]]) -> str:
    """Return the schema as it stands in a file."""
    return json.dumps(schema(known), indent=1, allow_nan=False) + "\n"


def _parameters_of(name: str, kind: type[Pattern], own: dict[str, Any]) -> dict[str, Any]:
    """Return the rule that holds where the pattern is *name*, said or left out as the default."""
    given = [] if name == PatternTable.model_fields["name"].default else ["name"]
    fields = dataclasses.fields(kind)
    keys = dict.fromkeys(own, True) | {item.name: _key(item) for item in fields}
    if any(item.metadata["text"] for item in fields):
        keys["drawing"] = {"type": "string", "description": "file that the text is read from"}
    return {
        "if": {"properties": {"name": {"const": name}}, "required": given},
        "then": {
            "description": (kind.__doc__ or "").partition("\n")[0],
            "properties": keys,
            "additionalProperties": False,
        },
    }


def _key(field: dataclasses.Field[Any]) -> dict[str, Any]:
    meta = field.metadata
    found = {"type": TYPES[type(field.default)], "description": meta["help"]}
    if not meta["suited"]:
        found["default"] = field.default
    if meta["text"]:
        return {key: value for key, value in found.items() if key != "default"}
    if meta["choices"]:
        return found | {"enum": list(meta["choices"])}
    return found | {"minimum": meta["low"], "maximum": meta["high"]}


if __name__ == "__main__":
    SCHEMA.write_text(text({}), encoding="utf-8")
