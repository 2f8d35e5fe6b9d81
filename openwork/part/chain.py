"""Chain sizes of half an inch pitch that run on chainrings."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches

from openwork.errors import SpecError


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """A roller chain after ISO 606 / ISO 9633; lengths in mm.

    ``roller`` is the greatest roller diameter d1, ``inner_width`` the least width b1 between the
    inner plates, ``plate_depth`` the greatest inner plate depth h2, ``tensile`` the least tensile
    strength in N.
    """

    number: str
    trade_name: str
    pitch: float
    roller: float
    inner_width: float
    plate_depth: float
    tensile: float


def _size(number: str, trade_name: str, *sizes: float) -> Chain:
    roller, inner_width, plate_depth, tensile = sizes
    return Chain(
        number=number,
        trade_name=trade_name,
        pitch=12.7,
        roller=roller,
        inner_width=inner_width,
        plate_depth=plate_depth,
        tensile=tensile,
    )


# Roller and inner width were read in a DIN 8187 catalogue (scribd.com/doc/315797010), but all of
# 084 and the 6.25 of 085 (the catalogue prints 6.38) are from memory of ISO 606 table 1; so are
# depths and strengths. 082 carries the 8.0 kN that ISO 9633 asks of 081C and 082C (from memory).
CHAINS: dict[str, Chain] = {
    size.number: size
    for size in (
        _size("081", "1/2 x 1/8", 7.75, 3.30, 9.91, 8000.0),
        _size("082", "1/2 x 3/32", 7.75, 2.38, 9.91, 8000.0),
        _size("083", "1/2 x 3/16", 7.75, 4.88, 10.30, 11600.0),
        _size("084", "1/2 x 3/16 heavy", 7.75, 4.88, 11.15, 15600.0),
        _size("085", "1/2 x 1/4", 7.77, 6.25, 9.91, 6700.0),
    )
}


def chain(name: str) -> Chain:
    """Return the chain of a number or trade name; raises SpecError with the nearest name.

    >>> chain("1/2x3/32").number
    '082'
    """
    names = {
        _plain(key): size for size in CHAINS.values() for key in (size.number, size.trade_name)
    }
    wanted = _plain(name)
    if wanted in names:
        return names[wanted]
    near = get_close_matches(wanted, names, n=1, cutoff=0.0)
    nearest = names[near[0]]
    known = ", ".join(CHAINS)
    raise SpecError(
        f'chain "{name}": not one of {known}; "{nearest.number}" ({nearest.trade_name}) is nearest'
    )


def _plain(name: str) -> str:
    """Return *name* bare of spaces, inch signs and the C that ISO 9633 adds; x between sizes."""
    text = re.sub(r"[\s\"″']", "", name.lower()).replace("×", "x").replace("*", "x")
    return re.sub(r"^(08\d)c$", r"\1", text)
