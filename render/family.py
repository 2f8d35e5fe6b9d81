"""The sheet of a family: one look in every tooth count, on one page as far as it goes.

Page, type and lines are those of the contact sheet. Above, all sizes at one scale, the tooth
count in the bore, and under each its mass and rib; rows and solid share; pull and ripple of the
chain; what differs from the base. Below, to the left a quarter of all outlines about the common
bolt circle; in the middle mass and rib against the tooth count, wanted masses dashed and hollow
where they cannot be had; to the right the figures of consistency and the size that stands out.
More sizes than a page holds go on further pages, the lower part the same on each.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from openwork.spec import to_toml

from ._box import LEADING, reason_box
from ._compared import LOWER, compared
from ._frame import FOOT, GAP, GUTTER, MARGIN, Frame
from ._frame import HEAD as TOP
from ._layout import PAPERS, Grid, scale
from ._paper import HEAD, POINT, SMALL, foot, head, page
from ._path import number
from ._pen import Pen
from ._type import wrapped
from .preview import face
from .sheet import spec_line
from .svg import written

if TYPE_CHECKING:
    from openwork.explore.family import Family
    from openwork.explore.size import Size

MOST = 16  # sizes on one page
NARROWEST = 31.0  # mm of a cell: its captions take as much
WIDEST = 64.0  # mm of a caption, so that left and right of it are read together
WORDS = 20.0  # mm, height of a usual caption
COUNT = 14 * POINT  # the tooth count in the bore
ABOVE = 0.8
UNIT = 0.01  # mm of the ring
VARIED = ("ring.teeth", "web.rib")


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """The caption of a size: bold left and right, small left and right, lines of what is said."""

    bold: tuple[str, str]
    small: tuple[tuple[str, str], ...]
    said: tuple[str, ...]

    @property
    def height(self) -> float:
        """Height under the picture, mm."""
        return ABOVE + LEADING * (HEAD + SMALL * (len(self.small) + len(self.said)))


def family_svgs(family: Family, *, paper: str = "A4") -> tuple[str, ...]:
    """Return the pages of the sheet of *family* as SVG."""
    size = PAPERS[paper]
    count = -(-len(family.sizes) // MOST)
    each = -(-len(family.sizes) // count)
    parts = [family.sizes[k : k + each] for k in range(0, len(family.sizes), each)]
    grid = _grid(Frame(paper=size, grid=Grid(1, 1), words=0.0), each)
    wide = Frame(paper=size, grid=grid, words=0.0).cell[0]
    across = min(wide, WIDEST)
    captions = {one.teeth: _lines(one, across) for one in family.made}
    words = max((one.height for one in captions.values()), default=0.0)
    frame = Frame(paper=size, grid=grid, words=words)
    made = [one.design for one in family.made if one.design is not None]
    room = min(wide, _height(frame) - words)
    largest = max((ring.blank.tip_diameter for ring in made), default=0.0)
    reduction = scale(largest, room * size.module) if made else 0.0
    pages = []
    for number_, part in enumerate(parts, start=1):
        drawing = page(frame, title=family.spec.title, recipe=to_toml(family.spec))
        pen = Pen(drawing, drawing)
        aside = f"Sheet {number_} of {len(parts)}" if len(parts) > 1 else ""
        _head(pen.inside("head"), frame, family, aside)
        for place, one in enumerate(part):
            corner = _corner(frame, place)
            cell = pen.inside(f"teeth-{one.teeth}")
            if one.design is None:
                box = (wide, _height(frame))
                heading = f"{one.teeth} teeth cannot be made"
                reason_box(cell, corner, box, heading, _short(one.reason))
            else:
                _ring(cell, frame, corner, one, reduction)
                at = (corner[0] + (wide - across) / 2, corner[1] + _height(frame) - words)
                _caption(cell, at, across, captions[one.teeth])
        compared(pen, frame, family)
        foot(pen.inside("foot"), frame, reduction=reduction, key=_key(family))
        pages.append(written(drawing))
    return tuple(pages)


def _cells_height(frame: Frame) -> float:
    return frame.bottom - MARGIN - TOP - FOOT - LOWER - GAP


def _height(frame: Frame) -> float:
    """Return the height of a cell."""
    return (_cells_height(frame) + GAP) / frame.grid.rows - GAP


def _grid(frame: Frame, count: int) -> Grid:
    """Return the grid for *count* sizes in which the rings come out largest."""
    best = (0.0, Grid(count, 1))
    for rows in range(1, count + 1):
        grid = Grid(-(-count // rows), rows)
        tried = Frame(paper=frame.paper, grid=grid, words=0.0)
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
    asked = "one rib for all"
    if goal.hold == "mass" and goal.mass is not None:
        asked = f"{_mass(goal.mass)} at {spec.ring.teeth} teeth"
        if goal.per_tooth:
            asked += f", {goal.per_tooth:+g} g a tooth".replace("-", "\u2212")
    line = ", ".join([f"{counts} teeth", asked, spec.pattern.name, spec_line(spec, VARIED)])
    head(pen, frame, title=spec.title, line=line, aside=aside)


def _mass(wanted: float | tuple[float, float]) -> str:
    return f"{wanted[0]:g} to {wanted[1]:g} g" if isinstance(wanted, tuple) else f"{wanted:g} g"


def _lines(size: Size, width: float) -> Lines:
    """Return the caption of *size*, no line of it wider than *width* mm."""
    assert size.figures is not None
    drive = size.drive
    diameters = (
        (f"pitch {drive.pitch:.2f}", f"root {drive.root:.2f}"),
        (f"tip {drive.tip:.2f}", f"pins {drive.over_pins:.2f}"),
    )
    rows = "" if size.rows is None else f"{size.rows} row{'s' * (size.rows > 1)} · "
    running = f"{drive.gear:.2f} · " if drive.gear else ""
    running += f"{drive.development:.2f} m" if drive.development else ""
    return Lines(
        bold=(f"{size.figures.mass:.1f} g", f"{size.figures.rib['least']:.2f} mm"),
        small=(
            (f"{rows}{100 * size.figures.solid_share:.0f} %", running.removesuffix(" · ")),
            (f"{drive.pull:.0f} N · {100 * drive.ripple:.2f} %", "even" if drive.even else "odd"),
            *diameters,
        ),
        said=tuple(wrapped("; ".join(size.said), width, SMALL)),
    )


def _caption(pen: Pen, at: tuple[float, float], wide: float, lines: Lines) -> None:
    x, base = at[0], at[1] + ABOVE + HEAD
    pen.text((x, base), lines.bold[0], HEAD, bold=True)
    pen.text((x + wide, base), lines.bold[1], HEAD, bold=True, end=True)
    for left, right in (*lines.small, *((text, "") for text in lines.said)):
        base += LEADING * SMALL
        pen.text((x, base), left, SMALL)
        pen.text((x + wide, base), right, SMALL, end=True)


def _ring(
    pen: Pen, frame: Frame, corner: tuple[float, float], size: Size, reduction: float
) -> None:
    """Draw the ring, its tooth count in the bore where that has room."""
    assert size.design is not None
    x = corner[0] + frame.cell[0] / 2
    y = corner[1] + (_height(frame) - frame.words) / 2
    module = reduction * frame.paper.module
    ring = pen.drawing.path(face(size.design, UNIT), fill_rule="evenodd")
    middle = f"{number(x, 3)} {number(y, 3)}"
    ring["transform"] = f"translate({middle}) scale({number(UNIT / module, 9)})"
    pen.group.add(ring)
    pen.text((x, y + 0.36 * COUNT), str(size.teeth), COUNT, bold=True, middle=True)


def _short(reason: str) -> str:
    """Return the lines of *reason* as sentences; a key that begins one stays as it is."""
    lines = (
        line if "." in line.partition(" ")[0] else line[:1].upper() + line[1:]
        for line in reason.splitlines()
    )
    return ". ".join(lines) + "."


def _key(family: Family) -> str:
    load = family.spec.load
    drive = "; gear and development" if family.spec.drive.cog else ""
    return (
        f"Under each ring: mass, least rib; rows, solid share of the web{drive}; chain pull "
        f"at {load.force:g} N on {load.crank:g} mm, ripple of its speed, even or odd teeth; "
        "diameters, over pins last, mm."
    )
