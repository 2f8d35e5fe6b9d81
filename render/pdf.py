"""Pages drawn as SVG put into one PDF at their size; needs the extra ``pdf``."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import font_source_sans_pro
import typst

from ._type import FACES
from .svg import clean

SOURCE = Path(__file__).with_name("pages.typ")
FACE = "Source Sans Pro"  # shipped with the extra, so that every machine sets the same lines


def pages_pdf(pages: Sequence[str], title: str) -> bytes:
    """Return the drawings *pages*, whose sizes are in mm, as one PDF."""
    widths, heights = zip(*map(_size, pages), strict=True)
    inputs = {
        "title": clean(title),
        "pages": json.dumps([page.replace(FACES, f"'{FACE}', {FACES}") for page in pages]),
        "widths": json.dumps(widths),
        "heights": json.dumps(heights),
    }
    fonts = [font_source_sans_pro.font_directory]
    pdf = typst.compile(SOURCE, sys_inputs=inputs, font_paths=fonts, ignore_system_fonts=True)
    return bytes(pdf)


def _size(page: str) -> tuple[float, float]:
    """Return width and height of *page*, mm."""
    root = ElementTree.fromstring(page)
    width, height = (float(root.get(side, "").removesuffix("mm")) for side in ("width", "height"))
    return width, height
