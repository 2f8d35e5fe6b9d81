"""From a spec to a finished ring."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module

import numpy as np

from openwork.errors import RuleError
from openwork.fill.finish import finished, repeated
from openwork.fill.parameters import completed
from openwork.fill.registry import Pattern
from openwork.fill.site import Site, site
from openwork.fill.widths import Carried
from openwork.part.blank import Blank, blank
from openwork.part.clearance import clearance_faults
from openwork.part.edges import edge_faults
from openwork.shape.contour import Contour
from openwork.spec.spec import Spec


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Design:
    """A ring: its blank, its openings as exact contours, and all that is needed to make it again.

    ``openings`` run sector by sector: the first ``len(openings) // site.fold`` are one symmetry
    sector, the others their rotations. ``pattern`` holds every parameter, given or chosen;
    ``filled`` fragments became metal, ``dropped`` slivers were too narrow to cut.
    """

    spec: Spec
    blank: Blank
    site: Site
    pattern: Pattern
    openings: tuple[Contour, ...]
    filled: int
    dropped: int

    @property
    def sector(self) -> tuple[Contour, ...]:
        """The openings of one symmetry sector."""
        return self.openings[: len(self.openings) // self.site.fold]

    @property
    def contours(self) -> tuple[Contour, ...]:
        """Every contour that bounds the metal: outline, inner edge, bolt holes, openings."""
        return (self.blank.outline, *self.blank.holes, *self.openings)

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

    Raises SpecError where the pattern's parameters are wrong, RuleError where it cannot be made.
    """
    ring = blank(spec.ring, spec.mount)
    place = site(ring, spec.web)
    web = spec.web
    faults = edge_faults(ring, spec.edges, hem=web.hem, rim=web.rim, bevel=web.bevel)
    faults += clearance_faults(ring, spec.clearance)
    if faults:
        raise RuleError("\n".join(faults))
    pattern = completed(spec.pattern.name, spec.pattern.parameters, place)
    rng = np.random.default_rng(spec.pattern.seed)
    result = finished(pattern(place, rng), place, _carried(spec, ring, place, pattern))
    return Design(
        spec=spec,
        blank=ring,
        site=place,
        pattern=pattern,
        openings=repeated(result.openings, place),
        filled=result.filled * place.fold,
        dropped=result.dropped * place.fold,
    )


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
