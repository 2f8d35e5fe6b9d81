"""The figures of a design: what it weighs, what stays between its openings, how it looks.

Areas and masses are exact integrals over the contours; ribs and radii are measured on the
finished outline by code that does not know how it was made.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from openwork.measure.defects import DEFECTS, defects
from openwork.measure.looks import looks
from openwork.measure.margins import margins
from openwork.part.edges import chamfered
from openwork.part.zones import volume
from openwork.ring import Design
from openwork.shape.contour import Contour, Floats, area, length
from openwork.shape.gauging import gauge
from openwork.shape.gauging.integrals import Integrals, integrals
from openwork.tables.figure import Figure, declared, figure
from openwork.tables.plain import plain

SAME_SIZE = 0.05  # share of the area within which two openings count as one size


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """All figures of a design but its strength; each is declared once, in its field."""

    teeth: int = figure("", "number of teeth")
    pitch_diameter: float = figure("mm", "diameter of the pitch circle")
    root_diameter: float = figure("mm", "diameter under the rollers")
    tip_diameter: float = figure("mm", "diameter over the teeth")
    area: float = figure("mm2", "metal of the face, teeth included")
    solid_share: float = figure(
        "1",
        "metal left of the blank between inner edge and tooth roots",
        percent=True,
        short="share",
    )
    mass: float = figure(
        "g", "mass: zones of thickness, sides, bevels, chamfers and recesses counted", better=-1
    )
    openings: int = figure("", "number of openings")
    rib: dict[str, float] = figure(
        "mm",
        "metal between openings: least, mean, and spread (1)",
        parts={
            "least": Figure("mm", "least metal between two openings", label="least rib", better=1),
            "mean": Figure("mm", "mean width of the ribs", label="mean rib"),
            "spread": Figure(
                "1",
                "standard deviation of the widths of ribs over their mean",
                label="spread of ribs",
            ),
        },
    )
    rim_least: float = figure(
        "mm", "least solid metal between openings and tooth roots", label="least rim", better=1
    )
    hem_least: float = figure(
        "mm", "least solid metal between openings and the inner edge", label="least hem", better=1
    )
    pad_least: float = figure(
        "mm", "least solid metal round the middle of a bolt hole", label="least pad", better=1
    )
    corner_least: float = figure(
        "mm", "least inside radius of the openings", label="least inside radius", better=1
    )
    pieces: int = figure("", "pieces of metal")
    edge_length: float = figure(
        "mm", "length of all edges of the openings", label="length of edges", better=-1
    )
    balance: float = figure(
        "mm", "distance of the centre of mass from the axis", better=-1, places=3
    )
    fold: int = figure("", "order of rotational symmetry of the openings, measured")
    cell_spread: float = figure(
        "1",
        "standard deviation of the opening areas over their mean",
        label="spread of opening areas",
    )
    circularity: float = figure("1", "mean of 4 pi area over outline squared; 1 for round holes")
    handedness: float = figure("1", "lean of the look, -1 to 1; 0 for a mirrored one")
    mirror: float = figure("1", "share of the web that is the same in the best mirror line")
    edge_density: float = figure("1/mm", "edges of openings over metal of the web")
    rhythm: dict[str, float] = figure(
        "1",
        "strongest angular order and its share of the look",
        parts={
            "order": Figure("", "strongest angular order of the look"),
            "share": Figure("1", "share of that order in the look", label="share of the rhythm"),
        },
    )
    left_out: dict[str, int] = figure(
        "",
        "fragments filled with metal, and slivers dropped",
        parts={
            "filled": Figure("", "fragments filled with metal"),
            "dropped": Figure("", "slivers too narrow to cut, dropped"),
        },
    )
    defects: dict[str, int] = figure(
        "", "fragments, trimmed cells, slivers, kinks and thin ribs that are left", parts=DEFECTS
    )
    segments: int = figure("", "lines and arcs of all contours", better=-1)
    machining: dict[str, Any] = figure(
        "mm",
        "smallest cutter, length of cut, and openings counted by their area (mm2)",
        parts={
            "smallest_cutter": Figure(
                "mm",
                "diameter of the largest cutter that reaches every corner",
                label="smallest cutter",
                better=1,
            ),
            "cut_length": Figure(
                "mm",
                "length of every edge and hole, openings and blank",
                label="length of cut",
                better=-1,
            ),
        },
    )

    def as_dict(self) -> dict[str, Any]:
        """Return the figures as plain values for JSON."""
        return {key: plain(value) for key, value in dataclasses.asdict(self).items()}


def meanings() -> dict[str, Figure]:
    """Return what every figure is, by name."""
    return declared(Figures)


def figures(design: Design) -> Figures:
    """Return the figures of *design*, measured on its contours."""
    ring, openings = design.blank, design.openings
    walls = (ring.outline, *ring.holes)
    solid = margins(ring.outline, ring.edge, ring.bolts, design.sector)
    cells, edges = integrals(openings), integrals(walls)
    opened, edge_length = float(cells.areas.sum()), float(cells.lengths.sum())
    plate = float(edges.areas[0] - edges.areas[1:].sum())
    web = math.pi * ring.diameters.root**2 / 4 - float(edges.areas[1:].sum())
    ribs = gauge.rib_widths(openings, design.fold)
    seen = looks(openings, design.fold, design.site.inner, design.site.outer)
    found = defects(openings, replace(design.site, fold=design.fold))
    inside = gauge.least_inside_radius(design.sector)
    return Figures(
        teeth=ring.teeth,
        pitch_diameter=ring.diameters.pitch,
        root_diameter=ring.diameters.root,
        tip_diameter=ring.tip_diameter,
        area=plate - opened,
        solid_share=1 - opened / web,
        mass=_mass(design, opened, edge_length),
        openings=len(openings),
        rib={"least": ribs.least, "mean": ribs.mean, "spread": ribs.spread},
        rim_least=solid.rim,
        hem_least=solid.hem,
        pad_least=solid.pad,
        corner_least=inside,
        pieces=gauge.pieces(ring.outline, design.contours[1:]),
        edge_length=edge_length,
        balance=_balance(edges, cells),
        fold=symmetry(openings),
        cell_spread=seen.cell_spread,
        circularity=seen.circularity,
        handedness=seen.handedness,
        mirror=seen.mirror,
        edge_density=edge_length / (web - opened),
        rhythm={"order": seen.rhythm[0], "share": seen.rhythm[1]},
        left_out={"filled": design.filled, "dropped": design.dropped},
        defects={key: n * design.fold for key, n in found.items()},
        segments=sum(len(one) for one in (*walls, *openings)),
        machining={
            "smallest_cutter": 2 * inside,
            "cut_length": edge_length + float(edges.lengths.sum()),
            "openings_by_size": _sizes(cells.areas),
        },
    )


def mass(design: Design) -> float:
    """Return the mass of *design*, g, by exact integrals over the zones of thickness.

    A bevel of width b round an opening of area A and outline L takes, on each face, the integral
    of the opening grown by 0 to b: L b^2 / 2 + pi b^3 / 3 (Steiner's formula).
    """
    fold = design.fold
    opened = sum(area(one) for one in design.sector) * fold
    return _mass(design, opened, sum(length(one) for one in design.sector) * fold)


def _mass(design: Design, opened: float, edges: float) -> float:
    """Return the mass of *design*, g, whose openings have the area and length given."""
    ring, bevel = design.blank, design.spec.web.bevel
    holes = area(ring.edge) + sum(area(one) for one in ring.bolts)
    pierced = (holes + opened) * ring.plate
    count = len(design.openings)
    bevels = 2 * (edges * bevel**2 / 2 + count * math.pi * bevel**3 / 3)
    taken = pierced + bevels + _bored(design) + chamfered(ring, design.spec.edges)
    taken += sum(one.volume for one in design.engravings)
    return (volume(ring) - taken) * ring.material.density


def _bored(design: Design) -> float:
    """Return what recesses of the bolt holes take, mm3."""
    return sum(one.sunk for one in design.blank.mount.bolt_holes)


def _balance(edges: Integrals, cells: Integrals) -> float:
    """Return the distance of the centroid of the plate's face from the axis, mm."""
    total = edges.moments[0] - edges.moments[1:].sum() - cells.moments.sum()
    face = edges.areas[0] - edges.areas[1:].sum() - cells.areas.sum()
    return float(abs(total) / face)


def symmetry(openings: Sequence[Contour], tolerance: float = 1e-4) -> int:
    """Return the greatest number of turns of the full circle that map the openings on themselves.

    Openings are the same when centroid (mm), area and outline agree within *tolerance*.
    """
    found = integrals(openings)
    z, rest = found.centroids, np.column_stack([found.areas, found.lengths])
    for order in range(len(openings), 1, -1):
        if len(openings) % order:
            continue
        turned = z * np.exp(2j * math.pi / order)
        apart = np.abs(turned[:, None] - z[None, :])
        other = apart.argmin(axis=1)
        if apart.min(axis=1).max() < tolerance and np.allclose(rest, rest[other], atol=tolerance):
            return order
    return 1


def _sizes(areas: Floats) -> list[dict[str, float]]:
    """Return the openings counted by area, sizes within five percent together, largest first."""
    groups: list[list[float]] = []
    for one in sorted(areas.tolist(), reverse=True):
        if groups and one > groups[-1][0] * (1 - SAME_SIZE):
            groups[-1].append(one)
        else:
            groups.append([one])
    return [{"area": sum(group) / len(group), "count": len(group)} for group in groups]
