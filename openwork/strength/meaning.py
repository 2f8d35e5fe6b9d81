"""What each figure of strength means, in what unit, with what bias; and the caution for all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

CAUTIONS = (
    "Estimates only: linear, rigid spider, nominal outline. A physical test, such as those of "
    "ISO 4210-8, and a qualified engineer decide; local codes apply.",
    "Anodising lowers fatigue strength, hard anodising most; burrs and tool marks undo figures.",
    "Typical, not least material values; bolt contact, preload and fretting are left out.",
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """Unit, one line of meaning, the bias of a figure, and the mesh it comes from."""

    unit: str
    meaning: str
    bias: str
    mesh: str


_STIFF = "shown too high: search up to 17 %, draw up to 7 %, final up to 3 %"
_HOT = "shown too low: search up to 30 %, draw up to 18 %, final up to 4 %"
_SIDE = "shown up to 4 % too high"
_BENT = "the mesh shows up to 19 % too low, plate theory some 15 % too high"
MEANING: Mapping[str, Meaning] = MappingProxyType(
    {
        "stiffness": Meaning(
            "N m/deg", "torque over the mean turn of the rim, all positions", _STIFF, "plane"
        ),
        "stiffness_least": Meaning("N m/deg", "the same at the softest position", _STIFF, "plane"),
        "stiffness_vs_plate": Meaning(
            "1", "over the un-opened blank thinned to the same mass, same teeth", _STIFF, "plane"
        ),
        "stiffness_vs_net": Meaning(
            "1", "over the net of crossed spirals of the same mass on the same site",
            "within 2 %: both have the same bias", "plane",
        ),
        "ovalisation": Meaning(
            "mm", "spread of the roots' radial displacement at full force", _STIFF, "plane"
        ),
        "lateral_bolt": Meaning("N/mm", "side stiffness of a tooth at a bolt", _SIDE, "plate"),
        "lateral_between": Meaning(
            "N/mm", "side stiffness of a tooth between two bolts, least", _SIDE, "plate"
        ),
        "peak_stress": Meaning(
            "MPa", "largest stress on a free edge, any position, and its place (mm)", _HOT, "plane"
        ),
        "side_stress": Meaning(
            "MPa", "largest bending stress of a slanting chain, to be added", _BENT, "plate"
        ),
        "utilisation_static": Meaning(
            "1", "larger of peak over yield and peak with bending over ultimate", _HOT, "plane"
        ),
        "utilisation_fatigue": Meaning(
            "1", "equivalent reversed stress over fatigue strength: least, likely, greatest",
            "the band holds finish, mesh and support", "plane",
        ),
        "tooth_root": Meaning(
            "MPa", "tension at the root of the first tooth, load shared: new and worn-in chain",
            "within 15 %: where in the seat the roller presses", "tooth 0.25 mm",
        ),
        "tooth_alone": Meaning(
            "MPa", "the same with the whole chain pull on one tooth; an upper bound, not a limit",
            "within 15 %", "tooth 0.25 mm",
        ),
        "tooth_side": Meaning(
            "N", "side load at a tooth's tip to first yield", "shown 5-15 % too low", "beam"
        ),
        "tooth_pressure": Meaning(
            "MPa", "first tooth's force over roller diameter and tooth width", "exact", "none"
        ),
        "wear_reserve": Meaning(
            "%", "growth of the chain's pitch at which rollers ride over the teeth", "exact", "none"
        ),
        "frequency": Meaning("Hz", "lowest bending frequency, bolts held", "within 2 %", "plate"),
        "buckling": Meaning(
            "1", "factor on the full force at which the web buckles, worst of the bolts' gaps",
            "within 3 %", "plate",
        ),
    }
)  # fmt: skip
