"""Two to six rings side by side, as large as the page allows, over the figures they differ in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from openwork.explore.variants.figure_rows import STRENGTH, Row, numbers, rows
from openwork.render.drawing.canvas import written
from openwork.render.drawing.pen import Pen
from openwork.render.drawing.recipe import design_recipe
from openwork.render.drawing.type import shortened, text_width, wrapped
from openwork.render.paper.frame import FOOT, MARGIN, Frame
from openwork.render.paper.frame import HEAD as TOP
from openwork.render.paper.layout import PAPERS, Grid, Place, scale
from openwork.render.paper.page import (
    CAP,
    FAINT,
    HEAD,
    LEADING,
    MARK,
    SMALL,
    THIN,
    TITLE,
    foot,
    head,
    page,
)
from openwork.render.ring.part import UNIT, part
from openwork.render.sheet.caption import listed

if TYPE_CHECKING:
    from openwork.explore.variants.variants import Made
    from openwork.spec.spec import Spec

Chosen = tuple[Place, "Made"]

FEWEST, MOST = 2, 6
LABELS = 58.0  # mm, width of the names of the figures
ABOVE = 3.0  # mm over the rings
LARGEST = 84.0  # mm of a ring, so that the figures have room below
APART = 4.0  # mm between two rings
WORDS = 3  # lines under a ring, at most
ROW = 4.5  # mm
DOT = 0.75  # mm, radius
CENTRED = 0.44  # of the bound of a width: half of what most faces need
NARROW = 60.0  # mm of a column whose mark is set smaller
FIRST = (
    "mass", "solid_share", "rib.least", f"{STRENGTH}lateral_between_vs_plate",
    f"{STRENGTH}stiffness_vs_plate", f"{STRENGTH}stiffness",
)  # fmt: skip
KEY = "A dot marks the best of its row: the lightest, the stiffest, the least cutting."


def compare_svg(
    spec: Spec, chosen: Sequence[Chosen], *, line: str = "", paper: str = "A4", date: str = ""
) -> str:
    """Return *chosen* variants of *spec*, 2 to 6 of them, on one page as SVG.

    *line* says what they have in common.
    """
    frame = Frame(paper=PAPERS[paper], grid=Grid(len(chosen), 1), words=0.0)
    wide = (frame.right - MARGIN - LABELS) / len(chosen)
    room = min(wide - APART, LARGEST)
    designs = [entry.design for _, entry in chosen]
    tip = max(one.blank.tip_diameter for one in designs)
    reduction = scale(tip, room * frame.paper.module)
    across = tip / reduction / frame.paper.module
    recipe = "\n".join(f"# {place.mark}\n{design_recipe(one)}"
                       for (place, _), one in zip(chosen, designs, strict=True))  # fmt: skip
    drawing = page(frame, title=spec.title, recipe=recipe)
    pen = Pen(drawing, drawing)
    head(pen.inside("head"), frame, title=spec.title, line=line, aside=date)
    top = MARGIN + TOP + ABOVE
    words = [listed(entry.label) for _, entry in chosen]
    lines = [wrapped(text, wide - APART, SMALL)[:WORDS] for text in words]
    for column, ((place, entry), design) in enumerate(zip(chosen, designs, strict=True)):
        left = MARGIN + LABELS + column * wide
        cell = pen.inside(place.mark)
        ring = part(drawing, design, name=f"-{place.mark}")
        middle = (left + wide / 2, top + across / 2)
        cell.place(ring, middle, UNIT / (reduction * frame.paper.module))
        size = TITLE if wide > NARROW else MARK
        corner = (left + (wide - across) / 2, top + CAP * size)
        cell.text(corner, place.mark, size, bold=True)
        under = top + across + 1.8 * HEAD
        pattern = shortened(entry.variant.pattern, wide - APART, HEAD, bold=True)
        cell.text((left + wide / 2, under), pattern, HEAD, bold=True, middle=True)
        for k, text in enumerate(lines[column], start=1):
            at = (left + wide / 2, under + k * LEADING * SMALL)
            cell.text(at, text, SMALL, middle=True)
    below = top + across + 1.8 * HEAD + (max(map(len, lines)) + 1) * LEADING * SMALL
    _table(pen.inside("figures"), frame, below, wide, [numbers(entry) for _, entry in chosen])
    foot(pen.inside("foot"), frame, reduction=reduction, key=KEY)
    return written(drawing)


def _table(
    pen: Pen, frame: Frame, top: float, wide: float, found: Sequence[Mapping[str, float]]
) -> None:
    """Set the rows that tell the rings apart, as many as there is room for."""
    telling = [*_telling(found)]
    bottom = frame.bottom - FOOT
    fits = int((bottom - top) / ROW)
    shown = telling if len(telling) <= fits else telling[: fits - 1]
    for k, row in enumerate(shown):
        base = top + k * ROW + 0.72 * ROW
        pen.line((MARGIN, top + k * ROW), (frame.right, top + k * ROW), FAINT if k else THIN)
        label = f"{row.label}, {row.unit}" if row.unit else row.label
        pen.text((MARGIN, base), shortened(label, LABELS - 2, HEAD), HEAD)
        values = [one.get(row.key) for one in found]
        winners = best(row, values)
        widest = max(text_width(said(row, value), HEAD, bold=True) for value in values)
        for column, value in enumerate(values):
            end = MARGIN + LABELS + (column + 0.5) * wide + CENTRED * widest
            pen.text((end, base), said(row, value), HEAD, bold=column in winners, end=True)
            if column in winners:
                pen.dot((end - widest - 2.4 * DOT, base - CAP * HEAD / 2), DOT)
    end = top + len(shown) * ROW
    pen.line((MARGIN, end), (frame.right, end), THIN)
    if rest := len(telling) - len(shown):
        pen.text((MARGIN, end + 0.72 * ROW), f"{rest} more differ: sheet.html shows all", SMALL)


def _telling(found: Sequence[Mapping[str, float]]) -> Iterator[Row]:
    """Yield the rows in which the rings differ: what counts first, what only describes last."""
    ordered = sorted(rows(found), key=lambda row: (
        FIRST.index(row.key) if row.key in FIRST else len(FIRST), row.better == 0
    ))  # fmt: skip
    for row in ordered:
        if len({said(row, one.get(row.key)) for one in found}) > 1:
            yield row


def best(row: Row, values: Sequence[float | None]) -> set[int]:
    """Return which of *values* are the best of *row* as shown; none where there is no better."""
    known = [value for value in values if value is not None]
    words = [said(row, value) for value in values]
    if not row.better or len({said(row, value) for value in known}) < 2:
        return set()
    first = said(row, max(known) if row.better > 0 else min(known))
    return {k for k, word in enumerate(words) if word == first}


def said(row: Row, value: float | None) -> str:
    """Return *value* with the decimals of *row*, thousands apart; a dash where it is unknown."""
    if value is None:
        return "–"
    return f"{value:,.{row.places}f}".replace(",", "\u00a0").replace("-", "\u2212")
