"""The strength of a ring for the commands that show it: files, table, words."""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from openwork.ring import Design
    from openwork.strength.fatigue import Fatigue
    from openwork.strength.report import Reckoned
    from openwork.strength.result import Strength, Stress


def pictures(ring: Design, found: Reckoned) -> dict[str, str | bytes]:
    """Return ``stress.svg`` and, where the extra ``png`` is installed, ``stress.png``."""
    from openwork.render.drawing.recipe import design_recipe
    from openwork.render.ring.stress import stress_svg

    text = stress_svg(found, title=ring.spec.title, recipe=design_recipe(ring))
    contents: dict[str, str | bytes] = {"stress.svg": text}
    if importlib.util.find_spec("resvg_py"):
        from openwork.render.paper.png import page_png

        contents["stress.png"] = page_png(text)
    return contents


def rows(found: Strength) -> Iterator[tuple[str, str]]:
    """Yield the lines of the table of strength: a name and a value with its unit."""
    from openwork.strength.quality import off

    load, spider, plane, aside = found.load, found.spider, found.plane, found.aside
    yield (
        "load",
        f"{load.force:g} N at {load.crank:g} mm: {found.torque:.0f} N m, {found.pull:.0f} N",
    )
    yield (
        "side stiffness",
        f"{aside.lateral_bolt:.0f} N/mm at a bolt, {aside.lateral_between:.0f} between",
    )
    yield (
        "aside, over a plain plate",
        f"{aside.lateral_bolt_vs_plate:.2f} at a bolt, {aside.lateral_between_vs_plate:.2f} "
        f"between; one as heavy is {aside.plain_plate:.2f} mm thick",
    )
    yield "stiffness, ring alone", f"{plane.stiffness:.0f} N m/deg"
    yield (
        "stiffness on its spider",
        f"{plane.stiffness_on_spider:.0f} N m/deg, arms of {spider.tangential:.7g} and "
        f"{spider.radial:.7g} kN/mm",
    )
    yield "in plane, over a plain plate", f"{plane.stiffness_vs_plate:.2f} on its spider"
    if plane.stiffness_vs_net is not None:
        yield "over crossed spirals", f"{plane.stiffness_vs_net:.2f} of a net as heavy"
    yield from _bolted(found)
    if found.stress is not None:
        yield from _stresses(found, found.stress)
    yield "wear reserve", f"{found.wear_reserve:.1f} % of chain growth"
    if found.frequency is not None:
        yield "lowest frequency", f"{found.frequency:.0f} Hz"
    if found.buckling is not None:
        yield "buckling factor", f"{found.buckling:.1f}"
    yield (
        f"mesh, {found.quality} grade",
        f"stiffness {off(found.stiffness_band)}; stress {off(found.stress_band)}",
    )


def _bolted(found: Strength) -> Iterator[tuple[str, str]]:
    bolted, bolts = found.bolted, found.bolts
    yield (
        "largest bolt force",
        f"{bolted.bolt_force:.0f} N on the spider, {bolted.bolt_force_alone:.0f} ring alone",
    )
    yield (
        "first joint slips",
        f"at {bolted.slip:.0f} N on the pedal: {bolts.preload:g} kN, friction {bolts.friction:g}",
    )
    if found.loose is not None:
        x, y = found.loose.place
        stress = (
            f", {found.loose.peak:.0f} MPa at ({x:.1f}, {y:.1f}) mm, "
            f"{found.loose.hole_stress:.0f} round a hole"
        )
        yield (
            "bolts as loose pins",
            f"{found.loose.stiffness:.0f} N m/deg{stress if found.stress else ''}",
        )


def _stresses(found: Strength, stress: Stress) -> Iterator[tuple[str, str]]:
    peak, (x, y) = stress.peak_stress, stress.peak_stress.place
    yield (
        "peak stress",
        f"{peak.value:.0f} MPa {peak.sign} at ({x:.1f}, {y:.1f}) mm; {peak.chain} chain, ring "
        f"{peak.support}",
    )
    load = found.load
    yield (
        "slanting chain",
        f"{stress.side_stress:.0f} MPa more in bending, {load.slant:g} mm aside over {load.span:g}",
    )
    for chain, first in (("new", stress.yield_new), ("worn-in", stress.yield_worn)):
        if first is not None:
            beyond = "; past it stresses are nominal" if first.force < load.force else ""
            name = f"first yield, {chain} chain"
            yield name, f"at {first.force:.0f} N on the pedal: {first.part}{beyond}"
    used = stress.utilisation_static
    yield (
        "static utilisation",
        f"{used:.2f} of what the metal takes, slanting chain counted{_over(used)}",
    )
    yield "beside it", _marked(found.load.crank)
    for name, tired in (
        ("fatigue on the rig", stress.utilisation_rig),
        ("fatigue at your force", stress.utilisation_ride),
    ):
        if tired is not None:
            yield name, _worn(tired)
    new, worn = stress.tooth_root
    yield "tooth root", f"{new:.0f} MPa with a new chain, {worn:.0f} with a worn-in one"
    if stress.tooth_root_wide is not None:
        new, worn = stress.tooth_root_wide
        yield "root of a wide tooth", f"{new:.0f} MPa, {worn:.0f} with a worn-in chain"
    if stress.tooth_side is not None:
        wide = stress.tooth_side_wide
        beside = "" if wide is None else f", {wide:.0f} N of a wide one"
        yield "side load of a tooth", f"{stress.tooth_side:.0f} N to first yield{beside}"


def _marked(crank: float) -> str:
    """Return the forces of tests and riders, N, in words."""
    from openwork.strength.yielding import marks

    return ", ".join(f"{mark.force:.0f} {mark.name}" for mark in marks(crank))


def _worn(tired: Fatigue) -> str:
    least, likely, greatest = tired.utilisation
    return (
        f"{least:.2f} to {greatest:.2f} of the metal, likely {likely:.2f}{_over(likely)}: "
        f"{tired.force:g} N, "
        f"{tired.cycles:.0f} times, {tired.survival:g} % surviving; {tired.kind}"
    )


def _over(utilisation: float) -> str:
    """Return the mark of a utilisation that the metal does not bear."""
    from openwork.explore.strength_of import OVER

    return f", {OVER}" if utilisation > 1 else ""
