"""What chain a name means: a number, a size in inches or mm, or the speeds it is made for."""

from __future__ import annotations

import re
from dataclasses import replace

from openwork.errors import SpecError
from openwork.part.chain import CHAINS, OVER_PINS, Chain, OwnChain

FEWEST, MOST = 5, 12  # speeds of cassettes whose chains are known
SAME_WIDTH = 0.1  # mm within which a width is the chain's
INCH = 25.4
SINGLE = r"single|fixed|track|hub gear"


def chain(given: str | OwnChain) -> Chain:
    """Return the chain that is meant; raises SpecError with what the name comes nearest to.

    >>> chain("1/2x3/32").number, chain("12-speed").number, chain("single, 1/8").number
    ('082', '11/128', '081')
    """
    if isinstance(given, OwnChain):
        return given.chain
    name = given.lower().replace("×", "x").replace("*", "x")
    found = _numbered(name) or _speeded(name) or _sized(name)
    if found is None:
        raise SpecError(f'chain "{given}": {_meant(name)}')
    return found


def bare(number: float) -> str:
    """Return what to write for a number alone, which may be speeds or a width.

    >>> bare(12), bare(2.18)
    ('"12-speed" works', '"2.18 mm" works')
    """
    if number in range(FEWEST, MOST + 1):
        return f'"{number:g}-speed" works'
    near = [one for one in CHAINS.values() if abs(one.inner_width - number) < SAME_WIDTH / 2]
    return f'"{near[0].inner_width:g} mm" works' if near else _known()


def _numbered(name: str) -> Chain | None:
    """Return the chain of a number, with or without the C that ISO 9633 adds."""
    found = re.search(r"(?<![\d./])(08[1-5])c?(?![\d.])", name)
    return CHAINS[found[1]] if found else None


def _speeds(name: str) -> int | None:
    """Return the speeds of "12-speed", "12sp" or "1x12"."""
    found = re.search(r"(\d+)\s*-?\s*(?:speeds?|spd?|s)\b", name)
    found = found or re.fullmatch(r"\s*[123]\s*x\s*(\d+)\s*", name)
    return int(found[1]) if found else None


def _speeded(name: str) -> Chain | None:
    speeds = _speeds(name)
    if speeds is None or not FEWEST <= speeds <= MOST:
        return None
    if speeds in OVER_PINS:
        return replace(CHAINS["11/128"], over_pins=OVER_PINS[speeds])
    return CHAINS["082"]


def _sized(name: str) -> Chain | None:
    """Return the chain of an inner width; of two alike the lighter, unless "heavy" is said."""
    width = _width(name)
    if width is None:
        return None
    near = [one for one in CHAINS.values() if abs(_nominal(one) - width) < SAME_WIDTH / 2]
    near = near or [one for one in CHAINS.values() if abs(one.inner_width - width) < SAME_WIDTH / 2]
    heavy = "heavy" in name
    return next((one for one in near if ("heavy" in one.trade_name) == heavy), None)


def _nominal(one: Chain) -> float:
    """Return the width, mm, that the trade name says in inches."""
    return _inches(one.trade_name.split("x")[1]) or one.inner_width


def _inches(text: str) -> float | None:
    found = re.search(r"(\d+)\s*/\s*(\d+)", text)
    return INCH * int(found[1]) / int(found[2]) if found and int(found[2]) else None


def _width(name: str) -> float | None:
    """Return the inner width, mm, of "1/2 x 3/32", "3/32 in" or "2.38 mm"."""
    last = re.split(r"\bx\b|x(?=[\s\d])", name)[-1]
    if (inches := _inches(last)) is not None:
        return inches
    found = re.fullmatch(r"\s*(\d+\.\d+)\s*(?:mm)?\s*", last)
    return float(found[1]) if found else None


def _meant(name: str) -> str:
    """Return what stands nearest to a name that no chain has, by its meaning."""
    speeds, width = _speeds(name), _width(name)
    if speeds is not None and speeds > MOST:
        return (
            f"chains of {speeds} speeds are not known here; measure yours: "
            f"{{ inner = 2.18, roller = 7.75 }} works"
        )
    if speeds == 1 or (width is None and re.search(SINGLE, name)):
        return 'single-speed chains come in two widths; "single, 1/8" or "single, 3/32" works'
    if width is None:
        return f"not a chain known here; {_known()}"
    near = min(CHAINS.values(), key=lambda one: abs(one.inner_width - width))
    return (
        f'no chain here is {width:.2f} mm wide inside; "{near.number}" ({near.trade_name}, '
        f"{near.inner_width:g} mm) is nearest, {{ inner = {width:.2f}, roller = 7.75 }} is your own"
    )


def _known() -> str:
    listed = ", ".join(f'"{one.number}" ({one.trade_name}, {one.use})' for one in CHAINS.values())
    return f'{listed}, a speed as "12-speed", or {{ inner = 2.18, roller = 7.75 }} works'
