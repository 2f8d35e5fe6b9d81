"""The packages that come with extras, asked for before any work is done."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module

from openwork.errors import SpecError

PAGES = ("typst", "font_source_sans_pro")  # what sets pages, of the extra pdf


def demand(formats: Mapping[str, tuple[str, tuple[str, ...]]]) -> None:
    """Raise SpecError with the packages that are missing for *formats*: extra and packages each."""
    faults = []
    for name, (extra, packages) in formats.items():
        for package in packages:
            try:
                import_module(package)
            except ImportError as fault:
                faults.append(f"--to {name}: {fault}; pip install 'openwork[{extra}]' mends it")
                break
    if faults:
        raise SpecError(*faults)
