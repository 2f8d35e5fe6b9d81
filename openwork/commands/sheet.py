"""``openwork sheet``: variants of a ring on paper, to choose from."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
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
from openwork.tables.plain import as_text

if TYPE_CHECKING:
    from openwork.explore.variants.variants import Entry, Variant
    from openwork.render.sheet.sheet import Arranged
    from openwork.spec.spec import Spec

COUNT = 24  # variants that fill one page


@click.command("sheet")
@spec_argument
@set_option
@click.option("--pattern", "family", metavar="NAME", help="Only this pattern family.")
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
    help=f"How many variants without --vary.  [default: {COUNT}]",
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
    help="Lay them out by mass, share, rib, stiffness or any other figure, the best first; "
    "`openwork patterns --figures` lists them. Those of strength ask for --strength.",
)
@click.option(
    "--compare",
    "side_by_side",
    metavar="MARKS",
    help="Also set the rings at two to six marks side by side, C4,D2,F1, on a page of their own.",
)
@jobs_option
@out_option
@json_option
def command(  # noqa: PLR0913 (one parameter for each option)
    spec: Path,
    changes: Mapping[str, object],
    *,
    family: str | None,
    vary: tuple[str, ...],
    count: int | None,
    formats: str,
    paper: str,
    dated: bool,
    pick: tuple[str, ...],
    strong: bool,
    order: str | None,
    side_by_side: str | None,
    jobs: int | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Lay out variants of a ring on sheets to choose from.

    SPEC is the ring's spec file. Written are sheet.svg, sheet-2.svg and so on: every ring at one
    scale, with its mark, family, what differs, mass, solid share and least rib; sheet-index.svg
    where there are several; and sheet.html, the same rings for a browser, to sort, filter and
    compare, which needs no network. Without --vary all families are shown, in several counts and
    looks. A variant that cannot be made keeps its place, with the reason.
    """
    from openwork.files import write_files
    from openwork.render.browser.page import page_html
    from openwork.render.sheet.marks import compared

    wanted = _printing.chosen(formats)
    order = order and _figure(order, strong)
    base = loaded(spec, changes)
    with named(spec):
        rows = _rows(base, family, vary, count)
        entries = _made(base, rows, jobs or os.cpu_count() or 1, strong, order)
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
    if all(entry.design is None for _, entry in entries):
        raise RuleError(f"{spec}: none of the variants can be made; the sheet says why")


def _rows(
    spec: Spec, family: str | None, vary: Sequence[str], count: int | None
) -> Sequence[Sequence[Variant]]:
    """Return the variants asked for, in rows."""
    from openwork.explore.variants.axes import varied
    from openwork.explore.variants.balanced import balanced
    from openwork.fill.registry import pattern_named as known

    if family is not None:
        known(family)
    if not vary:
        return [balanced(spec, count or COUNT, [family] if family else [])]
    if count is not None:
        raise SpecError(f"--count {count}: --vary says how many variants there are; leave one out")
    return varied(spec, family or spec.pattern.name, vary)


def _figure(name: str, strong: bool) -> str:
    """Return the figure that ``--sort`` means; raises SpecError where it is none, or not known."""
    from openwork.explore.variants.figure_rows import STRENGTH, known, names

    key = known(name)
    if key is None:
        near = get_close_matches(name, names(), n=1, cutoff=0.0)[0]
        raise SpecError(
            f"--sort {name}: no such figure; {near} is nearest, `openwork patterns --figures` "
            "lists them"
        )
    if key.startswith(STRENGTH) and not strong:
        raise SpecError(f"--sort {name}: known only with --strength; add it")
    return key


def _made(
    spec: Spec, rows: Sequence[Sequence[Variant]], jobs: int, strong: bool, order: str | None
) -> Arranged[Entry]:
    """Return the variants as made, at their places on the sheets, by the figure *order* if any."""
    from openwork.explore.variants.figure_rows import by_figure
    from openwork.explore.variants.variants import all_made
    from openwork.render.sheet.sheet import arranged

    variants = [variant for row in rows for variant in row]
    making = all_made(spec, variants, jobs=min(jobs, len(variants)), strong=strong)
    found = [*tracked(making, len(variants), "variants")]
    if order is not None:
        return arranged([by_figure(found, order)])
    entries = iter(found)
    return arranged([[next(entries) for _ in row] for row in rows])


def _picked(entries: Arranged[Entry], marks: Sequence[str]) -> dict[str, str]:
    """Return the spec files of the variants at *marks*, by file name."""
    from openwork.render.drawing.recipe import design_recipe
    from openwork.render.sheet.marks import ring_at

    found = (ring_at(entries, mark, cause="--pick ") for mark in marks)
    return {f"{place.mark}.toml": design_recipe(ring) for place, ring in found}


def _listed(entries: Arranged[Entry]) -> dict[str, object]:
    """Return family, changes, and figures or reason, by mark."""
    return {
        place.mark: {
            "family": entry.variant.family,
            "changes": dict(entry.variant.changes),
            **({"figures": entry.figures.as_dict()} if entry.figures else {"reason": entry.reason}),
            **({"strength": entry.strength.as_dict()} if entry.strength else {}),
        }
        for place, entry in entries
    }


def _summary(entries: Arranged[Entry], paths: Sequence[Path]) -> None:
    from openwork.tables.caution import CAUTION

    empty = [(place, entry) for place, entry in entries if entry.design is None]
    total = sum(1 for _ in entries)
    click.echo(f"{total} variants" + (f", {len(empty)} cannot be made:" if empty else ""))
    for place, entry in empty:
        label = ", ".join((entry.variant.family, *entry.variant.label))
        click.echo(f"  {place.mark} {label}: {'; '.join(entry.reason.splitlines())}")
    tell(paths, CAUTION)


def _today() -> str:
    from datetime import date

    return date.today().isoformat()
