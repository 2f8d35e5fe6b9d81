"""What each figure of strength means, in what unit, with what bias; and the caution for all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

CAUTIONS = (
    "Estimates only: linear, a spider of assumed stiffness, nominal outline. A physical test, such "
    "as those of ISO 4210-8, and a qualified engineer decide; local codes apply.",
    "Anodising lowers fatigue strength, hard anodising most; burrs and tool marks undo figures.",
    "Typical, not least material values; preload, fretting, impact and an offset tooth band are "
    "left out.",
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """Unit, one line of meaning, the bias of a figure, and the mesh it comes from."""

    unit: str
    meaning: str
    bias: str
    mesh: str


_STIFF = "final within 2 %; search shows 1 to 20 % too high"
_HOT = "final shows 3 % too high to 6 % too low; search 5 to 39 % too low"
_SIDE = "within 2 % of solids; search up to 4 % too high"
_BESIDE = "within 3 %; up to 18 % where a bolt stands right under a tooth"
_BENT = "the mesh shows up to 19 % too low, plate theory some 15 % too high"
_ARMS = "on the spider of [spider], whose stiffness is assumed, not measured"
_SPAN = "the band holds finish, mesh and support; scatter of 10 % is assumed"
MEANING: Mapping[str, Meaning] = MappingProxyType(
    {
        "stiffness": Meaning(
            "N m/deg", "torque over the mean turn of the rim, all positions, the ring alone: "
            "bolt heads held fast", _STIFF, "plane",
        ),
        "stiffness_least": Meaning("N m/deg", "the same at the softest position", _STIFF, "plane"),
        "stiffness_on_spider": Meaning(
            "N m/deg", "the same where the arms of the spider give", f"{_STIFF}; {_ARMS}", "plane"
        ),
        "stiffness_vs_plate": Meaning(
            "1", "on the spider, over the un-opened blank thinned to the same mass, same teeth",
            _STIFF, "plane",
        ),
        "stiffness_vs_net": Meaning(
            "1", "on the spider, over the net of crossed spirals of the same mass on the same site",
            "final within 2 %; search up to 15 % too high", "plane",
        ),
        "ovalisation": Meaning(
            "mm", "spread of the roots' radial displacement at full force", _STIFF, "plane"
        ),
        "lateral_bolt": Meaning("N/mm", "side stiffness of a tooth at a bolt", _SIDE, "plate"),
        "lateral_between": Meaning(
            "N/mm", "side stiffness of a tooth between two bolts, least", _SIDE, "plate"
        ),
        "lateral_bolt_vs_plate": Meaning(
            "1", "the first over that of the un-opened blank thinned to the same mass", _BESIDE,
            "plate",
        ),
        "lateral_between_vs_plate": Meaning(
            "1", "the second over that of the un-opened blank thinned to the same mass", _BESIDE,
            "plate",
        ),
        "plain_plate": Meaning(
            "mm", "thickness of that blank", "within 0.5 %", "plate"
        ),
        "bolt_force": Meaning(
            "N", "largest force of the ring on one bolt, on the spider", f"within 2 %; {_ARMS}",
            "plane",
        ),
        "bolt_force_alone": Meaning(
            "N", "the same with all heads held fast", "within 2 %", "plane"
        ),
        "slip": Meaning(
            "N", "pedal force at which the first joint slips: preload times friction is used up",
            "as good as preload and friction; one bolt's joint, not the ring's, slips", "plane",
        ),
        "loose": Meaning(
            "", "bolts as loose pins without friction: stiffness (N m/deg, a lower bound), largest "
            "edge stress (MPa) and its place (mm), largest stress round a bolt hole (MPa)",
            "no clearance: 0.05 mm halves the stiffness again", "plane",
        ),
        "peak_stress": Meaning(
            "MPa", "largest stress on a free edge: any position, new or worn-in chain, alone or on "
            "the spider; its sign and its place (mm)", _HOT, "plane",
        ),
        "peak_alone": Meaning(
            "MPa", "the same for the chain of [load] and the ring alone", _HOT, "plane"
        ),
        "side_stress": Meaning(
            "MPa", "largest bending stress of a slanting chain, to be added", _BENT, "plate"
        ),
        "yield_new": Meaning(
            "N", "pedal force at which web, tooth root or side bending first yields, new chain",
            _HOT, "plane",
        ),
        "yield_worn": Meaning("N", "the same with a worn-in chain", _HOT, "plane"),
        "utilisation_static": Meaning(
            "1", "larger of peak over yield and peak with bending over ultimate", _HOT, "plane"
        ),
        "utilisation_rig": Meaning(
            "1", "fatigue: reversed stress at the force of the rig of ISO 4210-8 over what the "
            "metal bears for its cycles: least, likely, greatest", _SPAN, "plane",
        ),
        "utilisation_ride": Meaning(
            "1", "fatigue: the same at your own force, for the turns you ask for", _SPAN, "plane"
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
