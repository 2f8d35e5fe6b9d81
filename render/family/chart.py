"""Small charts of a figure against tooth counts, one above the other on a common axis."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from openwork.render.drawing.pen import Pen
from openwork.render.paper.page import FAINT, HEAD, SMALL

FIRM = 0.25  # mm, the figure's own line
DOT = 0.75
LABELS = 12.0  # mm left of the axis for the numbers of the scale
STEPS = (1, 2, 2.5, 5, 10)
PAD = 0.08  # share of the height kept free above and below the dots


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """A figure by tooth count, None where the size cannot be made; ``wanted`` is drawn dashed."""

    title: str
    values: Sequence[float | None]
    wanted: Sequence[float | None] = ()


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight axis from *low* to *high* at page positions *start* to *stop*."""

    low: float
    high: float
    start: float
    stop: float

    def at(self, value: float) -> float:
        """Return the place of *value* on the page."""
        share = 0.5 if self.high == self.low else (value - self.low) / (self.high - self.low)
        return self.start + share * (self.stop - self.start)


def ticks(low: float, high: float, most: int = 4) -> list[float]:
    """Return at most *most* round values inside *low* to *high*, evenly spaced.

    >>> ticks(62.0, 98.0)
    [70, 80, 90]
    """
    width = max(high - low, 1e-9)
    power = 10 ** math.floor(math.log10(width / most))
    for step in (factor * power for factor in (*STEPS, 20, 25, 50)):
        first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
        if last - first + 1 <= most:
            return [round(k * step, 9) for k in range(first, last + 1)]
    return [low]


def charts(
    pen: Pen, at: tuple[float, float], size: tuple[float, float], teeth: Sequence[int],
    series: Sequence[Series],
) -> None:  # fmt: skip
    """Draw *series* one above the other in the box of *size*, the tooth counts below them."""
    (x, y), (wide, tall) = at, size
    across = Scale(teeth[0], teeth[-1], x + LABELS + 2, x + wide - 3)
    deep = (tall - 1.6 * SMALL) / len(series)
    for k, one in enumerate(series):
        top = y + k * deep
        pen.text((x, top + HEAD), one.title, HEAD, bold=True)
        _series(pen, across, (top + 2.1 * HEAD, top + deep - 0.9 * HEAD), one, teeth)
    shown = _shown(teeth, across)
    for count in teeth:
        place = (across.at(count), y + tall - 0.2 * SMALL)
        pen.line((place[0], y + tall - 2.1 * SMALL), (place[0], y + tall - 1.8 * SMALL), FAINT)
        if count in shown:
            pen.text(place, str(count), SMALL, middle=True)
    pen.text((x, y + tall - 0.2 * SMALL), "teeth", SMALL)


def _shown(teeth: Sequence[int], across: Scale) -> set[int]:
    """Return the counts that have room for their number on the axis."""
    shown = {teeth[0]}
    last = across.at(teeth[0])
    for count in teeth[1:]:
        if across.at(count) - last >= 2.2 * SMALL:
            shown.add(count)
            last = across.at(count)
    return shown


def _series(
    pen: Pen, across: Scale, span: tuple[float, float], series: Series, teeth: Sequence[int]
) -> None:
    known = [value for value in (*series.values, *series.wanted) if value is not None]
    if not known:
        return
    low, high = min(known), max(known)
    room = max((high - low) * PAD, 0.02 * abs(high), 1e-6)
    up = Scale(low - room, high + room, span[1], span[0])
    left, right = across.start - 2, across.stop + 3
    for value in ticks(up.low, up.high):
        pen.line((left, up.at(value)), (right, up.at(value)), FAINT)
        pen.text((left - 1, up.at(value) + 0.35 * SMALL), f"{value:g}", SMALL, end=True)
    for kind, width, dashes in ((series.wanted, 0.12, "1.2 0.8"), (series.values, FIRM, "")):
        points = [
            (across.at(count), up.at(value))
            for count, value in zip(teeth, kind, strict=False)
            if value is not None
        ]
        for start, stop in pairwise(points):
            pen.line(start, stop, width, dashes)
        if not dashes:
            for point in points:
                pen.dot(point, DOT)
    for count, made, asked in zip(teeth, series.values, series.wanted, strict=False):
        if made is None and asked is not None:
            pen.dot((across.at(count), up.at(asked)), DOT, hollow=0.15)
