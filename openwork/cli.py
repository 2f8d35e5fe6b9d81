"""The ``openwork`` command: a group that imports a command only when it is run.

Exit status: 0 done; 1 a limit is broken or a file cannot be written; 2 the spec or the command
line is wrong; 130 interrupted. Only this module and ``openwork.commands`` print.
"""

from __future__ import annotations

import os
from errno import EPIPE
from importlib import import_module
from typing import Any

import click

from openwork.errors import RuleError, SpecError

# Kept here, and not asked of the commands, so that the help needs none of their imports.
COMMANDS = {
    "new": "Write a commented spec to start from.",
    "mount": "Find circle and angles of the bolts from distances taken with a caliper.",
    "motif": "Read your own drawing and show what would be cut of it.",
    "draw": "Draw one ring: its outline in mm, a picture, its figures.",
    "hone": "Open a page on which the ring follows what is turned.",
    "sheet": "Lay out variants of a ring on sheets to choose from.",
    "tune": "Change a ring until it weighs what was promised, to 0.05 g, and keep its look.",
    "family": "Carry the look of a ring over all tooth counts, each on the mass promised.",
    "alloys": "Compare one ring in every material: mass, strength, fatigue, safety.",
    "export": "Write the files for the shop, each read back and checked.",
    "patterns": "List the patterns, their parameters and ranges.",
}


# Many small systems are solved, one process to a core: more threads each only stand in the way.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Nothing else that is installed has a say in how a spec is checked; looking for it takes its time.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")


class Broken(click.ClickException):
    """Messages for standard error as they are: a limit is broken, or a file cannot be written."""

    exit_code = 1

    def show(self, file: Any = None) -> None:
        """Print the messages as they are."""
        click.echo(self.message, file=file, err=True)


class Wrong(Broken):
    """The spec or the command line is wrong."""

    exit_code = 2


class Interrupted(Broken):
    """The user stopped it."""

    exit_code = 130


class Commands(click.Group):
    """A group of the commands in ``openwork.commands``, one module each."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names in the order of the work."""
        del ctx
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command called *cmd_name*; None where there is none."""
        del ctx
        if cmd_name not in COMMANDS:
            return None
        found = import_module(f"openwork.commands.{cmd_name}").command
        assert isinstance(found, click.Command)
        return found

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without importing them."""
        del ctx
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; what a user can mend becomes a message, bugs keep their traceback."""
        try:
            return super().invoke(ctx)
        except SpecError as error:
            raise Wrong(str(error)) from error
        except RuleError as error:
            raise Broken(str(error)) from error
        except OSError as error:
            if error.errno == EPIPE:
                raise
            raise Broken(_reason(error)) from error
        except KeyboardInterrupt as error:
            raise Interrupted("interrupted; earlier files are whole") from error


def _reason(error: OSError) -> str:
    about = "" if error.filename is None else f"{click.format_filename(error.filename)}: "
    return f"{about}{error.strerror or error}; earlier files are whole"


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="openwork", message="%(package)s %(version)s")
def main() -> None:
    """Draw, weigh and compare pierced chainrings, from one small text file."""
