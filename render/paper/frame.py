"""The measures of a contact sheet's page: where cells, pictures and captions stand."""

from __future__ import annotations

from dataclasses import dataclass

from openwork.render.paper.layout import Grid, Paper, Place

MARGIN = 7.0
HEAD = 10.8  # height of the page's head
FOOT = 7.8
GUTTER = 5.0  # between two cells
GAP = 2.2  # between two rows of cells


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """One page in the units of its module; ``words`` is the height of the tallest caption."""

    paper: Paper
    grid: Grid
    words: float

    @property
    def width(self) -> float:
        """Width of the page."""
        return self.paper.width / self.paper.module

    @property
    def height(self) -> float:
        """Height of the page."""
        return self.paper.height / self.paper.module

    @property
    def right(self) -> float:
        """Where the right margin begins."""
        return self.width - MARGIN

    @property
    def bottom(self) -> float:
        """Where the bottom margin begins."""
        return self.height - MARGIN

    @property
    def cell(self) -> tuple[float, float]:
        """Width and height of a cell."""
        wide = (self.width - 2 * MARGIN + GUTTER) / self.grid.columns - GUTTER
        tall = (self.height - 2 * MARGIN - HEAD - FOOT + GAP) / self.grid.rows - GAP
        return wide, tall

    @property
    def room(self) -> float:
        """Side of the square that a picture may fill."""
        wide, tall = self.cell
        return min(wide, tall - self.words)

    def corner(self, place: Place) -> tuple[float, float]:
        """Return the upper left corner of the cell at *place*."""
        wide, tall = self.cell
        x = MARGIN + place.column % self.grid.columns * (wide + GUTTER)
        y = MARGIN + HEAD + place.row % self.grid.rows * (tall + GAP)
        return x, y

    def upper_right(self, place: Place) -> tuple[float, float]:
        """Return the upper right corner of the cell at *place*."""
        x, y = self.corner(place)
        return x + self.cell[0], y
