"""The strength of a ring for the commands that show it: files, table, words."""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from openwork.ring import Design
    from openwork.strength.result import Strength


def pictures(ring: Design) -> dict[str, str | bytes]:
    """Return ``stress.svg`` and, where resvg-py is installed, ``stress.png``."""
    from openwork.render.drawing.recipe import design_recipe
    from openwork.render.ring.stress import stress_svg
    from openwork.strength.loading import loaded
    from openwork.strength.model import ring_model

    load = ring.spec.load
    plane = loaded(ring_model(ring.blank, ring.openings), load)
    text = stress_svg(plane, load, title=ring.spec.title, recipe=design_recipe(ring))
    contents: dict[str, str | bytes] = {"stress.svg": text}
    if importlib.util.find_spec("resvg_py"):
        from openwork.render.paper.png import page_png

        contents["stress.png"] = page_png(text)
    return contents


def rows(found: Strength) -> Iterator[tuple[str, str]]:
    """Yield the lines of the table of strength: a name and a value with its unit."""
    load = found.load
    yield (
        "load",
        f"{load.force:g} N at {load.crank:g} mm: {found.torque:.0f} N m, {found.pull:.0f} N",
    )
    yield "stiffness", f"{found.stiffness:.0f} N m/deg, spider rigid"
    yield "against a plain plate", f"{found.stiffness_vs_plate:.2f} of one as heavy"
    if found.stiffness_vs_net is not None:
        yield "against crossed spirals", f"{found.stiffness_vs_net:.2f} of a net as heavy"
    yield (
        "side stiffness",
        f"{found.lateral_bolt:.0f} N/mm at a bolt, {found.lateral_between:.0f} between",
    )
    if found.peak_stress is not None:
        x, y = found.peak_stress.place
        yield "peak stress", f"{found.peak_stress.value:.0f} MPa at ({x:.1f}, {y:.1f}) mm"
    if found.utilisation_static is not None:
        over = _over(found.utilisation_static)
        yield "static utilisation", f"{found.utilisation_static:.2f} of what the metal takes{over}"
    if found.utilisation_fatigue is not None:
        low, likely, high = found.utilisation_fatigue.utilisation
        kind = found.utilisation_fatigue.kind
        yield (
            "fatigue utilisation",
            f"{low:.2f} to {high:.2f}, likely {likely:.2f}{_over(likely)}; {kind}",
        )
    if found.tooth_root is not None:
        new, worn = found.tooth_root
        yield "tooth root", f"{new:.0f} MPa with a new chain, {worn:.0f} with a worn-in one"
    yield "wear reserve", f"{found.wear_reserve:.1f} % of chain growth"
    if found.frequency is not None:
        yield "lowest frequency", f"{found.frequency:.0f} Hz"
    if found.buckling is not None:
        yield "buckling factor", f"{found.buckling:.1f}"
    yield "mesh", found.mesh


def _over(utilisation: float) -> str:
    """Return the mark of a utilisation that the metal does not bear."""
    from openwork.explore.strength_of import OVER

    return f", {OVER}" if utilisation > 1 else ""
