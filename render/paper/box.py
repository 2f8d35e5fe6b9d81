"""A dashed box that says why nothing stands in a place."""

from __future__ import annotations

from openwork.render.drawing.pen import Pen
from openwork.render.drawing.type import ELLIPSIS, shortened, wrapped
from openwork.render.paper.page import HEAD, LEADING, SMALL, THIN

INSET = 2.0  # from the box to its words


def reason_box(
    pen: Pen, at: tuple[float, float], size: tuple[float, float], heading: str, reason: str
) -> None:
    """Draw the box from its upper left corner, *heading* in bold over what fits of *reason*."""
    (x, y), (wide, deep) = at, size
    pen.box(at, size, THIN)
    pen.text((x + INSET, y + INSET + 0.8 * HEAD), heading, HEAD, bold=True)
    step = LEADING * SMALL
    first = y + INSET + 0.8 * HEAD + 1.4 * step
    fits = int((y + deep - INSET - first) / step) + 1
    lines = wrapped(reason, wide - 2 * INSET, SMALL)
    if len(lines) > fits:
        last = shortened(lines[fits - 1] + ELLIPSIS, wide - 2 * INSET, SMALL)
        lines = [*lines[: fits - 1], last]
    for k, line in enumerate(lines):
        pen.text((x + INSET, first + k * step), line, SMALL)
