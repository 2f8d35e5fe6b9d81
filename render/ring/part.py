"""The ring as it looks: face, tooth band, counterbores, bevels, and a line round the metal.

The metal is one even-odd path, so that a renderer cannot leave seams in it. The tone of plate and
tooth band is one radial gradient with a step at the shroud, where the thickness changes. A
counterbore is a darker floor in the shade of its wall. No clips, masks, filters or style sheets:
fills, one gradient and plain strokes look the same everywhere.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from openwork.render.drawing.path import compact_path, compact_strokes, number
from openwork.render.ring.facets import facets
from openwork.render.ring.lit import land_outlines, lit
from openwork.render.ring.sunk import counterbores, pockets
from openwork.render.ring.tones import LIGHT, Tones, tones

if TYPE_CHECKING:
    from openwork.ring import Design

UNIT = 0.01  # mm, grid of the picture's points: a tenth of its finest line
EDGE = 0.18  # mm, line round the metal
THINNER = "#9a9a9a"  # metal of less than the plate's thickness, in black and white
FINE = 0.09  # mm, line round what stands a little higher
STEP = 0.25  # mm, over which the tone changes at the shroud
SHADOW = (0.8, 1.3)  # mm to the right and down
SOFT = (0.4, 1.0, 1.6, 2.2, 2.8, 3.4)  # mm, widths of the strokes that make a shadow soft


def face(design: Design, unit: float = UNIT) -> str:
    """Return the metal as path data for even-odd filling, about the origin, in *unit* mm."""
    return compact_path(design.contours, unit)


def silhouette(drawing: Any, design: Design) -> Any:
    """Return *design* in black, what is only thinner in grey, in hundredths of a mm."""
    ring = drawing.path(face(design), fill_rule="evenodd")
    if not design.pockets:
        return ring
    group = drawing.g()
    group.add(ring)
    group.add(drawing.path(compact_path(design.pockets, UNIT), fill=THINNER))
    return group


def part(
    drawing: Any,
    design: Design,
    *,
    name: str = "",
    line: float = EDGE,
    bevels: bool = True,
    turn: float = 0.0,
) -> Any:
    """Return the group that draws *design* about the origin, in hundredths of a mm.

    *name* tells it from other rings of one drawing; *line* is the line round the metal, mm. Light
    and shadow fall as on a ring that is then turned by *turn*, radians.
    """
    light = LIGHT * cmath.rect(1.0, -turn)
    colours = tones(design.spec.look)
    ring = drawing.g(fill_rule="evenodd")
    if design.spec.look.shadow:
        ring.add(_shadow(drawing, name, turn))
    metal = gradient(drawing, design, colours, name=f"metal{name}")
    drawing.defs.add(metal)
    face_ = drawing.path(face(design), id=f"face{name}")
    ring.add(drawing.g(fill=f"url(#metal{name})")).add(face_)
    if any(one.counterbore for one in design.blank.mount.bolt_holes):
        ring.add(_counterbores(drawing, design, colours, name, light))
    if _sunk(design):
        ring.add(_pockets(drawing, design, colours, name, light))
    sides = ring.add(drawing.g(id=f"lit{name}", stroke="none"))
    for colour, one in lit(design, UNIT, light):
        sides.add(drawing.path(one, fill=colour))
    if lands := land_outlines(design, UNIT):
        step = {"stroke": colours.line, "stroke_width": number(FINE / UNIT, 3)}
        ring.add(drawing.path(lands, fill="none", stroke_linejoin="round", **step))
    if bevels and design.spec.web.widest_bevel > 0:
        ring.add(_bevels(drawing, design, colours, name, light))
    if lines := engraved(design):
        ring.add(_engraved(drawing, lines, colours, name))
    pen = {"stroke": colours.line, "stroke_width": number(line / UNIT, 3)}
    for one in ("face", "floor") if _sunk(design) else ("face",):
        ring.add(drawing.use(f"#{one}{name}", fill="none", stroke_linejoin="round", **pen))
    return ring


def _sunk(design: Design) -> bool:
    """Tell whether pockets are seen from the front."""
    return bool(design.pockets) and "front" in design.spec.pocket.faces


def _bevels(drawing: Any, design: Design, colours: Tones, name: str, light: complex) -> Any:
    """Return the bevels of the openings that are seen, strips of one tone each."""
    strips = drawing.g(id=f"bevels{name}")
    seen = design.openings if _sunk(design) else design.through
    data = facets(seen, design.bevels(seen), UNIT, light)
    for colour, one in zip(colours.facets, data, strict=True):
        if one:
            strips.add(drawing.path(one, fill=colour))
    return strips


def gradient(drawing: Any, design: Design, colours: Tones, *, name: str) -> Any:
    """Return the tones of the face along the radius, with the step at the shroud."""
    blank = design.blank
    radius = blank.tip_diameter / 2
    size = {"center": (0, 0), "r": number(radius / UNIT), "gradientUnits": "userSpaceOnUse"}
    found = drawing.radialGradient(id=name, **size)
    places = (blank.mount.bore_diameter / 2, blank.shroud - STEP, blank.shroud, radius)
    for at, colour in zip(places, colours.plate + colours.band, strict=True):
        found.add_stop_color(number(at / radius, 4), colour)
    return found


def engraved(design: Design) -> list[tuple[float, str]]:
    """Return width, mm, and path data of the lines of each mark in the face that is seen."""
    return [
        (one.line, compact_strokes(one.strokes, UNIT))
        for one in design.engravings
        if one.face == "front"
    ]


def _engraved(drawing: Any, lines: Sequence[tuple[float, str]], colours: Tones, name: str) -> Any:
    """Return the lines of the marks, as wide as they are cut, in the tone of a shaded wall."""
    pen = {"stroke": colours.line, "stroke_linecap": "round", "stroke_linejoin": "round"}
    group = drawing.g(id=f"engrave{name}", fill="none", **pen)
    for width, data in lines:
        group.add(drawing.path(data, stroke_width=number(width / UNIT, 3)))
    return group


def _counterbores(drawing: Any, design: Design, colours: Tones, name: str, light: complex) -> Any:
    """Return the floors of the counterbores and the shade of their walls on them."""
    floors, shades = counterbores(design, light)
    group = drawing.g(id=f"counterbores{name}", stroke="none")
    group.add(drawing.path(compact_path(floors, UNIT), fill=colours.floor))
    group.add(drawing.path(compact_path(shades, UNIT), fill=colours.facets[0]))
    rims = compact_path(floors[::2], UNIT)
    pen = {"stroke": colours.line, "stroke_width": number(EDGE / UNIT, 3)}
    group.add(drawing.path(rims, fill="none", **pen))
    return group


def _pockets(drawing: Any, design: Design, colours: Tones, name: str, light: complex) -> Any:
    """Return the floors of the pockets that are seen, and the shade of their walls on them."""
    floors, shades = pockets(design, light)
    group = drawing.g(id=f"pockets{name}", stroke="none")
    group.add(drawing.path(compact_path(floors, UNIT), id=f"floor{name}", fill=colours.floor))
    if shades:
        group.add(drawing.path(compact_path(shades, UNIT), fill=colours.facets[0]))
    return group


def _shadow(drawing: Any, name: str, turn: float) -> Any:
    """Return a soft shadow: faint strokes of many widths, for not every reader knows filters."""
    away = complex(*SHADOW) * cmath.rect(1.0, turn)  # y runs downwards
    x, y = number(away.real / UNIT), number(away.imag / UNIT)
    pen = {"stroke": "#000", "stroke_opacity": 0.045, "stroke_linejoin": "round"}
    group = drawing.g(id=f"shadow{name}", transform=f"translate({x} {y})", fill="none", **pen)
    for width in SOFT:
        group.add(drawing.use(f"#face{name}", stroke_width=number(width / UNIT)))
    group.add(drawing.use(f"#face{name}", fill="#000", fill_opacity=0.12, stroke="none"))
    return group
