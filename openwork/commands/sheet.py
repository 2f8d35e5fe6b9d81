"""``openwork sheet``: variants of a ring on paper, to choose from."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from openwork.commands import _printing
from openwork.commands._common import (
    jobs_option,
    json_option,
    loaded,
    named,
    out_folder,
    out_option,
    paper_option,
    set_option,
    spec_argument,
    tell,
)
from openwork.commands._progress import tracked
from openwork.errors import RuleError, SpecError
from openwork.tables.goal import LEAST, MOST
from openwork.tables.plain import as_text

if TYPE_CHECKING:
    from openwork.explore.mass.tune import Value
    from openwork.explore.variants.variants import Entry
    from openwork.render.paper.layout import Arranged
    from openwork.spec.spec import Spec


@click.command("sheet")
@spec_argument
@set_option
@click.option("--pattern", metavar="NAME", help="Only this pattern.")
@click.option(
    "--vary",
    multiple=True,
    metavar="KEY=VALUES",
    help="Let a key run over values, the first across and the others down: start:stop:step for "
    "whole numbers, start:stop:count for others, or a list a,b,c. A key without a dot is a "
    "parameter of the pattern. May be given often.",
)
@click.option(
    "--count",
    type=click.IntRange(1, 600),
    metavar="N",
    help="How many variants without --vary.  [default: 24]",
)
@click.option(
    "--to",
    "formats",
    default="svg",
    show_default=True,
    metavar="FORMATS",
    help="Formats of the sheets, with commas between: svg, pdf, png. A PDF holds all pages.",
)
@paper_option
@click.option("--date", "dated", is_flag=True, help="Print today's date on the sheets.")
@click.option(
    "--pick",
    multiple=True,
    metavar="MARK",
    help="Also write the spec of the variant at this mark, C4 as C4.toml. May be given often.",
)
@click.option(
    "--strength", "strong", is_flag=True, help="Reckon the stiffness of every variant as well."
)
@click.option(
    "--sort",
    "order",
    metavar="FIGURE",
    help="Lay them out by mass, solid_share, rib, stiffness or any other figure, the best first; "
    "`openwork patterns --figures` lists them. Those of strength ask for --strength.",
)
@click.option(
    "--compare",
    "side_by_side",
    metavar="MARKS",
    help="Also set the rings at two to six marks side by side, C4,D2,F1, on a page of their own.",
)
@click.option(
    "--mass",
    metavar="G",
    help="Bring every ring on this mass, or on the middle of a band, 97,100.  [default: goal.mass]",
)
@click.option(
    "--relief",
    is_flag=True,
    help="Show every look beside itself with pockets, at one mass, the stiffest pair first.",
)
@click.option("--as-drawn", is_flag=True, help="Show the rings at the spec's rib, on no mass.")
@jobs_option
@out_option
@json_option
def command(  # noqa: PLR0913 (one parameter for each option)
    spec: Path,
    changes: Mapping[str, object],
    *,
    pattern: str | None,
    vary: tuple[str, ...],
    count: int | None,
    formats: str,
    paper: str,
    dated: bool,
    pick: tuple[str, ...],
    strong: bool,
    order: str | None,
    side_by_side: str | None,
    mass: str | None,
    relief: bool,
    as_drawn: bool,
    jobs: int | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Lay out variants of a ring on sheets to choose from.

    SPEC is the ring's spec file. Written are sheet.svg, sheet-2.svg and so on: every ring at one
    scale, with its mark, pattern, what differs, mass, solid share and least rib; sheet-index.svg
    where there are several; and sheet.html, the same rings for a browser, to sort, filter and
    compare, which needs no network. Without --vary all patterns are shown, in several counts and
    looks. Where goal.mass or --mass says what the ring shall weigh, every variant is brought on it
    before it is shown, by its ribs, then rim and hem, then other counts; --as-drawn leaves that
    out. A variant that cannot be made, or not on the mass, keeps its place, with the reason.
    """
    from openwork.explore.variants.variants import Refused
    from openwork.files import write_files
    from openwork.render.browser.page import page_html
    from openwork.render.choice import COUNT, sheet
    from openwork.render.sheet.marks import compared

    wanted = _printing.chosen(formats)
    order = order and _figure(order, strong or relief)
    if mass is not None and as_drawn:
        raise SpecError(f"--mass {mass}: does not go with --as-drawn; leave one out")
    base = loaded(spec, {**changes, **_mass(mass)})
    with named(spec):
        entries = sheet(
            base,
            pattern=pattern or "",
            vary=_axes(base, pattern, vary, count),
            count=count or COUNT,
            strong=strong or relief,
            relief=relief,
            as_drawn=as_drawn,
            sort=order or "",
            jobs=jobs or os.cpu_count() or 1,
            watched=partial(tracked, what="variants"),
        ).entries
        picked = _picked(entries, pick)
        marks = [mark for mark in (side_by_side or "").split(",") if mark.strip()]
        large = compared(entries, marks, cause="--compare ") if side_by_side is not None else []
    pages = _printing.pages(base, entries, large, paper, _today() if dated else "")
    contents = _printing.files(pages, wanted, base.title)
    contents |= {"sheet.html": page_html(base, entries), **picked}
    paths = write_files(out_folder(out, spec), contents)
    if as_json:
        click.echo(as_text(_listed(entries)), nl=False)
    else:
        _summary(entries, paths)
    if all(isinstance(entry, Refused) for _, entry in entries):
        raise RuleError(f"{spec}: none of the variants can be made; the sheet says why")


