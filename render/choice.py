"""Variants of a ring to choose from, made in one call: on paper, in a browser, in a notebook."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from openwork.explore.mass.tune import Value
from openwork.explore.variants.axes import crossed
from openwork.explore.variants.balanced import balanced
from openwork.explore.variants.figure_rows import by_figure
from openwork.explore.variants.relief import paired, stiffest_first
from openwork.explore.variants.variants import Entry, all_made
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
STIFFNESS = "strength.stiffness_vs_plate"
Watched: TypeAlias = Callable[[Iterator[Entry], int], Iterator[Entry]]


def _unwatched(making: Iterator[Entry], count: int) -> Iterator[Entry]:
    del count
    return making


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


def sheet(  # noqa: PLR0913 (one parameter for each thing that may be asked)
    spec: Spec,
    *,
    pattern: str = "",
    vary: Mapping[str, Sequence[Value]] | None = None,
    count: int = COUNT,
    strong: bool = False,
    as_drawn: bool = False,
    sort: str = "",
    relief: bool = False,
    jobs: int = 1,
    watched: Watched = _unwatched,
) -> Sheet:
    """Return variants of *spec*, made by *jobs* processes, *strong* ones with their strength.

    Up to *count* of all patterns, or of the one called *pattern*. *vary* gives values by key
    instead, the first across and the others down; a key without a dot is a parameter of the
    pattern. All are brought on the mass of their goal, unless *as_drawn*. They are laid out by the
    figure *sort*, the best first; strong ones on one mass by their stiffness if it is not given.
    With *relief* every look stands beside itself with pockets, and the stiffest pair comes first.
    *watched* gets what is being made and how many there will be, and yields it on. Raises SpecError
    for a name, a key or values that cannot be.

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
    if relief:
        variants = [*paired(spec, variants)]
    workers = min(jobs, len(variants))
    making = all_made(spec, variants, jobs=workers, strong=strong, as_drawn=as_drawn)
    found = [*watched(making, len(variants))]
    if relief:
        return Sheet(spec=spec, entries=arranged([stiffest_first(found, sort or STIFFNESS)]))
    on_mass = spec.goal.mass is not None and not as_drawn
    order = sort or (STIFFNESS if strong and on_mass and not vary else "")
    if order:
        return Sheet(spec=spec, entries=arranged([by_figure(found, order)]))
    entries = iter(found)
    return Sheet(spec=spec, entries=arranged([[next(entries) for _ in row] for row in rows]))
