"""``openwork new``: a commented spec to start from."""

from __future__ import annotations

from pathlib import Path

import click

from openwork.errors import SpecError


@click.command("new")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--force", is_flag=True, help="Overwrite the file if it is there.")
@click.option("--schema", is_flag=True, help="Also write the JSON Schema that editors check by.")
@click.option("--teeth", type=int, metavar="N", help="Number of teeth.  [default: 42]")
@click.option("--bolts", type=int, metavar="N", help="Number of bolts.  [default: 5]")
@click.option(
    "--circle", type=float, metavar="MM", help="Diameter of the bolt circle.  [default: 110]"
)
@click.option("--mass", type=float, metavar="G", help="Mass wanted, g.")
def command(
    file: Path,
    *,
    force: bool,
    schema: bool,
    teeth: int | None,
    bolts: int | None,
    circle: float | None,
    mass: float | None,
) -> None:
    """Write a commented spec to start from.

    FILE gets every key with its default, its range and its meaning: a ring that draws as it
    stands, of 42 teeth and 5 bolts on 110 mm unless you say otherwise. Only a ring whose blank can
    be made is written.
    """
    from openwork.files import write_files
    from openwork.fill.registry import patterns
    from openwork.fill.site import site
    from openwork.part.blank import blank
    from openwork.spec.schema import SCHEMA, text
    from openwork.spec.spec import from_toml
    from openwork.spec.starter import template

    if file.exists() and not force:
        raise SpecError(f"{file}: is there already; --force overwrites it")
    asked = {
        ("ring", "teeth"): teeth,
        ("mount", "bolts"): bolts,
        ("mount", "circle"): circle,
        ("goal", "mass"): mass,
    }
    started = template({keys: value for keys, value in asked.items() if value is not None})
    spec = from_toml(started, source="new")
    site(blank(spec.ring, spec.mount), spec.web)
    contents = {file.name: started}
    if schema:
        contents[file.name] = f"#:schema {SCHEMA.name}\n{started}"
        contents[SCHEMA.name] = text(patterns())
    for path in write_files(file.parent, contents):
        click.echo(f"wrote {path}")
