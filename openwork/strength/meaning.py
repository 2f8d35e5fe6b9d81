"""What each figure of strength means, in what unit, with what bias; and the caution for all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from openwork.tables.figure import Figure

CAUTIONS = (
    "Estimates only: linear, a spider of assumed stiffness, nominal outline. A physical test, such "
    "as those of ISO 4210-8, and a qualified engineer decide; local codes apply.",
    "Anodising lowers fatigue strength, hard anodising most; burrs and tool marks undo figures.",
    "Typical, not least material values; preload, fretting and impact are left out.",
)


@dataclass(frozen=True, slots=True)
class Meaning(Figure):
    """A figure of strength with its bias, and the mesh it comes from.

    ``entry`` is the part of its table that is the figure, where the table holds more.
    """

    bias: str = ""
    mesh: str = ""
    entry: str = ""


_STIFF = "final within 2 %; search shows 1 to 20 % too high"
_HOT = "final shows 3 % too high to 6 % too low; search 5 to 39 % too low"
_BORNE = "final shows 3 % too low to 6 % too high; search 5 to 65 % too high"
_SIDE = "within 2 % of solids; search up to 4 % too high"
_BESIDE = "within 3 %; up to 18 % where a bolt stands right under a tooth"
_BENT = "the mesh shows up to 19 % too low, plate theory some 15 % too high"
_ARMS = "on the arms of [spider], whose stiffness is assumed, not measured"
_SPAN = "the band holds finish, mesh and support; a scatter of 10 % is assumed"
_ROOT = "tension at the root of the first tooth, load shared"
_ALONE = "the same with the whole chain pull on one tooth; an upper bound, not a limit"


def _uses(label: str, meaning: str) -> Mapping[str, Figure]:
    """Return the parts of a figure of fatigue."""
    return {
        name: Figure("1", f"{meaning}: {name}", label=f"{label}, {name}", better=-1)
        for name in ("least", "likely", "greatest")
    }


def _chains(meaning: str) -> Mapping[str, Figure]:
    """Return the parts of a figure that is reckoned for two chains."""
    return {
        f"{age} chain": Figure("MPa", f"{meaning}; {age} chain", better=-1)
        for age in ("new", "worn-in")
    }


_RIG = (
    "fatigue: reversed stress at the force of the rig of ISO 4210-8 over what the metal bears for "
    "its cycles"
)
_RIDE = "fatigue: reversed stress at your own force over what the metal bears for your turns"
_PINS = MappingProxyType(
    {
        "stiffness": Figure("N m/deg", "on loose pins; a lower bound", better=1),
        "peak": Figure("MPa", "largest edge stress on loose pins", better=-1),
        "hole_stress": Figure("MPa", "largest stress round a bolt hole on a pin", better=-1),
    }
)
MEANING: Mapping[str, Meaning] = MappingProxyType(
    {
        "stiffness": Meaning(
            "N m/deg", "torque over the mean turn of the rim, all positions, the ring alone: bolt "
            "heads held fast", _STIFF, "plane", label="stiffness, ring alone", better=1,
        ),
        "stiffness_least": Meaning(
            "N m/deg", "the same at the softest position", _STIFF, "plane",
            label="least stiffness", better=1,
        ),
        "stiffness_on_spider": Meaning(
            "N m/deg", "the same where the arms of the spider give", f"{_STIFF}; {_ARMS}", "plane",
            label="stiffness on its spider", better=1,
        ),
        "stiffness_vs_plate": Meaning(
            "1", "on the spider, over the un-opened blank thinned to the same mass, same teeth",
            _STIFF, "plane", label="stiffness over a plain plate", better=1, short="stiffness",
        ),
        "stiffness_vs_net": Meaning(
            "1", "on the spider, over the net of crossed spirals of the same mass on the same site",
            "final within 2 %; search up to 15 % too high", "plane",
            label="stiffness over crossed spirals", better=1,
        ),
        "ovalisation": Meaning(
            "mm", "spread of the roots' radial displacement at full force",
            "final within 2 %; search shows 1 to 17 % too low", "plane", better=-1, places=4,
        ),
        "lateral_bolt": Meaning(
            "N/mm", "side stiffness of a tooth at a bolt", _SIDE, "plate",
            label="side stiffness at a bolt", better=1,
        ),
        "lateral_between": Meaning(
            "N/mm", "side stiffness of a tooth between two bolts, least", _SIDE, "plate",
            label="side stiffness between bolts", better=1,
        ),
        "lateral_bolt_vs_plate": Meaning(
            "1", "side stiffness at a bolt over that of the un-opened blank thinned to the same "
            "mass", _BESIDE, "plate", label="side stiffness at a bolt over a plain plate", better=1,
        ),
        "lateral_between_vs_plate": Meaning(
            "1", "side stiffness between bolts over that of the un-opened blank thinned to the "
            "same mass", _BESIDE, "plate", label="side stiffness between bolts over a plain plate",
            better=1, short="aside",
        ),
        "plain_plate": Meaning(
            "mm", "thickness of that blank", "within 0.5 %", "plate",
            label="thickness of the plain plate",
        ),
        "bolt_force": Meaning(
            "N", "largest force of the ring on one bolt, on the spider", f"within 2 %; {_ARMS}",
            "plane", label="largest bolt force on the spider", better=-1, places=0,
        ),
        "bolt_force_alone": Meaning(
            "N", "the same with all heads held fast", "within 2 %", "plane",
            label="largest bolt force, ring alone", better=-1, places=0,
        ),
        "slip": Meaning(
            "N", "pedal force at which the first joint slips: preload times friction is used up",
            "as good as preload and friction; one joint slips there, not yet the ring", "plane",
            label="pedal force at which a joint slips", better=1, places=0,
        ),
        "loose": Meaning(
            "", "bolts as loose pins without friction: stiffness, largest edge stress and its "
            "place (mm), largest stress round a bolt hole",
            "no clearance: 0.05 mm of it halves the stiffness again", "plane", parts=_PINS,
        ),
        "peak_stress": Meaning(
            "MPa", "largest stress on a free edge: any position, new or worn-in chain, alone or on "
            "the spider; its sign and its place (mm)", _HOT, "plane", better=-1, entry="value",
        ),
        "peak_alone": Meaning(
            "MPa", "the same for the chain of [load] and the ring alone", _HOT, "plane",
            label="peak stress, ring alone", better=-1, entry="value",
        ),
        "side_stress": Meaning(
            "MPa", "largest bending stress of a slanting chain, to be added", _BENT, "plate",
            label="stress of a slanting chain", better=-1,
        ),
        "yield_new": Meaning(
            "N", "pedal force at which web, tooth root or side bending first yields, new chain",
            _BORNE, "plane", label="pedal force at first yield, new chain", better=1, places=0,
            entry="force",
        ),
        "yield_worn": Meaning(
            "N", "the same with a worn-in chain", _BORNE, "plane",
            label="pedal force at first yield, worn-in chain", better=1, places=0, entry="force",
        ),
        "utilisation_static": Meaning(
            "1", "largest of peak over yield, tooth root over yield, and peak with the slanting "
            "chain over ultimate; new or worn-in chain", _HOT, "plane",
            label="static utilisation", better=-1,
        ),
        "utilisation_rig": Meaning(
            "1", f"{_RIG}: least, likely, greatest", _SPAN, "plane", entry="utilisation",
            parts=_uses("fatigue on the rig", _RIG),
        ),
        "utilisation_ride": Meaning(
            "1", f"{_RIDE}: least, likely, greatest", _SPAN, "plane", entry="utilisation",
            parts=_uses("fatigue at your force", _RIDE),
        ),
        "tooth_root": Meaning(
            "MPa", f"{_ROOT}: new and worn-in chain",
            "within 15 %: where in the seat the roller presses", "tooth 0.25 mm",
            parts=_chains(_ROOT),
        ),
        "tooth_root_wide": Meaning(
            "MPa", f"{_ROOT}, where it is a wide one", "within 15 %", "tooth 0.25 mm",
            parts=_chains(f"{_ROOT}, where it is a wide one"),
        ),
        "tooth_alone": Meaning(
            "MPa", _ALONE, "within 15 %", "tooth 0.25 mm", parts=_chains(_ALONE)
        ),
        "tooth_side": Meaning(
            "N", "side load at a tooth's tip to first yield", "shown 5-15 % too low", "beam",
            label="side load of a tooth", better=1,
        ),
        "tooth_side_wide": Meaning(
            "N", "the same of a wide tooth", "shown 5-15 % too low", "beam",
            label="side load of a wide tooth", better=1,
        ),
        "tooth_pressure": Meaning(
            "MPa", "first tooth's force over roller diameter and tooth width", "exact", "none",
            better=-1,
        ),
        "wear_reserve": Meaning(
            "%", "growth of the chain's pitch at which rollers ride over the teeth", "exact",
            "none", better=1,
        ),
        "frequency": Meaning(
            "Hz", "lowest bending frequency, bolts held", "within 2 %", "plate", better=1
        ),
        "buckling": Meaning(
            "1", "factor on the full force at which the web buckles, worst of the bolts' gaps",
            "within 3 %", "plate", better=1,
        ),
    }
)  # fmt: skip
