"""A look brought on a mass by the changes that keep it, the cheapest to the eye first.

Heavier: ribs up to what the cells bear, then rim and hem, then other numbers of columns and rows,
then the plate where the maker allows it. Lighter: fewer and larger openings, then the plate. No
rib is ever narrower than asked for, and no opening may fill with metal on the way, so that the mass
grows without a jump and the row at the hem does not die first.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

from openwork.errors import RuleError
from openwork.explore.mass.bearing import kept_openings, widest_rib
from openwork.explore.mass.begun import RIB, begun, key_range, least_rib, level_key, settled
from openwork.explore.mass.belts import belts
from openwork.explore.mass.out_of_reach import OutOfReachError
from openwork.explore.mass.search import TOLERANCE, Trials
from openwork.explore.mass.spacing import respaced
from openwork.explore.mass.tries import Tries
from openwork.measure.figures import mass
from openwork.ring import Design, design
from openwork.spec.spec import Spec, changed
from openwork.tables.goal import middle

PLATE, LEAST = "ring.plate", "goal.least_rib"
LOSES = 0.05  # of the open area: holes as small as that are not what makes the look


def brought(spec: Spec, wanted: float | tuple[float, float]) -> Tries:
    """Return the rings tried from *spec*'s to one that weighs *wanted* (g), which is ``found``.

    A band is aimed at in its middle; a ring already inside it is left as it is. Raises
    OutOfReachError with the masses that can be reached, RuleError where no ring can be made.
    """
    base = started(spec)
    own = base if base.spec.web.rib == spec.web.rib else None
    tries = Tries(before=own, base=base, aim=middle(wanted))
    tries.take(base)
    tries.found = (
        tries.within(wanted)
        or _looked(tries, spec, base)
        or _thicker(tries)
        or tries.within(wanted)
    )
    if tries.found is None:
        raise OutOfReachError(tries.window(), tries.aim)
    return tries


def _looked(tries: Tries, spec: Spec, base: Design) -> Design | None:
    """Return *base*, the ring of *spec*, on the mass by what keeps its look; None if not."""
    if level_key(base):
        return _levelled(tries, base) or _spaced(tries, spec, base, _levelled)
    return (
        _kept(tries, base) or _kept(tries, base, loses=LOSES) or _spaced(tries, spec, base, _kept)
    )


def _levelled(tries: Tries, ring: Design) -> Design | None:
    """Return *ring* on the mass by the level of its pattern; None if it does not reach it."""
    key = level_key(ring)
    value = float(getattr(ring.pattern, key.partition(".")[2]))
    levels = Trials(ring.spec, key, key_range(ring.spec, key))
    levels.take(value, ring)
    return tries.solved(levels, value)


def started(spec: Spec) -> Design:
    """Return the ring of *spec*, its pattern settled; of the nearest rib where its own makes none.

    Its spec holds the least rib, whatever rib the search gives it. Raises RuleError where no rib
    makes a ring.
    """
    try:
        ring = design(spec)
    except RuleError:
        trials, value = begun(spec, RIB)
        ring = trials.rings[value]
    return dataclasses.replace(ring, spec=changed(settled(ring), {LEAST: least_rib(spec)}))


def _kept(tries: Tries, ring: Design, *, loses: float = 0.0) -> Design | None:
    """Return *ring* on the mass by its ribs, and by wider belts where the ribs end; None if not.

    Small openings that make up the share *loses* of the open area may go on the way.
    """
    least, keep = least_rib(ring.spec), kept_openings(ring, loses)
    if loses and keep == len(ring.openings):
        return None
    ribs = Trials(ring.spec, RIB, (min(least, ring.site.rib), widest_rib(ring)), keep,
                  tries.made)  # fmt: skip
    ribs.take(ring.site.rib, ring)
    found = tries.solved(ribs, ring.site.rib)
    lighter = [(weight, rib) for rib, weight in ribs.known() if weight < tries.aim]
    if found is not None or not lighter:
        return found
    return tries.solved(belts(ribs.rings[max(lighter)[1]], least, keep, tries.made), 0.0)


def _spaced(
    tries: Tries, spec: Spec, ring: Design, bring: Callable[[Tries, Design], Design | None]
) -> Design | None:
    """Return the look *ring* of *spec* on the mass with other counts, by *bring*; None if not."""
    for other in respaced(
        changed(spec, {LEAST: least_rib(spec)}), ring, more=tries.aim > mass(ring)
    ):
        tries.take(other)
        if mass(other) < tries.aim + TOLERANCE:
            found = bring(tries, dataclasses.replace(other, spec=settled(other)))
            if found is not None:
                return found
    return None


def _thicker(tries: Tries) -> Design | None:
    """Return the ring nearest the mass with another plate, where the maker allows one."""
    allowed = tries.base.spec.goal.plate
    if allowed is None:
        return None
    ring = tries.nearest()
    now = ring.blank.plate
    plates = Trials(
        settled(ring), PLATE, (min(allowed[0], now), max(allowed[1], now)), len(ring.openings)
    )
    plates.take(now, ring)
    return tries.solved(plates, now)
