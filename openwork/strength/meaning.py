"""What each figure of strength means, in what unit, with what bias; and the caution for all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from openwork.tables.figure import Figure

CAUTIONS = (
    "Estimates only: linear, rigid spider, nominal outline. A physical test, such as those of "
    "ISO 4210-8, and a qualified engineer decide; local codes apply.",
    "Anodising lowers fatigue strength, hard anodising most; burrs and tool marks undo figures.",
    "Typical, not least material values; bolt contact, preload and fretting are left out.",
)


@dataclass(frozen=True, slots=True)
class Meaning(Figure):
    """A figure of strength with its bias, and the mesh it comes from.

    ``entry`` is the part of its table that is the figure, where the table holds more.
    """

    bias: str = ""
    mesh: str = ""
    entry: str = ""


_STIFF = "shown too high: search up to 17 %, draw up to 7 %, final up to 3 %"
_HOT = "shown too low: search up to 30 %, draw up to 18 %, final up to 4 %"
_SIDE = "shown up to 4 % too high"
_BENT = "the mesh shows up to 19 % too low, plate theory some 15 % too high"
_ROOT = "tension at the root of the first tooth, load shared"
_ALONE = "the same with the whole chain pull on one tooth; an upper bound, not a limit"
_FATIGUE = {
    name: Figure(
        "1",
        "equivalent reversed stress over fatigue strength",
        label=f"fatigue utilisation, {name}",
        better=-1,
    )
    for name in ("least", "likely", "greatest")
}


def _chains(meaning: str) -> Mapping[str, Figure]:
    """Return the parts of a figure that is reckoned for two chains."""
    return {
        f"{age} chain": Figure(
            "MPa",
            f"{meaning}; {age} chain",
            better=-1,
        )
        for age in ("new", "worn-in")
    }


MEANING: Mapping[str, Meaning] = MappingProxyType(
    {
        "stiffness": Meaning(
            "N m/deg",
            "torque over the mean turn of the rim, all positions",
            _STIFF,
            "plane",
            better=1,
        ),
        "stiffness_least": Meaning(
            "N m/deg",
            "the same at the softest position",
            _STIFF,
            "plane",
            label="least stiffness",
            better=1,
        ),
        "stiffness_vs_plate": Meaning(
            "1",
            "over the un-opened blank thinned to the same mass, same teeth",
            _STIFF,
            "plane",
            label="stiffness over a plain plate",
            better=1,
            short="stiffness",
        ),
        "stiffness_vs_net": Meaning(
            "1",
            "over the net of crossed spirals of the same mass on the same site",
            "within 2 %: both have the same bias",
            "plane",
            label="stiffness over crossed spirals",
            better=1,
        ),
        "ovalisation": Meaning(
            "mm",
            "spread of the roots' radial displacement at full force",
            _STIFF,
            "plane",
            better=-1,
            places=4,
        ),
        "lateral_bolt": Meaning(
            "N/mm",
            "side stiffness of a tooth at a bolt",
            _SIDE,
            "plate",
            label="side stiffness at a bolt",
            better=1,
        ),
        "lateral_between": Meaning(
            "N/mm",
            "side stiffness of a tooth between two bolts, least",
            _SIDE,
            "plate",
            label="side stiffness between bolts",
            better=1,
        ),
        "peak_stress": Meaning(
            "MPa",
            "largest stress on a free edge, any position, and its place (mm)",
            _HOT,
            "plane",
            better=-1,
            entry="value",
        ),
        "side_stress": Meaning(
            "MPa",
            "largest bending stress of a slanting chain, to be added",
            _BENT,
            "plate",
            label="stress of a slanting chain",
            better=-1,
        ),
        "utilisation_static": Meaning(
            "1",
            "larger of peak over yield and peak with bending over ultimate",
            _HOT,
            "plane",
            label="static utilisation",
            better=-1,
        ),
        "utilisation_fatigue": Meaning(
            "1",
            "equivalent reversed stress over fatigue strength: least, likely, greatest",
            "the band holds finish, mesh and support",
            "plane",
            entry="utilisation",
            parts=_FATIGUE,
        ),
        "tooth_root": Meaning(
            "MPa",
            f"{_ROOT}: new and worn-in chain",
            "within 15 %: where in the seat the roller presses",
            "tooth 0.25 mm",
            parts=_chains(_ROOT),
        ),
        "tooth_alone": Meaning(
            "MPa", _ALONE, "within 15 %", "tooth 0.25 mm", parts=_chains(_ALONE)
        ),
        "tooth_side": Meaning(
            "N",
            "side load at a tooth's tip to first yield",
            "shown 5-15 % too low",
            "beam",
            label="side load of a tooth",
            better=1,
        ),
        "tooth_pressure": Meaning(
            "MPa",
            "first tooth's force over roller diameter and tooth width",
            "exact",
            "none",
            better=-1,
        ),
        "wear_reserve": Meaning(
            "%",
            "growth of the chain's pitch at which rollers ride over the teeth",
            "exact",
            "none",
            better=1,
        ),
        "frequency": Meaning(
            "Hz", "lowest bending frequency, bolts held", "within 2 %", "plate", better=1
        ),
        "buckling": Meaning(
            "1",
            "factor on the full force at which the web buckles, worst of the bolts' gaps",
            "within 3 %",
            "plate",
            better=1,
        ),
    }
)
