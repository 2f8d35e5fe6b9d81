"""Rings looked up by their marks on the sheets."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from openwork.errors import RuleError, SpecError
from openwork.explore.variants.variants import Entry, Made, Refused
from openwork.render.paper.layout import Arranged, Place
from openwork.render.sheet.compare import FEWEST, MOST

if TYPE_CHECKING:
    from openwork.ring import Design


def ring_at(entries: Arranged[Entry], mark: str, *, cause: str = "") -> tuple[Place, Design]:
    """Return the place and the ring at *mark*, for *cause*, which begins the message.

    Raises SpecError where there is no such mark, RuleError where its ring cannot be made.
    """
    place, entry = _made_at(entries, mark, cause)
    return place, entry.design


def _made_at(entries: Arranged[Entry], mark: str, cause: str) -> tuple[Place, Made]:
    place, entry = entries.at(mark)
    if isinstance(entry, Refused):
        raise RuleError(f"{cause}{place.mark}: cannot be made: {entry.reason}")
    return place, entry


def compared(
    entries: Arranged[Entry], marks: Iterable[str], *, cause: str = ""
) -> list[tuple[Place, Made]]:
    """Return the variants at the different *marks*, which are to be compared.

    Raises as ``ring_at``, and SpecError for too few or too many.
    """
    asked = [*marks]
    found = dict(_made_at(entries, one, cause) for one in asked)
    if not FEWEST <= len(found) <= MOST:
        raise SpecError(
            f"{cause}{','.join(asked)}: {len(found)} different marks; {FEWEST} to {MOST} work, "
            "as in A1,A2"
        )
    return [*found.items()]
