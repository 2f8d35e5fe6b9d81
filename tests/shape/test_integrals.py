"""Integrals of many contours at once, beside those of each and polygons of fine sampling."""

import numpy as np
import pytest
import shapely

from openwork.shape.contour import (
    Contour,
    area,
    as_complex,
    circle,
    length,
    moment,
    polygon,
    rotated,
)
from openwork.shape.gauging.integrals import integrals
from openwork.shape.gauging.samples import polygons

KITE = Contour(
    np.array([[0.0, 0.0], [4.0, 0.0], [5.0, 3.0], [1.0, 4.0]]), np.array([0.3, -0.2, 0.0, 0.6])
)
BULB = Contour(np.array([[0.0, 0.0], [1.0, 0.0]]), np.array([0.0, 3.0]))  # most of a circle
MANY = [KITE, BULB, circle(2.0, (3.0, 4.0)), rotated(KITE, 2.0)]


def test_integrals_are_those_of_each() -> None:
    found = integrals(MANY)
    assert found.areas == pytest.approx([area(one) for one in MANY], rel=1e-12)
    assert found.lengths == pytest.approx([length(one) for one in MANY], rel=1e-12)
    moments = np.column_stack([found.moments.real, found.moments.imag])
    assert moments == pytest.approx(np.array([moment(one) for one in MANY]), abs=1e-11)


def test_integrals_agree_with_fine_polygons() -> None:
    found, fine = integrals(MANY), polygons(MANY, 1e-7)
    centres = as_complex(shapely.get_coordinates(shapely.centroid(fine)))
    assert found.areas == pytest.approx(shapely.area(fine), rel=1e-6)
    assert found.lengths == pytest.approx(shapely.length(fine), rel=1e-6)
    assert found.centroids == pytest.approx(centres, abs=1e-6)


@pytest.mark.parametrize("sagitta", [1.0, 0.02, 1e-4])
def test_polygons_of_many_contours_are_those_of_each(sagitta: float) -> None:
    alone = np.array([polygon(one, sagitta=sagitta) for one in MANY])
    assert shapely.equals_exact(polygons(MANY, sagitta), alone, tolerance=1e-12).all()


def test_nothing_has_no_integrals() -> None:
    assert len(integrals([]).areas) == 0
