"""A spec told in the words of the user's own file: comments and order kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import Any

from openwork.errors import SpecError
from openwork.spec.spec import Spec, as_data, from_toml, to_toml
from openwork.tables.toml import frozen, written

Keys = tuple[str, ...]


def rewritten(text: str, spec: Spec) -> str:
    """Return *text*, a spec file, changed only where *spec* says something else.

    A key that *spec* no longer has is taken out; a new one is added to its table. Where the file
    is laid out so that this cannot be done, *spec* is written afresh, without comments.
    """
    from tomlkit.exceptions import TOMLKitError  # noqa: PLC0415 (only writing needs tomlkit)

    with suppress(TOMLKitError, SpecError):
        text = _with_outlines(text, spec)
        edited = _edited(text, spec)
        if from_toml(edited) == spec:
            return edited
    return to_toml(spec)


def _with_outlines(text: str, spec: Spec) -> str:
    """Return *text* with the drawing itself where it names its file: the spec may move."""
    import tomlkit  # noqa: PLC0415

    document = tomlkit.parse(text)
    table: Any = document.get("pattern", {})
    if "drawing" not in table or "outlines" not in spec.pattern.parameters:
        return text
    name = str(table["drawing"])
    table["outlines"] = spec.pattern.parameters["outlines"]
    table["outlines"].comment(f"from {name}" if name.isprintable() else "a drawing")
    del table["drawing"]
    return tomlkit.dumps(document)


def _edited(text: str, spec: Spec) -> str:
    import tomlkit  # noqa: PLC0415

    if "title" not in tomlkit.parse(text) and from_toml(text).title != spec.title:
        text = f"{written('title', spec.title)}\n{text}"
    document = tomlkit.parse(text)
    # What the file leaves out stands at its default: only what differs from that is written.
    before, after = dict(_leaves(as_data(from_toml(text)))), dict(_leaves(as_data(spec)))
    for keys in dict(_leaves(document.unwrap())).keys() - after.keys():
        _remove(document, keys)
    for keys, value in after.items():
        if before.get(keys) != value:
            _put(document, keys, list(value) if isinstance(value, tuple) else value)
    told = tomlkit.dumps(document)
    return told.replace("\r\n", "\n").replace("\n", "\r\n") if "\r\n" in text else told


def _leaves(data: Mapping[str, Any], above: Keys = ()) -> Iterator[tuple[Keys, Any]]:
    for key, value in data.items():
        if isinstance(value, dict):
            yield from _leaves(value, (*above, key))
        else:
            yield (*above, key), frozen(value)


def _remove(document: Any, keys: Keys) -> None:
    for key in keys[:-1]:
        document = document[key]
    del document[keys[-1]]


def _put(document: Any, keys: Keys, value: Any) -> None:
    import tomlkit  # noqa: PLC0415

    for depth, key in enumerate(keys[:-1]):
        if key not in document:
            document[key] = tomlkit.inline_table() if depth else tomlkit.table()
        document = document[key]
    document[keys[-1]] = value
