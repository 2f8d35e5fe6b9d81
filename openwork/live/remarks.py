"""The order and the comments of a spec file, for a page that shows the file as it is written."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeAlias

Path: TypeAlias = tuple[str | int, ...]
Remark: TypeAlias = dict[str, Any]


def remarks(text: str) -> list[Remark]:
    """Return each table and key of *text* in its order, with the comments above and beside it.

    What stands under a table of its own comes under its path; comments at the end, under none.

    >>> remarks("# mine\\n[web]\\nrib = 2 # thin\\n")
    [{'path': ['web'], 'above': ['mine'], 'beside': ''}, {'path': ['web', 'rib'], 'above': [], \
'beside': 'thin'}]
    """
    import tomlkit  # noqa: PLC0415 (slow to import)

    above: list[str] = []
    found = list(_walked(tomlkit.parse(text), (), above))
    return [*found, _remark((), above, "")] if above else found


def _walked(table: Any, path: Path, above: list[str]) -> Iterator[Remark]:
    """Yield the entries of *table*; comments gather in *above* until an entry takes them."""
    from tomlkit.items import AoT, Comment, InlineTable, Table  # noqa: PLC0415

    for key, item in getattr(table, "body", None) or table.value.body:
        if isinstance(item, Comment):
            above.append(_words(item.trivia.comment))
        if key is None:
            continue
        here = (*path, key.key)
        parts = list(item) if isinstance(item, AoT) else [item]
        for at, part in enumerate(parts):
            where = (*here, at) if isinstance(item, AoT) else here
            yield _remark(where, above, _words(part.trivia.comment))
            above.clear()
            if isinstance(part, Table) and not isinstance(part, InlineTable):
                yield from _walked(part, where, above)


def _remark(path: Path, above: list[str], beside: str) -> Remark:
    return {"path": list(path), "above": list(above), "beside": beside}


def _words(comment: str) -> str:
    return comment.lstrip("# ").rstrip()
