"""Chain sizes of half an inch pitch that run on chainrings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from pydantic import Field, model_validator

from openwork.tables.table import Table

PITCH = 12.7  # mm
INNER_PLATE = 0.75  # mm, an inner plate of a narrow chain at its thinnest; from memory


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """A roller chain after ISO 606 / ISO 9633; lengths in mm.

    ``roller`` is the greatest roller diameter d1, ``inner_width`` the least width b1 between the
    inner plates, ``outer_width`` the least width b3 between the outer ones, ``over_pins`` the
    greatest width b4, ``plate_depth`` the greatest inner plate depth h2, ``tensile`` the least
    tensile strength in N, ``use`` what the chain is made for.
    """

    number: str
    trade_name: str
    pitch: float
    roller: float
    inner_width: float
    outer_width: float
    over_pins: float
    plate_depth: float
    tensile: float
    use: str = "of one's own measure"


class OwnChain(Table):
    """A chain of one's own measure, half an inch of pitch; lengths in mm."""

    inner: float = Field(ge=1.5, le=12, description="least width between the inner plates, mm")
    roller: float = Field(ge=6, le=9, description="roller diameter, mm")
    plates: float = Field(9.91, ge=6, le=12, description="depth of the inner plates, mm")
    outer: float = Field(0.0, ge=0, le=16, description="width between the outer plates, mm")
    pins: float = Field(0.0, ge=0, le=25, description="width over the pins, mm")

    @model_validator(mode="before")
    @classmethod
    def _wider(cls, values: Any) -> Any:
        """Let what is not given follow from the inner width, narrow plates taken."""
        inner = values.get("inner") if isinstance(values, dict) else None
        if not isinstance(inner, int | float) or not _number(inner):
            return values
        outer = values.get("outer") or inner + 2 * INNER_PLATE
        pins = values.get("pins") or (outer + 2 * INNER_PLATE if _number(outer) else 0.0)
        if _number(outer) and _number(pins) and not inner < outer < pins:
            raise ValueError(
                f"outer: {outer:g} mm between the outer plates must lie between the {inner:g} mm "
                f"between the inner ones and the {pins:g} mm over the pins"
            )
        return {**values, "outer": outer, "pins": pins}

    @property
    def chain(self) -> Chain:
        """The chain these measures make; its strength is what ISO 9633 asks of 082C."""
        return Chain(
            number="own",
            trade_name=f"1/2 in x {self.inner:g} mm",
            pitch=PITCH,
            roller=self.roller,
            inner_width=self.inner,
            outer_width=self.outer,
            over_pins=self.pins,
            plate_depth=self.plates,
            tensile=8000.0,
        )


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _size(number: str, trade_name: str, use: str, *sizes: float) -> Chain:
    roller, inner_width, outer_width, over_pins, plate_depth, tensile = sizes
    return Chain(
        number=number,
        trade_name=trade_name,
        pitch=PITCH,
        roller=roller,
        inner_width=inner_width,
        outer_width=outer_width,
        over_pins=over_pins,
        plate_depth=plate_depth,
        tensile=tensile,
        use=use,
    )


# Numbers of ISO 606 and, for 081 and 082, of the cycle chains of ISO 9633. Roller, inner width and
# width over pins were read in a DIN 8187 catalogue, but all of 084 and the 6.25 of 085 (the
# catalogue prints 6.38) are from memory of ISO 606 table 1; so are widths between outer plates,
# depths and strengths. 082 carries the 8.0 kN that ISO 9633 asks of 081C and 082C (from memory).
# 11/128 has no number: its 2.18 mm were read in a public table of cycle chains, the rest of its
# row is the narrowest and the deepest in use (common practice, from memory).
CHAINS: dict[str, Chain] = {
    size.number: size
    for size in (
        _size("081", "1/2 x 1/8", "single-speed", 7.75, 3.30, 5.90, 10.2, 9.91, 8000.0),
        _size("082", "1/2 x 3/32", "5 to 8 speed", 7.75, 2.38, 4.70, 8.2, 9.91, 8000.0),
        _size("11/128", "1/2 x 11/128", "9 to 12 speed", 7.75, 2.18, 3.80, 6.65, 9.0, 8000.0),
        _size("083", "1/2 x 3/16", "carriers, mopeds", 7.75, 4.88, 8.00, 12.9, 10.30, 11600.0),
        _size("084", "1/2 x 3/16 heavy", "mopeds", 7.75, 4.88, 8.90, 14.8, 11.15, 15600.0),
        _size("085", "1/2 x 1/4", "machines", 7.77, 6.25, 9.12, 14.0, 9.91, 6700.0),
    )
}
# mm over the pins by speed, 9 and 10 read in a public collection, 11 and 12 from memory.
OVER_PINS = {9: 6.65, 10: 5.9, 11: 5.6, 12: 5.3}
