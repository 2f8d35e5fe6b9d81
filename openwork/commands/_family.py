"""A family in words: the rows of its tables, and what there is to say of its sizes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from openwork.explore.strength_of import OVER, over_the_metal
from openwork.tables.caution import CAUTION

if TYPE_CHECKING:
    from openwork.explore.family.family import Family
    from openwork.explore.family.size import Size
    from openwork.strength.result import Stress

Row = tuple[str, ...]


def look(family: Family) -> Iterator[Row]:
    """Yield heads and rows of the table of masses and cells."""
    from openwork.explore.family.size import RefusedSize

    yield "teeth", "mass, g", "wanted", "rib, mm", "rows", "solid", "cell, mm", "proportion"
    for size in family.sizes:
        if isinstance(size, RefusedSize):
            yield str(size.teeth), "none", _wanted(size), *("",) * 5
            continue
        yield (
            str(size.teeth),
            f"{size.figures.mass:.2f}",
            _wanted(size),
            f"{size.figures.rib['least']:.2f}",
            "" if size.rows is None else str(size.rows),
            f"{100 * size.figures.solid_share:.0f} %",
            f"{size.cell.size:.1f}",
            f"{size.cell.proportion:.2f}",
        )


def _wanted(size: Size) -> str:
    if isinstance(size.wanted, tuple):
        return f"{size.wanted[0]:g} to {size.wanted[1]:g}"
    return "" if size.wanted is None else f"{size.wanted:g}"


def drive(family: Family) -> Iterator[Row]:
    """Yield heads and rows of the drive figures, gear and run only where [drive] gives them."""
    first = family.sizes[0].drive
    more = [name for name in ("gear", "development") if getattr(first, name) is not None]
    units = {"gear": "gear", "development": "run, m"}
    diameters = ("pitch", "root", "tip", "over pins")
    yield "teeth", *diameters, "pull", "ripple", *(units[name] for name in more)
    for size in family.sizes:
        one = size.drive
        measures = (one.pitch, one.root, one.tip, one.over_pins)
        yield (
            f"{size.teeth} {'even' if one.even else 'odd'}",
            *(f"{value:.2f}" for value in measures),
            f"{one.pull:.0f}",
            f"{100 * one.ripple:.2f} %",
            *(f"{getattr(one, name):.2f}" for name in more),
        )


STRENGTH = (
    "Strength: stiffness in N m/deg and N/mm, × that of a plain plate as heavy, peak in MPa, "
    "shares of what the metal takes: static, on the rig, at your force"
)


def strength(family: Family) -> Iterator[Row]:
    """Yield heads and rows of the table of strength."""
    heads = "teeth", "alone", "spider", "aside", "aside ×", "plane ×"
    yield *heads, "peak", "static", "rig", "yours"
    for size in family.made:
        found = size.strength
        if found is None:
            yield str(size.teeth), "none", *("",) * 8
            continue
        plane, aside = found.plane, found.aside
        yield (
            str(size.teeth),
            f"{plane.stiffness:.0f}",
            f"{plane.stiffness_on_spider:.0f}",
            f"{aside.lateral_between:.0f}",
            f"{aside.lateral_between_vs_plate:.2f}",
            f"{plane.stiffness_vs_plate:.2f}",
            *_stresses(found.stress),
        )


def _stresses(stress: Stress | None) -> tuple[str, ...]:
    if stress is None:
        return ("",) * 4
    tired = stress.utilisation_rig, stress.utilisation_ride
    likely = ("" if one is None else f"{one.utilisation[1]:.2f}" for one in tired)
    return f"{stress.peak_stress.value:.0f}", f"{stress.utilisation_static:.2f}", *likely


def cautions(family: Family) -> tuple[str, ...]:
    """Return the cautions that go with what is shown of *family*, and how far it may be off."""
    found = next((size.strength for size in family.made if size.strength is not None), None)
    return (CAUTION,) if found is None else (found.bands, *found.notes)


def said(family: Family, folder: Path) -> Iterator[str]:
    """Yield what all sizes share, what differs from the base, and what cannot be made."""
    plan = family.plan
    if plan.share is not None:
        yield f"share held: {plan.share:.3f} of the web between rim, hem and pads"
    if family.spec.goal.per_tooth == "auto" and plan.per_tooth is not None:
        yield f"growth that keeps the share: {plan.per_tooth:g} g a tooth"
    over = [str(one.teeth) for one in family.made if one.strength and over_the_metal(one.strength)]
    if over:
        yield f"{', '.join(over)} teeth: {OVER}"
    for size in family.made:
        if size.said:
            yield f"{size.teeth} teeth: {'; '.join(size.said)}"
        if size.unreckoned:
            yield f"{size.teeth} teeth cannot be calculated: {size.unreckoned}"
    for one in family.refused:
        first, *others = one.reason.splitlines()
        yield f"{one.teeth} teeth cannot be made: {first}"
        yield from (f"  {line}" for line in others)
        if (folder / str(one.teeth)).exists():
            yield f"  {folder / str(one.teeth)} is left from an earlier run"
