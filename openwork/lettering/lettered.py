"""The marks and panels of a ring: what stays of its openings, and what is engraved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from openwork.errors import RuleError
from openwork.fill.site import Site, Web
from openwork.lettering.engraving import Engraving, engraving, span
from openwork.lettering.panels import fold_kept, opened, sectors
from openwork.lettering.room import base_radius, clear_faults, room_at, size_faults
from openwork.lettering.table import Mark, Panel, turns
from openwork.lettering.text import filled
from openwork.part.blank import Blank
from openwork.part.edges import Edges
from openwork.shape.contour import Contour

Signs = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettered:
    """The ``openings`` that stay, sector by sector of ``fold``, and those ``left_out``."""

    openings: tuple[Contour, ...]
    left_out: tuple[Contour, ...]
    fold: int
    engravings: tuple[Engraving, ...]


def lettered(
    marks: Mapping[str, Mark],
    panels: Mapping[str, Panel],
    words: Mapping[str, str],
    ring: Blank,
    site: Site,
    openings: Sequence[Contour],
    edges: Edges,
    web: Web,
) -> Lettered:
    """Return what *panels* leave of *openings*, and *marks* with their fields filled from *words*.

    Raises SpecError where a text cannot be drawn, RuleError where it has no room.
    """
    signs = {
        name: filled(
            mark.text,
            {**words, "serial": mark.serial, "year": str(mark.year or "")},
            f"mark.{name}.text",
        )
        for name, mark in marks.items()
    }
    fold, stay = site.fold, [True] * len(openings)
    if panels or marks:
        outlines = sectors(panels, marks, signs, ring, site)
    if panels:
        fold = fold_kept(panels.values(), site.fold)
        stay = opened(openings, outlines, fold)
    kept = tuple(one for one, stays in zip(openings, stay, strict=True) if stays)
    engravings = _engravings(marks, signs, ring, site)
    if faults := clear_faults(engravings, ring, kept, edges, web.bevel):
        raise RuleError("\n".join(faults))
    left_out = tuple(one for one, stays in zip(openings, stay, strict=True) if not stays)
    return Lettered(openings=kept, left_out=left_out, fold=fold, engravings=engravings)


def _engravings(
    marks: Mapping[str, Mark], signs: Signs, ring: Blank, site: Site
) -> tuple[Engraving, ...]:
    """Return every mark as often as it stands on the ring; raises RuleError for their sizes."""
    found: list[Engraving] = []
    faults: list[str] = []
    for name, mark in marks.items():
        band = room_at(mark, ring, site)
        radius = base_radius(mark, band)
        wide = span(signs[name], mark, radius)
        faults += size_faults(name, mark, wide * len(turns(mark.repeat, site.fold)), ring, band)
        if not faults:
            found += [
                engraving(name, signs[name], mark, radius, turn)
                for turn in turns(mark.repeat, site.fold)
            ]
    if faults:
        raise RuleError("\n".join(faults))
    return tuple(found)
