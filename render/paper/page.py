"""What every printed page has: its drawing, its head, its foot with the scale."""

from __future__ import annotations

from typing import Any

from openwork.render.drawing.canvas import canvas
from openwork.render.drawing.path import number
from openwork.render.drawing.pen import Pen
from openwork.render.drawing.type import FACES, shortened, text_width
from openwork.render.paper.frame import MARGIN, Frame
from openwork.render.paper.layout import bar_length
from openwork.tables.caution import CAUTION

POINT = 25.4 / 72  # mm
TITLE = 14 * POINT
HEAD = 7.5 * POINT
SMALL = 6.5 * POINT
RULE = 0.25
THIN = 0.12
FAINT = 0.06
MARK = 10 * POINT
LEADING = 1.25
CAP = 0.75  # height of capitals, in sizes
BAR = 28.0  # mm on the page, most length of the scale bar


def page(frame: Frame, *, title: str, recipe: str) -> Any:
    """Return an empty white page, in the units of its module."""
    size = frame.paper
    drawing = canvas(size.width, size.height, title=title, recipe=recipe)
    drawing["viewBox"] = f"0 0 {number(frame.width, 3)} {number(frame.height, 3)}"
    drawing.update({"font_family": FACES, "style": "font-variant-numeric: tabular-nums"})
    drawing.add(drawing.rect(size=("100%", "100%"), fill="#fff"))
    return drawing


def head(pen: Pen, frame: Frame, *, title: str, line: str, aside: str = "") -> None:
    """Set *title* and *line*, and *aside* to the right, over a rule."""
    room = frame.right - MARGIN - text_width(aside, HEAD) - 6
    pen.text((MARGIN, MARGIN + 3.8), shortened(title, room, TITLE, bold=True), TITLE, bold=True)
    pen.text((frame.right, MARGIN + 3.8), aside, HEAD, end=True)
    pen.text((MARGIN, MARGIN + 7.6), shortened(line, frame.right - MARGIN, HEAD), HEAD)
    pen.line((MARGIN, MARGIN + 9.0), (frame.right, MARGIN + 9.0), RULE)


def foot(pen: Pen, frame: Frame, *, reduction: float, key: str) -> None:
    """Draw the scale bar, and say what the figures mean and what they are good for."""
    top = frame.bottom - 6.3
    pen.line((MARGIN, top), (frame.right, top), RULE)
    upper, lower = frame.bottom - 3.2, frame.bottom - 0.3
    pen.text((frame.right, upper), key, SMALL, end=True)
    pen.text((frame.right, lower), CAUTION, SMALL, end=True)
    if not reduction:
        return
    length = bar_length(reduction, BAR * frame.paper.module)
    end = MARGIN + length / reduction / frame.paper.module
    base = frame.bottom - 0.6
    pen.line((MARGIN, base), (end, base), RULE)
    for x in (MARGIN + RULE / 2, end - RULE / 2):
        pen.line((x, base - 1.4), (x, base), RULE)
    pen.text((MARGIN, upper), f"{length:g} mm", SMALL)
    pen.text((end + 3, lower), f"scale 1 : {reduction:g}", SMALL)
