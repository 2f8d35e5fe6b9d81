"""The marks and panels of a ring: what stays of its openings, and what is engraved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import compress

from openwork.errors import RuleError
from openwork.lettering.clear import clear_faults
from openwork.lettering.cut import SPARE, cut
from openwork.lettering.engraving import Engraving, engraving
from openwork.lettering.panels import fold_kept, sectors, staying
from openwork.lettering.room import Ground, base_radius, room_at, size_faults
from openwork.lettering.row import Row
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
    rows = _rows(marks, signs, ground)
    openings, fold = ground.openings, ground.site.fold
    outlines = sectors(panels, rows, signs, ground)
    stay = [True] * len(openings)
    if panels:
        fold = fold_kept(panels.values(), fold)
        stay = staying(openings, outlines, fold)
    kept = tuple(compress(openings, stay))
    engravings, slots = _engravings(rows, signs, ground), _slots(rows, signs, ground)
    if faults := clear_faults(engravings, replace(ground, openings=(*kept, *slots))):
        raise RuleError("\n".join(faults))
    left_out = tuple(compress(openings, [not one for one in stay]))
    if slots:
        kept, fold = (*kept, *slots), 1
    return Lettered(openings=kept, left_out=left_out, fold=fold, engravings=engravings)


def _signs(name: str, mark: Mark, words: Mapping[str, str]) -> tuple[str, ...]:
    own = {"serial": mark.serial, "year": str(mark.year or "")}
    return filled(mark.text, {**words, **own}, f"mark.{name}.text")


def _rows(marks: Mapping[str, Mark], signs: Signs, ground: Ground) -> dict[str, Row]:
    """Return the base line of every mark; raises RuleError for what is impossible of their size."""
    rows: dict[str, Row] = {}
    faults: list[str] = []
    for name, mark in marks.items():
        band, rib = room_at(mark, ground), ground.site.rib
        apart = mark.line + rib + SPARE if mark.how == "cut" else 0.0
        rows[name] = Row(mark, base_radius(mark, band), apart)
        span = rows[name].span(signs[name]) * len(turns(mark.repeat, ground.site.fold))
        faults += size_faults(name, mark, span, ground, band)
    if faults:
        raise RuleError("\n".join(faults))
    return rows


def _engravings(rows: Mapping[str, Row], signs: Signs, ground: Ground) -> tuple[Engraving, ...]:
    """Return every mark that is engraved, as often as it stands on the ring."""
    return tuple(
        engraving(name, signs[name], row, turn)
        for name, row in rows.items()
        if row.mark.how == "engraved"
        for turn in turns(row.mark.repeat, ground.site.fold)
    )


def _slots(rows: Mapping[str, Row], signs: Signs, ground: Ground) -> tuple[Contour, ...]:
    """Return the openings of every mark that is cut through, as often as it stands on the ring."""
    return tuple(
        slot
        for name, row in rows.items()
        if row.mark.how == "cut"
        for turn in turns(row.mark.repeat, ground.site.fold)
        for slot in cut(name, signs[name], row, turn, ground.site.rib)
    )
