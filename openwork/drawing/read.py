"""An SVG read as what it shows: the dark region of its page.

svgelements reads it, once the gate has let it pass; nobody else sees svgelements.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from openwork.drawing.flat import polylines
from openwork.drawing.gate import admit
from openwork.drawing.painted import filled, stroked, stroked_round
from openwork.errors import SpecError
from openwork.shape.contour import Complex

FINE = 1.25e-5  # of the page's width: chords stay as near to curves
FAR = 1e4  # page widths: what lies further out is a slip
UNREADABLE = (
    ValueError, AttributeError, IndexError, TypeError, KeyError, ZeroDivisionError, OverflowError,
    RecursionError, AssertionError, shapely.errors.GEOSException,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Page:
    """What is dark on a page of *width* and *height*, y down from its upper left corner."""

    width: float
    height: float
    dark: shapely.Geometry


def page(data: bytes, name: str) -> Page:
    """Return what the SVG *data* shows; raises SpecError, faults under *name*."""
    admit(data, name)
    try:
        with np.errstate(all="ignore"):
            found = _painted(data)
    except UNREADABLE as error:
        why = str(error) if type(error) is ValueError and "simplify" in str(error) else ""
        raise SpecError(
            f"{name}: {why or 'an outline, size or transform in it cannot be read'}"
        ) from None
    if found.dark.is_empty or not found.dark.area > 1e-9 * found.width * found.height:
        raise SpecError(f"{name}: nothing dark on its page; what is dark is cut, fill it black")
    return found


def _painted(data: bytes) -> Page:
    import svgelements  # noqa: PLC0415 (slow to import, and seldom needed)

    drawing = svgelements.SVG.parse(io.BytesIO(data), reify=False, on_error="raise", ppi=25.4)
    width, height = float(drawing.width), float(drawing.height)
    if not (0 < width < math.inf and 0 < height < math.inf):
        raise ValueError("a page without size")
    dark: shapely.Geometry = shapely.Polygon()
    for shape in drawing.elements():
        if isinstance(shape, svgelements.Shape) and _is_seen(shape):
            for region, is_dark in _regions(shape, svgelements.Path(shape), width):
                dark = dark.union(region) if is_dark else dark.difference(region)
    return Page(width, height, dark.intersection(shapely.box(0, 0, width, height)))


def _is_seen(shape: Any) -> bool:
    values = shape.values
    hidden = values.get("visibility") in ("hidden", "collapse") or values.get("display") == "none"
    return not hidden and _share(values, "opacity") > 0


def _share(values: Any, key: str) -> float:
    return float(str(values.get(key, "1")).rstrip("%") or 1)


def _regions(shape: Any, path: Any, width: float) -> Iterator[tuple[shapely.Geometry, bool]]:
    """Yield what *shape* paints, fill and then stroke, and whether it is dark."""
    m = shape.transform
    matrix = [m.a, m.c, m.b, m.d, m.e, m.f]
    scale = math.sqrt(abs(m.a * m.d - m.b * m.c))
    if not 0 < scale < math.inf:
        return
    lines = [
        (_placed(z, width, scale), closed) for z, closed in polylines(path, FINE * width / scale)
    ]
    values = shape.values
    if (colour := _colour(shape.fill, values, "fill")) is not None:
        odd = values.get("fill-rule") == "evenodd"
        region = filled([z for z, _ in lines], odd=odd)
        yield shapely.affinity.affine_transform(region, matrix), colour
    if (colour := _colour(shape.stroke, values, "stroke")) is not None:
        for z, closed in lines:
            region = _stroke(z, closed, shape)
            yield shapely.affinity.affine_transform(region, matrix), colour


def _placed(z: Complex, width: float, scale: float) -> Complex:
    """Return *z* without repeated points; raises ValueError for one out of all bounds."""
    if not np.isfinite(z).all() or np.abs(z).max(initial=0) * scale > FAR * width:
        raise ValueError("a point out of all bounds")
    return z[np.append(True, np.abs(np.diff(z)) > 0)]


def _stroke(z: Complex, closed: bool, shape: Any) -> shapely.Geometry:
    values, wide = shape.values, float(shape.stroke_width)
    join = str(values.get("stroke-linejoin", "miter"))
    limit = max(float(values.get("stroke-miterlimit", 4)), 1.0)
    if len(z) < 2 or not 0 < wide < math.inf:
        return shapely.Polygon()
    if closed and len(z) > 2:
        return stroked_round(z, wide, join, limit)
    return stroked(z, wide, str(values.get("stroke-linecap", "butt")), join, limit)


def _colour(paint: Any, values: Any, key: str) -> bool | None:
    """Return whether *paint* is dark, None where it paints nothing."""
    told = str(values.get(key, ""))
    if told.startswith("url("):
        return True
    if paint is None or paint.value is None or not paint.alpha:
        return None
    if _share(values, f"{key}-opacity") <= 0:
        return None
    # Luminance of ITU-R BT.709 of the colour as it is coded.
    light = 0.2126 * paint.red + 0.7152 * paint.green + 0.0722 * paint.blue
    return bool(light < 127.5)
