"""One size of a family: its ring as made, or the reason why there is none."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any

from openwork.measure.cell import Cell, column_count, row_count
from openwork.measure.figures import Figures
from openwork.part.drive import Running
from openwork.ring import Design
from openwork.tables.goal import Wanted

PLACES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A tooth count of a family.

    ``wanted`` is the mass aimed at, g, or the band; None where all sizes share the rib. ``said``
    tells what differs from the base. Where the ring cannot be made ``reason`` says why, ``reach``
    which masses can (least, most), and design, figures and cell are None.
    """

    teeth: int
    wanted: Wanted
    drive: Running
    design: Design | None = None
    figures: Figures | None = None
    cell: Cell | None = None
    said: tuple[str, ...] = ()
    reason: str = ""
    reach: tuple[float, float] | None = None

    @property
    def rows(self) -> int | None:
        """Rows across the web, where the pattern counts them."""
        return None if self.design is None else row_count(self.design.pattern)

    def as_dict(self) -> dict[str, Any]:
        """Return the size as plain values for JSON: what was asked, what was measured."""
        plain: dict[str, Any] = {
            "teeth": self.teeth,
            "made": self.design is not None,
            "wanted": self.wanted,
        }
        if self.design is not None and self.figures is not None and self.cell is not None:
            plain |= {
                "web_rib": self.design.spec.web.rib,
                "columns": column_count(self.design.pattern),
                "rows": self.rows,
                "cell_size": round(self.cell.size, PLACES),
                "cell_proportion": round(self.cell.proportion, PLACES),
                **self.figures.as_dict(),
                "said": list(self.said),
            }
        else:
            plain |= {"reason": self.reason, "reach": self.reach}
        return plain | {"drive": _rounded(dataclasses.asdict(self.drive))}


def _rounded(values: dict[str, Any]) -> dict[str, Any]:
    return {
        key: round(value, 6) if isinstance(value, float) else value for key, value in values.items()
    }
