"""The patterns, one module each; a module's name is its pattern's name.

Importing a module registers its pattern in ``openwork.fill.registry.PATTERNS``.
"""

from pkgutil import iter_modules

NAMES = tuple(one.name for one in iter_modules(__path__) if not one.name.startswith("_"))
