"""What the page of a set of variants holds: outlines, figures, specs and words, as plain values.

Outlines are path data in whole micrometres; of the openings one symmetry sector goes in, because
the page can turn it, and each blank goes in once.
"""

from __future__ import annotations

import cmath
import dataclasses
import hashlib
import json
from collections.abc import Sequence
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

from openwork.explore.variants.figure_rows import numbers, rows
from openwork.explore.variants.variants import Entry, Refused
from openwork.render.drawing.path import compact_path, compact_strokes
from openwork.render.drawing.recipe import design_recipe
from openwork.render.paper.layout import Arranged
from openwork.render.ring.lit import lit
from openwork.render.ring.sunk import counterbores
from openwork.render.ring.tones import LIGHT, tones
from openwork.spec.spec import Spec
from openwork.tables.caution import CAUTION
from openwork.tables.recipe import NAMESPACE

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.ring import Design
    from openwork.shape.contour import Contour

UNIT = 0.001  # mm


def page_data(spec: Spec, entries: Arranged[Entry], line: str) -> dict[str, Any]:
    """Return the content of the page of *entries*, under the words *line*, as JSON takes it."""
    found = {place.mark: numbers(entry) for place, entry in entries}
    figures = rows(found.values())
    blanks: dict[str, int] = {}
    notes: dict[str, int] = {}
    variants: list[dict[str, Any]] = []
    for place, entry in entries:
        named = {"mark": place.mark, "pattern": entry.variant.pattern, "changes": entry.label}
        if isinstance(entry, Refused):
            variants.append({**named, "reason": entry.reason})
            continue
        blank = json.dumps(_blank(entry.design))
        said = () if entry.strength is None else entry.strength.notes
        numbered = {
            "blank": blanks.setdefault(blank, len(blanks)),
            "values": [found[place.mark].get(row.key) for row in figures],
            "notes": [notes.setdefault(words, len(notes)) for words in said],
        }
        variants.append({**named, **_ring(entry.design, entry.figures), **numbered})
    return {
        "title": spec.title,
        "line": line,
        "caution": CAUTION,
        "version": version("openwork"),
        "recipe": NAMESPACE,
        "light": -cmath.phase(LIGHT),  # y runs downwards on the page
        "figures": [dataclasses.asdict(row) for row in figures],
        "blanks": [json.loads(blank) for blank in blanks],
        "notes": list(notes),
        "variants": variants,
        "key": _key(variants),
    }


def _ring(design: Design, figures: Figures) -> dict[str, Any]:
    sizes = figures.machining["openings_by_size"]
    through, pockets = design.sector_cuts
    return {
        "openings": compact_path(through, UNIT),
        "fold": design.fold,
        "bevels": bevels_of(design),
        **({"sunk": _sunk(design, pockets)} if pockets else {}),
        "sizes": ", ".join(f"{one['count']} of {one['area']:.1f} mm²" for one in sizes),
        "spec": design_recipe(design),
        **({"engraved": _engraved(design)} if design.engravings else {}),
    }


def _sunk(design: Design, pockets: Sequence[Contour]) -> dict[str, Any]:
    """Return the *pockets* of a sector, their group in the drawing, and whether they are seen."""
    pocket = design.spec.pocket
    group = "pockets-back" if pocket.face == "back" else "pockets"
    return {"group": group, "path": compact_path(pockets, UNIT), "seen": "front" in pocket.faces}


def bevels_of(design: Design) -> list[float]:
    """Return the width of all bevels, mm, or that of each opening of a sector, pockets last."""
    through, pockets = design.sector_cuts
    widths = list(design.bevels((*through, *pockets)))
    return widths[:1] if len(set(widths)) == 1 else widths


def _engraved(design: Design) -> list[dict[str, Any]]:
    """Return each mark: the group and the path data of its lines, their width (mm), their tone."""
    groups = {"front": "engrave", "back": "engrave-back"}
    return [
        {
            "group": groups[one.face],
            "lines": compact_strokes(one.strokes, UNIT),
            "width": one.line,
            "tone": tones(design.spec.look).line,
        }
        for one in design.engravings
    ]


def _blank(design: Design) -> dict[str, Any]:
    """Return the outlines of the blank, the radii where its tone changes, and its tones."""
    blank, colours = design.blank, tones(design.spec.look)
    floors, shades = counterbores(design)
    return {
        "outline": compact_path([blank.outline], UNIT),
        "edge": compact_path([blank.edge], UNIT),
        "bolts": compact_path(blank.bolts, UNIT),
        "bore": round(blank.mount.bore_diameter / 2, 3),
        "shroud": round(blank.shroud, 3),
        "tip": round(blank.tip_diameter / 2, 3),
        "plate": colours.plate,
        "band": colours.band,
        "floors": compact_path(floors, UNIT),
        "floor": colours.floor,
        "shades": compact_path(shades, UNIT),
        "facets": colours.facets,
        "lit": list(lit(design, UNIT)),
    }


def _key(variants: list[dict[str, Any]]) -> str:
    """Return a name for just this set, under which a browser may remember marks."""
    return hashlib.sha256(json.dumps(variants).encode()).hexdigest()[:16]
