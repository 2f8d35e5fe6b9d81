"""The contact sheet: many variants of a ring on paper, to choose from.

One design decides every page. Landscape, a margin of 7 mm, black on white and no greys, because an
office printer breaks greys into dots. A3 is the A4 page enlarged, type and lines and all.

Grid: three by two to six by four cells, the coarsest that holds the set on one page; whitespace
divides them. Each cell has the picture above, with its mark in one of the corners that a round ring
leaves free and small bars in another, for mass, solid share and, where it is known, stiffness, from
0 to the greatest of all; and the caption below: pattern and mass in bold; what differs, and to the
right the solid share and the least rib, and under them the stiffness against a plain plate where it
is known. All rings of a sheet are drawn to one scale, as solid faces, or in the colours of their
finishes where these differ.

Several sheets have an index, by pattern and mass. A comparison sets two to six rings side by side,
as large as the page allows, over a table of the figures in which they differ; the best of a row is
bold and has a dot, which shows in black and white as well.

Type: one sans-serif family of the reader's system, faces with figures of one width first; four
sizes (14, 10, 7.5, 6.5 point) and two weights. Lines: 0.25 mm under the head and over the foot,
0.12 mm round an empty cell. No text leaves its cell: widths are bounded for the widest common
face, lines are broken to fit, and the pictures give way to the longest caption.
"""

from __future__ import annotations

from collections.abc import Iterable

from openwork.explore.variants.variants import Entry, Made
from openwork.render.drawing.canvas import written
from openwork.render.drawing.pen import Pen
from openwork.render.paper.common import common_line
from openwork.render.paper.frame import Frame
from openwork.render.paper.layout import PAPERS, Arranged, Place, arranged, scale
from openwork.render.paper.page import foot, head, page
from openwork.render.sheet.bars import bars, draw_bars
from openwork.render.sheet.caption import caption
from openwork.render.sheet.cell import draw_cell
from openwork.spec.spec import Spec, to_toml
from openwork.strength.quality import GRADES, off
from openwork.tables.wording import shown

__all__ = ["Arranged", "Place", "arranged", "sheet_svgs"]

KEY = (
    "Under each ring: pattern and mass; what differs; solid share of the web and least rib. "
    "Bars, from 0: mass, share."
)
STIFF = (
    "Under each ring: pattern and mass; what differs; solid share and least rib; stiffness aside · "
    "in plane over a plain plate as heavy (×), on a coarse mesh, in plane "
    f"{off(GRADES['search'].stiffness)}. Bars, from 0: mass, share, stiffness."
)


def sheet_svgs(
    spec: Spec, entries: Arranged[Entry], *, paper: str = "A4", date: str = ""
) -> tuple[str, ...]:
    """Return the pages of the contact sheet of *entries*, variants of *spec*, as SVG."""
    size = PAPERS[paper]
    wide = Frame(paper=size, grid=entries.grid, words=0.0).cell[0]
    captions = {place: caption(entry, wide) for place, entry in entries}
    words = max(one.height for one in captions.values())
    frame = Frame(paper=size, grid=entries.grid, words=words)
    rings = [entry for _, entry in entries if isinstance(entry, Made)]
    sizes = [one.design.blank.tip_diameter for one in rings]
    reduction = scale(max(sizes), frame.room * size.module) if sizes else 0.0
    key = STIFF if any(one.strength is not None for one in rings) else KEY
    heights = bars(entries)
    coloured = _in_colour(rings)
    line = common_line(spec, entries)
    pages = []
    for count, places in enumerate(entries.pages, start=1):
        drawing = page(frame, title=spec.title, recipe=_recipe(spec, entries))
        pen = Pen(drawing, drawing)
        where = f"Sheet {count} of {len(entries.pages)}" if len(entries.pages) > 1 else ""
        aside = " · ".join(filter(None, (date, where)))
        head(pen.inside("head"), frame, title=spec.title, line=line, aside=aside)
        for place, entry in places.items():
            cell = pen.inside(place.mark)
            draw_cell(cell, frame, place, entry, captions[place], reduction, coloured=coloured)
            draw_bars(cell, frame.upper_right(place), heights.get(place, ()))
        foot(pen.inside("foot"), frame, reduction=reduction, key=key)
        pages.append(written(drawing))
    return tuple(pages)


def _in_colour(rings: Iterable[Made]) -> bool:
    """Tell whether rings are shown in the colours of their finishes: where these differ."""
    return len({one.design.spec.look.finish for one in rings}) > 1


def _recipe(spec: Spec, entries: Arranged[Entry]) -> str:
    """Return the spec as TOML, with what each mark changes in it as comments."""
    lines = [f"# {place.mark}: {_changes(entry)}" for place, entry in entries]
    return "\n".join([to_toml(spec), *lines, ""])


def _changes(entry: Entry) -> str:
    changes = {"pattern.name": entry.variant.pattern, **entry.changed}
    return ", ".join(f"{key} = {shown(value)}" for key, value in changes.items())
