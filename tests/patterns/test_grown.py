"""Grown layouts against published beams, closed forms, their mirror and other meshes."""

import numpy as np
import pytest
from scipy.sparse import coo_array, csr_array
from scipy.sparse.linalg import spsolve

from openwork.patterns._kit.chain_waves import FADES, ChainWaves, chain_wave
from openwork.patterns._kit.density import Layout, Stage, grown
from openwork.patterns._kit.web_grid import WebGrid
from openwork.ring import design
from openwork.shape.contour import Floats
from openwork.testing import made, site_spec

SITE = "48 teeth, 4 on 104"


def bilinear() -> Floats:
    """Return the stiffness of a unit square, Poisson 0.3, as Andreassen et al. 2011 number it."""
    k = np.array([1 / 2 - 0.3 / 6, 1 / 8 + 0.3 / 8, -1 / 4 - 0.3 / 12, -1 / 8 + 3 * 0.3 / 8,
                  -1 / 4 + 0.3 / 12, -1 / 8 - 0.3 / 8, 0.3 / 6, 1 / 8 - 3 * 0.3 / 8])  # fmt: skip
    order = np.array([[0, 1, 2, 3, 4, 5, 6, 7], [1, 0, 7, 6, 5, 4, 3, 2], [2, 7, 0, 5, 6, 3, 4, 1],
                      [3, 6, 5, 0, 7, 2, 1, 4], [4, 5, 6, 7, 0, 1, 2, 3], [5, 4, 3, 2, 1, 0, 7, 6],
                      [6, 3, 4, 1, 2, 7, 0, 5], [7, 2, 1, 4, 3, 6, 5, 0]])  # fmt: skip
    return np.asarray(k[order] / (1 - 0.3**2))


def beam(nelx: int, nely: int, reach: float, force: int, fixed: list[int]) -> Layout:
    """Return a rectangle of unit squares under a unit *force*; nodes run down its columns."""
    x, y = (one.ravel() for one in np.meshgrid(range(nelx), range(nely), indexing="ij"))
    corner = (nely + 1) * x + y
    nodes = np.stack([corner + 1, corner + nely + 2, corner + nely + 1, corner], axis=1)
    dofs = np.stack([2 * nodes, 2 * nodes + 1], axis=-1).reshape(-1, 8)
    size, element = 2 * (nelx + 1) * (nely + 1), bilinear()
    free = np.setdiff1d(np.arange(size), fixed)
    rows, columns = np.repeat(dofs, 8, axis=1).ravel(), np.tile(dofs, (1, 8)).ravel()

    def energies(moduli: Floats) -> Floats:
        values = np.outer(moduli, element.ravel()).ravel()
        whole = coo_array((values, (rows, columns)), shape=(size, size)).tocsc()
        load, moves = np.zeros(size), np.zeros(size)
        load[force] = -1.0
        moves[free] = spsolve(whole[free][:, free], load[free])
        return np.asarray(np.einsum("ei,ij,ej->e", moves[dofs], element, moves[dofs]))

    apart = np.hypot(x[:, None] - x, y[:, None] - y)
    cone = np.maximum(0, reach - apart)
    return Layout(np.ones(nelx * nely), csr_array(cone / cone.sum(axis=1)[:, None]), energies)


def test_the_beam_of_the_88_lines() -> None:
    """E. Andreassen et al., Struct. Multidisc. Optim. 43 (2011) 1: 233.71 with a density filter.

    60 by 20 elements, half of them solid, penalty 3, radius 2.4. The number is from memory.
    """
    nely, nelx = 20, 60
    fixed = [*range(0, 2 * (nely + 1), 2), 2 * (nelx + 1) * (nely + 1) - 1]
    result = grown(beam(nelx, nely, 2.4, 1, fixed), 0.5, [Stage(3.0, 0, 500)])
    assert result.compliance == pytest.approx(233.71, rel=0.01)


def test_a_chain_pulls_as_its_waves_do() -> None:
    """The waves of the load summed are the load; checked against a numerical integral."""
    s = np.linspace(0, np.pi, 200001)
    for order in (0, 1, 5):
        wave = np.trapezoid(FADES * np.exp(-FADES * s) * np.exp(1j * order * s), s) / (2 * np.pi)
        assert chain_wave(order)[1] == pytest.approx(wave, rel=1e-6)


def test_half_a_sector_does_the_work_of_a_whole_one() -> None:
    """Real and even with odd on one half, complex on the whole: two roads to one number."""
    site = made(SITE, "michell").site
    half = WebGrid.of(site, 3.0, mirrored=True)
    whole = WebGrid(site, half.low, half.start, half.rows, 2 * half.columns, half.height,
                    half.width, mirrored=False)  # fmt: skip
    moduli = 0.05 + np.random.default_rng(1).random((half.rows, half.columns))
    some = ChainWaves(half).energies(moduli.ravel()).reshape(moduli.shape)
    both = np.hstack([moduli, moduli[:, ::-1]])
    all_ = ChainWaves(whole).energies(both.ravel()).reshape(both.shape)
    assert all_[:, : half.columns] + all_[:, ::-1][:, : half.columns] == pytest.approx(
        2 * some, rel=1e-6
    )


def test_a_plain_ring_on_finer_elements_does_the_same_work() -> None:
    site = made(SITE, "michell").site
    works = []
    for size in (2.4, 1.2):
        grid = WebGrid.of(site, size, mirrored=True)
        moduli = np.where(grid.metal, 1.0, 1e-6).ravel()
        works.append(float(ChainWaves(grid).energies(moduli) @ moduli))
    assert works[0] == pytest.approx(works[1], rel=0.06)


def test_a_web_that_does_not_hold_keeps_the_last_good_layout() -> None:
    calls = []

    def energies(moduli: Floats) -> Floats:
        calls.append(1)
        if len(calls) > 3:
            raise ArithmeticError("the web does not hold together")
        return np.ones_like(moduli)

    layout = Layout(np.ones(4), csr_array(np.eye(4)), energies)
    result = grown(layout, 0.5, [Stage(1.0, 0, 9), Stage(3.0, 0, 9)])
    assert np.isfinite(result.smooth).all()


def test_the_turning_form_is_another_and_keeps_the_share() -> None:
    ring = design(site_spec(SITE, name="grown", form="turning", detail=0.5))
    mirrored = design(site_spec(SITE, name="grown", detail=0.5))
    assert len(ring.openings) >= ring.site.fold
    assert ring.openings != mirrored.openings
