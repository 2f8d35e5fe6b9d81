"""The picture of a loaded ring: bands of von Mises stress on the outline as it bends."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from contourpy import FillType, contour_generator
from scipy.interpolate import LinearNDInterpolator
from scipy.spatial import cKDTree

from openwork.render.drawing.canvas import canvas, describe, written
from openwork.render.drawing.path import number
from openwork.render.ring.shade import shades
from openwork.render.ring.stress_notes import BANDS, TEXT, draw_key, draw_notes, notes_height
from openwork.shape.contour import as_complex, as_points
from openwork.strength.chainpull import pressure_angle, tooth_forces
from openwork.strength.field import node_stress, von_mises
from openwork.strength.meaning import CAUTIONS
from openwork.strength.stress import peak_of

if TYPE_CHECKING:
    from openwork.shape.contour import Floats, Points
    from openwork.strength.loading import Case
    from openwork.strength.plane import Plane
    from openwork.strength.report import Reckoned
    from openwork.strength.result import Peak

GRID = 0.4  # mm between the places where stress is read for the bands
LOOSE = 0.03  # mm the lines between bands may leave theirs
SWING = 0.065  # of the ring's radius: how far the most displaced place is drawn from where it was
YIELDED = 1.5  # of the yield strength: above it an elastic stress says no more
ARROW = 16.0  # mm, of the largest tooth force
LEAST_ARROW = 0.06  # of the largest: smaller forces are left out
MARGIN = 9.0
KEY = 42.0  # mm beside the ring for the key


def stress_svg(found: Reckoned, *, title: str, recipe: str) -> str:
    """Return the picture of the hottest case of the ring *found*, at its worst position, mm.

    Groups: ``bands``, ``outline``, ``bolts``, ``loads``, ``hottest``, ``key``, ``notes``,
    ``forces``.
    """
    shot = _shot(found)
    half = float(np.hypot(*shot.bent.T).max()) + MARGIN + ARROW / 2
    wide = 2 * half + KEY
    height = 2 * half + notes_height(found, wide)
    drawing = canvas(wide, height, title=f"{title}: stress", recipe=recipe)
    describe(drawing, f"Von Mises stress, MPa. {CAUTIONS[0]}")
    drawing.add(drawing.rect((0, 0), ("100%", "100%"), fill="#fff"))
    mesh, plane = shot.case.plane.body.mesh, shot.case.plane
    count = mesh.loops.max() + 1
    loops = [_loop(mesh.edges[mesh.loops == k], shot.bent, half) for k in range(count)]
    _bands(drawing, loops, shot, half)
    _outline(drawing, plane, loops, half)
    _bolts(drawing, plane, half)
    _loads(drawing, shot, half)
    at = shot.bent[cKDTree(mesh.nodes).query(shot.peak.place)[1]]
    _hottest(drawing, at, f"{shot.peak.value:.0f} MPa {shot.peak.sign}", half)
    draw_key(drawing, shot.levels, 2 * half, capped=shot.peak.value > shot.levels[-1])
    draw_notes(drawing, found, shot.peak, shot.times, (2 * half, wide))
    return written(drawing)


@dataclass(frozen=True, slots=True, eq=False)
class _Shot:
    """What is shown: the case, its peak, the bent nodes and their stress between ``levels``."""

    case: Case
    peak: Peak
    bent: Points
    times: float
    stress: Floats
    levels: Floats


def _shot(found: Reckoned) -> _Shot:
    """Return the hottest case of a metal, the ring alone of a plastic."""
    figures, load = found.strength, found.strength.load
    case = found.loaded.under(load.wear)[0]
    peak = peak_of(case)
    if figures.stress is not None:
        peak = figures.stress.peak_stress
        case = next(
            one
            for one in found.loaded.cases
            if (one.chain, one.support) == (peak.chain, peak.support)
        )
    plane, model = case.plane, case.plane.body.model
    position = int(np.argmin(np.abs(np.degrees(model.gaps) - peak.position)))
    shift = plane.displacement[:, position] * case.pull
    moved = shift.reshape(-1, 2)
    times = rounded(SWING * model.pitch_radius / float(np.hypot(*moved.T).max()))
    limit = YIELDED * model.material.yield_strength or peak.value
    step = rounded(min(peak.value, limit) / BANDS, up=True)
    levels = step * np.arange(BANDS + 1.0)
    stress = np.minimum(von_mises(node_stress(plane.body, shift)), levels[-1] - 1e-6)
    return _Shot(case, peak, plane.body.mesh.nodes + times * moved, times, stress, levels)


def rounded(value: float, *, up: bool = False) -> float:
    """Return the 1, 2 or 5 times a power of ten at or below *value*, or at or above it if *up*.

    >>> rounded(37.0), rounded(37.0, up=True)
    (20.0, 40.0)
    """
    power = 10.0 ** np.floor(np.log10(value))
    if up:
        return float(
            min(step for step in (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10) if step * power >= value)
            * power
        )
    return float(max(step for step in (1, 2, 5) if step * power <= value) * power)


def _page(points: Points, half: float) -> Points:
    return points * [1, -1] + half


def _loop(sides: Any, bent: Points, half: float) -> str:
    """Return the path data of a contour as it bends: each side by its two ends and its middle."""
    return _path(_page(bent[sides[:, :2].ravel()], half))


def _path(points: Points) -> str:
    """Return closed relative path data in hundredths of a mm, scaled by the group it stands in."""
    grid = np.rint(100 * points).astype(int)
    steps = np.diff(grid, axis=0)
    steps = steps[(steps != 0).any(axis=1)]
    moves = "".join(f"l{x}{'' if y < 0 else ' '}{y}" for x, y in steps.tolist())
    return f"M{grid[0, 0]} {grid[0, 1]}{moves}z"


def _bands(drawing: Any, loops: list[str], shot: _Shot, half: float) -> None:
    """Fill the bands, then cover what is not metal: far quicker to draw than a clip."""
    bent, stress, levels = shot.bent, shot.stress, shot.levels
    group = drawing.add(drawing.g(id="bands", transform="scale(0.01)"))
    low, high = bent.min(axis=0) - 1, bent.max(axis=0) + 1
    x, y = (np.arange(a, b + GRID, GRID) for a, b in zip(low, high, strict=True))
    places = np.stack(np.meshgrid(x, y), axis=-1)
    values = LinearNDInterpolator(bent, stress)(places)
    outside = np.isnan(values)
    values[outside] = stress[cKDTree(bent).query(places[outside])[1]]
    lines = contour_generator(x, y, values, fill_type=FillType.OuterOffset)
    for low_, high_, shade in zip(levels, levels[1:], shades(BANDS), strict=False):
        data = []
        for points, offsets in zip(*lines.filled(low_, high_), strict=True):
            rings = [points[a:b] for a, b in pairwise(offsets)]
            data += [_path(_page(_thinned(ring), half)) for ring in rings]
        if data:
            group.add(drawing.path("".join(data), fill=shade, fill_rule="evenodd"))
    _cover(drawing, loops, (low - GRID, high + 2 * GRID), half)


def _cover(drawing: Any, loops: list[str], box: tuple[Points, Points], half: float) -> None:
    """Paint white what is not metal inside the *box*."""
    (left, low), (right, high) = box
    corners = np.array([[left, low], [right, low], [right, high], [left, high]])
    group = drawing.add(drawing.g(id="cover", transform="scale(0.01)"))
    around = "".join([_path(_page(corners, half)), *loops])
    group.add(drawing.path(around, fill="#fff", fill_rule="evenodd"))


def _thinned(ring: Points) -> Points:
    line = shapely.LineString(ring).simplify(LOOSE)
    return np.asarray(line.coords)


def _outline(drawing: Any, plane: Plane, loops: list[str], half: float) -> None:
    """Draw the bent outline, and thin and grey the ring at rest."""
    mesh = plane.body.mesh
    group = drawing.add(drawing.g(id="outline", fill="none", transform="scale(0.01)"))
    still = [_loop(mesh.edges[mesh.loops == k], mesh.nodes, half) for k in (0, 1)]
    group.add(drawing.path("".join(still), stroke="#999", stroke_width=8))
    group.add(drawing.path("".join(loops), stroke="#222", stroke_width=18))


def _bolts(drawing: Any, plane: Plane, half: float) -> None:
    """Hatch what the bolt heads hold."""
    model = plane.body.model
    group = drawing.add(drawing.g(id="bolts", fill="none", stroke="#222", stroke_width=0.25))
    for x, y in _page(model.positions, half):
        centre = (number(x, 3), number(y, 3))
        group.add(drawing.circle(centre, model.head, stroke_dasharray="1 0.6"))
        for way in (1, -1):
            arm = model.hole * 0.7
            group.add(
                drawing.line(
                    (number(x - arm, 3), number(y - way * arm, 3)),
                    (number(x + arm, 3), number(y + way * arm, 3)),
                )
            )


def _loads(drawing: Any, shot: _Shot, half: float) -> None:
    """Draw the tooth forces as arrows that end where the rollers press."""
    model = shot.case.plane.body.model
    pressure = pressure_angle(model.teeth, worn=shot.case.chain == "worn-in")
    forces = as_complex(tooth_forces(model.teeth, pressure))
    turn = np.exp(1j * np.radians(shot.peak.position))
    rollers = model.pitch_radius * np.exp(-2j * np.pi / model.teeth * np.arange(len(forces)))
    scale = ARROW / np.abs(forces).max()
    group = drawing.add(drawing.g(id="loads", fill="#000", stroke="#000", stroke_width=0.5))
    for roller, force in zip(rollers * turn, forces * turn, strict=True):
        if abs(force) * scale < LEAST_ARROW * ARROW:
            continue
        way = force / abs(force)
        tip = roller + way * model.roller / 2
        tail = tip - force * scale
        head = min(2.4, 0.5 * abs(force) * scale)
        z = np.array([tail, tip - way * head, tip, tip - way * (head - 0.4j * head),
                      tip - way * (head + 0.4j * head)])  # fmt: skip
        points = _page(as_points(z), half)
        text = [(number(px, 3), number(py, 3)) for px, py in points]
        group.add(drawing.line(text[0], text[1]))
        group.add(drawing.polygon(text[2:], stroke="none"))


def _hottest(drawing: Any, at: Points, words: str, half: float) -> None:
    """Ring the hottest place and write its stress in the free middle of the ring."""
    x, y = _page(at, half)
    group = drawing.add(drawing.g(id="hottest", fill="none", stroke="#000", stroke_width=0.5))
    group.add(drawing.circle((number(x, 3), number(y, 3)), 3.2))
    inward = np.array([half - x, half - y]) / np.hypot(half - x, half - y)
    a, b = (
        np.array([x, y]) + 3.2 * inward,
        np.array([x, y]) + 0.62 * np.hypot(half - x, half - y) * inward,
    )
    group.add(drawing.line(tuple(number(v, 3) for v in a), tuple(number(v, 3) for v in b)))
    anchor = "start" if inward[0] > 0 else "end"
    label = drawing.text(
        words, (number(b[0] + np.sign(inward[0]), 3), number(b[1] + TEXT, 3)), text_anchor=anchor,
        font_size=number(1.3 * TEXT), font_weight="bold", fill="#000", stroke="none",
        font_family="sans-serif",
    )  # fmt: skip
    group.add(label)
