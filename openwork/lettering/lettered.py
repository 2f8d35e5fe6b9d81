"""The marks and panels of a ring: what stays of its openings, and what is engraved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import compress

from openwork.errors import RuleError
from openwork.lettering.engraving import Engraving, engraving, span
from openwork.lettering.panels import fold_kept, sectors, staying
from openwork.lettering.room import Ground, base_radius, clear_faults, room_at, size_faults
from openwork.lettering.table import Mark, Panel, turns
from openwork.lettering.text import filled
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
    ground: Ground,
) -> Lettered:
    """Return what *panels* leave of *ground*, and *marks* with their fields filled from *words*.

    Raises SpecError where a text cannot be drawn, RuleError where it has no room.
    """
    signs = {name: _signs(name, mark, words) for name, mark in marks.items()}
    openings, fold = ground.openings, ground.site.fold
    engravings = _engravings(marks, signs, ground)
    outlines = sectors(panels, marks, signs, ground)
    stay = [True] * len(openings)
    if panels:
        fold = fold_kept(panels.values(), fold)
        stay = staying(openings, outlines, fold)
    kept = tuple(compress(openings, stay))
    if faults := clear_faults(engravings, replace(ground, openings=kept)):
        raise RuleError("\n".join(faults))
    left_out = tuple(compress(openings, [not one for one in stay]))
    return Lettered(openings=kept, left_out=left_out, fold=fold, engravings=engravings)


def _signs(name: str, mark: Mark, words: Mapping[str, str]) -> tuple[str, ...]:
    own = {"serial": mark.serial, "year": str(mark.year or "")}
    return filled(mark.text, {**words, **own}, f"mark.{name}.text")


def _engravings(marks: Mapping[str, Mark], signs: Signs, ground: Ground) -> tuple[Engraving, ...]:
    """Return every mark as often as it stands on the ring; raises RuleError for their sizes."""
    found: list[Engraving] = []
    faults: list[str] = []
    for name, mark in marks.items():
        band = room_at(mark, ground)
        radius, angles = base_radius(mark, band), turns(mark.repeat, ground.site.fold)
        wide = span(signs[name], mark, radius) * len(angles)
        faults += size_faults(name, mark, wide, ground.ring, band)
        found += [engraving(name, signs[name], mark, radius, turn) for turn in angles]
    if faults:
        raise RuleError("\n".join(faults))
    return tuple(found)
