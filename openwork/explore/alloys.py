"""One ring in every material: the same openings, other mass, strength and price."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from openwork.errors import RuleError
from openwork.explore.parallel import mapped
from openwork.explore.strength_of import strength_of
from openwork.measure.figures import mass
from openwork.part.material import MATERIALS, Material, OwnMaterial
from openwork.part.material_name import material as material_of
from openwork.ring import Design
from openwork.spec.spec import changed
from openwork.strength.result import Strength, Stress
from openwork.tables.plain import plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Alloy:
    """A ring in one material: its mass, g, and strength; ``reason`` says why that is None.

    ``cost`` is the price of the metal that stays in the ring, None where the spec has no price;
    not of the plate it is cut from.
    """

    material: Material
    own: bool
    mass: float
    cost: float | None
    strength: Strength | None = None
    reason: str = ""

    @property
    def stress(self) -> Stress | None:
        """What the metal bears; None where it is not known."""
        return None if self.strength is None else self.strength.stress

    @property
    def static_safety(self) -> float | None:
        """How many times the load the metal takes once; None where that is not known."""
        used = None if self.stress is None else self.stress.utilisation_static
        return None if not used else 1 / used

    @property
    def fatigue_safety(self) -> float | None:
        """What survives the rig over its likely stress; None where one is not known."""
        tired = None if self.stress is None else self.stress.utilisation_rig
        return None if tired is None else 1 / tired.utilisation[1]

    def as_dict(self) -> dict[str, Any]:
        """Return plain values for JSON; what is not published or not known is null."""
        found = dataclasses.asdict(self.material)
        for name in ("yield_strength", "fatigue", "fatigue_cycles"):
            found[name] = found[name] or None
        known = {
            **found,
            "own": self.own,
            "mass": self.mass,
            "cost": self.cost,
            "static_safety": self.static_safety,
            "fatigue_safety": self.fatigue_safety,
            "stiffness": None if self.strength is None else self.strength.plane.stiffness,
            "reason": self.reason,
        }
        return {key: plain(value) for key, value in known.items()}


def alloys(ring: Design, *, jobs: int = 1) -> Iterator[Alloy]:
    """Yield *ring* in every material, by *jobs* processes, in the order of ``MATERIALS``.

    A material of the spec's own comes first.
    """
    given = ring.spec.ring.material
    own = [] if isinstance(given, str) else [given]
    yield from mapped(partial(alloy, ring), [*own, *MATERIALS], jobs=jobs)


def alloy(ring: Design, given: str | OwnMaterial) -> Alloy:
    """Return *ring* in the material *given*."""
    material = material_of(given)
    other = dataclasses.replace(
        ring,
        spec=changed(ring.spec, {"ring.material": _plain(given)}),
        blank=dataclasses.replace(ring.blank, material=material),
    )
    price = ring.spec.prices.by_name.get(material.name)
    weight = mass(other)
    found = partial(
        Alloy,
        material=material,
        own=ring.spec.ring.material == given,
        mass=weight,
        cost=None if price is None else price * weight / 1000,
    )
    try:
        return found(strength=strength_of(other, compare=False))
    except RuleError as fault:
        return found(reason=str(fault))


def _plain(given: str | OwnMaterial) -> object:
    return given if isinstance(given, str) else given.model_dump()


def cost_indices(found: Sequence[Alloy]) -> dict[str, float]:
    """Return by name what the metal costs for 100 in the ring's own; the cheapest if unpriced.

    Only materials with a price are in it.
    """
    priced = {one.material.name: one.cost for one in found if one.cost is not None}
    own = [one.cost for one in found if one.own and one.cost is not None]
    base = own[0] if own else min(priced.values(), default=1.0)
    return {name: 100 * cost / base for name, cost in priced.items()}
