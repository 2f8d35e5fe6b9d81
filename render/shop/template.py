"""A paper template of the ring at 1:1 to lay on the crank, as PDF; needs the extra ``pdf``.

Every sheet has a bar of 100 mm in either direction. A ring larger than the paper is shown on tiles
that overlap, after a first sheet with a map of them.
"""

from __future__ import annotations

import json
import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path
from string import ascii_letters
from typing import TYPE_CHECKING, Any

from openwork.render.accept.acceptance import Result
from openwork.render.accept.read_pdf import judged_pdf
from openwork.render.drawing.canvas import canvas, clean, written
from openwork.render.drawing.path import exact_path
from openwork.render.drawing.recipe import design_recipe
from openwork.render.paper.tiles import (
    HEAD,
    MARGIN,
    SIZES,
    STRIP,
    PaperName,
    Tiling,
    Window,
    single,
    tiled,
)
from openwork.render.paper.typeset import typeset
from openwork.render.ring.outline import engraved_lines, half_width
from openwork.tables.caution import CAUTION

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.part.mount import Mount
    from openwork.render.shop.formats import Choices
    from openwork.ring import Design
    from openwork.shape.contour import Points

SOURCE = Path(__file__).with_name("template.typ")
BAR = 100  # mm
METAL = "#ececec"
FLOOR = "#c9c9c9"  # of pockets
LINE = 0.2  # mm
CROSS = 5.0  # mm from the axis to the ends of its mark
BEYOND = 2.0  # mm that the marks of the holes reach over their edges
ROW = 5.0  # mm of a row of the table
WORDS = 50.0  # mm that the words beside the table need
GAP = 4.0  # mm between the ring and the words
MAP = 120.0  # mm of the map of the tiles
LABEL = 4.0  # mm between a pad and the number of its hole
OTHER_ALPHABETS = 0x0530  # the first character beyond Latin, Greek and Cyrillic
STEPS = (
    "Print at 100 %, without scaling or fitting to the page.",
    "Measure both bars. Each must be 100 mm long, to 0.3 mm; damp or hot paper is not.",
    "Lay the sheet on the crank. All bolt holes must show whole, and nothing of the arms may reach "
    "over the inner edge.",
    "Measure the holes of the crank against the table: paper shows what is wrong, calipers show "
    "what is right.",
)
JOIN = (
    "Join the sheets so that crosses of one letter lie on each other, and measure once more "
    "from sheet to sheet."
)


def make(design: Design, figures: Figures, choices: Choices) -> bytes:
    """Return the template of *design* on the paper chosen."""
    del figures
    return template_pdf(design, paper=choices.paper)


def judge(path: Path, design: Design, choices: Choices) -> Result:
    """Return how the template at *path* was judged, by checks of its own."""
    return judged_pdf(path, design, choices.paper)


def template_pdf(design: Design, *, paper: PaperName = "A4") -> bytes:
    """Return the template of *design* on *paper* as PDF."""
    rows = list(measures(design.spec.mount))
    foot = GAP + max(ROW * (len(rows) + 1), WORDS) + STRIP
    window = single(paper, design.blank.tip_diameter, foot)
    if window is None:
        tiling = tiled(paper, design.blank.tip_diameter)
        size, sheets = tiling.paper, list(_tile_sheets(design, tiling))
    else:
        size, sheets = SIZES[paper], [_one_sheet(window, SIZES[paper], paper)]
    data = {
        "title": design.spec.title,
        "about": _about(design),
        "paper": {"width": size[0], "height": size[1]},
        "margin": MARGIN,
        "bar": BAR,
        "half": half_width(design),
        "bolts": [{"label": point.tolist()} for point in _labels(design.spec.mount)],
        "rows": rows,
        "steps": [*STEPS, *([JOIN] if window is None else [])],
        "caution": CAUTION,
        "sheets": sheets,
    }  # fmt: skip
    inputs = {"data": json.dumps(data), "ring": _drawing(design)}
    # The face has no further alphabets; only a title that needs them asks the machine.
    foreign = max(map(ord, design.spec.title)) >= OTHER_ALPHABETS
    return typeset(SOURCE, inputs, machine_faces=foreign)


def measures(mount: Mount) -> Iterator[tuple[str, str, str]]:
    """Yield what to measure on the crank: a name, and mm between centres and over the outsides."""
    holes = [one.hole for one in mount.bolt_holes]
    if len(set(holes)) == 1:
        yield "Diameter of a bolt hole", "", f"{holes[0]:.2f}"
    else:
        yield from (
            (f"Diameter of hole {k}", "", f"{hole:.2f}") for k, hole in enumerate(holes, start=1)
        )
    if sunk := [one.counterbore.diameter for one in mount.bolt_holes if one.counterbore]:
        yield "Head of your bolt, less than", "", f"{min(sunk):.2f}"
    yield "Diameter of the bolt circle", f"{mount.circle:.2f}", ""
    points = mount.bolt_points
    for step, name in ((1, "Neighbouring holes"), (2, "Every second hole")):
        if step == 2 and mount.bolts < 4:
            break
        for chord, pairs in _chords(points, step).items():
            where = name if len(pairs) == _pairs(mount.bolts, step) else _listed(pairs)
            a, b = (holes[k - 1] for k in pairs[0])
            yield where, f"{chord:.2f}", f"{chord + (a + b) / 2:.2f}"
    yield "Diameter of the inner edge between the pads", "", f"{mount.bore_diameter:.2f}"


