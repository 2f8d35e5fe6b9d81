"""The stress a metal bears so many times: its stress-life line, its surface, how many survive."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import NormalDist
from types import MappingProxyType
from typing import Literal, TypeAlias

import numpy as np

from openwork.errors import RuleError
from openwork.part.material import Material

Finish: TypeAlias = Literal["bare", "anodised", "hard-anodised"]
Range: TypeAlias = tuple[float, float, float]

# Factor on the fatigue strength of polished bars: least, likely, greatest. A judgement within
# data that conflict. Bare: machined, Ra 1.6 to 3.2. Anodised: endurance of 7075-T6 fell from
# about 300 to below 200 MPa (Materials 16 (2023) 1160); 7075-T73 notched lives fell by 60 % on
# average; one study finds thicker coats better (Rev. LatinAm. Metal. Mater. 32 (2012)).
# Hard-anodised: 6061-T6 lost 60 %; MIL-A-8625F 6.10.7, "can be severely reduced".
FINISHES: Mapping[str, Range] = MappingProxyType(
    {
        "bare": (0.8, 0.85, 0.95),
        "anodised": (0.5, 0.65, 0.9),
        "hard-anodised": (0.35, 0.45, 0.6),
    }
)
SCATTER = 0.1  # standard deviation of the fatigue strength over its mean; assumed, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Rig:
    """A fatigue test of cranks: force on each pedal, N, its cycles, cranks 45 degrees below level.

    Of ISO 4210-8; forces from memory of EN 14764 (1300 N), EN 14766 and EN 14781 (1800 N); the
    cycles from memory, of which 50 000 is an alternative for mountain and racing.
    """

    force: float
    cycles: float = 1e5
    below: float = np.pi / 4


RIGS: Mapping[str, Rig] = MappingProxyType(
    {
        "city": Rig(force=1300.0),
        "young-adult": Rig(force=1300.0),
        "mountain": Rig(force=1800.0),
        "racing": Rig(force=1800.0),
    }
)


def mean_strength(material: Material, cycles: float) -> float:
    """Return the reversed stress, MPa, that half of polished bars bear for *cycles*.

    Basquin's line a (2 N)^b down to the published long-life strength, never below it: beyond
    some 1e7 cycles the line falls under what is measured.

    Raises RuleError where no fatigue strength of the material is published.
    """
    if material.fatigue <= 0:
        raise RuleError(
            f"ring.material {material.name}: no published fatigue strength, so no utilisation in "
            "fatigue; 7075-T6 or 6061-T6 works"
        )
    if material.basquin is None:
        return material.fatigue
    at_once, exponent = material.basquin
    return max(at_once * float((2 * cycles) ** exponent), material.fatigue)


def survivors(share: float) -> float:
    """Return the factor on the mean strength that *share* % of parts reach, normal scatter.

    >>> survivors(50.0), round(survivors(97.725), 3)
    (1.0, 0.8)
    """
    return 1 - SCATTER * NormalDist().inv_cdf(share / 100)


def endured(material: Material, cycles: float, finish: Finish, share: float) -> Range:
    """Return the stress, MPa, that *share* % bear for *cycles*: least, likely, greatest finish.

    Raises RuleError where the strength is not published, or what the finish takes off it.
    """
    if finish != "bare" and material.kind != "aluminium":
        raise RuleError(
            f"load.surface {finish}: what it takes off a fatigue strength was measured on "
            f"aluminium, and {material.name} is {material.kind}, so no utilisation in fatigue; "
            "bare works"
        )
    mean = mean_strength(material, cycles) * survivors(share)
    least, likely, greatest = FINISHES[finish]
    return mean * least, mean * likely, mean * greatest
