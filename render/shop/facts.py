"""What a shop asks about a part, in plain values: mm, g, MPa."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from openwork.measure.panels import panel_mass
from openwork.part.marks import band_circles
from openwork.ring import design_cautions

if TYPE_CHECKING:
    from openwork.lettering.engraving import Engraving
    from openwork.measure.figures import Figures
    from openwork.part.blank import Blank
    from openwork.part.hole import Hole
    from openwork.ring import Design

GENERAL = "ISO 2768-m"
HOLES = "H11"  # of ISO 286, for the bolt holes; common practice, no source
SEEN = "front: the face that DXF, SVG and template show, z up in the solids, the drive side"
# mm that a surface grows by: half an anodic layer of 0.015 or 0.05 mm, which stands out of the
# metal; common practice, from memory.
GROWTH = {"bare": 0.0, "anodised": 0.008, "hard-anodised": 0.025}


def facts(design: Design, figures: Figures) -> dict[str, Any]:
    """Return size, teeth, thicknesses, holes, edges, finish and tolerances of *design*."""
    ring, mount = design.blank, design.spec.mount
    low, high = ring.heights
    return {
        "title": design.spec.title,
        "units": "mm",
        "face": SEEN,
        "overall": {"diameter": ring.tip_diameter, "thickness": high - low},
        "material": ring.material.name,
        "material_least": _least(ring),
        "teeth": _teeth(ring),
        "thickness": {
            "plate": ring.plate,
            "tooth_band": ring.tooth_width,
            "band_diameter": [2 * float(one.radii[0]) for one in band_circles(ring)],
            "offset": ring.offset,
        },
        "bolt_holes": {
            "count": mount.bolts,
            "circle": mount.circle,
            "angles": [math.degrees(angle) % 360 for angle in mount.bolt_angles],
            "class": HOLES,
            **(_hole(mount.bolt_holes[0]) if not mount.holes else {}),
            **({"holes": [_hole(one) for one in mount.holes]} if mount.holes else {}),
        },
        "pockets": _pockets(design, figures),
        "edges": {
            **design.spec.edges.model_dump(),
            "openings": design.spec.web.bevel,
            "angle": 45,
        },
        "finish": {
            "surface": design.spec.load.surface,
            "colour": design.spec.look.finish,
            "growth": GROWTH[design.spec.load.surface],
        },
        "cutter": {
            "least_inside_radius": figures.corner_least,
            "depth_to_diameter": figures.machining["depth_to_cutter"],
        },
        "least_inside_radius": figures.corner_least,
        "bevel": design.spec.web.bevel,
        "tolerance": GENERAL,
        "contours": 2 + mount.bolts + figures.openings + figures.pockets,
        "pieces": figures.segments,
        "mass": figures.mass,
        "marks": [_mark(one) for one in design.engravings],
        "panels": {"openings_left_out": len(design.panelled), "mass": panel_mass(design)},
    }


def _mark(one: Engraving) -> dict[str, Any]:
    return {
        "name": one.name,
        "text": one.text,
        "height": one.height,
        "line": one.line,
        "depth": one.depth,
        "face": one.face,
        "lines": len(one.strokes),
        "length": one.length,
    }


def _pockets(design: Design, figures: Figures) -> dict[str, Any] | None:
    """Return what is cut to a floor, None where nothing is."""
    pocket = design.spec.pocket
    if not figures.pockets:
        return None
    return {
        "count": figures.pockets,
        "faces": list(pocket.faces),
        "floor": pocket.floor,
        "depth": pocket.depth(design.blank.plate),
        "floor_radius": pocket.radius,
    }


def cautions(design: Design) -> list[str]:
    """Return what this ring asks to be told beside the usual caution."""
    ring = design.blank
    found = design_cautions(design)
    if design.engravings:
        found.append("Marks are engraved along centre lines; strength leaves them out.")
    if len(ring.zones) > 1:
        found.append("The tooth band stands outside the plate: it bends under the chain's pull.")
    if design.spec.load.surface != "bare":
        found.append("An anodic layer grows outwards: holes shrink by twice its growth.")
    return found


def _least(ring: Blank) -> dict[str, float] | None:
    least = ring.material.least
    return None if least is None else {"ultimate": least[0], "yield": least[1]}


def _teeth(ring: Blank) -> dict[str, Any]:
    sides, sizes = ring.sides, ring.diameters
    turned: dict[str, Any] | str = "square"
    if sides is not None:
        tip = ring.tip_diameter / 2
        turned = {
            "begin_at_diameter": 2 * sides.start,
            "relief_at_tip": float(sides.recess(tip)),  # type: ignore[arg-type]
            **(
                {"angle": math.degrees(math.atan(sides.slope))}
                if math.isinf(sides.radius)
                else {"radius": sides.radius}
            ),
        }
    return {
        "count": ring.teeth,
        "chain": f"{ring.chain.number} ({ring.chain.trade_name})",
        "form": "ISO 606",
        "pitch_diameter": sizes.pitch,
        "root_diameter": sizes.root,
        "tip_diameter": ring.tip_diameter,
        "over_pins": {"measure": sizes.over_pins, "pin": ring.chain.roller},
        "sides": turned,
        "wide": None if ring.alternating is None else ring.wide_width,
        "narrow": None if ring.alternating is None else ring.tooth_width,
    }


def _hole(hole: Hole) -> dict[str, Any]:
    bore, sink = hole.counterbore, hole.countersink
    return {
        "diameter": hole.hole,
        "thread": f"{hole.tap}-6H, ISO 965" if hole.tap else None,
        "counterbore": None if bore is None else bore.model_dump(),
        "countersink": None if sink is None else sink.model_dump(),
    }
