"""The rings tried on the way to a mass, and between which masses they lie."""

from __future__ import annotations

from dataclasses import dataclass, field

from openwork.explore.mass.begun import key_range, least_rib, level_key
from openwork.explore.mass.search import TOLERANCE, Made, Trials, stepped
from openwork.explore.mass.window import Window
from openwork.measure.figures import mass
from openwork.ring import Design, design
from openwork.spec.spec import changed

BEYOND = 1.1  # times the change of the plate that would just do
OTHER = 0.5  # mm of plate tried to find how much a mm weighs


@dataclass(slots=True, kw_only=True)
class Tries:
    """Every ring ``tried`` from ``base`` on the way to ``aim``, g, with its mass; and the found.

    ``before`` is the ring of the spec itself, None where that cannot be made; ``made`` are those of
    all trials.
    """

    before: Design | None
    base: Design
    aim: float
    tried: list[tuple[float, Design]] = field(default_factory=list)
    found: Design | None = None
    made: Made = field(default_factory=dict)

    def take(self, ring: Design) -> None:
        """Count *ring* among those tried."""
        self.tried.append((mass(ring), ring))

    def solved(self, trials: Trials, start: float) -> Design | None:
        """Return the ring of *trials* on the mass, begun at *start*; None without one."""
        value = stepped(trials, start, self.aim, TOLERANCE)
        made = (one for one in trials.rings if one != start)
        self.tried += [(trials.masses[one], trials.rings[one]) for one in made]
        return None if value is None else trials.rings[value]

    def nearest(self) -> Design:
        """Return the ring whose mass is nearest the aim."""
        return min(self.tried, key=lambda one: abs(one[0] - self.aim))[1]

    def within(self, wanted: float | tuple[float, float]) -> Design | None:
        """Return the ring nearest the aim if it is in the band *wanted*, g, or as good as on it."""
        low, high = wanted if isinstance(wanted, tuple) else (wanted, wanted)
        ring = self.nearest()
        return ring if low - TOLERANCE <= mass(ring) <= high + TOLERANCE else None

    def window(self) -> Window:
        """Return the masses between which the look can be brought, and what stops it."""
        least, most = (end(self.tried, key=lambda one: one[0]) for end in (min, max))
        ring = most[1] if self.aim > most[0] else least[1]
        heavier = self.aim > mass(self.base)
        limit = _of_level(ring) or (_heaviest(ring) if heavier else _lightest(self.base))
        helps = (_plate(ring, self.aim),)
        return Window(least=least[0], most=most[0], limit=limit, helps=tuple(filter(None, helps)))


def _of_level(ring: Design) -> str:
    """Return what stops a pattern that has a level of its own; "" for any other."""
    key = level_key(ring)
    if not key:
        return ""
    low, high = key_range(ring.spec, key)
    return f"{key}, from {low:g} to {high:g}, at ribs from {least_rib(ring.spec):g} mm"


def _heaviest(ring: Design) -> str:
    web = ring.spec.web
    return (
        f"what the look bears: ribs of {web.rib:.2f} mm, rim {web.rim:.2f} mm and hem "
        f"{web.hem:.2f} mm, with every opening kept"
    )


def _lightest(ring: Design) -> str:
    return f"the least rib, {least_rib(ring.spec):g} mm, with fewer and larger openings tried"


def _plate(ring: Design, aim: float) -> str:
    """Return the plate with which the look surely weighs *aim* (g), in words.

    The mass of *ring* is linear in it; a little beyond what would just do leaves room to search.
    """
    spec, now = ring.spec, ring.blank.plate
    slope = (mass(design(changed(spec, {"ring.plate": now + OTHER}))) - mass(ring)) / OTHER
    wanted = now + BEYOND * (aim - mass(ring)) / slope
    if not 1 <= wanted <= 12:
        return ""
    low, high = sorted((round(wanted, 2), now))
    return f"a plate of {wanted:.2f} mm reaches it: goal.plate = [{low:g}, {high:g}] allows it"
