"""The outlines along which a field passes its level."""

from __future__ import annotations

import math

import numpy as np
import shapely

from openwork.fill.fillings import Field
from openwork.fill.site import Site
from openwork.shape.contour import Points


def field_polygons(field: Field, site: Site) -> list[shapely.Polygon]:
    """Return one polygon per class of regions where *field* is above its level, islands filled.

    The field is sampled over three sectors; what touches the window's sides is a copy of
    something whole in its middle.
    """
    import contourpy  # noqa: PLC0415 (only fields need it)

    reach = (0.0, site.sector)
    margin = min(site.sector, math.pi)
    angles = _steps(reach[0] - margin, reach[1] + margin, field.spacing / site.middle)
    radii = _steps(site.inner - field.spacing, site.outer + field.spacing, field.spacing)
    height = field.value(*np.meshgrid(radii, angles, indexing="ij"))
    height[[0, -1], :] = np.minimum(height[[0, -1], :], field.level - 1e-9)
    lines = contourpy.contour_generator(
        angles, radii, height, fill_type=contourpy.FillType.OuterCode
    ).filled(field.level, math.inf)[0]
    return [
        _outline(np.asarray(line)) for line in lines if _is_mine(np.asarray(line), angles, site)
    ]


def _steps(start: float, stop: float, step: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.linspace(start, stop, math.ceil((stop - start) / step) + 1)


def _is_mine(line: Points, angles: Points, site: Site) -> bool:
    """Tell whether the outline is whole in the window and its middle lies in the sector."""
    low, high = line[:, 0].min(), line[:, 0].max()
    whole = low > angles[0] and high < angles[-1]
    return bool(whole and 0 <= (low + high) / 2 + 1e-7 < site.sector)


def _outline(line: Points) -> shapely.Polygon:
    angle, radius = line.T
    return shapely.Polygon(np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]))
