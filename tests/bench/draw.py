"""From spec to ring, figures, drawing and the whole process, for the demo and a large ring.

Budgets: spec to Design 60 ms for 100 openings; the whole cold process 1.2 s;
marks 10 ms.
"""

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from functools import partial

import openwork
from openwork.render.ring.outline import ring_svg
from tests.bench._timing import milliseconds

DEMO = "gallery/harbour/spec.toml"
NAMED = "gallery/nameplate/spec.toml"
LARGE = "gallery/lighthouse/spec.toml"


def rows() -> Iterator[tuple[str, str]]:
    many = {"pattern.name": "honeycomb", "pattern.columns": 50, "pattern.rows": 3}
    for label, spec in {
        "demo": openwork.load(DEMO),
        "150 openings": openwork.load(LARGE, many),
    }.items():
        ring = openwork.design(spec)
        figures = openwork.figures(ring)
        count = f"{label} ({len(ring.openings)} openings)"
        yield f"{count}: spec to Design", milliseconds(partial(openwork.design, spec))
        yield f"{count}: figures", milliseconds(partial(openwork.figures, ring))
        yield (
            f"{count}: ring.svg",
            milliseconds(partial(ring_svg, ring, figures)),
        )
    named = openwork.load(NAMED)
    bare = openwork.load(NAMED, {"mark": {}, "panel": {}})
    yield "two marks on panels: spec to Design", milliseconds(partial(openwork.design, named))
    yield "the same without: spec to Design", milliseconds(partial(openwork.design, bare))
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "openwork", "draw", DEMO, "--out", folder]
        yield (
            "openwork draw, whole process",
            milliseconds(lambda: subprocess.run(command, check=True, capture_output=True), 3),
        )
        for variants in (24, 48):
            sheet = [sys.executable, "-m", "openwork", "sheet", DEMO, "--out", folder]
            sheet += ["--count", str(variants), "--jobs", "2"]
            yield (
                f"openwork sheet, {variants} variants, 2 jobs",
                milliseconds(partial(subprocess.run, sheet, check=True, capture_output=True), 1),
            )
