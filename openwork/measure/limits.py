"""Whether a finished design keeps its limits, from what was measured on it."""

from __future__ import annotations

from openwork.errors import RuleError
from openwork.measure.figures import Figures
from openwork.measure.margins import SLACK, Margins, too_narrow
from openwork.ring import Design

REMEDY = "a larger rib or fewer openings may keep it"


def keep(design: Design, figures: Figures) -> None:
    """Raise RuleError with every limit that *figures*, measured on *design*, break.

    Least rib, rim, hem and pads, least inside radius, and one piece of metal.
    """
    if broken := limits_broken(design, figures):
        raise RuleError("\n".join(broken))


def limits_broken(design: Design, figures: Figures) -> tuple[str, ...]:
    """Return one message for each limit that *figures* break; none for a sound design."""
    web, mount = design.spec.web, design.spec.mount
    measured = (
        ("web.rib", "least rib", figures.rib["least"], web.rib),
        ("web.corner", "least inside radius", figures.corner_least, web.corner),
    )
    broken = [
        f"{key}: the {name} measures {found:.3f} mm, the limit is {limit:g} mm"
        for key, name, found, limit in measured
        if found < limit - SLACK
    ]
    margins = Margins(rim=figures.rim_least, hem=figures.hem_least, pad=figures.pad_least)
    broken += too_narrow(margins, web, mount)
    broken = [f"{fault}; {REMEDY}" for fault in broken]
    if figures.pieces != 1:
        broken.append(
            f"pattern: the metal falls into {figures.pieces} pieces; another pattern or "
            "other parameters may hold it together"
        )
    return tuple(broken)
