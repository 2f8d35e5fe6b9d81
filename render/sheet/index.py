"""The index of several sheets: every ring by pattern and mass, with its mark and its sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from openwork.explore.variants.variants import Entry, Made
from openwork.render.drawing.canvas import written
from openwork.render.drawing.pen import Pen
from openwork.render.drawing.type import shortened
from openwork.render.paper.frame import FOOT, MARGIN, Frame
from openwork.render.paper.frame import HEAD as TOP
from openwork.render.paper.layout import PAPERS, Arranged, Grid
from openwork.render.paper.page import FAINT, SMALL, THIN, foot, head, page
from openwork.render.sheet.caption import listed
from openwork.spec.spec import Spec, to_toml

COLUMNS = 3
GUTTER = 8.0  # mm
ROW = 3.7  # mm
ABOVE = 2.0  # mm over the first line
MARKS = 9.0  # mm
PATTERN = 20.0  # mm
FIGURES = (("g", 29.0), ("%", 21.0), ("×", 11.0), ("sheet", 0.0))  # mm from the right
ROOM = 38.0  # mm, of all figures
KEY = "Mass, g; solid share of the web, %; × is stiffness in plane over a plain plate as heavy."


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One ring: its mark, pattern, what differs, and the figures under the heads of FIGURES."""

    mark: str
    pattern: str
    differs: str
    figures: tuple[str, ...]
    mass: float


def index_svgs(
    spec: Spec, entries: Arranged[Entry], *, line: str = "", paper: str = "A4", date: str = ""
) -> tuple[str, ...]:
    """Return the index of the sheets of *entries*, variants of *spec*, as SVG.

    *line* says what they have in common.
    """
    frame = Frame(paper=PAPERS[paper], grid=Grid(COLUMNS, 1), words=0.0)
    deep = int((frame.bottom - FOOT - MARGIN - TOP - ABOVE - ROW) / ROW)
    pages = _parted(_lines(entries), COLUMNS * deep)
    found = []
    for count, lines in enumerate(pages, start=1):
        drawing = page(frame, title=spec.title, recipe=to_toml(spec))
        pen = Pen(drawing, drawing)
        where = f"Index of {len(entries.pages)} sheets"
        where += f", {count} of {len(pages)}" if len(pages) > 1 else ""
        head(pen.inside("head"), frame, title=spec.title, line=line,
             aside=" · ".join(filter(None, (date, where))))  # fmt: skip
        for column, part in enumerate(_parted(lines, math.ceil(len(lines) / COLUMNS))):
            _column(pen.inside(f"column-{column + 1}"), frame, column, part)
        foot(pen.inside("foot"), frame, reduction=0.0, key=KEY)
        found.append(written(drawing))
    return tuple(found)


def _parted(lines: Sequence[Line], count: int) -> list[Sequence[Line]]:
    return [lines[k : k + count] for k in range(0, len(lines), count)]


def _lines(entries: Arranged[Entry]) -> list[Line]:
    """Return every ring, by pattern and then by mass; those that cannot be made last of theirs."""
    return sorted(_found(entries), key=lambda line: (line.pattern, line.mass))


def _found(entries: Arranged[Entry]) -> Iterator[Line]:
    for number, places in enumerate(entries.pages, start=1):
        for place, entry in places.items():
            known = _figures(entry) if isinstance(entry, Made) else ("–", "", "")
            yield Line(
                mark=place.mark,
                pattern=entry.variant.pattern,
                differs=listed(entry.label),
                figures=(*known, str(number)),
                mass=entry.figures.mass if isinstance(entry, Made) else math.inf,
            )


def _figures(entry: Made) -> tuple[str, str, str]:
    """Return the mass, the solid share and, if known, the stiffness, as words."""
    figures, strength = entry.figures, entry.strength
    stiff = "" if strength is None else f"{strength.plane.stiffness_vs_plate:.2f}"
    return f"{figures.mass:.1f}", f"{100 * figures.solid_share:.0f}", stiff


def _column(pen: Pen, frame: Frame, column: int, lines: Sequence[Line]) -> None:
    wide = (frame.right - MARGIN - (COLUMNS - 1) * GUTTER) / COLUMNS
    left = MARGIN + column * (wide + GUTTER)
    right = left + wide
    base = MARGIN + TOP + ABOVE + SMALL
    for words, away in FIGURES:
        pen.text((right - away, base), words, SMALL, end=True)
    pen.line((left, base + 1.0), (right, base + 1.0), THIN)
    before = ""
    for line in lines:
        base += ROW
        if before and line.pattern != before:
            pen.line((left, base - 0.78 * ROW), (right, base - 0.78 * ROW), FAINT)
        pen.text((left, base), line.mark, SMALL, bold=True)
        if line.pattern != before:
            pattern = shortened(line.pattern, PATTERN - 1, SMALL)
            pen.text((left + MARKS, base), pattern, SMALL)
        differs = shortened(line.differs, wide - MARKS - PATTERN - ROOM, SMALL)
        pen.text((left + MARKS + PATTERN, base), differs, SMALL)
        for text, (_, away) in zip(line.figures, FIGURES, strict=True):
            pen.text((right - away, base), text, SMALL, end=True)
        before = line.pattern
