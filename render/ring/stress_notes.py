"""What stands round the stress picture: its key, what was loaded, and the scale of pedal forces."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from openwork.render.drawing.path import number
from openwork.render.drawing.pen import Pen
from openwork.render.drawing.type import wrapped
from openwork.render.ring.shade import shades
from openwork.strength.quality import off
from openwork.strength.yielding import marks

if TYPE_CHECKING:
    from openwork.shape.contour import Floats
    from openwork.strength.report import Reckoned
    from openwork.strength.result import Peak, Strength

BANDS = 8
TEXT = 3.4
EDGE = 4.5  # mm beside the words
LEADING = 1.5  # of the size of the words
NAMES = 74.0  # mm for the names of forces
VALUES = 17.0  # mm for their numbers

Force = tuple[str, float, bool]  # name, N, and whether it is of this ring


def notes_height(found: Reckoned, width: float) -> float:
    """Return the height of all that stands under the picture, *width* mm wide, mm."""
    words = _lines(found.strength, None, 1.0, width - 2 * EDGE)
    lines = len(words) + len(_forces(found.strength)) + 3
    return lines * LEADING * TEXT


def draw_key(drawing: Any, levels: Floats, left: float, *, capped: bool) -> None:
    """Draw the key: a swatch for each band, its limits beside it; *capped* if an edge is above."""
    group = drawing.add(drawing.g(id="key", font_family="sans-serif", fill="#000"))
    pen = Pen(drawing, group)
    tall, top = 2.4 * TEXT, 4 * TEXT
    pen.text((left, 2.2 * TEXT), "von Mises, MPa", TEXT, bold=True)
    for k, shade in enumerate(reversed(shades(BANDS))):
        corner = (number(left), number(top + k * tall))
        group.add(
            drawing.rect(corner, (8, number(tall)), fill=shade, stroke="#222", stroke_width=0.15)
        )
    for k, level in enumerate(levels[::-1]):
        above = " and more" if capped and k == 0 else ""
        pen.text((left + 10, top + k * tall + 0.35 * TEXT), f"{level:g}{above}", TEXT)


def draw_notes(
    drawing: Any, found: Reckoned, peak: Peak, times: float, corner: tuple[float, float]
) -> None:
    """Write what was loaded, how it is drawn and how far to trust it; *corner* is top and right."""
    top, right = corner
    style = {"font_family": "sans-serif", "fill": "#000"}
    pen = Pen(drawing, drawing.add(drawing.g(id="notes", **style)))
    lines = _lines(found.strength, peak, times, right - 2 * EDGE)
    for k, line in enumerate(lines):
        pen.text((EDGE, top + (k + 0.5) * LEADING * TEXT), line, TEXT)
    pen = Pen(drawing, drawing.add(drawing.g(id="forces", **style)))
    _scale(pen, _forces(found.strength), top + (len(lines) + 1) * LEADING * TEXT, right - EDGE)


def _lines(figures: Strength, peak: Peak | None, times: float, wide: float) -> list[str]:
    """Return the words, broken to *wide* mm."""
    load = figures.load
    chain, support = (load.wear, "alone") if peak is None else (peak.chain, peak.support)
    said_of = (
        f"{load.force:g} N on a crank of {load.crank:g} mm: {figures.torque:.0f} N m, chain pull "
        f"{figures.pull:.0f} N. Shown: {chain} chain, ring {support}, worst position.",
        f"Displacement drawn {times:g} times, the ring at rest in grey. Arrows: forces of the "
        "rollers. Dashed: bolt heads. Circle: hottest edge.",
        f"Mesh of the {figures.quality} grade: stress {off(figures.stress_band)}. Linear: "
        "above yield a stress only says that it yields.",
        *figures.notes,
    )
    return [line for words in said_of for line in wrapped(words, wide, TEXT)]


def _forces(figures: Strength) -> list[Force]:
    """Return the forces on a pedal worth setting side by side, the ring's own first."""
    own: list[Force] = []
    if figures.stress is not None:
        for chain, first in (
            ("new", figures.stress.yield_new),
            ("worn-in", figures.stress.yield_worn),
        ):
            if first is not None:
                own.append((f"{first.part} yields, {chain} chain", first.force, True))
    own.append(("first joint slips on its bolt", figures.bolted.slip, True))
    beside = marks(figures.load.crank)
    return own + [(f"{mark.name} ({mark.short})", mark.force, False) for mark in beside]


def _scale(pen: Pen, forces: Sequence[Force], top: float, right: float) -> None:
    """Draw *forces* as bars on one scale, those of the ring bold."""
    pen.text((EDGE, top), "Force on the pedal, N", TEXT, bold=True)
    left = EDGE + NAMES
    per_newton = (right - left - VALUES) / max(force for _, force, _ in forces)
    for k, (name, force, own) in enumerate(forces):
        base = top + (k + 1) * LEADING * TEXT
        pen.text((EDGE, base), name, TEXT, bold=own)
        size = (number(force * per_newton), number(0.5 * TEXT))
        pen.group.add(
            pen.drawing.rect(
                (number(left), number(base - 0.6 * TEXT)), size, fill="#222" if own else "#aaa"
            )
        )
        pen.text((left + force * per_newton + 1.5, base), f"{force:.0f}", TEXT)
