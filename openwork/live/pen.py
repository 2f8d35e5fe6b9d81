"""Draws: from a wish to what the page shows. Plain values in, plain values out.

The picture never waits for a measurement: ``draw`` gives outlines and mass, ``ribs`` the least rib.
"""

from __future__ import annotations

import math
from collections import OrderedDict

from openwork.errors import RuleError, SpecError
from openwork.explore.mass.begun import least_rib as least_of
from openwork.explore.mass.ribs import Ribbed, by_ribs
from openwork.fill.registry import patterns
from openwork.live.offers import offers
from openwork.live.picture import picture
from openwork.live.wish import Data, Wish
from openwork.ring import Design, design
from openwork.shape.gauging import gauge
from openwork.spec.spec import Spec, from_data

KEPT = 64  # rings remembered: undo, redo and a slider going to and fro cost nothing


class Pen:
    """Rings by the wish for them, the newest remembered."""

    def __init__(self) -> None:
        patterns()
        self._rings: OrderedDict[str, tuple[Data, Design]] = OrderedDict()

    def draw(self, wish: Wish) -> Data:
        """Return the picture of the ring wished for, or the faults of the wish."""
        try:
            return self._drawn(wish)[0]
        except (SpecError, RuleError) as error:
            return refusal(error)

    def ring(self, wish: Wish) -> Design:
        """Return the ring wished for; raises SpecError and RuleError as ``design`` does."""
        return self._drawn(wish)[1]

    def ribs(self, wish: Wish) -> Data:
        """Return the least rib, mm, and the two points between which it lies."""
        found = least_rib(self.ring(wish))
        if not math.isfinite(found.width):
            return {}
        ends = [[round(value, 2) for value in point] for point in (found.first, found.second)]
        return {"rib": round(found.width, 4), "ends": ends}

    def _drawn(self, wish: Wish) -> tuple[Data, Design]:
        if wish.key in self._rings:
            self._rings.move_to_end(wish.key)
            return self._rings[wish.key]
        found = _made(wish)
        self._rings[wish.key] = found
        while len(self._rings) > KEPT:
            self._rings.popitem(last=False)
        return found


def refusal(error: SpecError | RuleError) -> Data:
    """Return what is wrong and, where the words name it, what would work."""
    faults = str(error).splitlines()
    return {"faults": faults, "offers": offers(faults)}


def least_rib(ring: Design) -> gauge.Gap:
    """Return the least rib of *ring*, between the openings of a sector and those it can be next to.

    Only the sector itself and its two neighbours are; the others are turns of these.
    """
    fold, count = ring.fold, len(ring.sector)
    turns = sorted({0, 1 % fold, -1 % fold})
    around = [one for k in turns for one in ring.openings[k * count : (k + 1) * count]]
    return gauge.least_gap(ring.sector, around)


def _made(wish: Wish) -> tuple[Data, Design]:
    spec, off = asked(wish), {}
    ring = _held(spec, wish.held)
    if wish.aim is not None:
        found = by_ribs(ring, wish.aim)
        ring = found.design
        off = {} if found.reached else {"off": _off(found, wish.aim)}
    return {**picture(ring), **off}, ring


def asked(wish: Wish) -> Spec:
    """Return the spec wished for; on a mass its rib is where the search begins.

    Raises SpecError.
    """
    spec = from_data(wish.spec)
    if wish.aim is None:
        return spec
    goal = {**wish.spec.get("goal", {})}
    goal.setdefault("least_rib", spec.web.rib)
    start = max(wish.rib or spec.web.rib, goal["least_rib"])
    web = {**wish.spec.get("web", {}), "rib": start}
    return from_data({**wish.spec, "goal": goal, "web": web})


def _held(spec: Spec, held: Data) -> Design:
    """Return the ring of *spec* with what is *held* of its pattern, or without where that fails."""
    given = {**held, **spec.pattern.parameters}
    if given == dict(spec.pattern.parameters):
        return design(spec)
    table = {"name": spec.pattern.name, "seed": spec.pattern.seed, **given}
    try:
        return design(from_data({**spec.model_dump(exclude_none=True), "pattern": table}))
    except (SpecError, RuleError):
        return design(spec)


def _off(found: Ribbed, aim: float) -> str:
    return (
        f"goal.mass {aim:g}: by ribs alone, none below {least_of(found.design.spec):g} mm, "
        f"this look weighs {found.least:.1f} to {found.most:.1f} g"
    )
