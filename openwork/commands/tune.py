"""``openwork tune``: one key of a spec turned until the ring weighs what was promised."""

from __future__ import annotations

import json
from collections.abc import Mapping
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
from openwork.errors import SpecError

if TYPE_CHECKING:
    from openwork.explore.tune import Tuned
    from openwork.spec import Spec


@click.command("tune")
@spec_argument
@set_option
@click.option("--mass", type=float, metavar="G", help="Mass wanted, g.  [default: goal.mass]")
@click.option(
    "--by",
    "key",
    metavar="TABLE.KEY",
    default="web.rib",
    show_default=True,
    help="The key to turn: any number of web or pattern that varies, or ring.plate.",
)
@out_option
@json_option
def command(
    spec: Path,
    changes: Mapping[str, object],
    *,
    mass: float | None,
    key: str,
    out: Path | None,
    as_json: bool,
) -> None:
    """Turn one key of a spec until the ring weighs what was promised, to 0.05 g.

    SPEC is the ring's spec file. The tuned spec is written under the same name into the folder
    to write to, comments and order kept; what the pattern chose for itself is written down with
    it, so that the look stays. Where the mass cannot be reached, the masses that can are told.
    """
    from openwork.explore.tune import tuned  # noqa: PLC0415 (the help of a command stays fast)
    from openwork.files import write_files  # noqa: PLC0415
    from openwork.spec import load  # noqa: PLC0415

    base = load(spec, changes)
    target = _target(base, mass)
    with named(spec):
        found = tuned(base, target, key=key)
    (path,) = write_files(out_folder(out, spec), {spec.name: _edited(spec, changes, base, found)})
    if as_json:
        click.echo(json.dumps(_plain(found), indent=2))
        return
    click.echo(
        f"{found.key} {found.before:.4g} -> {found.value:.4f}, "
        f"mass {found.mass_before:.2f} -> {found.mass:.2f} g ({found.tried} rings tried)"
    )
    click.echo(f"wrote {path}")


def _target(spec: Spec, mass: float | None) -> float:
    """Return the mass to aim at: the one given, the goal's, or the middle of its band."""
    wanted = spec.goal.mass if mass is None else mass
    if wanted is None:
        raise SpecError("--mass: missing, and goal.mass is not set; --mass 100 works")
    if isinstance(wanted, tuple):
        return sum(wanted) / 2
    if not 1 <= wanted <= 5000:
        raise SpecError(f"--mass {wanted:g}: must be a number from 1 to 5000; 100 works")
    return wanted


def _edited(path: Path, changes: Mapping[str, object], base: Spec, found: Tuned) -> str:
    """Return the user's file with only what is new in it written: comments and order stay."""
    import tomlkit  # noqa: PLC0415 (only writing needs it)

    from openwork.spec import as_data  # noqa: PLC0415

    document = tomlkit.parse(path.read_text(encoding="utf-8-sig"))
    before, after = as_data(base), as_data(found.spec)
    for name in set(document.get("pattern", {})) - set(after["pattern"]):
        del document["pattern"][name]
    for table, values in after.items():
        if not isinstance(values, dict):
            continue
        for name, value in values.items():
            dotted = f"{table}.{name}"
            if before.get(table, {}).get(name) != value or dotted in changes:
                plain = round(value, 6) if isinstance(value, float) else value
                document.setdefault(table, tomlkit.table())[name] = plain
    return tomlkit.dumps(document)


def _plain(found: Tuned) -> dict[str, float | str]:
    return {
        "key": found.key,
        "before": found.before,
        "value": round(found.value, 6),
        "mass_before": round(found.mass_before, 4),
        "mass": round(found.mass, 4),
        "tried": found.tried,
    }
