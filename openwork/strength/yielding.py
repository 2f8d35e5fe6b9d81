"""The pedal force at which the metal first yields, and forces of riders to set beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Part: TypeAlias = Literal["web", "tooth root", "side"]

WEIGHT = 80 * 9.81  # N, of a rider of 80 kg
START = 450.0  # N m


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstYield:
    """The force on a pedal, N, at which the ``part`` named yields first."""

    force: float
    part: Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A force on a pedal, N, that riders or tests reach, where it is from, in full and shortly."""

    force: float
    name: str
    source: str
    short: str


def first_yield(force: float, stresses: dict[Part, float], strength: float) -> FirstYield:
    """Return the force at which the largest of *stresses* (MPa at *force*, N) is *strength*.

    >>> first_yield(1500.0, {"web": 300.0, "tooth root": 250.0}, 500.0)
    FirstYield(force=2500.0, part='web')
    """
    part = max(stresses, key=stresses.__getitem__)
    return FirstYield(force=force * strength / stresses[part], part=part)


def marks(crank: float) -> tuple[Mark, ...]:
    """Return what riders and tests reach on a *crank* (mm), the least first.

    The torque of the standing start is weak: a strain-gauge crank's log told of in a blog.
    """
    found = (
        Mark(
            force=1500.0,
            name="static test",
            source="EN 14766 4.13.6.2, ISO 4210-8",
            short="ISO 4210-8",
        ),
        Mark(
            force=3 * WEIGHT,
            name="three times 80 kg",
            source="starting: Soden and Adeyefa, J. Biomech. 12 (1979) 527",
            short="Soden, Adeyefa 1979",
        ),
        Mark(
            force=1000 * START / crank,
            name="standing start, 450 N m",
            source="a strain-gauge log of a track start, a weak source",
            short="weak source",
        ),
    )
    return tuple(sorted(found, key=lambda mark: mark.force))
