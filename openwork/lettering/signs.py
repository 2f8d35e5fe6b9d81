"""Signs of the alphabet as strokes: letters with their accents put together, and their sides."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from openwork.lettering.alphabet import ACCENTS, CAPITAL, CEDILLA, OVER, SIGNS, SMALL, STENCILS
from openwork.shape.contour import Floats, as_complex
from openwork.shape.stroke import Stroke, placed, stroke_points

PIECE = re.compile(r"(L|A(?P<bulge>\S+) )?(?P<x>[-.\d]+),(?P<y>[-.\d]+)")
KEEPS = re.compile(r"((?P<from>\d) )?(?P<line>.*)")  # a stroke of a stencil
CEDILLA_MARK = "\u0327"
DOTLESS = {"i": "ı", "j": "ȷ"}
FINE = 0.01  # of the grid, between arcs and the chords that sides are measured on
LEVELS = np.linspace(-3.0, 14.0, 35)  # at which the sides of signs are measured


@dataclass(frozen=True, slots=True, eq=False)
class Sign:
    """A sign on the grid: its text, its strokes, and how far it reaches at each level.

    ``left`` and ``right`` (35,) are infinite, away from the sign, where it has nothing.
    """

    text: str
    strokes: tuple[Stroke, ...]
    left: Floats
    right: Floats

    @property
    def width(self) -> float:
        """Distance from the leftmost to the rightmost point of its strokes."""
        return float(self.right.max() - self.left.min())


@lru_cache(maxsize=512)
def sign(text: str) -> Sign | None:
    """Return the sign *text*, one character with its accents; None where there is none.

    Its strokes begin at x = 0.
    """
    parts = unicodedata.normalize("NFD", text)
    letter, marks = parts[:1], parts[1:]
    drawn = [mark for mark in marks if mark in ACCENTS]
    if letter not in SIGNS or len(drawn) > 1 or set(marks) - {*ACCENTS, CEDILLA_MARK}:
        return None
    base = _strokes(SIGNS[DOTLESS.get(letter, letter) if drawn else letter])
    middle, top = _middle(base), _top(letter)
    for mark in drawn:
        base += [placed(one, 1.0, complex(middle, top + OVER)) for one in _strokes(ACCENTS[mark])]
    if CEDILLA_MARK in marks:
        base += [placed(one, 1.0, complex(middle, 0)) for one in _strokes(CEDILLA)]
    start = min(stroke_points(one, FINE)[:, 0].min() for one in base)
    strokes = tuple(placed(one, 1.0, -start) for one in base)
    return Sign(text, strokes, *_sides(strokes))


def stencil(text: str) -> tuple[tuple[Stroke, int | None], ...]:
    """Return the strokes of a sign for cutting through, each with that which it keeps away from."""
    if text not in STENCILS:
        found = sign(text)
        return tuple((one, None) for one in found.strokes) if found else ()
    parts = [KEEPS.fullmatch(part) for part in STENCILS[text].split(";")]
    return tuple(
        (_strokes(part["line"])[0], int(part["from"]) if part["from"] else None)
        for part in parts
        if part
    )


def _strokes(text: str) -> list[Stroke]:
    """Return the strokes that a line of the alphabet says."""
    found = []
    for part in text.split(";"):
        pieces = list(PIECE.finditer(part))
        points = [(float(one["x"]), float(one["y"])) for one in pieces]
        bulges = [float(one["bulge"] or 0) for one in pieces[1:]]
        found.append(Stroke(np.array(points), np.array(bulges)))
    return found


def _middle(strokes: list[Stroke]) -> float:
    points = np.concatenate([stroke_points(one, FINE) for one in strokes])
    return float((points[:, 0].min() + points[:, 0].max()) / 2)


def _top(letter: str) -> float:
    return CAPITAL if letter.isupper() or letter in "bdfhklß" else SMALL


def _sides(strokes: tuple[Stroke, ...]) -> tuple[Floats, Floats]:
    """Return how far left and right *strokes* reach at each level, a line's width about it."""
    left, right = np.full(len(LEVELS), np.inf), np.full(len(LEVELS), -np.inf)
    half = (LEVELS[1] - LEVELS[0]) / 2
    for one in strokes:
        z = as_complex(stroke_points(one, FINE))
        steps = np.maximum(np.ceil(np.abs(np.diff(z)) / 0.1).astype(int), 1)
        for start, step, count in zip(z[:-1], np.diff(z), steps, strict=True):
            points = start + step * np.arange(count + 1) / count
            near = np.abs(points.imag[:, None] - LEVELS) <= 2 * half
            left = np.minimum(left, np.where(near, points.real[:, None], np.inf).min(axis=0))
            right = np.maximum(right, np.where(near, points.real[:, None], -np.inf).max(axis=0))
    return left, right
