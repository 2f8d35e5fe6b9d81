"""What every size of a family shall weigh, and the look they share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from openwork.errors import OpenworkError
from openwork.explore.family.once import EVEN, Choice, Mass, chosen_once
from openwork.explore.mass.chain import brought, started
from openwork.explore.mass.search import solid_mass
from openwork.measure.figures import mass
from openwork.ring import Design
from openwork.shape.contour import area
from openwork.spec.spec import Spec
from openwork.tables.goal import Hold, Wanted, middle, shifted

PLACES = 2  # decimals of a mass that is wanted, g
APART = 0.2  # of the mean step by which a step for one tooth may differ from it
SPARE = 0.2  # g that a size weighs more than it must


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The ring of ``spec`` that sets the ``look``, and what each size shall weigh by teeth, g.

    None where only the rib is held. ``share`` is the solid share of the web that is held, and
    ``per_tooth`` the growth of the mass, g, as asked or as found.
    """

    spec: Spec
    look: Design
    hold: Hold
    wanted: Mapping[int, Wanted]
    share: float | None = None
    per_tooth: float | None = None


def planned(spec: Spec) -> Plan:
    """Return the plan of *spec*'s family; raises RuleError where the base cannot be made."""
    held, sizes = spec.goal.held, spec.goal.sizes
    if held == "mass":
        return _on_the_mass(chosen_once(spec, sizes, _most_wanted(spec)), spec)
    choice = chosen_once(spec, sizes)
    return _on_the_rib(choice, spec) if held == "rib" else _on_the_share(choice, spec)


def _most_wanted(spec: Spec) -> Mass:
    """Return what a ring of *spec*'s family may weigh, g, by its teeth."""
    goal, base = spec.goal, started(spec)
    assert goal.mass is not None
    aim, growth = middle(goal.mass), goal.per_tooth
    if growth == "auto":
        taken = (solid_mass(base) - aim) / float(base.site.room().area)
        return lambda ring: at_share(ring, taken)
    return lambda ring: aim + growth * (ring.spec.ring.teeth - spec.ring.teeth)


def _on_the_rib(choice: Choice, spec: Spec) -> Plan:
    """Return one rib for all, and where the masses jump what makes their steps even."""
    wanted: dict[int, Wanted] = dict.fromkeys(spec.goal.sizes)
    masses = {teeth: mass(ring) for teeth, ring in choice.rings.items()}
    if choice.unevenness > EVEN and len(masses) > 1:
        wanted |= evened(masses)
    return Plan(spec=spec, look=choice.look, hold="rib", wanted=wanted)


def evened(masses: Mapping[int, float]) -> dict[int, float]:
    """Return the least masses, none below *masses* (g, by teeth), whose steps are even enough.

    No step for a tooth is then less or more than the mean step by more than a fifth of it, so that
    the largest is at most 1.5 times the median.

    >>> evened({40: 50.0, 41: 58.0, 42: 59.0, 43: 62.0})
    {40: 53.2, 41: 58.0, 42: 61.2, 43: 64.4}
    """
    first, last = min(masses), max(masses)
    slope = (masses[last] - masses[first]) / (last - first)
    low, high = (1 - APART) * slope, (1 + APART) * slope

    def least(teeth: int) -> float:
        return max(
            found + (low if other <= teeth else high) * (teeth - other)
            for other, found in masses.items()
        )

    return {teeth: round(least(teeth), PLACES) for teeth in masses}


def _on_the_share(choice: Choice, spec: Spec) -> Plan:
    """Return the masses at the solid share asked for, or the least that every size bears."""
    look = choice.look
    if spec.goal.share is None:
        taken = min(taken_per_area(ring) for ring in choice.rings.values())
    else:
        taken = (1 - spec.goal.share) * per_opening(look)
    masses: dict[int, Wanted] = {
        teeth: round(at_share(ring, taken), PLACES) for teeth, ring in choice.rings.items()
    }
    wanted = dict.fromkeys(spec.goal.sizes) | masses
    return Plan(
        spec=spec, look=look, hold="share", wanted=wanted, share=1 - taken / per_opening(look)
    )


def _on_the_mass(choice: Choice, spec: Spec) -> Plan:
    """Return the masses asked for; with ``auto`` those that a straight line gives at one share."""
    goal = spec.goal
    assert goal.mass is not None
    look = _on_its_mass(choice, spec)
    if goal.per_tooth == "auto":
        room = float(choice.look.site.room().area)
        taken = (solid_mass(look) - mass(look)) / room
        shared = sorted((teeth, at_share(one, taken)) for teeth, one in choice.rings.items())
        (first, light), (last, heavy) = shared[0], shared[-1]
        growth = _borne(choice, spec, (heavy - light) / max(last - first, 1))
    else:
        growth = float(goal.per_tooth)
    more = {teeth: growth * (teeth - spec.ring.teeth) for teeth in goal.sizes}
    wanted: dict[int, Wanted] = {teeth: shifted(goal.mass, by) for teeth, by in more.items()}
    return Plan(spec=spec, look=look, hold="mass", wanted=wanted, per_tooth=growth)


def _borne(choice: Choice, spec: Spec, growth: float) -> float:
    """Return *growth*, or the nearest with which no size weighs less than its least rib allows."""
    assert spec.goal.mass is not None
    aim, base = middle(spec.goal.mass), spec.ring.teeth
    for teeth, ring in sorted(choice.rings.items(), reverse=True):
        off, lightest = teeth - base, mass(ring) + SPARE
        if off and lightest > aim + growth * off:
            growth = (lightest - aim) / off
    return round(growth, PLACES)


def _on_its_mass(choice: Choice, spec: Spec) -> Design:
    """Return the look on the mass wanted of it; as it is where it cannot be brought there."""
    assert spec.goal.mass is not None
    for one in (choice.look.spec, spec):
        try:
            found = brought(one, middle(spec.goal.mass)).found
        except OpenworkError:
            continue
        if found is not None:
            return found
    return choice.look


def at_share(ring: Design, taken: float) -> float:
    """Return what *ring* would weigh, g, were *taken* g gone from each mm2 of its web."""
    return solid_mass(ring) - taken * float(ring.site.room().area)


def taken_per_area(ring: Design) -> float:
    """Return what the openings of *ring* take for each mm2 of the web between belts and pads, g."""
    return (solid_mass(ring) - mass(ring)) / float(ring.site.room().area)


def per_opening(ring: Design) -> float:
    """Return what each mm2 of opening takes from *ring*, g, bevels counted."""
    opened = sum(area(one) for one in ring.openings)
    return (solid_mass(ring) - mass(ring)) / opened
