"""A page drawn as SVG as a picture of dots; needs the extra ``png``."""

from __future__ import annotations

import font_source_sans_pro
import resvg_py

from openwork.render.drawing.type import SHIPPED, in_shipped_face

DOTS = 200  # an inch of paper: enough to judge a ring by, on a screen or printed


def picture_png(drawing: str, dots: int) -> bytes:
    """Return the square *drawing* of a ring as PNG, *dots* wide, on transparent ground."""
    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=drawing, dpi=DOTS, width=dots, height=dots, skip_system_fonts=True
        )
    )


def page_png(page: str) -> bytes:
    """Return the drawing *page*, whose size is in mm, as PNG on white."""
    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=in_shipped_face(page),
            dpi=DOTS,
            background="white",
            skip_system_fonts=True,
            font_dirs=[font_source_sans_pro.font_directory],
            font_family=SHIPPED,
            sans_serif_family=SHIPPED,
        )
    )
