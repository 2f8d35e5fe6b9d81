"""The ring before it is opened: outline, inner edge, bolt holes and zones of thickness."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Field, WithJsonSchema, field_validator

from openwork.errors import RuleError
from openwork.part.chain import Chain, OwnChain
from openwork.part.chain_name import chain
from openwork.part.fit import MOST_TEETH, mount_faults, named_holes, ring_faults
from openwork.part.material import Material, OwnMaterial
from openwork.part.material_name import material
from openwork.part.mount import Mount
from openwork.part.pads import inner_edge
from openwork.part.teeth import Diameters, diameters, tip_diameter, tooth_outline, tooth_width
from openwork.shape.contour import Contour
from openwork.tables.table import FORM, NAMED, TABLED, Table

ROOT_METAL = (
    1.0  # mm, least metal between a bolt hole and the tooth roots; common practice, no source
)
BAND = 2.0  # mm, least metal between bore and tooth roots; common practice, no source
PLAY = 0.1  # mm, least play of a tooth between inner plates; common practice, no source
THIN, THICK = 1.0, 12.0  # mm, tooth bands

Width: TypeAlias = Annotated[
    float, WithJsonSchema({"type": "number", "minimum": THIN, "maximum": THICK})
]


class Ring(Table):
    """Teeth, chain, material and thicknesses of a ring."""

    teeth: int = Field(ge=9, le=MOST_TEETH, description="number of teeth, ISO 606 covers 9 to 150")
    chain: Annotated[Annotated[str, NAMED] | Annotated[OwnChain, TABLED], FORM] = Field(
        "082", description='chain: number, "1/2 x 11/128", "12-speed", or { inner, roller }'
    )
    material: Annotated[Annotated[str, NAMED] | Annotated[OwnMaterial, TABLED], FORM] = Field(
        "7075-T6", description="alloy or prototype plastic, by name, or a table of its values"
    )
    plate: float = Field(4.0, ge=1, le=12, description="thickness of web and pads, mm")
    tooth_width: Width | Literal["auto"] = Field(
        "auto", description='thickness of the tooth band, mm; "auto" for 0.93 of the chain\'s width'
    )
    gap: float = Field(
        0.0, ge=0, le=1, description="tooth gap, ISO 606 minimum 0 to maximum form 1"
    )
    offset: float = Field(
        0.0, ge=-6, le=6, description="tooth band's mid-plane in front of the plate's, mm"
    )
    tip: float = Field(
        0.5, ge=0, le=1, description="tip diameter, least 0 to greatest 1 of ISO 606"
    )

    @field_validator("chain")
    @classmethod
    def _known_chain(cls, given: str | OwnChain) -> str | OwnChain:
        chain(given)
        return given

    @field_validator("material")
    @classmethod
    def _known_material(cls, given: str | OwnMaterial) -> str | OwnMaterial:
        material(given)
        return given

    @field_validator("tooth_width", mode="before")
    @classmethod
    def _width_or_auto(cls, width: Any) -> Any:
        # Checked here, as a union would report one fault once for each of its types.
        number = isinstance(width, int | float) and not isinstance(width, bool)
        if width != "auto" and not (number and THIN <= width <= THICK):
            raise ValueError(f'{width!r} is neither "auto" nor a number from {THIN:g} to {THICK:g}')
        return width


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A ring before it is opened; lengths in mm, all contours ccw.

    ``edge`` bounds the bore, ``bolts`` are the holes. The plate has its full thickness inside the
    radius ``shroud``; outside it is the tooth band, ``offset`` in front of the plate's mid-plane.
    """

    teeth: int
    chain: Chain
    material: Material
    outline: Contour
    edge: Contour
    bolts: tuple[Contour, ...]
    mount: Mount
    diameters: Diameters
    tip_diameter: float
    shroud: float
    plate: float
    tooth_width: float
    offset: float

    @property
    def holes(self) -> tuple[Contour, ...]:
        """Every contour inside the outline: inner edge and bolt holes."""
        return (self.edge, *self.bolts)

    @property
    def heights(self) -> tuple[float, float]:
        """Where back and front of plate and tooth band lie, mm from the plate's mid-plane."""
        back = min(-self.plate / 2, self.offset - self.tooth_width / 2)
        return back, max(self.plate / 2, self.offset + self.tooth_width / 2)


@lru_cache(maxsize=64)  # many rings of one search share it
def blank(ring: Ring, mount: Mount) -> Blank:
    """Return the blank; raises RuleError with every impossible combination, one a line."""
    size = chain(ring.chain)
    sizes = diameters(ring.teeth, size)
    mount = mount.bored(sizes.root)
    width = tooth_width(size) if ring.tooth_width == "auto" else float(ring.tooth_width)
    faults = [*_width_faults(ring, size, width), *ring_faults(ring.teeth, size, mount)]
    faults += [*mount_faults(mount), *_bored_faults(ring, mount)]
    try:
        outline = tooth_outline(ring.teeth, size, gap=ring.gap, tip=ring.tip)
    except RuleError as fault:
        faults.append(str(fault))
    if faults:
        raise RuleError("\n".join(faults))
    points = mount.bolt_points
    return Blank(
        teeth=ring.teeth,
        chain=size,
        material=material(ring.material),
        outline=outline,
        edge=inner_edge(mount.bore_diameter / 2, points, pad=mount.pad, blend=mount.blend),
        bolts=tuple(
            hole.contour(point) for hole, point in zip(mount.bolt_holes, points, strict=True)
        ),
        mount=mount,
        diameters=sizes,
        tip_diameter=tip_diameter(ring.teeth, size, tip=ring.tip),
        shroud=sizes.shroud / 2,
        plate=ring.plate,
        tooth_width=width,
        offset=ring.offset,
    )


def _width_faults(ring: Ring, size: Chain, width: float) -> list[str]:
    found = []
    if width > size.inner_width - PLAY:
        found.append(
            f"ring.tooth_width {width:g}: wider than the {size.inner_width:g} mm between plates "
            f"of chain {size.number} less {PLAY:g} mm of play; {tooth_width(size):.3f} works"
        )
    if abs(ring.offset) > ring.plate / 2:
        found.append(
            f"ring.offset {ring.offset:g}: the middle of the tooth band lies outside the plate of "
            f"{ring.plate:g} mm; {math.copysign(ring.plate / 2, ring.offset):g} works"
        )
    return found


def _bored_faults(ring: Ring, mount: Mount) -> list[str]:
    return [text for key, hole in named_holes(mount) for text in hole.faults(key, ring.plate)]
