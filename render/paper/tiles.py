"""Where a drawing at 1:1 goes on paper: on one sheet, or on tiles that overlap and are joined."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from string import ascii_uppercase
from typing import Literal, TypeAlias, get_args

PaperName: TypeAlias = Literal["A4", "A3", "Letter"]
PAPERS: tuple[PaperName, ...] = get_args(PaperName)
# Portrait, mm: ISO 216, and the 8.5 x 11 inches of ANSI/ASME Y14.1.
SIZES: Mapping[PaperName, tuple[float, float]] = {
    "A4": (210, 297),
    "A3": (297, 420),
    "Letter": (215.9, 279.4),
}
MARGIN = 8.0  # mm that printers leave blank, and a little more
HEAD = 15.0  # mm of the title above the drawing
STRIP = 12.0  # mm of the check bars beside and below a tile
OVERLAP = 12.0  # mm that neighbouring tiles have in common
CLEAR = 1.0  # mm between the ring and the border of its window

Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A part of the page that shows a part of the ring at 1:1, mm.

    ``x``, ``y`` is its upper left corner on the page, y down; ``left``, ``top`` that corner
    on the ring, y up.
    """

    x: float
    y: float
    width: float
    height: float
    left: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """Windows of one page each, by row and column from the upper left, on a page of a size."""

    paper: tuple[float, float]
    columns: int
    rows: int
    windows: tuple[Window, ...]

    def names(self) -> Iterator[str]:
        """Yield the name of each window: the letter of its row, the number of its column."""
        for row, column in product(range(self.rows), range(self.columns)):
            yield f"{ascii_uppercase[row]}{column + 1}"

    def seams(self) -> Iterator[tuple[Point, Point]]:
        """Yield the middle lines of the overlaps, by their ends on the ring."""
        first, last = self.windows[0], self.windows[-1]
        left, top = first.left, first.top
        right, bottom = last.left + last.width, last.top - last.height
        for window in self.windows[1 : self.columns]:
            x = window.left + OVERLAP / 2
            yield (x, top), (x, bottom)
        for window in self.windows[self.columns :: self.columns]:
            y = window.top - OVERLAP / 2
            yield (left, y), (right, y)

    def marks(self) -> Iterator[Point]:
        """Yield where neighbouring windows are joined: twice on every side that two share."""
        for row, column in product(range(self.rows), range(self.columns)):
            window = self.windows[row * self.columns + column]
            for part in (0.25, 0.75):
                if column > 0:
                    yield window.left + OVERLAP / 2, window.top - part * window.height
                if row > 0:
                    yield window.left + part * window.width, window.top - OVERLAP / 2


def single(paper: PaperName, diameter: float, foot: float) -> Window | None:
    """Return the window that shows all of the ring above *foot* mm of words; None if too large."""
    width, height = SIZES[paper]
    size = diameter + 2 * CLEAR
    if size > width - 2 * MARGIN or size > height - 2 * MARGIN - HEAD - foot:
        return None
    corner = {"x": (width - size) / 2, "y": MARGIN + HEAD, "left": -size / 2, "top": size / 2}
    return Window(width=size, height=size, **corner)


def tiled(paper: PaperName, diameter: float) -> Tiling:
    """Return the tiling with the fewest sheets, upright if both ways need as many."""
    upright = SIZES[paper]
    both = (_tiling(upright, diameter), _tiling(upright[::-1], diameter))
    return min(both, key=lambda one: len(one.windows))


def _tiling(size: tuple[float, float], diameter: float) -> Tiling:
    """Return the tiling of a page that is filled as little as the fewest tiles allow."""
    whole = diameter + 2 * CLEAR
    room = size[0] - 2 * MARGIN - STRIP, size[1] - 2 * MARGIN - STRIP - HEAD
    columns, rows = (max(1, math.ceil((whole - OVERLAP) / (one - OVERLAP))) for one in room)
    width, height = ((whole - OVERLAP) / count + OVERLAP for count in (columns, rows))
    windows = [
        Window(
            x=MARGIN + STRIP + (room[0] - width) / 2,
            y=MARGIN + HEAD + (room[1] - height) / 2,
            width=width,
            height=height,
            left=-whole / 2 + column * (width - OVERLAP),
            top=whole / 2 - row * (height - OVERLAP),
        )
        for row, column in product(range(rows), range(columns))
    ]
    return Tiling(paper=size, columns=columns, rows=rows, windows=tuple(windows))
