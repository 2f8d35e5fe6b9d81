"""The DXF as its pairs of group code and value say, read by nothing that wrote it.

The library that wrote it only says whether the file as a whole is sound.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import TypeAlias

import numpy as np
from ezdxf import recover
from ezdxf.lldxf.const import DXFError

from openwork.render.accept.reading import Reading, by_role, lines_in, marks_in
from openwork.shape.contour import Contour, circle
from openwork.shape.stroke import Stroke

Pair: TypeAlias = tuple[int, str]
UNITS = {"1": "inches", "2": "feet", "4": "mm", "5": "cm", "6": "m"}
MARKS = re.compile("BAND|(COUNTERBORE|COUNTERSINK)(_BACK)?")
LINES = re.compile("ENGRAVE(_BACK)?")
LAYERS = {"OUTLINE": "outline", "BOLTS": "bolts", "OPENINGS": "openings"}
LAYERS |= dict.fromkeys(("POCKETS", "POCKETS_BACK"), "pockets")
CLOSED = 1  # bit of group 70
FRAME = {"SECTION", "ENDSEC", "BLOCK", "ENDBLK", "SEQEND"}


@dataclass(frozen=True)
class Entity:
    """An entity: its type, its pairs, and the pairs of the vertices that follow it."""

    kind: str
    pairs: Sequence[Pair]
    vertices: Sequence[Sequence[Pair]] = ()

    def text(self, code: int, default: str = "0") -> str:
        """Return the first value of a group code."""
        return next((value for key, value in self.pairs if key == code), default)


def read_dxf(path: Path) -> Reading:
    """Return the drawing at *path* as read; raises ValueError where it is no DXF."""
    pairs = list(_pairs(path.read_text(encoding="utf-8", errors="replace")))
    found: list[tuple[str, Contour]] = []
    lines: list[tuple[str, Stroke]] = []
    loose, foreign, rounds = [], [*_unsound(path)], 0
    for one in _entities(pairs):
        layer = one.text(8)
        where = f"a {one.kind} on layer {layer}"
        if one.kind not in {"LWPOLYLINE", "POLYLINE", "CIRCLE"} or not (
            layer in LAYERS or MARKS.fullmatch(layer) or LINES.fullmatch(layer)
        ):
            foreign.append(where)
            continue
        foreign += [f"{where} {fault}" for fault in _off_plane(one)]
        if LINES.fullmatch(layer):
            line = _open(one)
            if line is None:
                loose.append(f"{where} is no open line")
            else:
                lines.append((layer.lower().replace("_", " "), line))
            continue
        rounds += one.kind == "CIRCLE"
        contour = _contour(one)
        if contour is None:
            loose.append(f"{where} is no closed contour")
        else:
            found.append((LAYERS.get(layer, layer.lower().replace("_", " ")), contour))
    roles = by_role(found)
    return Reading(
        reader="group codes, and the audit of ezdxf",
        unit=_unit(pairs),
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


def _pairs(text: str) -> Iterator[Pair]:
    lines = text.splitlines()
    if not lines or len(lines) % 2:
        raise ValueError("no pairs of group code and value")
    for code, value in zip(lines[::2], lines[1::2], strict=True):
        yield int(code), value.strip()


def _unit(pairs: Sequence[Pair]) -> str:
    """Return the unit of the header, "" for the versions that cannot state one."""
    header = {name: value for (code, name), (_, value) in pairwise(pairs) if code == 9}
    if header.get("$ACADVER", "AC1015") < "AC1015":
        return ""
    if header.get("$MEASUREMENT") != "1":
        return "inches ($MEASUREMENT)"
    return UNITS.get(header.get("$INSUNITS", "0"), "nothing")


def _entities(pairs: Sequence[Pair]) -> Iterator[Entity]:
    """Yield what stands in model space, and in blocks, as entities."""
    starts = [k for k, (code, _) in enumerate(pairs) if code == 0]
    section, head, vertices = "", None, []
    for start, end in zip(starts, [*starts[1:], len(pairs)], strict=True):
        kind, rest = pairs[start][1], pairs[start + 1 : end]
        if kind in {"SECTION", "ENDSEC"}:
            section = rest[0][1] if rest else ""
        if section not in {"BLOCKS", "ENTITIES"}:
            continue
        if kind == "VERTEX" and head is not None:
            vertices.append(rest)
            continue
        if head is not None:
            yield Entity("POLYLINE", head, tuple(vertices))
            head, vertices = None, []
        if kind == "POLYLINE":
            head = rest
        elif kind not in FRAME:
            yield Entity(kind, rest)


def _off_plane(one: Entity) -> Iterator[str]:
    lists = (one.pairs, *one.vertices)
    heights = {float(value) for pairs in lists for code, value in pairs if code in {30, 38, 39}}
    if heights - {0.0}:
        yield "lies off the plane z = 0"
    if float(one.text(230, "1")) != 1:
        yield "faces another way than +z"
    if one.text(67) != "0":
        yield "stands in paper space"


def _contour(one: Entity) -> Contour | None:
    if one.kind == "CIRCLE":
        return circle(float(one.text(40)), (float(one.text(10)), float(one.text(20))))
    if not int(one.text(70)) & CLOSED:
        return None
    points, bulges = _corners(one)
    if len(points) < 2 or points[0] == points[-1]:
        return None
    return Contour(np.array(points), np.array(bulges))


def _open(one: Entity) -> Stroke | None:
    """Return the line of an open polyline; None for all else."""
    if one.kind == "CIRCLE" or int(one.text(70)) & CLOSED:
        return None
    points, bulges = _corners(one)
    return Stroke(np.array(points), np.array(bulges[:-1])) if len(points) > 1 else None


def _corners(one: Entity) -> tuple[list[tuple[float, float]], list[float]]:
    corners = [dict(corner) for corner in one.vertices or _split(one.pairs)]
    points = [(float(corner[10]), float(corner[20])) for corner in corners]
    return points, [float(corner.get(42, "0")) for corner in corners]


def _split(pairs: Sequence[Pair]) -> Sequence[Sequence[Pair]]:
    """Return the pairs of each vertex of a light polyline."""
    starts = [k for k, (code, _) in enumerate(pairs) if code == 10]
    return [pairs[a:b] for a, b in zip(starts, [*starts[1:], len(pairs)], strict=True)]


def _unsound(path: Path) -> Iterator[str]:
    try:
        _, audit = recover.readfile(path)
    except (DXFError, OSError) as fault:
        raise ValueError(f"no sound DXF: {fault}") from fault
    yield from (f"audit: {fault.message}" for fault in (*audit.errors, *audit.fixes))
