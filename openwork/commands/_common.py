"""What the commands share: arguments, options, and the words of a message."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from openwork.errors import RuleError, SpecError
from openwork.render.paper.tiles import PAPERS

if TYPE_CHECKING:
    from openwork.spec.spec import Spec

F = TypeVar("F", bound=Callable[..., Any])

OUT = Path("out")


def spec_argument(function: F) -> F:
    """Add the argument SPEC, the path of a spec file."""
    return click.argument("spec", type=click.Path(path_type=Path))(function)


def set_option(function: F) -> F:
    """Add ``--set``, given to the command as ``changes`` by dotted key."""
    return click.option(
        "--set",
        "changes",
        multiple=True,
        metavar="TABLE.KEY=VALUE",
        callback=_changes,
        help="Change any key of the spec for this run; may be given often. The value is read as "
        "in the file, or as text. With a new pattern.name the parameters in the file, "
        "which are the other pattern's, do not count.",
    )(function)


def out_option(function: F) -> F:
    """Add ``--out``, the folder to write to; None unless given, see ``out_folder``."""
    return click.option(
        "--out",
        type=click.Path(path_type=Path),
        metavar="DIR",
        help="Folder to write to, made where missing.  [default: out/ and the spec's name]",
    )(function)


def jobs_option(function: F) -> F:
    """Add ``--jobs``, the number of processes; None unless given."""
    return click.option(
        "--jobs", type=click.IntRange(1, 64), metavar="N", help="Processes.  [default: all]"
    )(function)


def paper_option(function: F) -> F:
    """Add ``--paper``, the name of the paper of sheets."""
    return click.option(
        "--paper",
        type=click.Choice(PAPERS, case_sensitive=False),
        default="A4",
        show_default=True,
        metavar="NAME",
        help=f"{', '.join(PAPERS[:-1])} or {PAPERS[-1]}, landscape.",
    )(function)


def json_option(function: F) -> F:
    """Add ``--json``, given to the command as ``as_json``."""
    return click.option(
        "--json", "as_json", is_flag=True, help="Print the figures as JSON in place of the table."
    )(function)


def out_folder(out: Path | None, spec: Path) -> Path:
    """Return the folder to write to: *out*, or the spec's name under ``out``.

    >>> out_folder(None, Path("fleet/harbour.toml")).as_posix()
    'out/harbour'
    """
    return out if out is not None else OUT / spec.stem


def loaded(spec: Path, changes: Mapping[str, object]) -> Spec:
    """Return the spec in the file *spec* with the *changes* of ``--set``; raises SpecError."""
    from openwork.spec.spec import load

    return load(spec, changes, cause="--set")


def tell(paths: Sequence[Path], *words: str) -> None:
    """Print which files were written, and *words* below, a line each."""
    for line in (*(f"wrote {path}" for path in paths), *words):
        click.echo(line)


@contextmanager
def named(spec: Path) -> Iterator[None]:
    """Put the name of the file before each line of a RuleError."""
    try:
        yield
    except RuleError as error:
        lines = str(error).splitlines()
        raise RuleError("\n".join(f"{spec}: {line}" for line in lines)) from error


def _changes(
    ctx: click.Context, param: click.Parameter, pairs: tuple[str, ...]
) -> Mapping[str, object]:
    del ctx, param
    if wrong := [pair for pair in pairs if not _key(pair.partition("=")[0]) or "=" not in pair]:
        raise SpecError(*(f"--set {pair}: no TABLE.KEY=VALUE; web.rib=2.0 works" for pair in wrong))
    split = (pair.partition("=") for pair in pairs)
    return {_key(key): _value(text) for key, _, text in split}


def _key(text: str) -> str:
    """Return the dotted key *text* without the blanks and quotes that TOML allows in it.

    >>> _key(' prices."7075-T6" ')
    'prices.7075-T6'
    """
    return ".".join(part.strip().strip("\"'") for part in text.split("."))


def _value(text: str) -> object:
    """Return *text* read as a TOML value, or as it is.

    >>> _value("[38, 46]"), _value("7075-T6")
    ([38, 46], '7075-T6')
    """
    try:
        read = tomllib.loads(f"value = {text}")
    except (ValueError, RecursionError):
        return text
    return read["value"] if read.keys() == {"value"} else text


def formats_of(text: str, known: Sequence[str]) -> tuple[str, ...]:
    """Return the formats named in *text*, each once; raises SpecError with those not *known*."""
    asked = tuple(dict.fromkeys(one.strip().lower() for one in text.split(",") if one.strip()))
    unknown = [one for one in asked if one not in known]
    if unknown or not asked:
        raise SpecError(*(_unknown(one, known) for one in unknown or ("",)))
    return asked


def _unknown(name: str, known: Sequence[str]) -> str:
    near = get_close_matches(name, known, n=1, cutoff=0.0)[0]
    return f'--to "{name}": is none of {", ".join(known)}; "{near}" works'


def numbered(stem: str, pages: Sequence[str]) -> dict[str, str]:
    """Return *pages* by name: *stem* alone for the first, then with their number.

    >>> numbered("sheet", ["one", "two"])
    {'sheet': 'one', 'sheet-2': 'two'}
    """
    return {f"{stem}-{k}" if k > 1 else stem: page for k, page in enumerate(pages, start=1)}
