"""Stress along free edges from the strain of the edge itself.

On an unloaded edge the only stress is along it, and is E times the tangential strain. It is
exact at the two Gauss points of a quadratic side (Barlow, Int. J. Numer. Methods Eng. 10 (1976)
243), and needs no averaging over elements.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_array

from openwork.shape.contour import Points
from openwork.strength.body import CLEAR_OF_BOLT, Body, near_bolts
from openwork.strength.meshing.sides import Integers
from openwork.strength.meshing.triangles import Mesh

STATIONS = np.array([-1.0, 1.0]) / np.sqrt(3)


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """Stations on free edges: ``points`` (k, 2), ``loops`` (k,), ``strain`` (k, 2 n) of (u, v)."""

    points: Points
    loops: Integers
    strain: csr_array


def tangential(mesh: Mesh, sides: Integers) -> Edges:
    """Return the stations on the *sides* (numbers of mesh.edges) and their strain operator."""
    nodes = mesh.edges[sides]
    x = mesh.nodes[nodes]
    s = STATIONS[:, None]
    along = np.hstack([s - 0.5, -2 * s, s + 0.5])
    value = np.hstack([s * (s - 1) / 2, 1 - s * s, s * (s + 1) / 2])
    tangent = along @ x  # (k, 2, 2)
    weight = along[:, :, None] * (tangent / (tangent**2).sum(axis=-1, keepdims=True))[:, :, None]
    count = 2 * len(sides)
    rows = np.repeat(np.arange(count), 6)
    columns = (np.repeat(nodes[:, None], 2, axis=1)[..., None] * 2 + np.arange(2)).ravel()
    strain = csr_array((weight.ravel(), (rows, columns)), shape=(count, 2 * len(mesh.nodes)))
    return Edges((value @ x).reshape(-1, 2), np.repeat(mesh.loops[sides], 2), strain)


def free_edges(body: Body) -> Edges:
    """Return the stations on inner edge and openings, clear of the bolts.

    Teeth and bolt holes are loaded, so are left out; so are straightened sides, whose ends are
    false corners.
    """
    mesh, model = body.mesh, body.model
    loaded = (mesh.loops == 0) | ((mesh.loops >= 2) & (mesh.loops < 2 + len(model.bolts)))
    middle = mesh.nodes[mesh.edges[:, 1]]
    bolted = near_bolts(model, middle, model.hole + CLEAR_OF_BOLT)
    return tangential(mesh, np.flatnonzero(~loaded & ~bolted & ~mesh.straight))
