"""How many rows of cells the web of another size takes."""

from __future__ import annotations

import dataclasses
import math

from openwork.fill.site import Site
from openwork.measure.cell import ROWS, column_count, row_count, row_height
from openwork.ring import Design


def row_choices(look: Design, place: Site) -> list[int]:
    """Return row counts for *place*, those that keep the cells of *look* in proportion first.

    Without columns round the ring the height of a row, mm, is kept instead. Nothing where the
    pattern of *look* does not choose its rows to suit the web.
    """
    rows = row_count(look.pattern)
    field = next((one for one in dataclasses.fields(look.pattern) if one.name == ROWS), None)
    if rows is None or field is None or not field.metadata["suited"]:
        return []
    height = row_height if column_count(look.pattern) is not None else _depth
    wanted = height(look.site, rows)
    counts = range(field.metadata["low"], field.metadata["high"] + 1)
    return sorted(counts, key=lambda count: abs(math.log(height(place, count) / wanted)))


def _depth(site: Site, rows: int) -> float:
    return (site.outer - site.inner) / rows
