"""The words of one cell of a contact sheet, broken to its width."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openwork.explore.variants.variants import Entry, Made
from openwork.render.drawing.type import shortened, text_width, wrapped
from openwork.render.paper.page import HEAD, LEADING, SMALL
from openwork.tables.plain import in_mm

ABOVE = 1.0  # mm from the picture to the first line
APART = 2.0  # mm, least distance of what stands left and right on one line


@dataclass(frozen=True, slots=True, kw_only=True)
class Caption:
    """Pattern and mass in bold; what differs, on as many lines as it needs; small figures beside.

    Of these the second are the stiffness aside and in plane, where they are known.
    """

    pattern: str
    mass: str
    differs: tuple[str, ...]
    small: tuple[str, ...]

    @property
    def height(self) -> float:
        """Height from the picture to the foot of the last line, mm."""
        return ABOVE + LEADING * (HEAD + SMALL * max(1, len(self.differs), len(self.small)))


def caption(entry: Entry, width: float) -> Caption:
    """Return the caption of *entry*, no line of it wider than *width* mm."""
    mass = ""
    small: tuple[str, ...] = ("",)
    if isinstance(entry, Made):
        mass = f"{entry.figures.mass:.1f} g"
        share = f"{100 * entry.figures.solid_share:.0f} % · {in_mm(entry.figures.rib['least'])}"
        small = (share, *_stiffness(entry))
    beside_mass = width - text_width(mass, HEAD, bold=True) - APART
    beside_small = width - max(text_width(one, SMALL) for one in small) - APART
    return Caption(
        pattern=shortened(entry.variant.pattern, beside_mass, HEAD, bold=True),
        mass=mass,
        differs=tuple(wrapped(listed(entry.label), beside_small, SMALL)),
        small=small,
    )


def _stiffness(entry: Made) -> tuple[str, ...]:
    if entry.strength is None:
        return ()
    aside, plane = entry.strength.aside, entry.strength.plane
    return (f"×{aside.lateral_between_vs_plate:.1f} · {plane.stiffness_vs_plate:.2f}",)


def listed(label: Sequence[str]) -> str:
    """Return the parts of *label* in a row that breaks only between them, minus signs set right."""
    return ", ".join(part.replace(" -", " \u2212").replace(" ", "\u00a0") for part in label)
