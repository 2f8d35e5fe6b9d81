"""The ring as the strength room sees it: contours, thicknesses and the constants of its metal."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from openwork.errors import RuleError
from openwork.part.blank import Blank
from openwork.part.edges import Edges
from openwork.part.material import Material
from openwork.shape.contour import Contour, Floats, Points, area, centroid

SHARP = Edges()
HEAD = 6.5  # mm: half a 13 mm bolt head (common practice, no source)


@dataclass(frozen=True, slots=True)
class Recesses:
    """Pockets: their ``outlines``, the ``depth`` taken there in all, mm, on so many ``faces``.

    ``bevel`` is one width for all, mm, or one for each.
    """

    outlines: tuple[Contour, ...]
    depth: float
    faces: int
    bevel: float | tuple[float, ...] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """A ring in plain values: counter-clockwise contours and mm.

    ``outline`` carries real teeth with a gap on +x, ``edge`` is the inner edge, ``bolts`` the bolt
    holes. The plate is ``plate`` thick out to the ``shroud`` radius and ``tooth_width`` beyond it,
    or as ``blank`` is thick there: sides, lands of wide teeth, run-out of a dished ring.
    ``bevel`` is the width of the bevels of the openings, on both faces, or one for each,
    ``chamfers`` those of other edges; ``counterbore`` the radius and the depth of one face at the
    bolts; ``head`` is the radius a bolt head clamps, ``recesses`` are pockets, whose metal is
    reckoned to lie in the middle.
    """

    outline: Contour
    edge: Contour
    bolts: tuple[Contour, ...]
    openings: tuple[Contour, ...]
    teeth: int
    pitch: float
    roller: float
    plate: float
    tooth_width: float
    shroud: float
    material: Material
    head: float = HEAD
    bevel: float | tuple[float, ...] = 0.0
    chamfers: Edges = SHARP
    counterbore: tuple[float, float] | None = None
    recesses: Recesses | None = None
    blank: Blank | None = None

    @property
    def full(self) -> float:
        """Radius out to which the plate is ``plate`` thick, mm."""
        return self.shroud if self.blank is None else self.blank.zones[0].outer

    @property
    def wide_width(self) -> float:
        """Thickness of the wide teeth, mm, or of all where they are alike."""
        return self.tooth_width if self.blank is None else self.blank.wide_width

    @property
    def pitch_radius(self) -> float:
        """Radius of the pitch circle, mm."""
        return float(self.pitch / (2 * np.sin(np.pi / self.teeth)))

    @property
    def positions(self) -> Points:
        """Centres (n, 2) of the bolts, mm."""
        return _centres(self.bolts)

    @property
    def hole(self) -> float:
        """Radius of the bolt holes, mm."""
        return float(np.sqrt(max(area(bolt) for bolt in self.bolts) / np.pi))

    @property
    def gaps(self) -> Floats:
        """Angles (teeth,) of the tooth gaps, radians."""
        return np.arange(self.teeth) * 2 * np.pi / self.teeth


@lru_cache(maxsize=64)
def _centres(holes: tuple[Contour, ...]) -> Points:
    return np.array([centroid(hole) for hole in holes]).reshape(-1, 2)


def ring_model(
    blank: Blank,
    openings: tuple[Contour, ...],
    *,
    bevel: float | tuple[float, ...] = 0.0,
    chamfers: Edges = SHARP,
    head: float = 2 * HEAD,
    recesses: Recesses | None = None,
) -> Model:
    """Return *blank* with its *openings* as the strength room sees it.

    *bevel* is the width of the bevels of openings, or of each, *chamfers* those of other edges,
    *head* the diameter of a bolt head, mm; no counterbore or countersink holds a larger one. Raises
    RuleError where a head reaches the teeth.
    """
    bore = blank.mount.counterbore
    sunk = [one.widest for one in blank.mount.bolt_holes if one.counterbore or one.countersink]
    room = blank.diameters.root / 2 - blank.mount.circle / 2
    if head / 2 >= room:
        raise RuleError(
            f"bolts.head {head:g}: reaches the tooth roots, {room:.1f} mm from the bolts' centres; "
            f"{np.floor(2 * room) - 1:g} works"
        )
    return Model(
        outline=blank.outline,
        edge=blank.edge,
        bolts=blank.bolts,
        openings=openings,
        teeth=blank.teeth,
        pitch=blank.chain.pitch,
        roller=blank.chain.roller,
        plate=blank.plate,
        tooth_width=blank.tooth_width,
        shroud=blank.shroud,
        material=blank.material,
        head=min([head, *sunk]) / 2,
        bevel=bevel,
        chamfers=chamfers,
        counterbore=None if bore is None else (bore.diameter / 2, bore.depth),
        recesses=recesses,
        blank=blank,
    )
