"""The printed prototype as STL."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from openwork.render.accept.acceptance import Result, judged
from openwork.render.accept.read_mesh import read_stl
from openwork.render.shop.printed import loosened, ring_mesh, ring_stl

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.render.shop.formats import Choices
    from openwork.ring import Design


def make(design: Design, figures: Figures, choices: Choices) -> bytes:
    """Return the mesh of *design*, its bolt holes as loose as chosen, as STL."""
    del figures
    mesh = ring_mesh(loosened(design, choices.clearance), chord=choices.chord)
    return ring_stl(mesh, design.spec.title)


def judge(path: Path, design: Design, choices: Choices) -> Result:
    """Return how the STL at *path* was judged, against the ring with its holes as loose."""
    loose = loosened(design, choices.clearance)
    return judged(read_stl(path, loose, chord=choices.chord), loose)
