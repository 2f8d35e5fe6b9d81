"""The patterns, one module each; a module's name is its pattern's name.

Importing this package registers every family in ``openwork.fill.registry.PATTERNS``.
"""

from importlib import import_module
from pkgutil import iter_modules

for _module in iter_modules(__path__):
    if not _module.name.startswith("_"):
        import_module(f"{__name__}.{_module.name}")
