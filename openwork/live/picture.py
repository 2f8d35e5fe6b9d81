"""A ring as the page draws it: path data of one sector, of the blank, and its readings."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from functools import lru_cache

from openwork.explore.mass.begun import least_rib
from openwork.live.wish import Data
from openwork.measure.figures import mass
from openwork.part.blank import Blank
from openwork.render.drawing.path import compact_path, compact_strokes
from openwork.render.ring.sunk import counterbores
from openwork.render.ring.tones import tones
from openwork.ring import Design
from openwork.shape.contour import Contour
from openwork.shape.gauging.integrals import integrals
from openwork.tables.finish import Look

UNIT = 0.01  # mm of the wire: a pixel of a wide screen is 0.1 mm of a ring


def picture(ring: Design) -> Data:
    """Return *ring* as plain values: what is repeated round it once, what is not whole."""
    spec, (through, deep) = ring.spec, ring.sector_cuts
    return {
        "blank": _outline(ring.blank),
        "openings": compact_path(through, UNIT),
        "fold": ring.fold,
        "tip": round(ring.blank.tip_diameter / 2, 2),
        "count": len(through) * ring.fold,
        "mass": round(mass(ring), 3),
        "share": round(1 - _area(through) * ring.fold / _web(ring.blank), 4),
        "least": least_rib(spec),
        "turned": spec.web.rib,
        "chosen": dataclasses.asdict(ring.pattern),
        "bevel": sum(spec.web.bevels) / 2,
        "tones": _tones(spec.look.finish),
        **_sunk(ring, deep),
    }


def _sunk(ring: Design, deep: Sequence[Contour]) -> Data:
    """Return what is sunk into the front, where there is such: pockets, counterbores, marks."""
    front = deep if "front" in ring.spec.pocket.faces else ()
    floors, _ = counterbores(ring)
    marks = [
        [round(one.line, 3), compact_strokes(one.strokes, UNIT)]
        for one in ring.engravings
        if one.face == "front"
    ]
    found = {
        "pockets": compact_path(front, UNIT),
        "deep": len(deep) * ring.fold,
        "floors": compact_path(floors, UNIT),
        "marks": marks,
    }
    return {key: value for key, value in found.items() if value}


def _area(contours: Sequence[Contour]) -> float:
    return float(integrals(contours).areas.sum())


@lru_cache(maxsize=16)
def _outline(blank: Blank) -> str:
    """Return the blank as path data."""
    return compact_path((blank.outline, *blank.holes), UNIT)


@lru_cache(maxsize=16)
def _web(blank: Blank) -> float:
    """Return the area, mm2, between inner edge and tooth roots."""
    return math.pi * blank.diameters.root**2 / 4 - _area(blank.holes)


@lru_cache(maxsize=16)
def _tones(finish: str) -> list[str]:
    """Return the colours of the plate, of its bevels in the shade, of floors and of lines."""
    found = tones(Look(finish=finish))
    return [found.plate[0], found.facets[2], found.floor, found.line]