def _mass(text: str | None) -> dict[str, object]:
    """Return what ``--mass`` changes; raises SpecError for what is no mass and no band."""
    if text is None:
        return {}
    try:
        values = [float(part) for part in text.split(",")]
    except ValueError:
        values = []
    if len(values) not in (1, 2) or not all(LEAST <= one <= MOST for one in values):
        raise SpecError(
            f"--mass {text}: must be a number from {LEAST} to {MOST}, or two of them; 100 works"
        )
    if values != sorted(values):
        raise SpecError(f"--mass {text}: the least comes first; {values[1]:g},{values[0]:g} works")
    return {"goal.mass": values[0] if len(values) == 1 else tuple(values)}


def _axes(
    spec: Spec, pattern: str | None, vary: Sequence[str], count: int | None
) -> Mapping[str, Sequence[Value]]:
    """Return the values by key that ``--vary`` asks for."""
    from openwork.explore.variants.axes import axes
    from openwork.fill.registry import pattern_named

    if pattern is not None:
        pattern_named(pattern)
    if vary and count is not None:
        raise SpecError(f"--count {count}: --vary says how many variants there are; leave one out")
    return axes(spec, pattern or spec.pattern.name, vary)


def _figure(name: str, strong: bool) -> str:
    """Return the figure that ``--sort`` means; raises SpecError where it is none, or not known."""
    from openwork.explore.variants.figure_rows import STRENGTH, known, names

    key = known(name)
    if key is None:
        close = get_close_matches(name, names(), n=1, cutoff=0.0)
        near = next((one for one in names() if name and name in one), close[0])
        raise SpecError(
            f"--sort {name}: no such figure; {near} is nearest, `openwork patterns --figures` "
            "lists them"
        )
    if key.startswith(STRENGTH) and not strong:
        raise SpecError(f"--sort {name}: known only with --strength; add it")
    return key


def _picked(entries: Arranged[Entry], marks: Sequence[str]) -> dict[str, str]:
    """Return the spec files of the variants at *marks*, by file name."""
    from openwork.render.drawing.recipe import design_recipe
    from openwork.render.sheet.marks import ring_at

    found = (ring_at(entries, mark, cause="--pick ") for mark in marks)
    return {f"{place.mark}.toml": design_recipe(ring) for place, ring in found}


def _listed(entries: Arranged[Entry]) -> dict[str, object]:
    """Return pattern, changes, and figures or reason, by mark."""
    return {
        place.mark: {
            "pattern": entry.variant.pattern,
            "changes": entry.changed,
            **_found(entry),
        }
        for place, entry in entries
    }


def _found(entry: Entry) -> dict[str, object]:
    """Return what was measured of *entry*, or why it cannot be made."""
    from openwork.explore.variants.variants import Refused

    if isinstance(entry, Refused):
        return {"reason": entry.reason}
    strength = {"strength": entry.strength.as_dict()} if entry.strength else {}
    return {"figures": entry.figures.as_dict(), **strength}


def _summary(entries: Arranged[Entry], paths: Sequence[Path]) -> None:
    from openwork.explore.variants.variants import Made, Refused
    from openwork.tables.caution import CAUTION

    empty = [(place, entry) for place, entry in entries if isinstance(entry, Refused)]
    total = sum(1 for _ in entries)
    click.echo(f"{total} variants" + (f", {len(empty)} cannot be made:" if empty else ""))
    for place, entry in empty:
        label = ", ".join((entry.variant.pattern, *entry.label))
        click.echo(f"  {place.mark} {label}: {'; '.join(entry.reason.splitlines())}")
    known = [one.strength for _, one in entries if isinstance(one, Made) and one.strength]
    tell(paths, *(known[0].notes if known else (CAUTION,)))


def _today() -> str:
    from datetime import date

    return date.today().isoformat()
