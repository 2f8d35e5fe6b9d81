"""The outline drawing as svgelements reads it, and as it stands in the XML."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import svgelements

from openwork.render.accept.reading import Reading, by_role, lines_in, marks_in
from openwork.shape.contour import Contour, circle
from openwork.shape.stroke import Stroke

SVG = "{http://www.w3.org/2000/svg}"
PLAIN = {"svg", "title", "desc", "metadata", "g", "path", "circle"}
BETWEEN = {"transform", "style", "class"}  # what would stand between the numbers and the part
RECIPE = "{urn:openwork:recipe}recipe"
GROUPS = {"teeth": "outline", "edge": "outline", "bolts": "bolts", "openings": "openings"}
GROUPS |= dict.fromkeys(("pockets", "pockets-back"), "pockets")
LINES = re.compile("engrave(-back)?")
MARKS = re.compile("band|(counterbore|countersink)(-back)?")


def read_svg(path: Path) -> Reading:
    """Return the drawing at *path* as read; raises ValueError where it is no SVG."""
    try:
        root = ElementTree.parse(path).getroot()
    except ElementTree.ParseError as fault:
        raise ValueError(f"no well-formed XML: {fault}") from fault
    drawing = svgelements.SVG.parse(str(path), ppi=25.4)
    found: list[tuple[str, Contour]] = []
    lines: list[tuple[str, Stroke]] = []
    loose, foreign, rounds = [], [*_foreign(root)], 0
    for group in (one for one in drawing if isinstance(one, svgelements.Group)):
        for shape in group:
            if LINES.fullmatch(str(group.id)):
                line = _open(shape, drawing.width / 2, drawing.height / 2)
                if line is None:
                    loose.append(f"a {type(shape).__name__.lower()} in {group.id} is no open line")
                else:
                    lines.append((group.id.replace("-", " "), line))
                continue
            contour = _contour(shape, drawing.width / 2, drawing.height / 2)
            rounds += isinstance(shape, svgelements.Circle)
            if contour is None:
                loose.append(f"a {type(shape).__name__.lower()} in {group.id} is no closed contour")
            elif MARKS.fullmatch(str(group.id)):
                found.append((group.id.replace("-", " "), contour))
            elif group.id not in GROUPS:
                foreign.append(f"a group {group.id}")
            else:
                found.append((GROUPS[group.id], contour))
    roles = by_role(found)
    return Reading(
        reader=f"svgelements {svgelements.SVGELEMENTS_VERSION}",
        unit=_unit(root),
        outline=roles["outline"],
        bolts=roles["bolts"],
        openings=roles["openings"],
        pockets=roles["pockets"],
        marks=marks_in(found),
        lines=lines_in(lines),
        round=rounds,
        loose=tuple(loose),
        foreign=tuple(foreign),
    )


def _unit(root: ElementTree.Element) -> str:
    """Return "mm" if width and height are in mm and one user unit is one mm, else what they are."""
    sizes = [root.get(side, "") for side in ("width", "height")]
    units = {size.lstrip("0123456789.") for size in sizes}
    if units != {"mm"}:
        return " and ".join(sorted(units)) or "pixels"
    numbers = [float(size.removesuffix("mm")) for size in sizes]
    box = [float(part) for part in root.get("viewBox", "").split()]
    return "mm" if box == [0, 0, *numbers] else "mm scaled by a view box"


def _foreign(root: ElementTree.Element) -> Iterator[str]:
    for element in root.iter():
        name = element.tag.removeprefix(SVG)
        if name not in PLAIN and element.tag != RECIPE:
            yield f"an element {name}"
        yield from (f"a {key} on {name}" for key in BETWEEN & element.attrib.keys())
    if root.get("fill-rule") != "evenodd":
        yield "no even-odd fill rule"


def _contour(shape: Any, x: float, y: float) -> Contour | None:
    """Return the contour of a circle or path about (*x*, *y*), y up; None for all else."""
    if isinstance(shape, svgelements.Circle):
        centre = shape.implicit_center
        return circle(shape.implicit_r, (centre.x - x, y - centre.y))
    if not isinstance(shape, svgelements.Path):
        return None
    first, *pieces = shape
    if not isinstance(first, svgelements.Move) or not pieces:
        return None
    if not isinstance(pieces[-1], svgelements.Close):
        return None
    points, bulges = [], []
    for piece in pieces:
        if isinstance(piece, svgelements.Close) and (
            piece is not pieces[-1] or abs(piece.end - piece.start) == 0
        ):
            continue
        if not isinstance(piece, svgelements.Line | svgelements.Arc | svgelements.Close):
            return None
        points.append((piece.start.x - x, y - piece.start.y))
        bulges.append(_bulge(piece))
    return Contour(np.array(points), np.array(bulges)) if len(points) > 1 else None


def _open(shape: Any, x: float, y: float) -> Stroke | None:
    """Return the line of an open path of lines and arcs about (*x*, *y*), y up; None for else."""
    if not isinstance(shape, svgelements.Path):
        return None
    first, *pieces = shape
    plain = all(isinstance(one, svgelements.Line | svgelements.Arc) for one in pieces)
    if not isinstance(first, svgelements.Move) or not pieces or not plain:
        return None
    ends = [first.end, *(one.end for one in pieces)]
    points = [(end.x - x, y - end.y) for end in ends]
    return Stroke(np.array(points), np.array([_bulge(one) for one in pieces]))


def _bulge(piece: Any) -> float:
    return math.tan(-piece.sweep / 4) if isinstance(piece, svgelements.Arc) else 0.0
