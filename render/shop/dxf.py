"""DXF of the outline for the shop: nominal contours in mm, closed polylines of lines and arcs.

Layers OUTLINE (teeth and inner edge), OPENINGS and BOLTS; BAND has the circle at which the plate
steps down to the tooth band, COUNTERBORE and COUNTERSINK the rims of recesses in the front, which
is the face that is seen, those in the back on layers that end in _BACK. Round contours are circles.
ENGRAVE and ENGRAVE_BACK have the centre lines of marks, open, with no regard to their width;
nothing else stands in model space, and no allowance for a kerf or a cutter is made. Needs the extra
``dxf``.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from ezdxf._options import options
from ezdxf.document import Drawing
from ezdxf.layouts.layout import Modelspace

from openwork.lettering.engraving import engraved
from openwork.part.marks import band_circles, recesses
from openwork.render.accept.acceptance import Result, judged
from openwork.render.accept.read_dxf import read_dxf
from openwork.shape.contour import Contour, is_circle
from openwork.shape.stroke import Stroke

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.part.blank import Blank
    from openwork.render.shop.formats import Choices, Version
    from openwork.ring import Design

MM = 4  # of $INSUNITS
METRIC = 1  # of $MEASUREMENT


def make(design: Design, figures: Figures, choices: Choices) -> bytes:
    """Return the DXF of *design* in the version chosen."""
    del figures
    return ring_dxf(design, version=choices.dxf_version)


def judge(path: Path, design: Design, choices: Choices) -> Result:
    """Return how the DXF at *path* was judged."""
    del choices
    return judged(read_dxf(path), design)


def ring_dxf(design: Design, *, version: Version = "R2000") -> bytes:
    """Return the DXF of *design*; R12 knows no light polylines and cannot say that mm are meant."""
    blank = design.blank
    with _fixed_dates():
        drawing = Drawing.new(version)
        drawing.header["$MEASUREMENT"] = METRIC
        if version != "R12":
            drawing.units = MM
        for layer, contours in {
            "OUTLINE": (blank.outline, blank.edge),
            "OPENINGS": design.through,
            "BOLTS": blank.bolts,
            **({pocket_layer(design): design.pockets} if design.pockets else {}),
            **marked(blank),
        }.items():
            drawing.layers.add(layer)
            for contour in contours:
                _draw(drawing.modelspace(), contour, layer, version)
        for name, strokes in engraved(design.engravings).items():
            layer = name.upper().replace(" ", "_")
            drawing.layers.add(layer)
            for stroke in strokes:
                _line(drawing.modelspace(), stroke, layer, version)
        text = io.StringIO()
        drawing.write(text)
    return text.getvalue().encode(drawing.output_encoding)


def pocket_layer(design: Design) -> str:
    """Return the layer of pockets: those cut from the back alone do not show from the front."""
    return "POCKETS_BACK" if design.spec.pocket.face == "back" else "POCKETS"


def marked(blank: Blank) -> dict[str, tuple[Contour, ...]]:
    """Return the circles of steps and recesses by layer: BAND, COUNTERBORE, COUNTERBORE_BACK."""
    layers = {"BAND": band_circles(blank), **recesses(blank)}
    return {
        name.upper().replace(" ", "_"): contours for name, contours in layers.items() if contours
    }


def _draw(space: Modelspace, contour: Contour, layer: str, version: Version) -> None:
    where = {"layer": layer}
    if is_circle(contour):
        space.add_circle(tuple(contour.centres[0]), float(contour.radii[0]), dxfattribs=where)
        return
    corners = [
        (float(x), float(y), float(bulge))
        for (x, y), bulge in zip(contour.points, contour.bulges, strict=True)
    ]
    draw = space.add_polyline2d if version == "R12" else space.add_lwpolyline
    draw(corners, format="xyb", close=True, dxfattribs=where)


def _line(space: Modelspace, stroke: Stroke, layer: str, version: Version) -> None:
    """Draw an open line; its last vertex has no bulge, as no piece leaves it."""
    corners = [
        (float(x), float(y), float(bulge))
        for (x, y), bulge in zip(stroke.points, [*stroke.bulges, 0.0], strict=True)
    ]
    draw = space.add_polyline2d if version == "R12" else space.add_lwpolyline
    draw(corners, format="xyb", close=False, dxfattribs={"layer": layer})


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """Let the same drawing make the same bytes: no clock and no chance in the header."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
