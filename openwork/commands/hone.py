"""``openwork hone``: a page on this machine, on which the ring follows what is turned."""

from __future__ import annotations

from pathlib import Path

import click

from openwork.commands._common import out_folder, out_option, spec_argument


@click.command("hone")
@spec_argument
@out_option
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    metavar="N",
    help="Port on 127.0.0.1.  [default: any that is free]",
)
@click.option("--no-browser", is_flag=True, help="Print the address and open no browser.")
@click.option(
    "--sheet",
    type=click.Path(path_type=Path),
    metavar="PAGE",
    help="Lay the rings of a page that `openwork sheet` wrote, sheet.html, on the shelf.",
)
def command(
    spec: Path, *, out: Path | None, port: int, no_browser: bool, sheet: Path | None
) -> None:
    """Open a page on which the ring follows what is turned.

    SPEC is the ring's spec file. It is the page's panel, line by line, and it is what is saved:
    comments kept, and never over what was changed elsewhere meanwhile. Kept rings are written into
    a folder beside it, files for the shop into the folder to write to.

    The server is for this machine alone and ends with Ctrl-C. From another machine it is reached
    through an SSH tunnel: ssh -L N:127.0.0.1:N, with a --port N of your choice.
    """
    from openwork.live.server import serve
    from openwork.live.sheet import rings_of
    from openwork.tables.caution import CAUTION

    def ready(address: str) -> None:
        click.echo(f"{address}\n{CAUTION}\nCtrl-C closes the page's server.")
        if not no_browser:
            _shown(address)

    brought = {} if sheet is None else rings_of(sheet)
    try:
        serve(spec, out_folder(out, spec), brought, port, ready)
    except KeyboardInterrupt:
        click.echo("\nclosed; what was not saved is not in the file")


def _shown(address: str) -> None:
    import webbrowser

    if not webbrowser.open(address):
        click.echo("no browser was found: open the address above in one")
