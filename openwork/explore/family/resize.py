"""A look in another tooth count: on its mass, with the columns and rows of the whole family."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from functools import partial

from openwork.errors import RuleError
from openwork.explore.family.differences import departures
from openwork.explore.family.plan import Plan
from openwork.explore.family.size import MadeSize, RefusedSize, Size
from openwork.explore.mass.bearing import kept_openings
from openwork.explore.mass.begun import RIB, begun, settled
from openwork.explore.mass.belts import belts
from openwork.explore.mass.chain import LOSES, brought
from openwork.explore.mass.out_of_reach import OutOfReachError
from openwork.explore.mass.search import TOLERANCE, solved, stepped
from openwork.explore.strength_of import strength_of
from openwork.measure.cell import cell
from openwork.measure.figures import figures, mass
from openwork.measure.limits import keep
from openwork.part.chain_name import chain
from openwork.part.drive import Running, running
from openwork.ring import Design, design
from openwork.spec.spec import Spec, as_data, changed
from openwork.strength.chainpull import lever, pressure_angle, torque


def sized(plan: Plan, teeth: int, *, strong: bool = False) -> Size:
    """Return the look of *plan* with *teeth* teeth, as it wants that; if *strong*, its strength."""
    wanted = plan.wanted[teeth]
    spec = _spec(plan, teeth)
    drive = _drive(spec)
    refused = partial(RefusedSize, teeth=teeth, wanted=wanted, drive=drive)
    try:
        ring = _made(plan, spec)
        measured = figures(ring)
        keep(ring, measured)
    except OutOfReachError as fault:
        return refused(reason=str(fault), reach=(fault.reach.least, fault.reach.most))
    except RuleError as fault:
        return refused(reason=str(fault))
    found = MadeSize(
        teeth=teeth,
        wanted=wanted,
        drive=drive,
        design=ring,
        figures=measured,
        cell=cell(ring),
        said=departures(plan.look, ring),
    )
    return _reckoned(found) if strong else found


def _reckoned(size: MadeSize) -> MadeSize:
    try:
        return replace(size, strength=strength_of(size.design, compare=False))
    except RuleError as fault:
        return replace(size, unreckoned=str(fault))


def _made(plan: Plan, spec: Spec) -> Design:
    """Return the ring of *spec* on the mass that *plan* wants.

    Raises RuleError where it cannot be made.
    """
    wanted = plan.wanted[spec.ring.teeth]
    if wanted is None:
        return design(spec)
    if plan.hold == "rib" and isinstance(wanted, float):
        return _by_belts(design(spec), wanted)
    found = brought(spec, wanted).found
    assert found is not None
    return found


def _by_belts(ring: Design, wanted: float) -> Design:
    """Return *ring* with rim and hem so much wider that it weighs *wanted*, g.

    Where that makes the mass jump its ribs are turned too; where they cannot, it is the nearest.
    """
    nearest = ring
    for loses in (0.0, LOSES):
        wider = belts(ring, ring.site.rib, kept_openings(ring, loses))
        value = 0.0
        if abs(wider.masses[0.0] - wanted) > TOLERANCE:
            found = stepped(wider, 0.0, wanted, TOLERANCE)
            if found is None:
                nearest = min(
                    nearest, *wider.rings.values(), key=lambda one: abs(mass(one) - wanted)
                )
                continue
            value = found
        return wider.rings[value]
    with suppress(RuleError):
        return brought(ring.spec, wanted).found or nearest
    return _by_ribs(ring, wanted, nearest)


def _by_ribs(ring: Design, wanted: float, nearest: Design) -> Design:
    """Return *ring* with ribs with which it weighs *wanted*, g, or comes nearer than *nearest*."""
    trials, start = begun(ring.spec, RIB)
    solved(trials, start, wanted, TOLERANCE)
    tried = (nearest, *trials.rings.values())
    return min(tried, key=lambda one: abs(mass(one) - wanted))


def _spec(plan: Plan, teeth: int) -> Spec:
    """Return the spec of *plan*'s look for *teeth* teeth; a mass that is held is its goal.

    Ribs and belts begin where the maker has them.
    """
    pattern = as_data(settled(plan.look))["pattern"]
    changes: dict[str, object] = {"ring.teeth": teeth, "pattern": pattern}
    wanted = plan.wanted[teeth]
    if wanted is not None:
        changes["goal.mass"] = wanted
    return changed(plan.spec, changes)


def _drive(spec: Spec) -> Running:
    ring, load = spec.ring, spec.load
    given = chain(ring.chain)
    pressure = pressure_angle(ring.teeth, worn=load.wear == "worn-in")
    pull = torque(load.force, load.crank) / lever(ring.teeth, given.pitch, pressure)
    return running(ring.teeth, given, tip=ring.tip, pull=pull, drive=spec.drive)
