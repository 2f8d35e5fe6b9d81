"""``openwork sheet``: variants of a ring on paper, to choose from."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

import click

from openwork.commands._common import (
    json_option,
    named,
    out_folder,
    out_option,
    set_option,
    spec_argument,
)
from openwork.commands._progress import tracked
from openwork.errors import RuleError, SpecError

if TYPE_CHECKING:
    from openwork.explore.variants import Entry, Variant
    from openwork.render.sheet import Arranged
    from openwork.spec import Spec

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
    "--paper",
    type=click.Choice(["A4", "A3", "Letter"], case_sensitive=False),
    default="A4",
    show_default=True,
    metavar="NAME",
    help="A4, A3 or Letter, landscape.",
)
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
    help="Lay them out by mass, share, rib, openings or stiffness (which asks for --strength).",
)
@click.option("--jobs", type=click.IntRange(1, 64), metavar="N", help="Processes.  [default: all]")
@out_option
@json_option
def command(  # noqa: PLR0913 (one parameter for each option)
    spec: Path,
    changes: Mapping[str, object],
    *,
    family: str | None,
    vary: tuple[str, ...],
    count: int | None,
    paper: str,
    dated: bool,
    pick: tuple[str, ...],
    strong: bool,
    order: str | None,
    jobs: int | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Lay out variants of a ring on sheets to choose from.

    SPEC is the ring's spec file. Written are sheet.svg, sheet-2.svg and so on: every ring at one
    scale, with its mark, family, what differs, mass, solid share and least rib; and sheet.html, the
    same rings for a browser, to sort, filter and compare, which needs no network. Without --vary
    all families are shown, in several counts and looks. A variant that cannot be made keeps its
    place, with the reason.
    """
    from openwork.files import write_files  # noqa: PLC0415 (the help of a command stays fast)
    from openwork.render.page import page_html  # noqa: PLC0415
    from openwork.render.sheet import sheet_svgs  # noqa: PLC0415
    from openwork.spec import load  # noqa: PLC0415

    _check_order(order, strong)
    base = load(spec, changes)
    with named(spec):
        rows = _rows(base, family, vary, count)
        entries = _made(base, rows, jobs or os.cpu_count() or 1, strong, order)
        picked = _picked(entries, pick)
    pages = sheet_svgs(base, entries, paper=paper, date=_today() if dated else "")
    names = ["sheet.svg", *(f"sheet-{k}.svg" for k in range(2, len(pages) + 1))]
    contents = dict(zip(names, pages, strict=True)) | {"sheet.html": page_html(base, entries)}
    paths = write_files(out_folder(out, spec), contents | picked)
    if as_json:
        click.echo(json.dumps(_listed(entries), indent=2, allow_nan=False))
    else:
        _summary(entries, paths)
    if all(entry.design is None for _, entry in entries):
        raise RuleError(f"{spec}: none of the variants can be made; the sheet says why")


def _rows(
    spec: Spec, family: str | None, vary: Sequence[str], count: int | None
) -> Sequence[Sequence[Variant]]:
    """Return the variants asked for, in rows."""
    from openwork.explore.balanced import balanced  # noqa: PLC0415
    from openwork.explore.vary import varied  # noqa: PLC0415
    from openwork.fill.pattern import family as known  # noqa: PLC0415

    if family is not None:
        known(family)
    if not vary:
        return [balanced(spec, count or COUNT, [family] if family else [])]
    if count is not None:
        raise SpecError(f"--count {count}: --vary says how many variants there are; leave one out")
    return varied(spec, family or spec.pattern.name, vary)


def _check_order(order: str | None, strong: bool) -> None:
    from openwork.explore.variants import SORTS  # noqa: PLC0415

    if order is not None and order not in SORTS:
        near = get_close_matches(order, SORTS, n=1, cutoff=0.0)[0]
        raise SpecError(f"--sort {order}: not one of {', '.join(SORTS)}; {near} is nearest")
    if order == "stiffness" and not strong:
        raise SpecError("--sort stiffness: known only with --strength; add it")


def _made(
    spec: Spec, rows: Sequence[Sequence[Variant]], jobs: int, strong: bool, order: str | None
) -> Arranged[Entry]:
    """Return the variants as made, at their places on the sheets, by the figure *order* if any."""
    from openwork.explore.variants import all_made, by_figure  # noqa: PLC0415
    from openwork.render.sheet import arranged  # noqa: PLC0415

    variants = [variant for row in rows for variant in row]
    making = all_made(spec, variants, jobs=min(jobs, len(variants)), strong=strong)
    found = [*tracked(making, len(variants), "variants")]
    if order is not None:
        return arranged([by_figure(found, order)])
    entries = iter(found)
    return arranged([[next(entries) for _ in row] for row in rows])


def _picked(entries: Arranged[Entry], marks: Sequence[str]) -> dict[str, str]:
    """Return the spec files of the variants at *marks*, by file name."""
    from openwork.render.svg import design_recipe  # noqa: PLC0415

    files = {}
    for mark in marks:
        place, entry = entries.at(mark)
        if entry.design is None:
            raise RuleError(f"--pick {place.mark}: cannot be made: {entry.reason}")
        files[f"{place.mark}.toml"] = design_recipe(entry.design)
    return files


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
    from openwork.render.svg import CAUTION  # noqa: PLC0415

    empty = [(place, entry) for place, entry in entries if entry.design is None]
    total = sum(1 for _ in entries)
    click.echo(f"{total} variants" + (f", {len(empty)} cannot be made:" if empty else ""))
    for place, entry in empty:
        label = ", ".join((entry.variant.family, *entry.variant.label))
        click.echo(f"  {place.mark} {label}: {'; '.join(entry.reason.splitlines())}")
    for path in paths:
        click.echo(f"wrote {path}")
    click.echo(CAUTION)


def _today() -> str:
    from datetime import date  # noqa: PLC0415

    return date.today().isoformat()
