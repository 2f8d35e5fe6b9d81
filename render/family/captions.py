"""What stands under each ring of a family: its figures, those of the drive, what differs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from openwork.explore.strength_of import OVER, over_the_metal
from openwork.render.drawing.pen import Pen
from openwork.render.drawing.type import wrapped
from openwork.render.paper.page import HEAD, LEADING, SMALL

if TYPE_CHECKING:
    from openwork.explore.family.size import MadeSize
    from openwork.strength.result import Strength

ABOVE = 0.8  # mm between the picture and its caption


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """The caption of a size: bold left and right, small left and right, lines of what is said."""

    bold: tuple[str, str]
    small: tuple[tuple[str, str], ...]
    said: tuple[str, ...]

    @property
    def height(self) -> float:
        """Height under the picture, mm."""
        return ABOVE + LEADING * (HEAD + SMALL * (len(self.small) + len(self.said)))


def lines(size: MadeSize, width: float) -> Lines:
    """Return the caption of *size*, no line of it wider than *width* mm."""
    drive = size.drive
    diameters = (
        (f"pitch {drive.pitch:.2f}", f"root {drive.root:.2f}"),
        (f"tip {drive.tip:.2f}", f"pins {drive.over_pins:.2f}"),
    )
    rows = "" if size.rows is None else f"{size.rows} row{'s' * (size.rows > 1)} · "
    stiff = () if size.strength is None else tuple(_strength(size.strength))
    running = f"{drive.gear:.2f} · " if drive.gear else ""
    running += f"{drive.development:.2f} m" if drive.development else ""
    return Lines(
        bold=(f"{size.figures.mass:.1f} g", f"{size.figures.rib['least']:.2f} mm"),
        small=(
            (f"{rows}{100 * size.figures.solid_share:.0f} %", running.removesuffix(" · ")),
            (f"{drive.pull:.0f} N · {100 * drive.ripple:.2f} %", "even" if drive.even else "odd"),
            *diameters,
            *stiff,
        ),
        said=tuple(wrapped("; ".join(size.said), width, SMALL)),
    )


def _strength(found: Strength) -> Iterator[tuple[str, str]]:
    """Yield how stiff a size is beside a plain plate, what it uses of the metal, and a mark."""
    aside, plane = found.aside.lateral_between_vs_plate, found.plane.stiffness_vs_plate
    used = "" if found.stress is None else f"used {found.stress.utilisation_static:.2f}"
    yield f"aside ×{aside:.2f} · ×{plane:.2f}", used
    if over_the_metal(found):
        yield OVER, ""


def set_caption(pen: Pen, at: tuple[float, float], wide: float, lines: Lines) -> None:
    """Set *lines* from the upper left corner *at*, *wide* mm across."""
    x, base = at[0], at[1] + ABOVE + HEAD
    pen.text((x, base), lines.bold[0], HEAD, bold=True)
    pen.text((x + wide, base), lines.bold[1], HEAD, bold=True, end=True)
    for left, right in (*lines.small, *((text, "") for text in lines.said)):
        base += LEADING * SMALL
        pen.text((x, base), left, SMALL)
        pen.text((x + wide, base), right, SMALL, end=True)


def sentences(reason: str) -> str:
    """Return the lines of *reason* as sentences; a key that begins one stays as it is."""
    lines = (
        line if "." in line.partition(" ")[0] else line[:1].upper() + line[1:]
        for line in reason.splitlines()
    )
    return ". ".join(lines) + "."
