"""``openwork new``: a commented spec to start from."""

from __future__ import annotations

from pathlib import Path

import click

from openwork.errors import SpecError


@click.command("new")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--force", is_flag=True, help="Overwrite the file if it is there.")
@click.option("--schema", is_flag=True, help="Also write the JSON Schema that editors check by.")
def command(file: Path, force: bool, schema: bool) -> None:
    """Write a commented spec to start from.

    FILE gets every key with its default, its range and its meaning: a 42-tooth ring that draws
    as it stands.
    """
    from openwork.files import write_files
    from openwork.fill.registry import patterns
    from openwork.spec.schema import SCHEMA, text
    from openwork.spec.starter import template

    if file.exists() and not force:
        raise SpecError(f"{file}: is there already; --force overwrites it")
    contents = {file.name: template()}
    if schema:
        contents[file.name] = f"#:schema {SCHEMA.name}\n{template()}"
        contents[SCHEMA.name] = text(patterns())
    for path in write_files(file.parent, contents):
        click.echo(f"wrote {path}")
