"""How force flows through an opened web: the strain energy of its metal, place by place."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import RegularGridInterpolator
from scipy.ndimage import gaussian_filter

from openwork.fill.site import Site
from openwork.shape.contour import Complex, Floats, as_complex
from openwork.strength.body import Body, body
from openwork.strength.chainpull import pressure_angle
from openwork.strength.element import gauss_points, plane_rigidity
from openwork.strength.model import Model
from openwork.strength.plane import chain_loads, factored
from openwork.strength.quality import GRADES

CELL = 1.2  # mm between the places at which the flow is told
BLUR = 1.0  # cells over which it is evened


@dataclass(frozen=True, slots=True, eq=False)
class Flow:
    """The root of the mean energy density over all positions of the chain, (r, angle).

    It goes as the stress does, N/mm2 per newton of pull but for a factor of the metal; on one
    symmetry sector drawn with a bolt on +x, near metal.
    """

    told: RegularGridInterpolator
    sector: float

    def __call__(self, z: Complex) -> Floats:
        """Return it at the points *z* (n,), mm."""
        low, high = self.told.grid[0][[0, -1]]
        radius = np.clip(np.abs(z), low, high)
        carried: Floats = self.told(np.column_stack([radius, np.angle(z) % self.sector]))
        return carried


def flow(model: Model, site: Site, *, mirrored: bool, worn: bool = False) -> Flow:
    """Return the flow of force in *model*, opened on *site*, bolt heads held.

    It is evened over the sectors, and where *mirrored* over their halves. Raises RuleError where
    the ring cannot be meshed.
    """
    ring = body(model, GRADES["search"].plane)
    loads = chain_loads(ring, pressure_angle(model.teeth, worn=worn))
    density = _density(ring, factored(ring).solve(loads))
    z = as_complex(gauss_points(ring.mesh).reshape(-1, 2)) * np.exp(-1j * site.turn)
    return _told(z, density.ravel(), (ring.slopes.areas * ring.thickness).ravel(), site, mirrored)


def _density(ring: Body, moved: Floats) -> Floats:
    """Return the mean energy density (m, 3) at the Gauss points over the columns of *moved*."""
    metal, slope = ring.model.material, ring.slopes
    nodes = ring.mesh.triangles
    u, v = moved[2 * nodes], moved[2 * nodes + 1]  # (m, 6, positions)
    strain = np.stack([slope.x @ u, slope.y @ v, slope.y @ u + slope.x @ v])
    stress = np.tensordot(plane_rigidity(metal.modulus, metal.poisson), strain, axes=1)
    mean: Floats = metal.modulus * (stress * strain).sum(axis=0).mean(axis=-1)
    return mean


def _told(z: Complex, density: Floats, volume: Floats, site: Site, mirrored: bool) -> Flow:
    """Return *density* (n,) of *volume* at *z*, evened over cells of the sector."""
    rows = max(int((site.outer - site.inner) / CELL), 3)
    columns = 2 * max(int(site.sector * site.middle / CELL / 2), 4)
    edges = np.linspace(site.inner, site.outer, rows + 1)
    step = site.sector / columns
    inside = (np.abs(z) > site.inner) & (np.abs(z) < site.outer)
    row = np.clip(np.searchsorted(edges, np.abs(z[inside])) - 1, 0, rows - 1)
    column = (np.angle(z[inside]) % site.sector // step).astype(int) % columns
    summed = np.zeros((rows, columns, 2))
    np.add.at(summed, (row, column), np.column_stack([density * volume, volume])[inside])
    if mirrored:
        summed = summed + summed[:, ::-1]
    mode = ("nearest", "wrap", "nearest")
    blur = gaussian_filter(summed, (BLUR, BLUR, 0), mode=mode)
    blur += 1e-3 * gaussian_filter(summed, (4 * BLUR, 4 * BLUR, 0), mode=mode)  # amid openings
    mean = np.sqrt(blur[..., 0] / blur[..., 1])
    round_ = np.concatenate([mean[:, -1:], mean, mean[:, :1]], axis=1)
    angles = step * (np.arange(-1, columns + 1) + 0.5)
    middles = (edges[1:] + edges[:-1]) / 2
    return Flow(RegularGridInterpolator((middles, angles), round_), site.sector)