def _labels(mount: Mount) -> Points:
    """Return where the numbers of the bolt holes go, (n, 2): inside the pads."""
    reach = mount.circle / 2 - mount.pad - LABEL
    labels: Points = mount.bolt_points * (reach / (mount.circle / 2))
    return labels


def _pairs(bolts: int, step: int) -> int:
    return bolts // 2 if 2 * step == bolts else bolts


def _chords(points: Any, step: int) -> dict[float, list[tuple[int, int]]]:
    """Return the pairs of holes, counted from 1, that are *step* apart, by their distance."""
    found: dict[float, list[tuple[int, int]]] = defaultdict(list)
    for k in range(_pairs(len(points), step)):
        other = (k + step) % len(points)
        chord = round(math.dist(points[k], points[other]), 2)
        found[chord].append((k + 1, other + 1))
    return found


def _listed(pairs: Sequence[tuple[int, int]]) -> str:
    return "Holes " + ", ".join(f"{a}–{b}" for a, b in pairs)


def _about(design: Design) -> str:
    blank, mount = design.blank, design.spec.mount
    return (
        f"{blank.teeth} teeth, chain {blank.chain.number}, {blank.tip_diameter:.2f} mm over the "
        f"teeth; {mount.bolts} bolts on {mount.circle:g} mm"
    )


def _one_sheet(window: Window, size: tuple[float, float], paper: str) -> dict[str, Any]:
    inside, top = MARGIN + STRIP + GAP, window.y + window.height + GAP
    place = {
        "x": inside,
        "y": top,
        "width": size[0] - inside - MARGIN,
        "height": size[1] - MARGIN - STRIP - top,
    }
    view = {**asdict(window), "seams": [], "marks": []}
    return {"where": f"{paper}, 1:1", "windows": [view], "words": place}


def _tile_sheets(design: Design, tiling: Tiling) -> Iterator[dict[str, Any]]:
    """Yield the first sheet, with words and map, and a sheet for each tile."""
    count = len(tiling.windows)
    inside = MARGIN + STRIP + GAP
    width = tiling.paper[0] - inside - MARGIN
    top = MARGIN + HEAD + GAP
    size = tiling.paper[1] - MARGIN - STRIP - 2 * GAP - WORDS - top
    size = min(size, MAP)
    yield {
        "where": f"sheet 1 of {count + 1}: the map, not to scale",
        "windows": [],
        "words": {"x": inside, "y": top, "width": width, "height": WORDS},
        "map": {
            "x": inside + (width - size) / 2,
            "y": tiling.paper[1] - MARGIN - STRIP - GAP - size,
            "size": size,
            "tiles": list(_map(tiling, size / (2 * half_width(design)), half_width(design))),
        },
    }
    joints = {
        "seams": [{"from": start, "to": end} for start, end in tiling.seams()],
        "marks": [
            {"at": point, "name": name}
            for point, name in zip(tiling.marks(), ascii_letters, strict=False)
        ],
    }
    for k, (window, name) in enumerate(zip(tiling.windows, tiling.names(), strict=True)):
        yield {
            "where": f"sheet {k + 2} of {count + 1}: tile {name}, 1:1",
            "windows": [{**asdict(window), **joints}],
        }


def _map(tiling: Tiling, scale: float, half: float) -> Iterator[dict[str, Any]]:
    for window, name in zip(tiling.windows, tiling.names(), strict=True):
        yield {
            "x": (window.left + half) * scale,
            "y": (half - window.top) * scale,
            "width": window.width * scale,
            "height": window.height * scale,
            "name": name,
        }


def _drawing(design: Design) -> str:
    """Return the ring as SVG: metal pale, edges thin, centres of the holes marked."""
    half = half_width(design)
    mount = design.spec.mount
    drawing = canvas(2 * half, 2 * half, title=design.spec.title, recipe=design_recipe(design))
    # Pockets are drawn whichever face they are cut from: paper is laid on either.
    for some, fill in ((design.contours, METAL), (design.pockets, FLOOR)):
        data = "".join(exact_path(one, half) for one in some)
        line = {"stroke": "#000", "stroke_width": LINE}
        if data:
            drawing.add(drawing.path(data, fill=fill, fill_rule="evenodd", **line))
    drawing.add(engraved_lines(drawing, design, half))
    pen = {"fill": "none", "stroke": "#000", "stroke_width": LINE / 2}
    drawing.add(drawing.circle((half, half), mount.circle / 2, stroke_dasharray="4,1,1,1", **pen))
    for (x, y), reach in (
        ((0.0, 0.0), CROSS),
        *(
            (point, hole.hole / 2 + BEYOND)
            for hole, point in zip(mount.bolt_holes, mount.bolt_points, strict=True)
        ),
    ):
        across, down = half + x, half - y
        drawing.add(drawing.line((across - reach, down), (across + reach, down), **pen))
        drawing.add(drawing.line((across, down - reach), (across, down + reach), **pen))
    return clean(written(drawing))
