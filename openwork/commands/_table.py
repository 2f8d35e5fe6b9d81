"""A table on standard output; its words are taken as they are, none of them is markup."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from rich.console import Console
from rich.table import Table
from rich.text import Text

Row = Sequence[str]


def table(
    title: str | None,
    *sections: Iterable[Row],
    heads: Row = (),
    left: int = 9,
    bold: str | None = None,
) -> None:
    """Print *sections* of rows, a line between them, under *title*.

    The first *left* columns stand at the left, those of numbers at the right. The first column,
    the names, is never broken; the row of the name *bold* is set in bold.
    """
    found = Table(title=title and Text(title), title_justify="left", show_header=bool(heads))
    groups = [[*section] for section in sections]
    columns = max(len(row) for row in (heads, *(row for rows in groups for row in rows)))
    for k in range(columns):
        side: Literal["left", "right"] = "left" if k < left else "right"
        found.add_column(heads[k] if heads else "", justify=side, no_wrap=k == 0)
    for rows in groups:
        for row in rows:
            found.add_row(*map(Text, row), style="bold" if row[0] == bold else None)
        found.add_section()
    Console(highlight=False).print(found)
