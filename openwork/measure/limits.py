"""Whether a finished design keeps its limits, from what was measured on it."""

from __future__ import annotations

from openwork.errors import RuleError
from openwork.measure.figures import Figures
from openwork.ring import Design

SLACK = 1e-3  # mm, within which a measured limit counts as kept


def keep(design: Design, figures: Figures) -> None:
    """Raise RuleError with every limit that *figures*, measured on *design*, break.

    Least rib, solid margins, least inside radius, and one piece of metal.
    """
    if broken := limits_broken(design, figures):
        raise RuleError("\n".join(broken))


def limits_broken(design: Design, figures: Figures) -> tuple[str, ...]:
    """Return one message for each limit that *figures* break; none for a sound design."""
    web, mount = design.spec.web, design.spec.mount
    margin = min(web.rim, web.hem, mount.pad - mount.widest_hole / 2)
    measured = (
        ("web.rib", "least rib", figures.rib["least"], web.rib),
        ("web", "least margin", figures.edge_least, margin),
        ("web.corner", "least inside radius", figures.corner_least, web.corner),
    )
    broken = [
        f"{key}: the {name} measures {found:.3f} mm, the limit is {limit:g} mm; "
        "a larger rib or fewer openings may keep it"
        for key, name, found, limit in measured
        if found < limit - SLACK
    ]
    if figures.pieces != 1:
        broken.append(
            f"pattern: the metal falls into {figures.pieces} pieces; another pattern or "
            "other parameters may hold it together"
        )
    return tuple(broken)
