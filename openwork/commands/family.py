"""``openwork family``: one look over all tooth counts, each on the mass promised."""

from __future__ import annotations

import importlib.util
import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from openwork.commands import _family
from openwork.commands._common import (
    jobs_option,
    json_option,
    loaded,
    named,
    numbered,
    out_folder,
    out_option,
    paper_option,
    set_option,
    spec_argument,
    tell,
)
from openwork.commands._progress import tracked
from openwork.errors import RuleError
from openwork.render.extras import PAGES
from openwork.tables.plain import as_text

if TYPE_CHECKING:
    from openwork.explore.family.family import Family


@click.command("family")
@spec_argument
@set_option
@paper_option
@jobs_option
@out_option
@json_option
def command(
    spec: Path,
    changes: Mapping[str, object],
    *,
    paper: str,
    jobs: int | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Carry the look of a ring over all tooth counts, each on the mass promised.

    SPEC is the ring's spec file; goal.teeth = [38, 46] are the first and the last count, or a list
    of three and more. With goal.hold = "mass" every size is tuned to goal.mass, by
    goal.per_tooth more with each tooth; with "rib" all share the rib, and the masses are told. The
    mount and the columns stay, rows follow the width of the web.

    Written are a folder for each size, named by its teeth, with spec.toml, ring.svg, preview.svg
    and figures.json; family.svg, all sizes at one scale, and family.pdf where the extra pdf is
    installed; family.csv and family.json. A size that cannot be made keeps its place on the sheet,
    with the reason.
    """
    from openwork.explore.family.family import gathered, sizes
    from openwork.files import write_files
    from openwork.tables.toml import content

    base = loaded(spec, changes)
    count = len(base.goal.sizes)
    workers = min(jobs or os.cpu_count() or 1, max(count, 1))
    with named(spec):
        found = gathered(base, tracked(sizes(base, jobs=workers), count, "sizes"))
    contents = _sheets(found, paper) | dict(_folders(found, content(spec)))
    listed = as_text(found.as_dict())
    folder = out_folder(out, spec)
    paths = write_files(folder, contents | {"family.json": listed})
    if as_json:
        click.echo(listed, nl=False)
    else:
        _summary(found, folder, paths)
    if not found.made:
        raise RuleError(f"{spec}: none of the sizes can be made; the sheet says why")


def _sheets(family: Family, paper: str) -> dict[str, str | bytes]:
    """Return the files that show the whole family, by name."""
    from openwork.render.family.sheet import family_svgs
    from openwork.render.family.table import family_csv

    pages = family_svgs(family, paper=paper)
    files: dict[str, str | bytes] = {
        f"{name}.svg": page for name, page in numbered("family", pages).items()
    }
    if _prints():
        from openwork.render.paper.pdf import pages_pdf

        files["family.pdf"] = pages_pdf(pages, family.spec.title)
    return files | {"family.csv": family_csv(family)}


def _prints() -> bool:
    """Return whether the extra pdf is installed."""
    return all(map(importlib.util.find_spec, PAGES))


def _folders(family: Family, text: str) -> Iterator[tuple[str, str]]:
    """Yield the files of each size that can be made; the specs keep the comments of *text*."""
    from openwork.render.ring.outline import ring_svg
    from openwork.render.ring.preview import preview_svg
    from openwork.spec.rewrite import rewritten

    for size in family.made:
        assert size.design is not None
        assert size.figures is not None
        figures = as_text(size.as_dict())
        yield f"{size.teeth}/spec.toml", rewritten(text, size.design.spec)
        yield f"{size.teeth}/ring.svg", ring_svg(size.design, size.figures)
        yield f"{size.teeth}/preview.svg", preview_svg(size.design)
        yield f"{size.teeth}/figures.json", figures


def _summary(family: Family, folder: Path, paths: Sequence[Path]) -> None:
    from openwork.commands._table import table
    from openwork.tables.caution import CAUTION

    for title, (heads, *rows) in (
        (family.spec.title, _family.look(family)),
        ("Drive: diameters in mm, pull of the chain in N", _family.drive(family)),
    ):
        table(title, rows, heads=heads, left=0)
    for line in (*_family.said(family, folder), family.consistency.line):
        click.echo(line)
    tell([path for path in paths if path.parent == folder])
    if family.made:
        counts = ", ".join(str(size.teeth) for size in family.made)
        click.echo(f"wrote a folder for each size into {folder}: {counts}")
    if not _prints():
        click.echo("no family.pdf: pip install 'openwork[pdf]' adds it")
    click.echo(CAUTION)
