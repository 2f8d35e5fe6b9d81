"""The contact sheet: many variants of a ring on paper, to choose from.

One design decides every page. Landscape, a margin of 7 mm, black on white and no greys, because an
office printer breaks greys into dots. A3 is the A4 page enlarged, type and lines and all.

Grid: three by two to six by four cells, the coarsest that holds the set on one page; whitespace
divides them. Each cell has the picture above, with its mark in the corner that a round ring leaves
free, and the caption below: family and mass in bold; what differs, and to the right the solid
share, the least rib and, where it is known, the stiffness against a plain plate. All rings of a
sheet are solid faces drawn to one scale.

Type: one sans-serif family of the reader's system, faces with figures of one width first; four
sizes (14, 10, 7.5, 6.5 point) and two weights. Lines: 0.25 mm under the head and over the foot,
0.12 mm round an empty cell. No text leaves its cell: widths are bounded for the widest common
face, lines are broken to fit, and the pictures give way to the longest caption.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING, Any

from openwork.spec import Spec, to_toml
from openwork.wording import shown

from ._caption import HEAD, POINT, SMALL, caption
from ._cell import draw_cell
from ._frame import MARGIN, Frame
from ._layout import PAPERS, Arranged, arranged, bar_length, scale
from ._path import number
from ._pen import Pen
from ._type import FACES, shortened, text_width
from .svg import CAUTION, canvas, written

if TYPE_CHECKING:
    from openwork.explore.variants import Entry, Variant

__all__ = ["Arranged", "arranged", "sheet_svgs", "spec_line"]

TITLE = 14 * POINT
RULE = 0.25
BAR = 28.0  # mm on the page, most length of the scale bar
KEY = "Under each ring: family and mass; what differs; solid share of the web and least rib."
STIFF = KEY.removesuffix(".") + "; × is stiffness over that of a plain plate as heavy."


def sheet_svgs(
    spec: Spec, entries: Arranged[Entry], *, paper: str = "A4", date: str = ""
) -> tuple[str, ...]:
    """Return the pages of the contact sheet of *entries*, variants of *spec*, as SVG."""
    size = PAPERS[paper]
    wide = Frame(paper=size, grid=entries.grid, words=0.0).cell[0]
    captions = {place: caption(entry, wide) for place, entry in entries}
    words = max(one.height for one in captions.values())
    frame = Frame(paper=size, grid=entries.grid, words=words)
    sizes = [entry.design.blank.tip_diameter for _, entry in entries if entry.design is not None]
    reduction = scale(max(sizes), frame.room * size.module) if sizes else 0.0
    key = STIFF if any(entry.strength is not None for _, entry in entries) else KEY
    pages = []
    for count, page in enumerate(entries.pages, start=1):
        drawing = _paper(spec, frame, entries)
        pen = Pen(drawing, drawing)
        where = f"Sheet {count} of {len(entries.pages)}" if len(entries.pages) > 1 else ""
        _head(pen.inside("head"), frame, spec, entries, " · ".join(filter(None, (date, where))))
        for place, entry in page.items():
            draw_cell(pen.inside(place.mark), frame, place, entry, captions[place], reduction)
        _foot(pen.inside("foot"), frame, reduction, key)
        pages.append(written(drawing))
    return tuple(pages)


def _paper(spec: Spec, frame: Frame, entries: Arranged[Entry]) -> Any:
    size = frame.paper
    drawing = canvas(size.width, size.height, title=spec.title, recipe=_recipe(spec, entries))
    drawing["viewBox"] = f"0 0 {number(frame.width, 3)} {number(frame.height, 3)}"
    drawing.update({"font_family": FACES, "style": "font-variant-numeric: tabular-nums"})
    drawing.add(drawing.rect(size=("100%", "100%"), fill="#fff"))
    return drawing


def _recipe(spec: Spec, entries: Arranged[Entry]) -> str:
    """Return the spec as TOML, with what each mark changes in it as comments."""
    lines = [f"# {place.mark}: {_changes(entry.variant)}" for place, entry in entries]
    return "\n".join([to_toml(spec), *lines, ""])


def _changes(variant: Variant) -> str:
    changes = {"pattern.name": variant.family, **dict(variant.changes)}
    return ", ".join(f"{key} = {shown(value)}" for key, value in changes.items())


def _head(pen: Pen, frame: Frame, spec: Spec, entries: Arranged[Entry], aside: str) -> None:
    """Set title and spec in one line each, with date and count of sheets to the right."""
    room = frame.right - MARGIN - text_width(aside, HEAD) - 6
    title = shortened(spec.title, room, TITLE, bold=True)
    pen.text((MARGIN, MARGIN + 3.8), title, TITLE, bold=True)
    pen.text((frame.right, MARGIN + 3.8), aside, HEAD, end=True)
    varied = {key for _, entry in entries for key, _ in entry.variant.changes}
    line = shortened(spec_line(spec, varied), frame.right - MARGIN, HEAD)
    pen.text((MARGIN, MARGIN + 7.6), line, HEAD)
    pen.line((MARGIN, MARGIN + 9.0), (frame.right, MARGIN + 9.0), RULE)


def spec_line(spec: Spec, varied: Collection[str] = ()) -> str:
    """Return what every ring of a sheet has in common, in one line; *varied* keys are left out."""
    ring, mount, web = spec.ring, spec.mount, spec.web
    parts = {
        "ring.teeth": f"{ring.teeth} teeth",
        "ring.chain": f"chain {ring.chain}",
        "ring.material": ring.material,
        "ring.plate": f"plate {ring.plate:g} mm",
        "mount.circle": f"{mount.bolts} bolts on {mount.circle:g} mm",
        "web.rim": f"rim {web.rim:g} mm",
        "web.hem": f"hem {web.hem:g} mm",
        "web.rib": f"rib from {web.rib:g} mm",
        "web.corner": f"corner {web.corner:g} mm",
        "web.bevel": f"bevel {web.bevel:g} mm",
    }
    return ", ".join(text for key, text in parts.items() if key not in varied)


def _foot(pen: Pen, frame: Frame, reduction: float, key: str) -> None:
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
