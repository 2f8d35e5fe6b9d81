"""Values, and what a key takes, in the words of a message."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

NOUNS: Mapping[Any, str] = {int: "whole number", float: "number", str: "text"}
SHOWN = 60  # characters of a value that a message repeats


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


def bounds(field: FieldInfo) -> list[Any]:
    """Return what limits a key, of one that takes numbers or else the first of its branches."""
    branches = (one.__metadata__ for one in get_args(field.annotation) if _annotated(one))
    return field.metadata or [item for found in branches for item in found[0].metadata][:2]


def _annotated(kind: Any) -> bool:
    return get_origin(kind) is Annotated and isinstance(kind.__metadata__[0], FieldInfo)


def limits(field: FieldInfo) -> str:
    """Return the range of a key as "0.5 to 30", nothing where it has none."""
    return re.sub(r"^ (from )?", "", _limits(bounds(field)))


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
        yield from _kinds(
            branches[0], _limits(getattr(branches[1], "metadata", [])) or limit, plural
        )
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
