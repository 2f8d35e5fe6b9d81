"""The sheet of a family: one look in every tooth count, on one page as far as it goes.

Page, type and lines are those of the contact sheet. Above, all sizes at one scale, the tooth
count in the bore, and under each its mass and rib; rows and solid share; pull and ripple of the
chain; what differs from the base. Below, to the left a quarter of all outlines about the common
bolt circle; in the middle mass and rib against the tooth count, wanted masses dashed and hollow
where they cannot be had; to the right the figures of consistency and the size that stands out.
More sizes than a page holds go on further pages, the lower part the same on each.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from openwork.explore.family.size import MadeSize, RefusedSize, Size
from openwork.render.drawing.canvas import written
from openwork.render.drawing.pen import Pen
from openwork.render.family.captions import Lines, lines, sentences, set_caption
from openwork.render.family.lower_part import LOWER, compared
from openwork.render.paper.box import reason_box
from openwork.render.paper.common import spec_line
from openwork.render.paper.frame import FOOT, GAP, GUTTER, MARGIN, Frame
from openwork.render.paper.frame import HEAD as TOP
from openwork.render.paper.layout import PAPERS, Grid, Paper, scale
from openwork.render.paper.page import POINT, foot, head, page
from openwork.render.ring.part import silhouette
from openwork.spec.spec import to_toml
from openwork.strength.quality import off

if TYPE_CHECKING:
    from openwork.explore.family.family import Family

MOST = 16  # sizes on one page
NARROWEST = 31.0  # mm of a cell: its captions take as much
WIDEST = 64.0  # mm of a caption, so that left and right of it are read together
WORDS = 20.0  # mm, height of a usual caption
COUNT = 14 * POINT  # the tooth count in the bore
UNIT = 0.01  # mm of the ring
VARIED = ("ring.teeth", "web.rib")


def family_svgs(family: Family, *, paper: str = "A4") -> tuple[str, ...]:
    """Return the pages of the sheet of *family* as SVG."""
    count = -(-len(family.sizes) // MOST)
    each = -(-len(family.sizes) // count)
    parts = [family.sizes[k : k + each] for k in range(0, len(family.sizes), each)]
    frame, captions = _frame(family, PAPERS[paper], each)
    reduction = _reduction(frame, family)
    pages = []
    for k, part in enumerate(parts, start=1):
        drawing = page(frame, title=family.spec.title, recipe=to_toml(family.spec))
        pen = Pen(drawing, drawing)
        aside = f"Sheet {k} of {len(parts)}" if len(parts) > 1 else ""
        _head(pen.inside("head"), frame, family, aside)
        for place, size in enumerate(part):
            cell = pen.inside(f"teeth-{size.teeth}")
            _cell(cell, frame, _corner(frame, place), size, captions, reduction)
        compared(pen, frame, family)
        foot(pen.inside("foot"), frame, reduction=reduction, key=_key(family))
        pages.append(written(drawing))
    return tuple(pages)


def _frame(family: Family, paper: Paper, count: int) -> tuple[Frame, dict[int, Lines]]:
    """Return the frame of pages of *count* sizes, and the captions by teeth."""
    frame = Frame(paper=paper, grid=_grid(paper, count), words=0.0)
    captions = {size.teeth: lines(size, _across(frame)) for size in family.made}
    words = max((one.height for one in captions.values()), default=0.0)
    return replace(frame, words=words), captions


def _reduction(frame: Frame, family: Family) -> float:
    """Return the one scale of all rings, 1 : n; 0 where there is none."""
    tips = [size.drive.tip for size in family.made]
    room = min(frame.cell[0], _height(frame) - frame.words)
    return scale(max(tips), room * frame.paper.module) if tips else 0.0


def _across(frame: Frame) -> float:
    """Return the width of a caption."""
    return min(frame.cell[0], WIDEST)


def _cell(
    pen: Pen,
    frame: Frame,
    corner: tuple[float, float],
    size: Size,
    captions: Mapping[int, Lines],
    reduction: float,
) -> None:
    """Draw a ring over its caption, or the reason why there is none."""
    wide, tall = frame.cell[0], _height(frame)
    if isinstance(size, RefusedSize):
        heading = f"{size.teeth} teeth cannot be made"
        reason_box(pen, corner, (wide, tall), heading, sentences(size.reason))
        return
    _ring(pen, frame, corner, size, reduction)
    at = (corner[0] + (wide - _across(frame)) / 2, corner[1] + tall - frame.words)
    set_caption(pen, at, _across(frame), captions[size.teeth])


def _cells_height(frame: Frame) -> float:
    return frame.bottom - MARGIN - TOP - FOOT - LOWER - GAP


def _height(frame: Frame) -> float:
    """Return the height of a cell."""
    return (_cells_height(frame) + GAP) / frame.grid.rows - GAP


def _grid(paper: Paper, count: int) -> Grid:
    """Return the grid for *count* sizes in which the rings come out largest."""
    best = (0.0, Grid(count, 1))
    for rows in range(1, count + 1):
        grid = Grid(-(-count // rows), rows)
        tried = Frame(paper=paper, grid=grid, words=0.0)
        wide, tall = tried.cell[0], _height(tried) - WORDS
        if wide >= NARROWEST:
            best = max(best, (min(wide, tall), grid), key=lambda pair: pair[0])
    return best[1]


def _corner(frame: Frame, place: int) -> tuple[float, float]:
    row, column = divmod(place, frame.grid.columns)
    return (
        MARGIN + column * (frame.cell[0] + GUTTER),
        MARGIN + TOP + row * (_height(frame) + GAP),
    )


def _head(pen: Pen, frame: Frame, family: Family, aside: str) -> None:
    goal, spec = family.spec.goal, family.spec
    teeth = [one.teeth for one in family.sizes]
    counts = f"{teeth[0]} to {teeth[-1]}" if len(teeth) > 1 else f"{teeth[0]}"
    plan, asked = family.plan, "one rib for all"
    if plan.share is not None:
        asked = f"{100 * plan.share:.0f} % of the web solid in all"
    elif plan.hold == "mass" and goal.mass is not None:
        asked = f"{_mass(goal.mass)} at {spec.ring.teeth} teeth"
        if plan.per_tooth:
            asked += f", {plan.per_tooth:+g} g a tooth".replace("-", "\u2212")
    line = ", ".join([f"{counts} teeth", asked, spec.pattern.name, spec_line(spec, VARIED)])
    head(pen, frame, title=spec.title, line=line, aside=aside)


def _mass(wanted: float | tuple[float, float]) -> str:
    return f"{wanted[0]:g} to {wanted[1]:g} g" if isinstance(wanted, tuple) else f"{wanted:g} g"


def _ring(
    pen: Pen, frame: Frame, corner: tuple[float, float], size: MadeSize, reduction: float
) -> None:
    """Draw the ring, its tooth count in the bore where that has room."""
    x = corner[0] + frame.cell[0] / 2
    y = corner[1] + (_height(frame) - frame.words) / 2
    module = reduction * frame.paper.module
    ring = silhouette(pen.drawing, size.design)
    pen.place(ring, (x, y), UNIT / module)
    pen.text((x, y + 0.36 * COUNT), str(size.teeth), COUNT, bold=True, middle=True)


def _key(family: Family) -> str:
    load = family.spec.load
    known = [size.strength for size in family.made if size.strength]
    stiff = (
        f"; × a plain plate aside, in plane {off(known[0].stiffness_band)}; used of the metal"
        if known
        else ""
    )
    drive = "; gear and development" if family.spec.drive.cog else ""
    return (
        f"Under each ring: mass, least rib; rows, solid share of the web{drive}; chain pull "
        f"at {load.force:g} N on {load.crank:g} mm, ripple of its speed, even or odd teeth; "
        f"diameters, over pins last, mm{stiff}."
    )
