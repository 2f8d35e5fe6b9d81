"""What a pattern is, and which there are: ours by folder, those of other packages by entry point.

A pattern is a frozen dataclass of parameters that proposes one of four kinds of filling. It
enforces nothing: the finisher clips, leaves the ribs, rounds for the cutter and fills fragments.
Whatever it returns is one symmetry class each: the finisher repeats everything ``site.fold`` times
about the centre.
"""

from __future__ import annotations

import dataclasses
import difflib
from collections.abc import Mapping
from functools import cache
from importlib import import_module
from typing import Any, ClassVar, Protocol, Self, TypeVar, runtime_checkable

import numpy as np

from openwork.errors import SpecError
from openwork.fill.fillings import Filling
from openwork.fill.site import Site


class Pattern(Protocol):
    """A frozen dataclass of parameters that is called to propose a filling.

    All randomness comes from ``rng``; the same site and seed give the same filling.
    """

    __dataclass_fields__: ClassVar[dict[str, Any]]

    def __call__(self, site: Site, rng: np.random.Generator) -> Filling:
        """Return the filling of one symmetry sector of *site*."""
        ...


@runtime_checkable
class Suiting(Protocol):
    """A pattern that chooses its ``suited`` parameters together, where they are left out."""

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the pattern that suits *site* best and has all that is *given*.

        That is what was asked for, and the default of every parameter that is not ``suited``.
        """
        ...


PLAIN = "plain"  # the ring without openings, which is no pattern that sheets would show
PATTERNS: dict[str, type[Pattern]] = {}
P = TypeVar("P", bound=Pattern)


def pattern(cls: type[P]) -> type[P]:
    """Register *cls* under the name of the module that holds it.

    Raises RuntimeError where the name is taken, or ``suited`` parameters have nobody to choose.
    """
    name = cls.__module__.rpartition(".")[2]
    if name in PATTERNS:
        raise RuntimeError(f"two patterns are called {name!r}: {PATTERNS[name]}, {cls}")
    if not hasattr(cls, "suited") and any(map(is_suited, dataclasses.fields(cls))):
        raise RuntimeError(f"pattern {name!r} has suited parameters, but no method suited()")
    PATTERNS[name] = cls
    return cls


def is_suited(field: dataclasses.Field[Any]) -> bool:
    """Tell whether the parameter *field* is chosen to suit the site where it is left out."""
    return bool(field.metadata["suited"])


GROUP = "openwork.patterns"  # entry points of other packages that add patterns

_broken: dict[str, str] = {}


def patterns() -> Mapping[str, type[Pattern]]:
    """Return all pattern classes by name, ours and then those of plug-ins; loads every one."""
    _load()
    order = sorted(PATTERNS, key=lambda name: (name not in _ours(), name))
    return {name: PATTERNS[name] for name in order}


def broken() -> Mapping[str, str]:
    """Return the plug-ins that could not be loaded, and why."""
    _load()
    return _broken


@cache
def _ours() -> frozenset[str]:
    return frozenset(import_module("openwork.patterns").NAMES)


@cache
def _load() -> None:
    from importlib.metadata import entry_points  # noqa: PLC0415 (slow to import)

    for name in sorted(_ours()):
        known(name)
    for plugin in entry_points(group=GROUP):
        try:
            plugin.load()
        except Exception as error:  # whatever a stranger's module does, the rest goes on
            _broken[plugin.name] = f"{type(error).__name__}: {error}"


def known(name: str) -> type[Pattern] | None:
    """Return the pattern class called *name*, or the un-opened ring; None where there is none.

    One of ours is loaded alone: the others import much that it does not need.
    """
    if name == PLAIN:
        found: type[Pattern] = import_module("openwork.fill.plain").Plain
        return found
    if name not in PATTERNS and name in _ours():
        import_module(f"openwork.patterns.{name}")
    elif name not in PATTERNS:
        _load()
    return PATTERNS.get(name)


def pattern_named(name: str) -> type[Pattern]:
    """Return the pattern class called *name*; raises SpecError naming the nearest."""
    if found := known(name):
        return found
    names = sorted(patterns())
    near = difflib.get_close_matches(name, [*names, PLAIN], n=1)
    hint = f"did you mean {near[0]!r}? " if near else ""
    if name in _broken:
        hint = f"the plug-in of that name failed to load ({_broken[name]}); "
    there = f"{', '.join(names)}, and {PLAIN} without openings"
    raise SpecError(f"pattern.name {name!r}: unknown; {hint}there are {there}")
