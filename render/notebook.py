"""What a notebook shows of a ring, and of a set of rings.

A ring goes in as SVG whose ids no other ring has, because all drawings of a notebook are one
document. Sheets go in as images: they share nothing with what stands beside them, and a notebook
that trusts no markup shows them all the same.
"""

from __future__ import annotations

import base64
import hashlib
import html
from collections.abc import Iterable
from typing import TYPE_CHECKING

from openwork.render.drawing.canvas import clean
from openwork.render.drawing.recipe import design_recipe
from openwork.render.family.sheet import family_svgs
from openwork.render.ring.preview import preview_svg

if TYPE_CHECKING:
    from openwork.explore.family.family import Family
    from openwork.ring import Design


def picture(design: Design) -> str:
    """Return the filled picture of *design* as an SVG element."""
    name = hashlib.sha256(design_recipe(design).encode()).hexdigest()[:12]
    return preview_svg(design, name=f"-{name}").partition("?>\n")[2]


def family_html(family: Family) -> str:
    """Return the sheets of *family* as HTML."""
    return pages_html(family_svgs(family), family.spec.title)


def pages_html(pages: Iterable[str], title: str) -> str:
    """Return the sheets *pages*, SVG each, one under the other as HTML."""
    return f"<div>{''.join(_image(page, title) for page in pages)}</div>"


def _image(page: str, title: str) -> str:
    data = base64.b64encode(page.encode()).decode()
    style = f'alt="{html.escape(clean(title))}" style="width:100%;background:#fff"'
    return f'<img {style} src="data:image/svg+xml;base64,{data}">'
