"""The outline drawing as a file for the shop."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from openwork.render.accept.acceptance import Result, judged
from openwork.render.accept.read_svg import read_svg
from openwork.render.ring.outline import ring_svg

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.render.shop.formats import Choices
    from openwork.ring import Design


def make(design: Design, figures: Figures, choices: Choices) -> bytes:
    """Return the outline of *design* as SVG."""
    del choices
    return ring_svg(design, figures).encode()


def judge(path: Path, design: Design, choices: Choices) -> Result:
    """Return how the SVG at *path* was judged."""
    del choices
    return judged(read_svg(path), design)
