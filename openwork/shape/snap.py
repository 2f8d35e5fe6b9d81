"""Points that rounding has parted, numbered as one."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

STEP = 1e-5  # units, the cells in which points are one; far above rounding
NEAR = 0.49  # of a cell from its middle: rounding reaches no farther than the rest


class Snap:
    """Numbers points as they come; one that lies on an earlier one gets its number."""

    def __init__(self) -> None:
        self.points: list[tuple[float, ...]] = []
        self._cells: dict[tuple[int, ...], int] = {}

    def number(self, point: Sequence[float]) -> int:
        """Return the number of *point*.

        >>> one = Snap()
        >>> one.number((0.5e-5, 0.0)), one.number((1.0, 0.0)), one.number((0.5e-5 + 1e-9, 0.0))
        (0, 1, 0)
        """
        parts = [x / STEP for x in point]
        cell = tuple(map(round, parts))
        found = self._cells.get(cell)
        if found is not None:
            return found
        # Only near the border of its cell may a point have been put into the next one.
        sides = [
            (0, 1) if part - whole > NEAR else (0, -1) if part - whole < -NEAR else (0,)
            for part, whole in zip(parts, cell, strict=True)
        ]
        for off in product(*sides):
            found = self._cells.get(tuple(a + b for a, b in zip(cell, off, strict=True)))
            if found is not None:
                return found
        self._cells[cell] = len(self.points)
        self.points.append(tuple(point))
        return len(self.points) - 1
