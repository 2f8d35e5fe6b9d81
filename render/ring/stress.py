"""The picture of a loaded ring: bands of von Mises stress on the outline as it bends."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from contourpy import FillType, contour_generator
from scipy.interpolate import LinearNDInterpolator
from scipy.spatial import cKDTree

from openwork.render.drawing.canvas import canvas, describe, written
from openwork.render.drawing.path import number
from openwork.render.drawing.pen import Pen
from openwork.render.ring.shade import shades
from openwork.strength.chainpull import tooth_forces
from openwork.strength.loading import pressure_of, pull_of
from openwork.strength.meaning import CAUTIONS
from openwork.strength.plane import node_stress, von_mises

if TYPE_CHECKING:
    from openwork.shape.contour import Floats, Points
    from openwork.strength.plane import Plane
    from openwork.tables.load import Load

BANDS = 8
GRID = 0.4  # mm between the places where stress is read for the bands
LOOSE = 0.03  # mm the lines between bands may leave theirs
SWING = 0.065  # of the ring's radius: how far the most displaced place is drawn from where it was
YIELDED = 1.5  # of the yield strength: above it an elastic stress says no more
ARROW = 16.0  # mm, of the largest tooth force
LEAST_ARROW = 0.06  # of the largest: smaller forces are left out
MARGIN = 9.0
TEXT = 3.4
KEY = 42.0  # mm beside the ring for the key


def stress_svg(plane: Plane, load: Load, *, title: str, recipe: str) -> str:
    """Return the picture of the worst position of *plane* under *load*, mm.

    Groups: ``bands``, ``outline``, ``bolts``, ``loads``, ``hottest``, ``key``, ``notes``.
    """
    mesh, model = plane.body.mesh, plane.body.model
    station, position = np.unravel_index(np.abs(plane.stress).argmax(), plane.stress.shape)
    _, pull = pull_of(model, load)
    shift = plane.displacement[:, position].reshape(-1, 2) * pull
    times = _round(SWING * model.pitch_radius / float(np.hypot(*shift.T).max()))
    bent = mesh.nodes + times * shift
    stress = von_mises(node_stress(plane.body, plane.displacement[:, position] * pull))
    peak = float(np.abs(plane.stress[station, position])) * pull
    limit = YIELDED * model.material.yield_strength or peak
    step = _round(min(peak, limit) / BANDS, up=True)
    levels = step * np.arange(BANDS + 1.0)

    half = float(np.hypot(*bent.T).max()) + MARGIN + ARROW / 2
    height = 2 * half + 9 * TEXT
    drawing = canvas(2 * half + KEY, height, title=f"{title}: stress", recipe=recipe)
    describe(drawing, f"Von Mises stress, MPa. {CAUTIONS[0]}")
    drawing.add(drawing.rect((0, 0), ("100%", "100%"), fill="#fff"))
    loops = [_loop(mesh.edges[mesh.loops == k], bent, half) for k in range(mesh.loops.max() + 1)]
    _bands(drawing, loops, bent, np.minimum(stress, levels[-1] - 1e-6), levels, half)
    _outline(drawing, plane, loops, half)
    _bolts(drawing, plane, half)
    _loads(drawing, plane, load, int(position), half)
    at = plane.edges.points[station]
    near = int(cKDTree(mesh.nodes).query(at)[1])
    _hottest(drawing, bent[near], f"{peak:.0f} MPa", half)
    _key(drawing, levels, 2 * half)
    _notes(drawing, plane, load, times, 2 * half)
    return written(drawing)


def _round(value: float, *, up: bool = False) -> float:
    """Return the 1, 2 or 5 times a power of ten at or below *value*, or at or above it if *up*.

    >>> _round(37.0), _round(37.0, up=True)
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


def _bands(
    drawing: Any, loops: list[str], bent: Points, stress: Floats, levels: Floats, half: float
) -> None:
    """Fill the bands, clipped by the bent outline."""
    metal = drawing.defs.add(drawing.clipPath(id="metal"))
    metal.add(drawing.path("".join(loops), clip_rule="evenodd"))
    group = drawing.add(drawing.g(id="bands", transform="scale(0.01)", clip_path="url(#metal)"))
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


def _loads(drawing: Any, plane: Plane, load: Load, position: int, half: float) -> None:
    """Draw the tooth forces as arrows that end where the rollers press."""
    model = plane.body.model
    forces = tooth_forces(model.teeth, pressure_of(model, load)) @ np.array([1, 1j])
    turn = np.exp(1j * model.gaps[position])
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
        points = _page(np.column_stack([z.real, z.imag]), half)
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


def _key(drawing: Any, levels: Floats, left: float) -> None:
    """Draw the key: a swatch for each band, its limits beside it."""
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
        pen.text((left + 10, top + k * tall + 0.35 * TEXT), f"{level:g}", TEXT)


def _notes(drawing: Any, plane: Plane, load: Load, times: float, top: float) -> None:
    """Write what was loaded, how it is drawn, and the words of caution."""
    turning, pull = pull_of(plane.body.model, load)
    style = {"font_family": "sans-serif", "fill": "#000"}
    pen = Pen(drawing, drawing.add(drawing.g(id="notes", **style)))
    crank = f"{load.force:g} N on a crank of {load.crank:g} mm"
    lines = [
        f"{crank}: {turning / 1000:.0f} N m, chain pull {pull:.0f} N, {load.chain} chain.",
        f"Worst of all positions; displacement drawn {times:g} times, the ring at rest in grey.",
        "Arrows: forces of the rollers. Dashed: held under the bolt heads. Circle: hottest edge.",
        CAUTIONS[0].partition(". ")[0] + ".",
        CAUTIONS[0].partition(". ")[2],
    ]
    for k, line in enumerate(lines):
        pen.text((MARGIN / 2, top + (k + 0.5) * 1.5 * TEXT), line, TEXT)
