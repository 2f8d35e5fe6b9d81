"""From spec to Design, every family on the six sites: median and worst, and how many openings.

Budgets: 60 ms up to 100 openings; 150 ms for spots, truss and packing, which iterate.
"""

import statistics
from collections.abc import Iterator

from openwork.errors import RuleError
from openwork.fill.registry import patterns
from openwork.ring import design
from openwork.testing import SITES, site_spec
from tests.bench._timing import seconds


def rows() -> Iterator[tuple[str, str]]:
    for name in sorted(patterns()):
        times, openings, refused = [], [], 0
        for site in SITES:
            spec = site_spec(site, name=name)
            try:
                openings.append(len(design(spec).openings))
            except RuleError:
                refused += 1
                continue
            times.append(1e3 * seconds(lambda spec=spec: design(spec), 3))
        text = (
            f"median {statistics.median(times):.0f} ms, worst {max(times):.0f} ms, "
            f"{min(openings)} to {max(openings)} openings"
        )
        yield name, text + (f", {refused} sites refused" if refused else "")
