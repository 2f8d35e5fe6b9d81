"""One page that goes with the files: the ring seen from the front, a section, all a shop asks.

Needs the extra ``pdf``.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from openwork.part.clearance import chain_box
from openwork.part.marks import band_circles, recesses
from openwork.render.drawing.canvas import canvas, clean, written
from openwork.render.drawing.path import exact_path, number
from openwork.render.drawing.recipe import design_recipe
from openwork.render.paper.typeset import typeset
from openwork.render.ring.outline import engraved_lines, half_width
from openwork.render.shop.facts import cautions, facts
from openwork.render.shop.section import section
from openwork.tables.caution import CAUTION

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.ring import Design

SOURCE = Path(__file__).with_name("dossier.typ")
METAL, CUT = "#ececec", "#c4c4c4"
LINE = 0.25  # mm of the ring
WIDE = 180.0  # mm of the section on the page
MOST = 4  # times the section is enlarged at most
ROOM = 2.0  # mm round the section
OTHER_ALPHABETS = 0x0530  # the first character beyond Latin, Greek and Cyrillic


def dossier_pdf(design: Design, figures: Figures, files: Mapping[str, bytes]) -> bytes:
    """Return the page of *design* as PDF; *files* go with it, by name."""
    scale, drawing = _section(design)
    data = {
        "title": design.spec.title,
        "rows": [list(row) for row in rows(design, figures)],
        "files": [[name, f"{len(one)}", hashlib.sha256(one).hexdigest()]
                  for name, one in files.items()],
        "cautions": [*cautions(design), CAUTION],
        "scale": f"{scale:g} : 1",
        "beside": _beside(design),
        "wide": WIDE,
    }  # fmt: skip
    inputs = {"data": json.dumps(data), "ring": _front(design), "section": drawing}
    foreign = max(map(ord, design.spec.title), default=0) >= OTHER_ALPHABETS
    return typeset(SOURCE, inputs, machine_faces=foreign)


def rows(design: Design, figures: Figures) -> Iterator[tuple[str, str]]:
    """Yield what a shop asks, and the answer in words."""
    found: Any = facts(design, figures)
    teeth, thick, holes = found["teeth"], found["thickness"], found["bolt_holes"]
    least = found["material_least"]
    warranted = f", plate at least {least['ultimate']:g} / {least['yield']:g} MPa" if least else ""
    yield "Face seen", "front: z up, the drive side"
    yield "Material", found["material"] + warranted
    yield "Mass", f"{found['mass']:.1f} g"
    yield (
        "Overall",
        f"diameter {figures.tip_diameter:.2f}, {found['overall']['thickness']:.2f} thick",
    )
    yield "Teeth", f"{teeth['count']}, chain {teeth['chain']}, {teeth['form']}"
    yield "Root, tip", f"{teeth['root_diameter']:.3f}, {teeth['tip_diameter']:.3f}"
    pins = teeth["over_pins"]
    yield "Over pins", f"{pins['measure']:.3f} with pins of {pins['pin']:g}"
    yield "Tooth band", _band(teeth, thick)
    yield "Tooth sides", _sides(teeth["sides"])
    yield "Plate, offset", f"{thick['plate']:g}, band {thick['offset']:+g} towards the front"
    yield "Bolt holes", f"{holes['count']} on {holes['circle']:g}{_angles(design)}, {_holes(holes)}"
    edges = found["edges"]
    given = {"inner edge": "bore", "plate step": "step", "teeth": "teeth", "bolts": "bolts"}
    broken = [f"{name} {edges[key]:g}" for name, key in given.items() if edges[key]]
    broken += [f"openings {words}" for words in [design.spec.web.bevel_words] if words]
    yield "Edges, 45°", ", ".join(broken) or "as cut"
    if sunk := found["pockets"]:
        deep = f"{sunk['depth']:g} deep from {' and '.join(sunk['faces'])}"
        round_ = f", radius {sunk['floor_radius']:g}" if sunk["floor_radius"] else ""
        yield "Pockets", f"{sunk['count']}, floor {sunk['floor']:g}, {deep}{round_}"
    finish = found["finish"]
    yield "Finish", f"{finish['surface']}, {finish['colour']}, grows {finish['growth']:g} a face"
    cutter = found["cutter"]
    radius, deep = cutter["least_inside_radius"], cutter["depth_to_diameter"]
    reached = f"{radius:.2f}, {deep:.1f} diameters deep" if figures.openings else "no openings"
    yield "Least inside radius", reached
    yield "Tolerances", found["tolerance"]
    for mark in found["marks"]:
        yield f"Mark, {mark['face']}", _mark(mark)


def _mark(mark: Any) -> str:
    deep = f"{mark['depth']:g} deep" if mark["depth"] else "by laser"
    return f"{mark['text']}: {mark['height']:g} high, line {mark['line']:g}, {deep}"


def _band(teeth: Any, thick: Any) -> str:
    across = ", ".join(f"{one:.2f}" for one in thick["band_diameter"])
    steps = f", begins at diameter {across}" if across else ""
    if teeth["wide"] is not None:
        return f"{teeth['narrow']:.3f} narrow, {teeth['wide']:.3f} wide by turns{steps}"
    return f"{thick['tooth_band']:.3f} thick{steps}"


def _sides(sides: Any) -> str:
    if isinstance(sides, str):
        return sides
    how = f"radius {sides['radius']:g}" if "radius" in sides else f"{sides['angle']:.1f} degrees"
    begins = sides["begin_at_diameter"]
    return f"{how} from diameter {begins:.2f}, {sides['relief_at_tip']:.3f} off at the tip"


def _angles(design: Design) -> str:
    """Return where the bolts lie, unless the first is on +x and all are evenly spaced."""
    mount = design.blank.mount
    if not mount.angles and not mount.turn:
        return ""
    return f" at {', '.join(f'{math.degrees(one) % 360:.4g}' for one in mount.bolt_angles)}°"


def _holes(holes: Any) -> str:
    if "holes" not in holes:
        return _hole(holes, holes["class"])
    return "; ".join(
        f"{k}: {_hole(one, holes['class'])}" for k, one in enumerate(holes["holes"], start=1)
    )


def _hole(hole: Any, grade: str) -> str:
    words = hole["thread"] or f"{hole['diameter']:g} {grade}"
    for kind in ("counterbore", "countersink"):
        if one := hole[kind]:
            deep = f" x {one['depth']:g}" if "depth" in one else f", {one['angle']:g} degrees"
            words += f", {kind} {one['diameter']:g}{deep} from the {one['face']}"
    return words


def _front(design: Design) -> str:
    """Return the ring as the front shows it, with its circles of steps and recesses."""
    half, blank = half_width(design), design.blank
    drawing = canvas(2 * half, 2 * half, title=design.spec.title, recipe=design_recipe(design))
    contours = (blank.outline, blank.edge, *blank.bolts, *design.through)
    pen = {"stroke": "#000", "stroke_width": LINE}
    data = "".join(exact_path(one, half) for one in contours)
    drawing.add(drawing.path(data, fill=METAL, fill_rule="evenodd", **pen))
    sunk = [rim for name, rims in recesses(blank).items() for rim in rims if "back" not in name]
    seen = design.pockets if "front" in design.spec.pocket.faces else ()
    circles = "".join(exact_path(one, half) for one in (*band_circles(blank), *sunk, *seen))
    if circles:
        drawing.add(drawing.path(circles, fill="none", **pen))
    drawing.add(engraved_lines(drawing, design, half))
    return clean(written(drawing))


def _beside(design: Design) -> str:
    """Return what the section shows beside the ring."""
    lines = {"arm": design.spec.clearance.arm, "stay": design.spec.clearance.stay}
    bold = " and ".join(f"the {name}" for name, line in lines.items() if line)
    return f"dashed the chain, bold {bold} as given" if bold else "dashed the chain"


def _section(design: Design) -> tuple[float, str]:
    """Return the scale of the section, and its drawing: radius to the right, front up."""
    outlines = section(design)
    beside = design.spec.clearance
    lines = [line for line in (beside.arm, beside.stay) if line]
    x0, y0, x1, y1 = chain_box(design.blank).bounds
    chain = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    points = [point for one in (*outlines, *lines, chain) for point in one]
    left, right = min(r for r, _ in points), max(r for r, _ in points)
    low, high = min(z for _, z in points), max(z for _, z in points)
    scale = min(MOST, int((WIDE - 2 * ROOM) / (right - left)))
    size = scale * (right - left) + 2 * ROOM, scale * (high - low) + 2 * ROOM
    drawing = canvas(*size, title=design.spec.title, recipe=design_recipe(design))

    def path(outline: Sequence[tuple[float, float]], end: str = "Z") -> str:
        corners = [
            f"{number(ROOM + scale * (r - left))},{number(ROOM + scale * (high - z))}"
            for r, z in outline
        ]
        return f"M{'L'.join(corners)}{end}"

    for outline in outlines:
        drawing.add(drawing.path(path(outline), fill=CUT, stroke="#000", stroke_width=LINE))
    dashed = {"fill": "none", "stroke": "#000", "stroke_width": LINE / 2}
    drawing.add(drawing.path(path(chain), stroke_dasharray="1.6,0.8", **dashed))
    for line in lines:
        drawing.add(drawing.path(path(line, ""), fill="none", stroke="#000", stroke_width=2 * LINE))
    return scale, clean(written(drawing))
