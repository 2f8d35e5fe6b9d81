"""Processor time of whole processes beside the base's, run in turn: start, cold draw, sheet.

Budgets: a cold draw half of the base's; a sheet of 48 rings 0.8 of it; the help under 0.15 s on a
quiet machine, and no slower than the base's.
"""

import tempfile
from collections.abc import Iterator

from tests.bench._base import against_base

DEMO = "gallery/harbour/spec.toml"


def rows() -> Iterator[tuple[str, ...]]:
    """Yield one row for each command: its ratio to the base, and both times."""
    with tempfile.TemporaryDirectory() as folder:
        out = [DEMO, "--out", folder]
        sheet = ["sheet", *out, "--count", "48", "--jobs", "2"]
        yield "openwork --help", *against_base(["--help"], 7, 1.0)
        yield "openwork draw, cold", *against_base(["draw", *out], 7, 0.5)
        yield "openwork sheet, 48 rings, 2 jobs", *against_base(sheet, 1, 0.8)
