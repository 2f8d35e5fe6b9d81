"""The DXF, read by ezdxf's recovering reader, its audit, and its own flattening of bulges."""

import io
import math
from typing import Any

import numpy as np
import pytest
from ezdxf import recover
from ezdxf.math import bulge_to_arc

from openwork.measure.figures import Figures
from openwork.render.shop.dxf import ring_dxf
from openwork.render.shop.formats import VERSIONS
from openwork.ring import Design
from openwork.shape.contour import area, circle, is_circle

CODES = {  # Autodesk, DXF Reference, $ACADVER
    "R12": "AC1009", "R2000": "AC1015", "R2004": "AC1018", "R2007": "AC1021",
    "R2010": "AC1024", "R2013": "AC1027", "R2018": "AC1032",
}  # fmt: skip


def read(data: bytes) -> Any:
    drawing, audit = recover.read(io.BytesIO(data))
    assert not audit.errors
    assert not audit.fixes
    return drawing


def flat_area(entity: Any) -> float:
    """Return the area, the bulges turned into arcs by ezdxf."""
    if entity.dxftype() == "CIRCLE":
        return float(math.pi * entity.dxf.radius**2)
    corners = list(
        entity.get_points("xyb")
        if entity.dxftype() == "LWPOLYLINE"
        else ((*one.dxf.location.vec2, one.dxf.bulge) for one in entity.vertices)
    )
    points = []
    for (x, y, bulge), (u, v, _) in zip(corners, corners[1:] + corners[:1], strict=True):
        points.append((x, y))
        if bulge:
            (cx, cy), first, last, radius = bulge_to_arc((x, y), (u, v), bulge)
            angle = np.linspace(first, first + (last - first) % math.tau, 100)[1:-1]
            arc = radius * np.column_stack([np.cos(angle), np.sin(angle)]) + (cx, cy)
            points += arc.tolist() if bulge > 0 else arc[::-1].tolist()
    x, y = np.array(points).T
    return float((x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2)


@pytest.mark.parametrize("version", VERSIONS)
def test_every_version_is_sound_and_the_same_each_time(
    swept: tuple[Design, Figures], version: Any
) -> None:
    data = ring_dxf(swept[0], version=version)
    assert data == ring_dxf(swept[0], version=version)
    assert read(data).dxfversion == CODES[version]


def test_units_are_mm_and_metric(swept: tuple[Design, Figures]) -> None:
    drawing = read(ring_dxf(swept[0]))
    assert drawing.dxfversion == "AC1015"
    assert (drawing.header["$INSUNITS"], drawing.header["$MEASUREMENT"]) == (4, 1)


@pytest.mark.parametrize("version", ["R12", "R2000"])
def test_model_space_has_closed_contours_and_circles_only(
    ring: tuple[Design, Figures], version: Any
) -> None:
    design = ring[0]
    drawing = read(ring_dxf(design, version=version))
    kind = "POLYLINE" if version == "R12" else "LWPOLYLINE"
    layers = {
        "OUTLINE": (design.blank.outline, design.blank.edge),
        "OPENINGS": design.openings,
        "BOLTS": design.blank.bolts,
        "BAND": (circle(design.blank.shroud),),
    }
    for name, contours in layers.items():
        found = [one for one in drawing.modelspace() if one.dxf.layer == name]
        kinds = ["CIRCLE" if is_circle(one) else kind for one in contours]
        assert [one.dxftype() for one in found] == kinds
        assert all(one.is_closed for one in found if one.dxftype() != "CIRCLE")
        for entity, contour in zip(found, contours, strict=True):
            assert flat_area(entity) == pytest.approx(area(contour), rel=1e-4)
    assert len(drawing.modelspace()) == sum(map(len, layers.values()))
    assert all(len(layout) == 0 for layout in drawing.layouts if layout.name != "Model")
