"""The ring before it is opened: outline, inner edge, bolt holes and zones of thickness."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Field, ValidationInfo, WithJsonSchema, field_validator

from openwork.errors import RuleError
from openwork.part.alternate import Alternating, alternating_faults
from openwork.part.chain import CHAINS, Chain, OwnChain
from openwork.part.chain_name import bare, chain
from openwork.part.fit import MOST_TEETH, mount_faults, named_holes, ring_faults
from openwork.part.material import MATERIALS, Material, OwnMaterial
from openwork.part.material_name import material
from openwork.part.mount import Mount
from openwork.part.pads import inner_edge
from openwork.part.sides import Profile, Sides, profile
from openwork.part.teeth import Diameters, diameters, tip_diameter, tooth_outline, tooth_width
from openwork.part.zones import Zone, zones
from openwork.shape.contour import Contour
from openwork.tables.table import FORM, NAMED, TABLED, Table

ROOT_METAL = (
    1.0  # mm, least metal between a bolt hole and the tooth roots; common practice, no source
)
BAND = 2.0  # mm, least metal between bore and tooth roots; common practice, no source
STANDS = 0.05  # mm of plate left, at least, between what is bored and the step to the band
PLAY = 0.1  # mm, least play of a tooth between inner plates; common practice, no source
THIN, THICK = 1.0, 12.0  # mm, tooth bands

Width: TypeAlias = Annotated[
    float, WithJsonSchema({"type": "number", "minimum": THIN, "maximum": THICK})
]


class Ring(Table):
    """Teeth, chain, material and thicknesses of a ring."""

    teeth: int = Field(ge=9, le=MOST_TEETH, description="number of teeth, ISO 606 covers 9 to 150")
    chain: Annotated[Annotated[str, NAMED] | Annotated[OwnChain, TABLED], FORM] = Field(
        "082",
        description='chain: number, "1/2 x 11/128", "12-speed", or { inner, roller }',
        examples=list(CHAINS),
    )
    material: Annotated[Annotated[str, NAMED] | Annotated[OwnMaterial, TABLED], FORM] = Field(
        "7075-T6",
        description="alloy or prototype plastic, by name, or a table of its values",
        examples=list(MATERIALS),
    )
    plate: float = Field(4.0, ge=1, le=12, description="thickness of web and pads, mm")
    tooth_width: Width | Literal["auto"] = Field(
        "auto", description='thickness of the tooth band, mm; "auto" for 0.93 of the chain\'s width'
    )
    gap: float = Field(
        0.0, ge=0, le=1, description="tooth gap, ISO 606 minimum 0 to maximum form 1"
    )
    sides: Annotated[Annotated[str, NAMED] | Annotated[Sides, TABLED], FORM] = Field(
        "auto",
        description='of the teeth: "auto" after ISO 606, "square", or { relief, radius }',
        examples=["auto", "square"],
    )
    alternating: Alternating | None = Field(
        None, description="wide and narrow teeth by turns, { play, wide, clear }; none if left out"
    )
    offset: float = Field(
        0.0, ge=-8, le=8, description="tooth band's mid-plane in front of the plate's, mm"
    )
    tip: float = Field(
        0.5, ge=0, le=1, description="tip diameter, least 0 to greatest 1 of ISO 606"
    )

    @field_validator("chain", "material", mode="before")
    @classmethod
    def _name_in_quotes(cls, given: Any, info: ValidationInfo) -> Any:
        """Tell what a number without quotes may have meant."""
        if isinstance(given, bool) or not isinstance(given, int | float):
            return given
        if info.field_name == "material":
            return f"{given}"
        raise ValueError(f"a number alone is no chain; {bare(given)}")

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

    @field_validator("sides")
    @classmethod
    def _known_sides(cls, given: str | Sides) -> str | Sides:
        if isinstance(given, str) and given not in ("auto", "square"):
            raise ValueError(
                f'"{given}" is neither "auto" nor "square"; "auto" or {{ relief = 0.7 }} works'
            )
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

    ``edge`` bounds the bore, ``bolts`` are the holes. Inside the radius ``shroud`` lie the
    ``zones``, the plate first; outside it is the tooth band, ``offset`` in front of the plate's
    mid-plane, ``tooth_width`` thick and ``wide_width`` on the lands of alternating teeth, less what
    the ``sides`` stand back, None for square teeth.
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
    wide_width: float
    offset: float
    sides: Profile | None
    alternating: Alternating | None

    @property
    def zones(self) -> tuple[Zone, ...]:
        """Plate and, in a dished ring, its run-out, innermost first."""
        return zones(self.plate, self.tooth_width, self.offset, self.shroud)

    @property
    def band(self) -> tuple[float, float]:
        """Heights of the tooth band's back and front, mm from the plate's mid-plane."""
        return self.offset - self.tooth_width / 2, self.offset + self.tooth_width / 2

    @property
    def steps(self) -> tuple[float, float]:
        """How far the metal inside the shroud stands over the band, mm, at front and back."""
        zone, (back, front) = self.zones[-1], self.band
        return zone.front - front, back - zone.back

    @property
    def holes(self) -> tuple[Contour, ...]:
        """Every contour inside the outline: inner edge and bolt holes."""
        return (self.edge, *self.bolts)

    @property
    def heights(self) -> tuple[float, float]:
        """Heights of the lowest and the highest metal, mm from the plate's mid-plane."""
        half = self.wide_width / 2
        low = min(self.offset - half, *(one.back for one in self.zones))
        return low, max(self.offset + half, *(one.front for one in self.zones))


