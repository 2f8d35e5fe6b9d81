"""Pages drawn as SVG put into one PDF at their size; needs the extra ``pdf``."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

from openwork.render.drawing.canvas import clean
from openwork.render.drawing.type import in_shipped_face
from openwork.render.paper.typeset import typeset

SOURCE = Path(__file__).with_name("pages.typ")


def pages_pdf(pages: Sequence[str], title: str) -> bytes:
    """Return the drawings *pages*, whose sizes are in mm, as one PDF."""
    widths, heights = zip(*map(_size, pages), strict=True)
    inputs = {
        "title": clean(title),
        "pages": json.dumps([*map(in_shipped_face, pages)]),
        "widths": json.dumps(widths),
        "heights": json.dumps(heights),
    }
    return typeset(SOURCE, inputs)


def _size(page: str) -> tuple[float, float]:
    """Return width and height of *page*, mm."""
    root = ElementTree.fromstring(page)
    width, height = (float(root.get(side, "").removesuffix("mm")) for side in ("width", "height"))
    return width, height
