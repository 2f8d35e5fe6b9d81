"""Marks and panels as the spec says them: what is engraved, and the metal kept for it."""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Field, StringConstraints, ValidationInfo, WithJsonSchema, field_validator

from openwork.lettering.text import text_faults
from openwork.tables.table import Table

MOST_MARKS, MOST_PANELS = 8, 4
NAME = "[a-z][a-z0-9_-]{0,30}"

Name: TypeAlias = Annotated[str, StringConstraints(pattern=f"^{NAME}$")]
Repeat: TypeAlias = Literal["once", "opposite", "every sector"]
Face: TypeAlias = Literal["front", "back"]
PLACES = ("panel", "rim", "hem")
NEAREST, FARTHEST = 5.0, 400.0  # mm, radii of a base line
NARROWEST, WIDEST = 4.0, 180.0  # degrees of a panel


class Mark(Table):
    """A line of text engraved along an arc."""

    text: str = Field(
        "{teeth}",
        max_length=60,
        description="what it says; {teeth}, {title}, {chain}, {bolts}, {circle}, {mass}, {serial}, "
        "{year} are filled in",
    )
    how: Literal["engraved", "cut"] = Field(
        "engraved", description='"engraved", or "cut" through, its islands held by ties of web.rib'
    )
    at: Annotated[
        float | str, WithJsonSchema({"anyOf": [{"enum": [*PLACES]}, {"type": "number"}]})
    ] = Field("panel", description='"panel", "rim", "hem", or the radius of its base line, mm')
    angle: float = Field(90.0, ge=-360, le=360, description="of its middle, degrees")
    reads: Literal["outward", "inward"] = Field(
        "outward", description='"outward" with its feet to the axis, "inward" for the lower half'
    )
    height: float = Field(5.0, ge=2, le=40, description="of a capital, mm")
    face: Face = Field("front", description="the face that bears it; the back is set mirrored")
    line: float = Field(
        0.4,
        ge=0.2,
        le=8,
        description="width of the line, mm; that of a cut text at least the cutter's",
    )
    depth: float = Field(0.2, ge=0, le=1, description="of the line, mm; 0 for a laser's mark")
    repeat: Repeat = Field("once", description="how often it stands round the ring")
    serial: str = Field("", max_length=20, description="what {serial} is")
    year: int | None = Field(None, ge=1900, le=2999, description="what {year} is")

    @field_validator("text", "serial")
    @classmethod
    def _drawn(cls, text: str, info: ValidationInfo) -> str:
        if fault := text_faults(text) if text or info.field_name == "text" else "":
            raise ValueError(fault)
        return text

    @field_validator("at", mode="before")
    @classmethod
    def _place(cls, at: Any) -> Any:
        number = isinstance(at, int | float) and not isinstance(at, bool)
        if at not in PLACES and not (number and NEAREST <= at <= FARTHEST):
            raise ValueError(
                f'{at!r} is neither "panel", "rim" nor "hem", nor a radius from '
                f'{NEAREST:g} to {FARTHEST:g}; "panel" works'
            )
        return float(at) if number else at


class Panel(Table):
    """A part of the web that stays solid: openings that meet it are left out, whole."""

    angle: float = Field(90.0, ge=-360, le=360, description="of its middle, degrees")
    width: Annotated[
        float | str, WithJsonSchema({"anyOf": [{"const": "auto"}, {"type": "number"}]})
    ] = Field("auto", description='degrees, or "auto" for what its marks need')
    repeat: Repeat = Field("once", description='"opposite" and "every sector" keep the balance')

    @field_validator("width", mode="before")
    @classmethod
    def _width(cls, width: Any) -> Any:
        number = isinstance(width, int | float) and not isinstance(width, bool)
        if width != "auto" and not (number and NARROWEST <= width <= WIDEST):
            raise ValueError(
                f'{width!r} is neither "auto" nor a number from {NARROWEST:g} to {WIDEST:g}; '
                '"auto" works'
            )
        return float(width) if number else width


def turns(repeat: Repeat, fold: int) -> tuple[float, ...]:
    """Return the angles, radians, by which what is said once is turned round the ring.

    >>> turns("opposite", 5)
    (0.0, 3.141592653589793)
    """
    count = {"once": 1, "opposite": 2, "every sector": fold}[repeat]
    return tuple(2 * math.pi * k / count for k in range(count))
