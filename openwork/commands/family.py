"""``openwork family``: one look over all tooth counts, each on the mass promised."""

from __future__ import annotations

import importlib.util
import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from openwork.commands import _family, _shop
from openwork.commands._common import (
    formats_of,
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
from openwork.render.shop.formats import FORMATS
from openwork.tables.plain import as_text

if TYPE_CHECKING:
    from openwork.commands._shop import Package
    from openwork.explore.family.family import Family
    from openwork.spec.spec import Spec


@click.command("family")
@spec_argument
@set_option
@click.option(
    "--to",
    "formats",
    metavar="FORMATS",
    help="Also write the files for the shop of every size, read back and checked, with commas "
    f"between: {', '.join(FORMATS)}.",
)
@click.option(
    "--strength",
    "strong",
    is_flag=True,
    help="Reckon stiffness and stress of every size too.",
)
@click.option("--zip", "packed", is_flag=True, help="Also write everything as one family.zip.")
@paper_option
@jobs_option
@out_option
@json_option
def command(  # noqa: PLR0913 (one parameter for each option)
    spec: Path,
    changes: Mapping[str, object],
    *,
    formats: str | None,
    strong: bool,
    packed: bool,
    paper: str,
    jobs: int | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Carry the look of a ring over all tooth counts, each on the mass promised.

    SPEC is the ring's spec file; goal.teeth = [38, 46] are the first and the last count, or a list
    of three and more. With goal.hold = "mass" every size is brought on goal.mass, by
    goal.per_tooth more with each tooth; "auto" finds the growth that keeps the solid share. With
    "share" all hold goal.share, or the least that all bear; with "rib" all share the rib, and the
    masses are told; where these would jump, rim and hem are wider, or ribs, and that is told too.
    Without goal.hold it is the mass where there is one, else the share. Columns,
    rows and phase are chosen once so that every size bears them.

    Written are a folder for each size, named by its teeth, with spec.toml, ring.svg, preview.svg
    and figures.json; family.svg, all sizes at one scale, and family.pdf where the extra pdf is
    installed; family.csv and family.json; with --to the files that `openwork export` writes, and
    its note, in the folders. A size that cannot be made keeps its place on the sheet,
    with the reason.
    """
    from openwork.files import write_files, zipped
    from openwork.tables.toml import content

    names = () if formats is None else formats_of(formats, tuple(FORMATS))
    _shop.available(names)
    base = loaded(spec, changes)
    jobs = jobs or os.cpu_count() or 1
    with named(spec):
        found = _made(base, jobs, strong)
    shop = _shop.packages(found, names, jobs=jobs) if names else ()
    contents = _contents(found, shop, content(spec), paper)
    if packed:
        contents["family.zip"] = zipped(contents)
    folder = out_folder(out, spec)
    paths = write_files(folder, contents)
    _shop.verified(folder, contents)
    if as_json:
        click.echo(contents["family.json"], nl=False)
    else:
        _summary(found, shop, folder, paths)
    _judge(spec, found, shop)


def _made(base: Spec, jobs: int, strong: bool) -> Family:
    from openwork.explore.family.family import gathered, sizes

    count = len(base.goal.sizes)
    workers = min(jobs, max(count, 1))
    return gathered(base, tracked(sizes(base, jobs=workers, strong=strong), count, "sizes"))


def _contents(
    family: Family, shop: Sequence[Package], text: str, paper: str
) -> dict[str, bytes | str]:
    """Return all files by name; the specs keep the comments of *text*."""
    files = _sheets(family, paper) | dict(_folders(family, text))
    for one in shop:
        files |= {f"{one.teeth}/{name}": content for name, content in one.contents.items()}
    return files | {"family.json": as_text(family.as_dict())}


def _judge(spec: Path, family: Family, shop: Sequence[Package]) -> None:
    """Raise RuleError where nothing could be made, or files of a size were refused."""
    if not family.made:
        raise RuleError(f"{spec}: none of the sizes can be made; the sheet says why")
    if faults := _shop.refused(shop):
        raise RuleError("\n".join(f"{spec}: {line}" for line in faults))


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
        figures = as_text(size.as_dict())
        yield f"{size.teeth}/spec.toml", rewritten(text, size.design.spec)
        yield f"{size.teeth}/ring.svg", ring_svg(size.design, size.figures)
        yield f"{size.teeth}/preview.svg", preview_svg(size.design)
        yield f"{size.teeth}/figures.json", figures


def _summary(family: Family, shop: Sequence[Package], folder: Path, paths: Sequence[Path]) -> None:
    from openwork.commands._table import table

    for title, (heads, *rows) in (
        (family.spec.title, _family.look(family)),
        ("Drive: diameters in mm, pull of the chain in N", _family.drive(family)),
    ):
        table(title, rows, heads=heads, left=0)
    if any(size.strength for size in family.made):
        heads, *rows = _family.strength(family)
        table(_family.STRENGTH, rows, heads=heads, left=0)
    if shop:
        heads, *rows = _shop.rows(shop)
        table("Files for the shop, read back", rows, heads=heads, left=0)
    for line in (*_family.said(family, folder), family.consistency.line):
        click.echo(line)
    tell([path for path in paths if path.parent == folder])
    if family.made:
        counts = ", ".join(str(size.teeth) for size in family.made)
        click.echo(f"wrote a folder for each size into {folder}: {counts}")
    if not _prints():
        click.echo("no family.pdf: pip install 'openwork[pdf]' adds it")
    for line in _family.cautions(family):
        click.echo(line)