@lru_cache(maxsize=64)  # many rings of one search share it
def blank(ring: Ring, mount: Mount) -> Blank:
    """Return the blank; raises RuleError with every impossible combination, one a line."""
    size = chain(ring.chain)
    sizes = diameters(ring.teeth, size)
    mount = mount.bored(sizes.root)
    width = tooth_width(size) if ring.tooth_width == "auto" else float(ring.tooth_width)
    tip = tip_diameter(ring.teeth, size, tip=ring.tip)
    sides, side_faults = profile(ring.sides, size, width=width, tip=tip / 2, root=sizes.root / 2)
    by_turns = ring.alternating
    faults = [
        *_width_faults(ring, size, width),
        *side_faults,
        *ring_faults(ring.teeth, size, mount),
    ]
    faults += [*mount_faults(mount), *_bored_faults(ring, mount)]
    if by_turns is not None:
        faults += alternating_faults(ring.teeth, size, by_turns, width)
    try:
        outline = tooth_outline(ring.teeth, size, gap=ring.gap, tip=ring.tip)
    except RuleError as fault:
        faults.append(str(fault))
    inner, *run_out = zones(ring.plate, width, ring.offset, sizes.shroud / 2)
    dished = ring.offset if run_out else 0.0
    if faults := faults or _over_the_band(mount, inner.outer, dished):
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
        tip_diameter=tip,
        shroud=sizes.shroud / 2,
        plate=ring.plate,
        tooth_width=width,
        wide_width=width if by_turns is None else by_turns.width(size),
        offset=ring.offset,
        sides=sides,
        alternating=by_turns,
    )


def _width_faults(ring: Ring, size: Chain, width: float) -> list[str]:
    found = []
    if width > size.inner_width - PLAY:
        found.append(
            f"ring.tooth_width {width:g}: wider than the {size.inner_width:g} mm between plates "
            f"of chain {size.number} less {PLAY:g} mm of play; {tooth_width(size):.3f} works"
        )
    return found


def _over_the_band(mount: Mount, full: float, offset: float) -> list[str]:
    """Return what is bored for a bolt beyond the radius *full*, where the plate ends."""
    most = 2 * (full - STANDS - mount.circle / 2)
    if mount.widest <= most:
        return []
    sunk = next((name for name in ("counterbore", "countersink")
                 for one in mount.bolt_holes if getattr(one, name)), "")  # fmt: skip
    key = f"mount.{sunk}.diameter" if sunk else "mount.hole"
    what = f"run-out of a band with ring.offset {offset:g}" if offset else "tooth band"
    return [
        f"{key} {mount.widest:g}: reaches over the step to the {what}, at radius {full:.2f} mm; "
        f"{math.floor(most * 100) / 100:g} works"
    ]


def _bored_faults(ring: Ring, mount: Mount) -> list[str]:
    return [text for key, hole in named_holes(mount) for text in hole.faults(key, ring.plate)]
