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
from numpy.typing import NDArray

from openwork.fill.site import bevel_widths
from openwork.measure.defects import DEFECTS, defects
from openwork.measure.looks import looks
from openwork.measure.margins import margins
from openwork.measure.slabs import slabs
from openwork.part.edges import chamfered
from openwork.part.zones import volume
from openwork.ring import Design
from openwork.shape.contour import Contour, Floats, area
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
    )
    mass: float = figure(
        "g", "mass: zones of thickness, sides, bevels, chamfers and recesses counted", better=-1
    )
    openings: int = figure("", "number of openings that are cut through")
    pockets: int = figure("", "number of openings that keep a floor")
    floor_least: float = figure("mm", "least metal under a pocket; 0 without one", better=1)
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
        "", "what is wrong with openings, and with the metal between them", parts=DEFECTS
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
            "depth_to_cutter": Figure(
                "1",
                "depth of the deepest cut on one face over the diameter of the smallest cutter",
                label="depth to cutter",
                better=-1,
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
    deep = _deep(design)
    opened, edge_length = float(cells.areas[~deep].sum()), float(cells.lengths.sum())
    plate = float(edges.areas[0] - edges.areas[1:].sum())
    web = math.pi * ring.diameters.root**2 / 4 - float(edges.areas[1:].sum())
    ribs = gauge.rib_widths(openings, design.fold)
    place = replace(design.site, fold=design.fold)
    seen = looks(openings, place.fold, place.inner, place.outer, place.turn)
    # A panel is meant: what it leaves out is no fault of the look.
    whole = (*openings, *design.panelled)
    judged = replace(place, fold=1) if design.panelled else place
    found = {key: n * judged.fold for key, n in defects(whole, judged).items()}
    found |= {"dropped": design.dropped, **slabs(whole, judged)}
    inside = gauge.least_inside_radius(design.sector)
    return Figures(
        teeth=ring.teeth,
        pitch_diameter=ring.diameters.pitch,
        root_diameter=ring.diameters.root,
        tip_diameter=ring.tip_diameter,
        area=plate - opened,
        solid_share=1 - opened / web,
        mass=_mass(design, cells),
        openings=int((~deep).sum()),
        pockets=int(deep.sum()),
        floor_least=min((one for one in design.floors if one), default=0.0),
        rib={"least": ribs.least, "mean": ribs.mean, "spread": ribs.spread},
        rim_least=solid.rim,
        hem_least=solid.hem,
        pad_least=solid.pad,
        corner_least=inside,
        pieces=gauge.pieces(ring.outline, design.contours[1:]),
        edge_length=edge_length,
        balance=_balance(edges, cells, ~deep),
        fold=symmetry(openings),
        cell_spread=seen.cell_spread,
        circularity=seen.circularity,
        handedness=seen.handedness,
        mirror=seen.mirror,
        edge_density=edge_length / (web - opened),
        rhythm={"order": seen.rhythm[0], "share": seen.rhythm[1]},
        left_out={"filled": design.filled, "dropped": design.dropped},
        defects=found,
        segments=sum(len(one) for one in (*walls, *openings)),
        machining={
            "smallest_cutter": 2 * inside,
            "depth_to_cutter": _depth(design, inside),
            "cut_length": edge_length + float(edges.lengths.sum()),
            "openings_by_size": _sizes(cells.areas),
        },
    )


def mass(design: Design) -> float:
    """Return the mass of *design*, g, by exact integrals over the zones of thickness.

    A bevel of width b round an opening of area A and outline L takes, on each face, the integral
    of the opening grown by 0 to b: L b^2 / 2 + pi b^3 / 3 (Steiner's formula).
    """
    return _mass(design, integrals(design.sector), design.fold)


def _mass(design: Design, cells: Integrals, times: int = 1) -> float:
    """Return the mass of *design*, g, whose openings are *cells* so many *times*."""
    ring, deep = design.blank, _deep(design)[: len(cells.areas)]
    holes = area(ring.edge) + sum(area(one) for one in ring.bolts)
    cut = _pierced(design, cells, ~deep) + _pocketed(design, cells, deep)
    taken = holes * ring.plate + times * cut + _bored(design) + chamfered(ring, design.spec.edges)
    taken += sum(one.volume for one in design.engravings)
    return (volume(ring) - taken) * ring.material.density


def _deep(design: Design) -> NDArray[np.bool_]:
    """Tell which openings of *design* keep a floor."""
    if not design.floors:
        return np.zeros(len(design.openings), dtype=bool)
    return np.array(design.floors) > 0


def _pierced(design: Design, cells: Integrals, which: NDArray[np.bool_]) -> float:
    """Return what is cut right through for some of the *cells*, bevels counted, mm3."""
    opened = float(cells.areas[which].sum()) * design.blank.plate
    return opened + 2 * _bevelled(design, cells, which)


def _pocketed(design: Design, cells: Integrals, which: NDArray[np.bool_]) -> float:
    """Return what is taken out of pockets, some of the *cells*, bevels and radii counted, mm3."""
    pocket = design.spec.pocket
    deep = float(cells.areas[which].sum()) * pocket.depth(design.blank.plate)
    left = sum(pocket.filleted(length) for length in cells.lengths[which].tolist())
    return len(pocket.faces) * (deep - left + _bevelled(design, cells, which))


def _bevelled(design: Design, cells: Integrals, which: NDArray[np.bool_]) -> float:
    """Return what the bevels of some of the *cells* take on one face, mm3."""
    width = bevel_widths(cells.centroids[which], design.site, design.spec.web)
    return float((cells.lengths[which] * width**2 / 2 + math.pi * width**3 / 3).sum())


def _depth(design: Design, inside: float) -> float:
    """Return the deepest cut on one face over the diameter of a cutter of radius *inside*."""
    plate = design.blank.plate
    depth = plate if design.through else design.spec.pocket.depth(plate)
    return depth / (2 * inside) if 0 < inside < math.inf else 0.0


def _bored(design: Design) -> float:
    """Return what recesses of the bolt holes take, mm3."""
    return sum(one.sunk for one in design.blank.mount.bolt_holes)


def _balance(edges: Integrals, cells: Integrals, through: NDArray[np.bool_]) -> float:
    """Return the distance of the centroid of the metal right *through* from the axis, mm."""
    total = edges.moments[0] - edges.moments[1:].sum() - cells.moments[through].sum()
    face = edges.areas[0] - edges.areas[1:].sum() - cells.areas[through].sum()
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
