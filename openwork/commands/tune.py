"""``openwork tune``: one key of a spec turned until the ring weighs what was promised."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from openwork.commands._common import (
    json_option,
    loaded,
    named,
    out_folder,
    out_option,
    set_option,
    spec_argument,
    tell,
)
from openwork.errors import RuleError, SpecError
from openwork.tables.plain import as_text

if TYPE_CHECKING:
    from openwork.explore.mass.tune import Tuned
    from openwork.measure.figures import Figures
    from openwork.spec.spec import Spec


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

    SPEC is the ring's spec file. Of a band of masses the middle is aimed at; a ring already in
    it stays as it is. The tuned spec is written under the same name into the folder to write to,
    comments and order kept. Only the key is new in it, and what --set changes; what the pattern
    chooses for itself is written down too where it would choose otherwise for the new value.
    Where the mass cannot be reached, the masses that can are told.
    """
    import openwork
    from openwork.files import write_files
    from openwork.measure.limits import keep
    from openwork.spec.rewrite import rewritten
    from openwork.tables.toml import content

    if mass is not None and not 1 <= mass <= 5000:
        raise SpecError(f"--mass {mass:g}: must be a number from 1 to 5000; 100 works")
    base = loaded(spec, changes)
    with named(spec):
        found = openwork.tune(base, mass, key=key)
        figures = openwork.figures(found.design)
        keep(found.design, figures)
    text = rewritten(content(spec), found.spec)
    paths = write_files(out_folder(out, spec), {spec.name: text})
    if as_json:
        click.echo(as_text(_plain(found, figures)), nl=False)
    else:
        _summary(base, found, figures, paths)


def _plain(found: Tuned, figures: Figures) -> dict[str, Any]:
    return {
        "key": found.key,
        "before": found.before,
        "value": found.value,
        "mass_before": found.mass_before,
        "mass": found.mass,
        "tried": found.tried,
        "figures": figures.as_dict(),
    }


def _summary(base: Spec, found: Tuned, figures: Figures, paths: Sequence[Path]) -> None:
    from openwork.commands._table import table
    from openwork.tables.caution import CAUTION

    table(base.title, _rows(base, found, figures), heads=("", "before", "tuned"), left=1)
    if found.before == found.value:
        click.echo("nothing to turn: the ring is on target as it is")
    if added := ", ".join(_added(base, found.spec)):
        click.echo(f"written down too, as the pattern would choose otherwise now: {added}")
    tell(paths, CAUTION)


def _rows(base: Spec, found: Tuned, figures: Figures) -> Iterator[tuple[str, str, str]]:
    """Yield name, value before and value now of what the turn has changed."""
    import openwork

    yield f"{found.key}", f"{found.before:g}", f"{found.value:g}"
    try:
        before = openwork.figures(openwork.design(base))
    except RuleError:
        yield "mass", "cannot be made", f"{figures.mass:.2f} g"
        return
    yield "mass", f"{before.mass:.2f} g", f"{figures.mass:.2f} g"
    for name, values, form in (
        ("openings", (before.openings, figures.openings), "{}"),
        ("least rib", (before.rib["least"], figures.rib["least"]), "{:.3f} mm"),
        ("solid share", (100 * before.solid_share, 100 * figures.solid_share), "{:.1f} %"),
    ):
        yield name, form.format(values[0]), form.format(values[1])


def _added(base: Spec, tuned: Spec) -> list[str]:
    given = base.pattern.parameters
    chosen = tuned.pattern.parameters
    return [f"{key} {value}" for key, value in chosen.items() if key not in given]
