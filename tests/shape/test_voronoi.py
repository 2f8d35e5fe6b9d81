"""The Voronoi diagram beside that of a general library, which makes it by Qhull."""

import numpy as np
import pytest
from scipy.spatial import Voronoi

from openwork.shape.contour import Complex, as_complex, as_points
from openwork.shape.gauging.voronoi import Diagram, voronoi

NIL = 1e-9  # mm: a shorter ridge is where more than three points lie on one circle


def ours(points: Complex) -> dict[tuple[int, int], float]:
    found: Diagram = voronoi(points)
    ends = found.vertices[found.ends]
    long = np.abs(ends[:, 0] - ends[:, 1])
    return _told(np.column_stack([found.first, found.second]), long)


def theirs(points: Complex) -> dict[tuple[int, int], float]:
    found = Voronoi(as_points(points))
    ends = np.array(found.ridge_vertices)
    finite = (ends >= 0).all(axis=1)
    vertices = as_complex(found.vertices)
    long = np.abs(vertices[ends[:, 0]] - vertices[ends[:, 1]])
    return _told(found.ridge_points[finite], long[finite])


def _told(pairs: np.ndarray, long: np.ndarray) -> dict[tuple[int, int], float]:
    return {
        (min(a, b), max(a, b)): one
        for (a, b), one in zip(pairs.tolist(), long.tolist(), strict=True)
        if one > NIL
    }


def scattered() -> Complex:
    luck = np.random.default_rng(3)
    return luck.uniform(-50, 50, 400) + 1j * luck.uniform(-50, 50, 400)


def on_circles() -> Complex:
    """Points round five holes of one size, as samples of openings lie."""
    round_ = 4 * np.exp(2j * np.pi * np.arange(24) / 24)
    return np.asarray((60 * np.exp(2j * np.pi * np.arange(5) / 5)[:, None] + round_).ravel())


@pytest.mark.parametrize("points", [scattered(), on_circles()], ids=["scattered", "circles"])
def test_ridges_are_those_of_a_general_library(points: Complex) -> None:
    found, reference = ours(points), theirs(points)
    assert found.keys() == reference.keys()
    assert list(found.values()) == pytest.approx([reference[pair] for pair in found], rel=1e-6)


def test_each_ridge_is_midway_between_its_two_points() -> None:
    points = scattered()
    found = voronoi(points)
    ends = found.vertices[found.ends]
    for nearest in (found.first, found.second):
        for end in ends.T:
            apart = np.abs(points[None, :] - end[:, None])
            assert np.abs(end - points[nearest]) == pytest.approx(apart.min(axis=1))


def test_points_on_one_line_have_no_ridge_that_ends() -> None:
    found = voronoi(np.arange(5.0).astype(np.complex128))
    assert len(found.first) == 0
