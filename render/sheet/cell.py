"""One cell of a contact sheet: mark, picture or reason, caption."""

from __future__ import annotations

from typing import TYPE_CHECKING

from openwork.explore.variants.variants import Entry, Made, Refused
from openwork.render.drawing.pen import Pen
from openwork.render.paper.box import reason_box
from openwork.render.paper.frame import Frame
from openwork.render.paper.layout import Place
from openwork.render.paper.page import CAP, HEAD, LEADING, MARK, SMALL
from openwork.render.ring.part import UNIT, part, silhouette
from openwork.render.sheet.caption import ABOVE, Caption

if TYPE_CHECKING:
    from openwork.ring import Design


def draw_cell(
    pen: Pen, frame: Frame, place: Place, entry: Entry, words: Caption, reduction: float,
    *, coloured: bool = False,
) -> None:  # fmt: skip
    """Draw *entry* into its cell, the ring at 1 : *reduction*, if *coloured* in its finish."""
    x, y = frame.corner(place)
    pen.text((x, y + CAP * MARK), place.mark, MARK, bold=True)
    _caption(pen, frame, place, words)
    if isinstance(entry, Made):
        _picture(pen, frame, place, entry.design, reduction, coloured=coloured)
    else:
        _reason(pen, frame, place, entry)


def _caption(pen: Pen, frame: Frame, place: Place, words: Caption) -> None:
    """Set the caption at the foot of its cell."""
    (wide, tall), (x, y) = frame.cell, frame.corner(place)
    base = y + tall - frame.words + ABOVE + HEAD
    pen.text((x, base), words.pattern, HEAD, bold=True)
    pen.text((x + wide, base), words.mass, HEAD, bold=True, end=True)
    for line, text in enumerate(words.differs, start=1):
        pen.text((x, base + line * LEADING * SMALL), text, SMALL)
    for line, text in enumerate(words.small, start=1):
        pen.text((x + wide, base + line * LEADING * SMALL), text, SMALL, end=True)


def _picture(
    pen: Pen, frame: Frame, place: Place, design: Design, reduction: float, *, coloured: bool
) -> None:
    (wide, tall), (x, y) = frame.cell, frame.corner(place)
    middle = (x + wide / 2, y + (tall - frame.words) / 2)
    if coloured:
        ring = part(pen.drawing, design, name=f"-{place.mark}")
    else:
        ring = silhouette(pen.drawing, design)
    pen.place(ring, middle, UNIT / (reduction * frame.paper.module))


def _reason(pen: Pen, frame: Frame, place: Place, entry: Refused) -> None:
    """Fill an empty cell with the reason why nothing stands there."""
    (wide, tall), (x, y) = frame.cell, frame.corner(place)
    top = y + MARK + 0.4
    deep = y + tall - frame.words - top
    heading = "cannot be made"
    if entry.reach is not None:
        ends = dict.fromkeys(f"{end:.0f}" for end in entry.reach)
        heading = f"{' to '.join(ends)} g only"
    reason_box(pen, (x, top), (wide, deep), heading, entry.reason)
