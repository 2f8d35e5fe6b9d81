"""Bars that compare one ring in every material, on one page: a row each, a scale a column.

The ring's own material is black, the others grey; every scale begins at nothing. A dash stands
where no value is published or known. The sources stand below.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from openwork.explore.alloys import cost_indices
from openwork.render.drawing.canvas import written
from openwork.render.drawing.pen import Pen
from openwork.render.drawing.type import shortened, text_width
from openwork.render.paper.common import spec_line
from openwork.render.paper.frame import FOOT, MARGIN, Frame
from openwork.render.paper.frame import HEAD as TOP
from openwork.render.paper.layout import PAPERS, Grid
from openwork.render.paper.page import HEAD, SMALL, foot, head, page
from openwork.spec.spec import to_toml
from openwork.strength.endurance import RIGS

if TYPE_CHECKING:
    from openwork.explore.alloys import Alloy
    from openwork.spec.spec import Spec

NAME = 26.0  # mm for the name of a material
BETWEEN = 6.0  # mm between two columns
BAR = 4.0  # mm, height of a bar
OWN, OTHER = "#000", "#a8a8a8"
VARIED = ("ring.material",)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A figure of the materials, None where it is not known; ``limit`` is drawn dashed."""

    title: str
    unit: str
    of: Callable[[Alloy], float | None]
    form: str = "g"
    limit: float = 0.0


COLUMNS = (
    Column(title="mass", unit="g", of=lambda one: one.mass, form=".1f"),
    Column(title="yield", unit="MPa", of=lambda one: one.material.yield_strength or None),
    Column(title="ultimate", unit="MPa", of=lambda one: one.material.ultimate or None),
    Column(title="fatigue", unit="MPa", of=lambda one: one.material.fatigue or None),
    Column(title="static safety", unit="", of=lambda one: one.static_safety, limit=1.0, form=".2f"),
    Column(title="fatigue safety", unit="", of=lambda one: one.fatigue_safety, limit=1.0,
           form=".2f"),
)  # fmt: skip


def alloys_svg(spec: Spec, found: Sequence[Alloy], *, paper: str = "A4") -> str:
    """Return the page that compares *found*, the ring of *spec* in every material."""
    frame = Frame(paper=PAPERS[paper], grid=Grid(1, 1), words=0.0)
    drawing = page(frame, title=spec.title, recipe=to_toml(spec))
    pen = Pen(drawing, drawing)
    line = f"one ring in every material, {spec.pattern.name}, {spec_line(spec, VARIED)}"
    head(pen.inside("head"), frame, title=spec.title, line=line)
    bottom = frame.bottom - FOOT - 2
    top = bottom - 1.4 * SMALL * (len(found) + 1)
    _sources(pen.inside("sources"), (MARGIN, top), frame.right, found)
    columns = _columns(found)
    start = MARGIN + TOP + 2
    step = (top - 5 - start - 3 * HEAD) / len(found)
    wide = (frame.right - MARGIN - NAME) / len(columns) - BETWEEN
    rows = [start + 3 * HEAD + (k + 0.5) * step for k in range(len(found))]
    names = pen.inside("materials")
    for one, y in zip(found, rows, strict=True):
        names.text((MARGIN, y + 0.36 * HEAD), one.material.name, HEAD, bold=one.own)
    for k, column in enumerate(columns):
        x = MARGIN + NAME + BETWEEN + k * (wide + BETWEEN)
        group = pen.inside(column.title.replace(" ", "-"))
        group.text((x, start + HEAD), column.title, HEAD, bold=True)
        group.text((x, start + HEAD + 1.25 * SMALL), column.unit, SMALL)
        _bars(group, (x, wide), rows, step, found, column)
    foot(pen.inside("foot"), frame, reduction=0.0, key=_key(spec))
    return written(drawing)


def _columns(found: Sequence[Alloy]) -> tuple[Column, ...]:
    costs = cost_indices(found)
    if not costs:
        return COLUMNS
    price = partial(Column, title="cost index", unit="", form=".0f")
    return (*COLUMNS, price(of=lambda one: costs.get(one.material.name)))


def _bars(
    pen: Pen,
    across: tuple[float, float],
    rows: Sequence[float],
    step: float,
    found: Sequence[Alloy],
    column: Column,
) -> None:
    """Draw a bar for each of *found* on its row, the values in a column behind them."""
    x, wide = across
    values = [column.of(one) for one in found]
    known = [value for value in values if value is not None]
    longest = max(known, default=1.0)
    texts = ["–" if value is None else f"{value:{column.form}}" for value in values]
    room = wide - max(text_width(text, SMALL) for text in texts) - 1.2
    top, bottom = rows[0] - step / 2, rows[-1] + step / 2
    pen.line((x, top), (x, bottom), 0.12)
    if 0 < column.limit <= longest:
        limit = x + room * column.limit / longest
        pen.line((limit, top), (limit, bottom), 0.12, "1.2 0.8")
        pen.text((limit, top - 0.6), f"{column.limit:g}", SMALL, middle=True)
    for one, value, text, y in zip(found, values, texts, rows, strict=True):
        length = 0.0 if value is None else room * value / longest
        if length:
            pen.block((x, y - BAR / 2), (length, BAR), OWN if one.own else OTHER)
        pen.text((x + wide, y + 0.36 * SMALL), text, SMALL, bold=one.own, end=True)


def _sources(pen: Pen, at: tuple[float, float], right: float, found: Sequence[Alloy]) -> None:
    x, y = at
    pen.text((x, y + HEAD), "sources of the values", HEAD, bold=True)
    for k, one in enumerate(found, start=1):
        base = y + HEAD + 1.4 * SMALL * k
        cycles = one.material.fatigue_cycles
        fatigue = f"; fatigue at {cycles:.0e} cycles, reversed" if cycles else ""
        fatigue = fatigue.replace("e+0", "e")
        pen.text((x, base), one.material.name, SMALL, bold=one.own)
        text = f"{one.material.density * 1000:.2f} g/cm3; {one.material.source}{fatigue}"
        pen.text((x + NAME + BETWEEN, base), shortened(text, right - x - NAME - BETWEEN, SMALL),
                 SMALL)  # fmt: skip


def _key(spec: Spec) -> str:
    cost = ""
    if spec.prices.by_name:
        cost = " Cost index: the metal that stays in the ring by your prices, its own 100."
    load = spec.load
    return (
        f"Typical values, not least ones. Safety: what the metal takes over the stress at "
        f"{load.force:g} N once, or at {RIGS[load.rig].force:g} N on the rig, likely, "
        f"{load.surface} as on aluminium, {load.survival:g} % surviving.{cost}"
    )
