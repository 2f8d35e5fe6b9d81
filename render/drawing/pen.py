"""Text and lines on a page, in the page's own units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from openwork.render.drawing.path import number

PLACES = 3  # decimals of a mm on paper


@dataclass(frozen=True, slots=True)
class Pen:
    """Writes into one group of a drawing."""

    drawing: Any
    group: Any

    def inside(self, name: str) -> Pen:
        """Return a pen for a new group called *name* within this one."""
        return Pen(self.drawing, self.group.add(self.drawing.g(id=name)))

    def text(
        self, at: tuple[float, float], words: str, size: float, *, bold: bool = False,
        end: bool = False, middle: bool = False,
    ) -> None:  # fmt: skip
        """Set *words* from *at* on the base line, up to it where *end*, about it where *middle*."""
        if not words:
            return
        style = {"font_size": number(size, PLACES)}
        if bold:
            style["font_weight"] = "bold"
        if end or middle:
            style["text_anchor"] = "end" if end else "middle"
        self.group.add(self.drawing.text(words, _point(at), **style))

    def place(self, drawn: Any, at: tuple[float, float], factor: float) -> None:
        """Add what is *drawn* about its origin, scaled by *factor*, the origin *at* a point."""
        drawn["transform"] = f"translate({' '.join(_point(at))}) scale({number(factor, 9)})"
        self.group.add(drawn)

    def line(
        self, start: tuple[float, float], stop: tuple[float, float], width: float, dashes: str = ""
    ) -> None:
        """Draw a line."""
        pen = {"stroke": "#000", "stroke_width": number(width, PLACES)}
        if dashes:
            pen["stroke_dasharray"] = dashes
        self.group.add(self.drawing.line(_point(start), _point(stop), **pen))

    def dot(self, at: tuple[float, float], radius: float, *, hollow: float = 0.0) -> None:
        """Draw a round dot, or a ring whose line is *hollow* wide."""
        pen = {"fill": "#000"}
        if hollow:
            pen = {"fill": "#fff", "stroke": "#000", "stroke_width": number(hollow, PLACES)}
        self.group.add(self.drawing.circle(_point(at), number(radius, PLACES), **pen))

    def block(self, at: tuple[float, float], size: tuple[float, float], colour: str) -> None:
        """Fill a rectangle from its upper left corner."""
        self.group.add(self.drawing.rect(_point(at), _point(size), fill=colour))

    def box(self, at: tuple[float, float], size: tuple[float, float], width: float) -> None:
        """Draw a dashed box from its upper left corner."""
        pen = {"fill": "none", "stroke": "#000", "stroke_width": number(width, PLACES)}
        dashes = {"stroke_dasharray": "1.2 0.8"}
        self.group.add(self.drawing.rect(_point(at), _point(size), **pen, **dashes))


def _point(at: tuple[float, float]) -> tuple[str, str]:
    return number(at[0], PLACES), number(at[1], PLACES)
