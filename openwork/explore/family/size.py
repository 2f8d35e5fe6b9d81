"""One size of a family: its ring as made, or the reason why there is none."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeAlias

from openwork.measure.cell import Cell, column_count, row_count
from openwork.measure.figures import Figures, meanings
from openwork.part.drive import Running
from openwork.ring import Design
from openwork.strength.meaning import MEANING
from openwork.strength.result import Strength
from openwork.tables.figure import Figure, declared
from openwork.tables.goal import Wanted
from openwork.tables.plain import plain


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """A tooth count of a family, and what the ring does in its drive.

    ``wanted`` is the mass aimed at, g, or the band; None where all sizes share the rib.
    """

    teeth: int
    wanted: Wanted
    drive: Running


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeSize(_Asked):
    """A size as made and measured; ``said`` tells what differs from the base.

    ``strength`` is there where it was asked for; ``unreckoned`` says why it cannot be calculated.
    """

    design: Design
    figures: Figures
    cell: Cell
    said: tuple[str, ...] = ()
    strength: Strength | None = None
    unreckoned: str = ""

    @property
    def rows(self) -> int | None:
        """Rows across the web, where the pattern counts them."""
        return row_count(self.design.pattern)

    def as_dict(self) -> dict[str, Any]:
        """Return the size as plain values for JSON: what was asked, what was measured."""
        known: dict[str, Any] = {
            "teeth": self.teeth,
            "made": True,
            "wanted": self.wanted,
            "web_rib": self.design.spec.web.rib,
            "columns": column_count(self.design.pattern),
            "rows": self.rows,
            "cell_size": self.cell.size,
            "cell_proportion": self.cell.proportion,
            **self.figures.as_dict(),
            "said": list(self.said),
        }
        if self.strength is not None:
            known["strength"] = self.strength.as_dict()
        if self.unreckoned:
            known["unreckoned"] = self.unreckoned
        known["drive"] = dataclasses.asdict(self.drive)
        return {key: plain(value) for key, value in known.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusedSize(_Asked):
    """A size that cannot be made, and the ``reason``.

    Where its mass is out of reach ``reach`` tells the least and the most it can weigh, g.
    """

    reason: str
    reach: tuple[float, float] | None = None

    def as_dict(self) -> dict[str, Any]:
        """Return the size as plain values for JSON: what was asked, and why it is not there."""
        known = {
            "teeth": self.teeth,
            "made": False,
            "wanted": self.wanted,
            "reason": self.reason,
            "reach": self.reach,
            "drive": dataclasses.asdict(self.drive),
        }
        return {key: plain(value) for key, value in known.items()}


Size: TypeAlias = MadeSize | RefusedSize


def about() -> dict[str, Figure]:
    """Return what all that ``as_dict`` tells of a size is, by name, in the order to show it."""
    return {
        "teeth": Figure("", "number of teeth"),
        "made": Figure("", "whether it can be made"),
        "wanted": Figure(
            "g",
            "mass aimed at, or the band that will do",
            parts={
                "least": Figure("g", "least mass that will do"),
                "most": Figure("g", "greatest mass that will do"),
            },
        ),
        "web_rib": Figure("mm", "least rib of its spec"),
        "columns": Figure("", "columns round the ring, where the pattern counts them"),
        "rows": Figure("", "rows across the web, where the pattern counts them"),
        **{f"cell_{name}": about for name, about in declared(Cell).items()},
        **meanings(),
        "drive": Figure("", "what the ring does in its drive", parts=declared(Running)),
        "strength": Figure("", "stiffness and stress", parts=dict(_strength())),
        "unreckoned": Figure("", "why its strength cannot be calculated"),
        "said": Figure("", "what differs from the base"),
        "reason": Figure("", "why it cannot be made"),
    }


def _strength() -> Iterator[tuple[str, Figure]]:
    """Yield the figures of strength by the names that ``as_dict`` of it gives their numbers."""
    for name, one in MEANING.items():
        yield f"{name}.{one.entry}" if one.entry else name, one
