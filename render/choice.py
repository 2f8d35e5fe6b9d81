"""Variants of a ring to choose from, made in one call: on paper, in a browser, in a notebook."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from openwork.explore.variants.axes import crossed
from openwork.explore.variants.balanced import balanced
from openwork.explore.variants.variants import Entry, Value, all_made
from openwork.render.browser.page import page_html
from openwork.render.notebook import pages_html
from openwork.render.paper.common import common_line
from openwork.render.paper.layout import Arranged, arranged
from openwork.render.sheet.compare import compare_svg
from openwork.render.sheet.marks import compared, ring_at
from openwork.render.sheet.sheet import sheet_svgs
from openwork.ring import Design
from openwork.spec.spec import Spec

COUNT = 24  # variants that fill one page


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Sheet:
    """Variants of ``spec``, each at its mark: a letter for the row, a number for the column."""

    spec: Spec
    entries: Arranged[Entry]

    def __repr__(self) -> str:
        return f"<{self.spec.title}: a sheet of {len(self)} variants>"

    def __len__(self) -> int:
        return sum(len(page) for page in self.entries.pages)

    def __iter__(self) -> Iterator[str]:
        return (place.mark for place, _ in self.entries)

    def __getitem__(self, mark: str) -> Design:
        """Return the ring at *mark*.

        Raises SpecError where there is no such mark, RuleError where its ring cannot be made.
        """
        return ring_at(self.entries, mark)[1]

    def pages(self, *, paper: str = "A4") -> tuple[str, ...]:
        """Return the sheets as SVG, landscape on A4, A3 or Letter."""
        return sheet_svgs(self.spec, self.entries, paper=paper)

    def compare(self, *marks: str, paper: str = "A4") -> str:
        """Return the rings at 2 to 6 *marks* side by side over their figures, as SVG.

        Raises SpecError for other numbers of marks or unknown ones, RuleError as above.
        """
        chosen = compared(self.entries, marks)
        line = common_line(self.spec, self.entries)
        return compare_svg(self.spec, chosen, line=line, paper=paper)

    def page(self) -> str:
        """Return one HTML page of all variants, to sort, filter and compare in a browser."""
        return page_html(self.spec, self.entries)

    def _repr_html_(self) -> str:
        return pages_html(self.pages(), self.spec.title)


def sheet(
    spec: Spec,
    *,
    pattern: str = "",
    vary: Mapping[str, Sequence[Value]] | None = None,
    count: int = COUNT,
    strong: bool = False,
    jobs: int = 1,
) -> Sheet:
    """Return variants of *spec*, made by *jobs* processes, *strong* ones with their strength.

    Up to *count* of all pattern families, or of the one called *pattern*. *vary* gives values by
    key instead, the first across and the others down; a key without a dot is a parameter of the
    pattern. Raises SpecError for a name, a key or values that cannot be.

    >>> from openwork.spec.spec import from_toml
    >>> spec = from_toml("[ring]\\nteeth = 32\\n[mount]\\ncircle = 80.0")
    >>> rings = sheet(spec, pattern="spokes", vary={"count": [15, 20], "web.rib": [2.0, 3.0]})
    >>> list(rings), len(rings["A2"].openings), rings["B1"].spec.web.rib
    (['A1', 'A2', 'B1', 'B2'], 20, 3.0)
    """
    if vary:
        rows = crossed(spec, pattern or spec.pattern.name, vary)
    else:
        rows = (balanced(spec, count, [pattern] if pattern else []),)
    variants = [variant for row in rows for variant in row]
    made = all_made(spec, variants, jobs=jobs, strong=strong)
    return Sheet(spec=spec, entries=arranged([[next(made) for _ in row] for row in rows]))
