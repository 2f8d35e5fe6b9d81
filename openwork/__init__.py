"""openwork draws, weighs and compares pierced chainrings before CAD.

Units inside are mm, gram, newton, MPa (N/mm2) and radian; degrees only at the door.
Axes of every drawing, seen from the front of the ring:

              y
              |        . tooth band
         .----+----.  '
       .'  web|     '.
      /   .---+---.   \\
     |   / bore    \\   |
     |  |     o-----|--(gap)--- x    a bolt and a tooth gap lie on +x
     |   \\         /   |             angles run counter-clockwise from +x
      \\   '-------'   /
       '.           .'
         '---------'

Six functions are all that a script or a notebook needs. ``load`` reads a spec, ``design`` makes its
ring, ``figures`` measures it, ``sheet`` lays out variants of it, ``tune`` brings it on its mass,
and ``family`` carries it over all tooth counts. In a notebook a ring shows itself as a picture,
variants as a sheet. What can go wrong is a ``SpecError``, where the spec is wrong, or a
``RuleError``, where a limit is broken; of these, ``OutOfReachError`` tells which masses can be had.

>>> import openwork
>>> spec = openwork.load("gallery/harbour/spec.toml", {"goal.teeth": [41, 43]})
>>> openwork.design(spec)
<Harbour 42: 42 teeth, honeycomb, 80 openings>
>>> rings = openwork.sheet(spec, vary={"columns": [35, 40], "web.rib": [1.8, 2.4]})
>>> rings
<Harbour 42: a sheet of 4 variants>
>>> list(rings), round(rings["B2"].spec.web.rib, 2)  # brought on the goal of 70 g
(['A1', 'A2', 'B1', 'B2'], 2.79)
>>> round(openwork.tune(spec, mass=70.0).mass, 1)
70.0
>>> [(size.teeth, round(size.figures.mass, 1)) for size in openwork.family(spec).made]
[(41, 70.0), (42, 70.0), (43, 70.0)]
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from openwork.errors import RuleError as RuleError
    from openwork.errors import SpecError as SpecError
    from openwork.explore.family.family import family as family
    from openwork.explore.mass.out_of_reach import OutOfReachError as OutOfReachError
    from openwork.explore.mass.tune import tune as tune
    from openwork.measure.figures import figures as figures
    from openwork.render.choice import sheet as sheet
    from openwork.ring import design as design
    from openwork.spec.spec import load as load

__all__ = (
    "OutOfReachError",
    "RuleError",
    "SpecError",
    "design",
    "family",
    "figures",
    "load",
    "sheet",
    "tune",
)

_HOMES = {
    "load": "openwork.spec.spec",
    "design": "openwork.ring",
    "sheet": "openwork.render.choice",
    "family": "openwork.explore.family.family",
    "tune": "openwork.explore.mass.tune",
    "figures": "openwork.measure.figures",
    "SpecError": "openwork.errors",
    "RuleError": "openwork.errors",
    "OutOfReachError": "openwork.explore.mass.out_of_reach",
}


def __dir__() -> list[str]:
    """Return the public names; what else the module holds is its own."""
    return [*__all__]


def __getattr__(name: str) -> Any:
    """Import a public name when it is first asked for, so that the package itself is light."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
