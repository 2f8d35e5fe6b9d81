"""``openwork patterns``: the patterns, their parameters and ranges."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import TYPE_CHECKING

import click

from openwork.errors import SpecError
from openwork.tables.plain import as_text

if TYPE_CHECKING:
    from openwork.fill.catalogue import Entry
    from openwork.tables.figure import Figure

SAMPLE = "[ring]\nteeth = 42\n[mount]\ncircle = 110.0\n[pattern]\nname = '{}'\n"


@click.command("patterns")
@click.argument("name", required=False)
@click.option("--json", "as_json", is_flag=True, help="Print a list of patterns as JSON.")
@click.option(
    "--figures", "figured", is_flag=True, help="Explain the figures of a ring instead, with units."
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="With NAME: write a drawing of it, NAME.svg, into this folder.",
)
def command(name: str | None, as_json: bool, figured: bool, out: Path | None) -> None:
    """List the patterns, their parameters and ranges.

    With NAME, that pattern alone and what its parameters mean. A parameter without a default is
    chosen to suit the web when it is left out of the spec.
    """
    from openwork.fill.catalogue import catalogue
    from openwork.fill.registry import broken, pattern_named

    if figured:
        _explain(as_json)
        return
    if name is not None:
        pattern_named(name)
    elif out is not None:
        raise SpecError(
            "--out: needs the NAME of a pattern to draw; `openwork patterns spokes` works"
        )
    entries = [one for one in catalogue() if name in (None, one.name)]
    if as_json:
        click.echo(as_text([dataclasses.asdict(one) for one in entries]), nl=False)
    elif name is None:
        _list(entries)
    else:
        _describe(entries[0])
    for plugin, reason in broken().items():
        click.echo(f"plug-in {plugin}: left out: {reason}", err=True)
    if out is not None and name is not None:
        _draw(name, out, quiet=as_json)


def _list(entries: list[Entry]) -> None:
    from openwork.commands._table import table

    rows = (
        (one.name, one.kind, one.summary, ", ".join(p.name for p in one.parameters))
        for one in entries
    )
    table(None, rows, heads=("pattern", "kind", "what it is", "parameters"))


def _describe(one: Entry) -> None:
    from openwork.commands._table import table

    click.echo(f"{one.name} ({one.kind}): {one.summary}")
    rows = (
        (
            parameter.name,
            parameter.range + (", per bolt" if parameter.per_bolt else ""),
            "suits the web" if parameter.default is None else f"{parameter.default}",
            parameter.help,
        )
        for parameter in one.parameters
    )
    table(None, rows, heads=("parameter", "takes", "default", "meaning"))
    if any(parameter.per_bolt for parameter in one.parameters):
        click.echo("per bolt: a multiple of the symmetry that the bolts leave")


def _explain(as_json: bool) -> None:
    from openwork.commands._table import table
    from openwork.explore.variants.figure_rows import everything

    known = everything()
    if as_json:
        listed = {
            name: {"unit": one.unit, "meaning": one.meaning} | _bias(one)
            for name, one in known.items()
        }
        click.echo(as_text(listed), nl=False)
        return
    rows = (
        (name, "" if one.unit == "1" else one.unit, "; ".join([one.meaning, *_bias(one).values()]))
        for name, one in known.items()
    )
    table(None, rows, heads=("figure", "unit", "meaning"))


def _bias(one: Figure) -> dict[str, str]:
    """Return how far a figure may be off, of those that say so."""
    from openwork.strength.meaning import Meaning

    return {"bias": one.bias} if isinstance(one, Meaning) else {}


def _draw(name: str, out: Path, *, quiet: bool) -> None:
    import openwork
    from openwork.files import write_files
    from openwork.render.ring.preview import preview_svg
    from openwork.spec.spec import from_toml

    ring = openwork.design(from_toml(f"title = '{name}'\n" + SAMPLE.format(name)))
    for path in write_files(out, {f"{name}.svg": preview_svg(ring)}):
        if not quiet:
            click.echo(f"wrote {path}")
