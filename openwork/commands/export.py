"""``openwork export``: the files a shop is sent, each read back before it counts."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from openwork.commands import _shop
from openwork.commands._common import (
    formats_of,
    json_option,
    loaded,
    named,
    out_folder,
    out_option,
    set_option,
    spec_argument,
)
from openwork.errors import SpecError
from openwork.render.paper.tiles import PAPERS
from openwork.render.shop.formats import FORMATS, VERSIONS, Choices

if TYPE_CHECKING:
    from openwork.render.shop.handover import Verdict

DEFAULT = Choices()
FINEST, COARSEST = 0.001, 1.0  # mm of a chord


@click.command("export")
@spec_argument
@click.option(
    "--to",
    "formats",
    required=True,
    metavar="FORMATS",
    help=f"What to write, with commas between: {', '.join(FORMATS)}.",
)
@set_option
@out_option
@json_option
@click.option(
    "--paper",
    type=click.Choice(PAPERS),
    default=DEFAULT.paper,
    show_default=True,
    help="Paper of the template.",
)
@click.option(
    "--dxf-version",
    type=click.Choice(VERSIONS),
    default=DEFAULT.dxf_version,
    show_default=True,
    help="Version of the DXF.",
)
@click.option(
    "--chord",
    type=float,
    default=DEFAULT.chord,
    show_default=True,
    metavar="MM",
    help="Greatest distance of the chords of a mesh from their arcs; 3mf and stl.",
)
@click.option(
    "--hole-clearance",
    "clearance",
    type=float,
    default=DEFAULT.clearance,
    show_default=True,
    metavar="MM",
    help="How much wider the bolt holes are printed; 3mf and stl.",
)
def command(
    spec: Path,
    *,
    formats: str,
    changes: Mapping[str, object],
    out: Path | None,
    as_json: bool,
    **chosen: Any,
) -> None:
    """Write the files for the shop, each read back and checked.

    SPEC is the ring's spec file. Written are the formats asked for, the PDF being a template at
    1:1 to lay on the crank, and handover.json with what a shop wants to know; with pdf also
    handover.pdf, the same on one page with a section and the checksums of the files. A file that
    does not pass its checks is not kept, the check is named, and earlier files stay whole.
    """
    names = formats_of(formats, tuple(FORMATS))
    if not FINEST <= (chord := chosen["chord"]) <= COARSEST:
        raise SpecError(
            f"--chord {chord:g}: must be from {FINEST:g} to {COARSEST:g} mm; 0.01 works"
        )
    import openwork
    from openwork.commands._progress import tracked
    from openwork.files import write_files
    from openwork.measure.limits import keep
    from openwork.render.shop import handover
    from openwork.ring import design_cautions
    from openwork.tables.caution import CAUTION

    _shop.available(names)
    choices = Choices(**chosen)
    with named(spec):
        ring = openwork.design(loaded(spec, changes))
        figures = openwork.figures(ring)
        keep(ring, figures)
        watched = tracked(names, len(names), "files")
        contents, judged = handover.package(watched, ring, figures, choices)
    folder = out_folder(out, spec)
    paths = write_files(folder, contents)
    _shop.verified(folder, contents)
    if as_json:
        click.echo(contents[handover.NOTE], nl=False)
        return
    for path in paths:
        click.echo(f"wrote {path}{_judged(contents[path.name], judged.get(path.name))}")
    for caution in (*design_cautions(ring), CAUTION):
        click.echo(caution)


def _judged(data: bytes | str, result: Verdict | None) -> str:
    if result is None:
        return ""
    size = f"{len(data) / 1e6:.2f} MB" if len(data) > 1e5 else f"{len(data) / 1e3:.0f} kB"
    return f", {size}: {len(result.checks)} checks passed, read with {result.reader}"
