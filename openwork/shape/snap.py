"""Points that rounding has parted, numbered as one."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

STEP = 1e-5  # units within which two points are one, far above rounding


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
        cell = tuple(round(x / STEP) for x in point)
        found = self._cells.get(cell)
        if found is None:
            for off in product((-1, 0, 1), repeat=len(cell)):
                found = self._cells.get(tuple(a + b for a, b in zip(cell, off, strict=True)))
                if found is not None:
                    return found
            found = self._cells[cell] = len(self.points)
            self.points.append(tuple(point))
        return found
