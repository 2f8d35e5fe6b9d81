"""What a page wishes: a spec as plain values, what is held of its pattern, and a mass."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any, TypeAlias

Data: TypeAlias = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Wish:
    """A ring to draw.

    ``spec`` has the keys of the file, ``held`` what the pattern had chosen for itself before
    something else was turned. Where the ring is to stay on the mass ``aim`` (g), its rib is turned
    from ``rib`` (mm), and the rib of the spec is the least.
    """

    spec: Data
    held: Data = field(default_factory=dict)
    aim: float | None = None
    rib: float | None = None

    @property
    def key(self) -> str:
        """The wish as text, equal for equal wishes."""
        return json.dumps([self.spec, self.held, self.aim, self.rib], sort_keys=True)


def wish_of(said: Data) -> Wish:
    """Return the wish in the message *said*; raises ValueError where it holds none."""
    spec, held = said.get("spec"), said.get("held", {})
    aim, rib = said.get("aim"), said.get("rib")
    numbers = (one is None or _number(one) for one in (aim, rib))
    if not isinstance(spec, dict) or not isinstance(held, dict) or not all(numbers):
        raise ValueError("no wish")
    return Wish(spec, held, aim, rib)


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 < value < 1e6
