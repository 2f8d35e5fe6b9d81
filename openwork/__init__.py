"""openwork draws, weighs and compares pierced chainrings before CAD.

Units inside are mm, gram, newton, MPa (N/mm2) and radian; degrees only at the door.
Axes of every drawing, seen from the front of the ring::

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
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from openwork.design import design as design
    from openwork.explore.tune import tune as tune
    from openwork.figures import figures as figures
    from openwork.spec import load as load

_HOMES = {
    "load": "openwork.spec",
    "design": "openwork.design",
    "figures": "openwork.figures",
    "tune": "openwork.explore.tune",
}


def __getattr__(name: str) -> Any:
    """Import a public function when it is first asked for, so that the package itself is light."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)


class _Package(ModuleType):
    def __setattr__(self, name: str, value: object) -> None:
        # Importing openwork.design must not hide the function behind the module of its name.
        if not (name in _HOMES and isinstance(value, ModuleType)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package
