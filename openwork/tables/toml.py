"""Spec files as TOML 1.0: read as text, parsed, and their lines written."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from openwork.errors import SpecError
from openwork.tables.recipe import recipe
from openwork.tables.wording import shown

LARGEST = 1 << 20  # bytes; a spec is some hundred, anything larger is another kind of file
WHOLE = 1 << 63  # TOML asks for whole numbers of 64 bits


def content(path: Path) -> str:
    """Return the text of the file *path*, of a drawing the spec it was made from.

    Raises SpecError where it cannot be read as text, or is a drawing without a recipe.
    """
    text = _text(path)
    if not text.lstrip().startswith("<"):
        return text
    try:
        return recipe(text)
    except SpecError as fault:
        raise SpecError(f"{path}: {fault}") from None


def _text(path: Path) -> str:
    try:
        with path.open("rb") as file:
            read = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise SpecError(f"{path}: no such file; `openwork new {path}` writes one") from None
    except IsADirectoryError:
        raise SpecError(f"{path}: is a folder; name the spec file in it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise SpecError(f"{shown(str(path))}: cannot be read: {reason}") from None
    if len(read) > LARGEST:
        raise SpecError(f"{path}: over {LARGEST} bytes, not a spec file")
    try:
        return read.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = read.count(b"\n", 0, error.start) + 1
        raise SpecError(f"{path}: line {line} is not UTF-8; save it as UTF-8 text") from None


def parsed(text: str, source: str) -> dict[str, Any]:
    """Return the values in *text*, lists as tuples; raises SpecError under the name *source*."""
    try:
        return {key: frozen(value) for key, value in tomllib.loads(text).items()}
    except RecursionError:
        raise SpecError(f"{source}: nested too deeply for a spec file") from None
    except ValueError as error:
        raise SpecError(f"{source}: not TOML: {error}") from None


def frozen(value: Any) -> Any:
    """Return *value* with tuples for lists, and infinity for whole numbers TOML has no room for."""
    if isinstance(value, dict):
        return {key: frozen(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return tuple(frozen(item) for item in value)
    if isinstance(value, int) and not -WHOLE <= value < WHOLE:
        return float("inf") if value > 0 else float("-inf")
    return value


def written(key: str, value: Any) -> str:
    """Return the line of TOML that gives *key* its *value*."""
    import tomlkit  # noqa: PLC0415 (only writing needs it)

    item: Any = value
    if isinstance(value, tuple):
        item = tomlkit.array()
        item.extend(_inline(one) for one in value)
    elif isinstance(value, dict):
        item = _inline(value)
    return f"{tomlkit.key(key).as_string()} = {tomlkit.item(item).as_string()}"


def _inline(value: Any) -> Any:
    """Return a table as it stands on one line; anything else as it is."""
    import tomlkit  # noqa: PLC0415 (only writing needs it)

    if not isinstance(value, dict):
        return value
    table = tomlkit.inline_table()
    table.update({key: _inline(one) for key, one in value.items()})
    return table
