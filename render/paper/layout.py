"""Where everything stands on a contact sheet: papers, the grid of a page, marks and scales.

A mark is the letter of a row and the number of a column, as on a map. Rows and columns are
counted through all pages, so that a mark names one variant whatever paper it is printed on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Generic, TypeVar

from openwork.errors import SpecError

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A landscape page, mm; every other length on it is a multiple of ``module``."""

    width: float
    height: float
    module: float = 1.0


# A3 is the A4 page enlarged by the ratio of its sides, type and all.
PAPERS: Mapping[str, Paper] = {
    "A4": Paper(width=297, height=210),
    "A3": Paper(width=420, height=297, module=math.sqrt(2)),
    "Letter": Paper(width=279.4, height=215.9),
}


@dataclass(frozen=True, slots=True)
class Grid:
    """Columns and rows of one page."""

    columns: int
    rows: int


GRIDS = (Grid(3, 2), Grid(4, 2), Grid(5, 3), Grid(6, 4))
WIDEST = GRIDS[-1]


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A row and a column, counted from 0 through all pages."""

    row: int
    column: int

    @property
    def mark(self) -> str:
        """The letter of the row and the number of the column.

        >>> Place(2, 3).mark, Place(26, 0).mark
        ('C4', 'AA1')
        """
        letters = ""
        row = self.row + 1
        while row:
            row, letter = divmod(row - 1, 26)
            letters = chr(ord("A") + letter) + letters
        return f"{letters}{self.column + 1}"


@dataclass(frozen=True, slots=True)
class Arranged(Generic[T]):
    """What goes on the pages: the grid of all, and one mapping of places for each page."""

    grid: Grid
    pages: tuple[Mapping[Place, T], ...]

    def __iter__(self) -> Iterator[tuple[Place, T]]:
        for page in self.pages:
            yield from page.items()

    def at(self, mark: str) -> tuple[Place, T]:
        """Return what stands at *mark*, and its place; raises SpecError naming the nearest."""
        found = {place.mark: (place, item) for place, item in self}
        name = mark.strip().upper()
        if name in found:
            return found[name]
        near = get_close_matches(name, found, n=1, cutoff=0.0)[0]
        raise SpecError(f"mark {mark!r}: not on the sheet; {near} is nearest")


def arranged(rows: Sequence[Sequence[T]]) -> Arranged[T]:
    """Return *rows* laid out on pages: a single row flows on, more are kept as a table.

    >>> [place.mark for place, _ in arranged([["p", "q", "r", "s"]])]
    ['A1', 'A2', 'A3', 'B1']
    """
    grid = _grid(rows)
    places = _flow(len(rows[0]), grid) if len(rows) == 1 else _table(rows)
    items = [item for row in rows for item in row]
    pages: dict[tuple[int, int], dict[Place, T]] = {}
    for place, item in zip(places, items, strict=True):
        page = (place.row // grid.rows, place.column // grid.columns)
        pages.setdefault(page, {})[place] = item
    return Arranged(grid, tuple(pages[page] for page in sorted(pages)))


def _grid(rows: Sequence[Sequence[T]]) -> Grid:
    """Return the smallest grid that holds everything on one page, else the one with most cells."""
    columns = max(len(row) for row in rows)
    for grid in GRIDS:
        if len(rows) == 1 and columns <= grid.columns * grid.rows:
            return grid
        if columns <= grid.columns and len(rows) <= grid.rows:
            return grid
    return WIDEST


def _flow(count: int, grid: Grid) -> list[Place]:
    size = grid.columns * grid.rows
    return [
        Place(k % size // grid.columns, k // size * grid.columns + k % grid.columns)
        for k in range(count)
    ]


def _table(rows: Sequence[Sequence[T]]) -> list[Place]:
    return [Place(r, c) for r, row in enumerate(rows) for c in range(len(row))]


def scale(diameter: float, room: float) -> float:
    """Return the reduction, in halves, at which *diameter* fits *room*: 2.5 for 1 : 2.5.

    >>> scale(175.0, 35.0), scale(175.0, 34.9), scale(20.0, 35.0)
    (5.0, 5.5, 1.0)
    """
    return max(1.0, math.ceil(2 * diameter / room - 1e-9) / 2)


def bar_length(reduction: float, room: float) -> float:
    """Return a round length of the ring, mm, that at 1 : *reduction* is at most *room* long."""
    return max(step for step in (5, 10, 20, 50, 100, 200) if step / reduction <= room or step == 5)
