"""What material a name means: a row of the table, an alloy by its number, or a kind of metal."""

from __future__ import annotations

import re
from difflib import get_close_matches

from openwork.errors import SpecError
from openwork.part.material import MATERIALS, Material, OwnMaterial

SLIP = 0.75  # of the letters of a row that a slip of a key leaves
# What makers say, and the row that suits a chainring best.
MEANT = {
    r"alu": "7075-T6",
    r"dural": "7075-T6",
    r"titan|grade 5|\bti\b|ti-?6": "Ti-6Al-4V",
    r"stainless|inox|1\.43|\b316": "304",
    r"chromoly|cro?mo|25crmo4": "4130",
    r"steel|\bs\d{3}\b": "C45",
    r"nylon|polyamid|\bpa\b": "PA12",
    r"plastic|print": "PLA",
}


def material(given: str | OwnMaterial) -> Material:
    """Return the material that is meant; raises SpecError with the row it comes nearest to."""
    if isinstance(given, OwnMaterial):
        return given.material
    if given not in MATERIALS:
        near = nearest(given)
        hint = f'; "{near}" is nearest, {MATERIALS[near].kind}' if near else ""
        raise SpecError(
            f'"{given}" is not one of {", ".join(MATERIALS)}{hint}; '
            "{ density, modulus, ultimate } works for a material of your own"
        )
    return MATERIALS[given]


def nearest(name: str) -> str:
    """Return the row that *name* comes nearest to: by number, by meaning, else as a slip of a key.

    None of them is "", since steel of another number is no aluminium that is spelt alike.

    >>> nearest("aluminium"), nearest("EN AW-6082"), nearest("7075")
    ('7075-T6', '6082-T6', '7075-T6')
    """
    said = name.lower()
    number = re.search(r"\d{3,}|c45|15-5", said)
    rows = [row for row in MATERIALS if number and row.lower().startswith(number[0])]
    if rows:
        return get_close_matches(name, rows, n=1, cutoff=0.0)[0]
    meant = [row for words, row in MEANT.items() if re.search(words, said)]
    return (meant or get_close_matches(name, MATERIALS, n=1, cutoff=SLIP) or [""])[0]
