"""From a spec to a finished ring."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module

import numpy as np

from openwork.errors import RuleError
from openwork.fill.finish import finished, repeated
from openwork.fill.parameters import completed
from openwork.fill.pocket import floors, pocket_faults
from openwork.fill.registry import Pattern
from openwork.fill.site import Site, bevel_widths, site
from openwork.fill.widths import Carried
from openwork.lettering.engraving import Engraving
from openwork.lettering.lettered import lettered
from openwork.lettering.room import Ground
from openwork.part.alternate import PATENTS
from openwork.part.blank import Blank, blank
from openwork.part.clearance import clearance_faults
from openwork.part.edges import edge_faults
from openwork.part.hole import head_caution
from openwork.shape.contour import Contour
from openwork.shape.gauging.integrals import integrals
from openwork.spec.spec import Spec


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Design:
    """A ring: its blank, its openings as exact contours, and all that is needed to make it again.

    ``openings`` run sector by sector: the first ``len(openings) // fold`` are one symmetry sector,
    the others their rotations; ``fold`` is that of the site, less where panels break it, and
    ``panelled`` are the openings left out for them, with the floors they would have had in
    ``panelled_floors``. ``floors`` are what metal stays in each opening, mm, 0
    where it is cut through; none if all are. ``pattern`` holds every parameter, given or chosen;
    ``filled`` fragments became metal, ``dropped`` slivers were too narrow to cut.
    """

    spec: Spec
    blank: Blank
    site: Site
    pattern: Pattern
    openings: tuple[Contour, ...]
    filled: int
    dropped: int
    fold: int
    floors: tuple[float, ...] = ()
    panelled: tuple[Contour, ...] = ()
    panelled_floors: tuple[float, ...] = ()
    engravings: tuple[Engraving, ...] = ()

    @property
    def sector(self) -> tuple[Contour, ...]:
        """The openings of one symmetry sector."""
        return self.openings[: len(self.openings) // self.fold]

    @property
    def sector_cuts(self) -> tuple[tuple[Contour, ...], tuple[Contour, ...]]:
        """The openings of one symmetry sector that are cut through, and those that keep a floor."""
        floors = self.floors[: len(self.sector)] or (0.0,) * len(self.sector)
        pairs = tuple(zip(self.sector, floors, strict=True))
        return (
            tuple(one for one, floor in pairs if not floor),
            tuple(one for one, floor in pairs if floor),
        )

    @property
    def through(self) -> tuple[Contour, ...]:
        """The openings that are cut through."""
        if not self.floors:
            return self.openings
        return tuple(
            one for one, floor in zip(self.openings, self.floors, strict=True) if not floor
        )

    @property
    def pockets(self) -> tuple[Contour, ...]:
        """The openings that keep a floor."""
        if not self.floors:
            return ()
        return tuple(one for one, floor in zip(self.openings, self.floors, strict=True) if floor)

    def bevels(self, openings: Sequence[Contour]) -> tuple[float, ...]:
        """Return how wide the bevel of each of *openings* is, mm."""
        middles = integrals(openings).centroids
        return tuple(bevel_widths(middles, self.site, self.spec.web).tolist())

    @property
    def contours(self) -> tuple[Contour, ...]:
        """Every contour that bounds the metal right through: outline, edge, bolts, openings."""
        return (self.blank.outline, *self.blank.holes, *self.through)

    def __repr__(self) -> str:
        words = f"{self.spec.ring.teeth} teeth, {self.spec.pattern.name}"
        return f"<{self.spec.title}: {words}, {len(self.openings)} openings>"

    def _repr_svg_(self) -> str:
        """Return the picture by which a notebook shows the ring."""
        # Looked up when it is asked for: a ring is made without knowing how it is drawn.
        found: str = import_module("openwork.render.notebook").picture(self)
        return found


def design(spec: Spec) -> Design:
    """Return the ring that *spec* describes.

    Raises SpecError where the pattern's parameters or a text are wrong, RuleError where it cannot
    be made.
    """
    ring = blank(spec.ring, spec.mount)
    place = site(ring, spec.web)
    web = spec.web
    faults = edge_faults(ring, spec.edges, hem=web.hem, rim=web.rim, bevel=web.widest_bevel)
    faults += clearance_faults(ring, spec.clearance)
    faults += pocket_faults(spec.pocket, web, ring.plate)
    if faults:
        raise RuleError("\n".join(faults))
    pattern = completed(spec.pattern.name, spec.pattern.parameters, place)
    rng = np.random.default_rng(spec.pattern.seed)
    result = finished(pattern(place, rng), place, _carried(spec, ring, place, pattern))
    ground = Ground(
        ring=ring,
        site=place,
        openings=repeated(result.openings, place),
        edges=spec.edges,
        bevel=web.widest_bevel,
    )
    every = floors(result.openings, place, spec.pocket) * place.fold
    known = {id(one): floor for one, floor in zip(ground.openings, every, strict=bool(every))}
    letters = lettered(spec.mark, spec.panel, _words(spec, ring), ground)
    return Design(
        spec=spec,
        blank=ring,
        site=place,
        pattern=pattern,
        openings=letters.openings,
        floors=_floors(letters.openings, known),
        filled=result.filled * place.fold,
        dropped=result.dropped * place.fold,
        fold=letters.fold,
        panelled=letters.left_out,
        panelled_floors=_floors(letters.left_out, known),
        engravings=letters.engravings,
    )


def design_cautions(ring: Design) -> list[str]:
    """Return what is to be told of *ring*: of patents, of bolts that do not go with it."""
    patents = [] if ring.blank.alternating is None else [PATENTS]
    mount = ring.blank.mount
    head = head_caution(mount.bolt_holes, ring.spec.bolts.head, mount.pad)
    return [*patents, *([head] if head else [])]


def _carried(spec: Spec, ring: Blank, place: Site, pattern: Pattern) -> Carried | None:
    """Return what ribs carry where they thicken by it."""
    if not place.taper or spec.web.taper_by == "place":
        return None
    from openwork.strength.carried import Case, carried  # noqa: PLC0415 (slow, seldom needed)

    case = Case(
        blank=ring,
        pattern=pattern,
        seed=spec.pattern.seed,
        worn=spec.load.wear == "worn-in",
        head=spec.bolts.head,
    )
    return carried(case, place)


def _floors(openings: Sequence[Contour], known: Mapping[int, float]) -> tuple[float, ...]:
    """Return the floors of *openings*, by identity; letters, not among those *known*, have none."""
    return tuple(known.get(id(one), 0.0) for one in openings) if known else ()


def _words(spec: Spec, ring: Blank) -> dict[str, str]:
    """Return what the fields of marks are filled with, "" for what the spec does not say."""
    mass = spec.goal.mass
    return {
        "teeth": str(ring.teeth),
        "title": spec.title,
        "chain": ring.chain.number,
        "bolts": str(ring.mount.bolts),
        "circle": f"{ring.mount.circle:g}",
        "mass": f"{mass:g}" if isinstance(mass, float | int) else "",
    }
