"""Spots against the linear theory of diffusion-driven instability."""

import numpy as np
import pytest
from scipy.spatial import cKDTree

from openwork.fill.fillings import Cells
from openwork.patterns import spots
from openwork.patterns._kit.hole_gaps import Mirrors
from openwork.patterns._kit.voronoi import everywhere
from openwork.ring import design
from openwork.shape.contour import Floats, as_complex, as_points
from openwork.testing import SITES, site_spec

# The least ratio of spreading that makes a pattern, (d fu + gv)^2 = 4 d det (J. D. Murray,
# Mathematical Biology II, 3rd ed., section 2.3; 8.57 for the model's 0.1 and 0.9).
JACOBIAN = np.array([[0.8, 1.0], [-1.8, -1.0]])
CRITICAL = (5.6 + np.sqrt(5.6**2 - 4 * 0.64)) / 1.28


def rate(square: float, spread: float) -> float:
    """Return the growth rate of waves of the *square* of a wave number."""
    return float(np.linalg.eigvals(JACOBIAN - square * np.diag([1.0, spread])).real.max())


def grown(rows: int = 4, columns: int = 9, seed: int = 1) -> Floats:
    apart = 0.1
    return spots._grown(
        rows * apart * np.sqrt(3) / 2, columns * apart, apart, np.random.default_rng(seed)
    )


def test_the_model_is_murrays() -> None:
    assert pytest.approx(8.57, abs=0.01) == CRITICAL
    assert max(rate(k, CRITICAL - 0.05) for k in np.linspace(0, 2, 401)) < 0
    assert max(rate(k, CRITICAL + 0.05) for k in np.linspace(0, 2, 401)) > 0
    assert spots.SPREAD > CRITICAL


def test_the_fastest_wave_is_that_of_the_linear_theory() -> None:
    square = np.linspace(0.01, 1, 991)
    rates = [rate(k, spots.SPREAD) for k in square]
    assert spots.fastest() == pytest.approx(square[np.argmax(rates)], abs=2e-3)


def test_below_the_critical_ratio_nothing_grows(monkeypatch: pytest.MonkeyPatch) -> None:
    assert np.ptp(grown()) > 1
    monkeypatch.setattr(spots, "SPREAD", 7.0)
    assert np.ptp(grown()) < 1e-2


def test_spots_stand_as_near_as_asked() -> None:
    """A spot to every cell of a hexagonal lattice, side^2 sqrt(3) / 2, within a fifth."""
    found = [len(spots._peaks(grown(seed=seed))) for seed in range(6)]
    assert np.mean(found) == pytest.approx(4 * 9, rel=0.2)


def test_peaks_are_found_between_the_points_of_the_grid() -> None:
    u, v = np.meshgrid((np.arange(20) + 0.5) / 20, (np.arange(30) + 0.5) / 30, indexing="ij")
    bump = np.exp(-((u - 0.412) ** 2 + (v - 0.637) ** 2) / 0.02)
    assert spots._peaks(bump)[0] == pytest.approx([0.412, 0.637], abs=2e-3)


@pytest.mark.parametrize("name", SITES)
def test_the_cells_are_mirrored_where_the_bolts_are(name: str) -> None:
    made = design(site_spec(name, name="spots", roundness=0.0))
    proposed = made.pattern(made.site, np.random.default_rng(1))
    assert isinstance(proposed, Cells)
    corners = np.concatenate([everywhere(ring, made.site) for ring in proposed.polygons])
    z = as_complex(corners)
    tree = cKDTree(corners)
    for line in Mirrors.of(made.site).angles:
        image = np.exp(2j * line) * z.conj()
        apart = tree.query(as_points(image))[0]
        assert apart.max() < 1e-6
