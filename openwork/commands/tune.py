"""``openwork tune``: one key of a spec turned until the ring weighs what was promised."""

from __future__ import annotations

import dataclasses
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
from openwork.errors import SpecError
from openwork.tables.plain import as_text, in_mm

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
    help="Turn this key alone: any number of web or pattern that varies, or ring.plate.",
)
@out_option
@json_option
def command(
    spec: Path,
    changes: Mapping[str, object],
    *,
    mass: float | None,
    key: str | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Change a ring until it weighs what was promised, to 0.05 g, and keep its look.

    SPEC is the ring's spec file. Heavier comes by ribs up to what the cells bear, then rim and
    hem, then other numbers of columns and rows, then the plate where goal.plate allows it; lighter
    by fewer and larger openings. No rib goes below web.rib, or goal.least_rib where that is given;
    rows, columns and all else that is given stay. Of a band of masses the middle is aimed at; a
    ring already in it stays as it is.

    The tuned spec is written under the same name into the folder to write to, comments and order
    kept, and preview.svg. Only what was changed is new in it, and what --set changes; what the
    pattern chooses for itself is written down too where it would choose otherwise now. Where the
    mass cannot be reached, the masses that can are told.
    """
    import openwork
    from openwork.files import write_files
    from openwork.measure.limits import keep
    from openwork.render.ring.preview import preview_svg
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
    pictures = {f"{spec.stem}.toml": text, "preview.svg": preview_svg(found.design)}
    paths = write_files(out_folder(out, spec), pictures)
    if as_json:
        click.echo(as_text(_told(found, figures)), nl=False)
    else:
        _summary(base, found, figures, paths)


def _told(found: Tuned, figures: Figures) -> dict[str, Any]:
    from openwork.measure.figures import mass

    before = None if found.before is None else mass(found.before)
    return {
        "changes": [dataclasses.asdict(one) for one in found.changes],
        "mass_before": None if before is None else round(before, 4),
        "mass": round(found.mass, 4),
        "tried": found.tried,
        "figures": figures.as_dict(),
    }


def _summary(base: Spec, found: Tuned, figures: Figures, paths: Sequence[Path]) -> None:
    from openwork.commands._table import table
    from openwork.tables.caution import CAUTION

    table(base.title, _rows(found, figures), heads=("", "before", "tuned"), left=1)
    if not found.changes:
        click.echo("nothing to change: the ring is on target as it is")
    if added := ", ".join(_added(base, found)):
        click.echo(f"written down too, as the pattern would choose otherwise now: {added}")
    if any(one.key == "web.rib" for one in found.changes):
        least = found.spec.goal.least_rib
        click.echo(f"written down too: goal.least_rib {least:g}, the rib asked for")
    tell(paths, CAUTION)


def _rows(found: Tuned, figures: Figures) -> Iterator[tuple[str, str, str]]:
    """Yield name, value before and value now of what has changed."""
    import openwork

    for one in found.changes:
        yield one.key, _shown(one.before), _shown(one.now)
    if found.before is None:
        yield "mass", "cannot be made", f"{figures.mass:.2f} g"
        return
    before = openwork.figures(found.before)
    yield "mass", f"{before.mass:.2f} g", f"{figures.mass:.2f} g"
    old, new = before, figures
    yield "openings", f"{old.openings}", f"{new.openings}"
    yield "least rib", in_mm(old.rib["least"], 3), in_mm(new.rib["least"], 3)
    yield "solid share", f"{100 * old.solid_share:.1f} %", f"{100 * new.solid_share:.1f} %"


def _added(base: Spec, found: Tuned) -> list[str]:
    turned = {one.key for one in found.changes}
    chosen = found.spec.pattern.parameters
    return [
        f"{key} {value}"
        for key, value in chosen.items()
        if key not in base.pattern.parameters and f"pattern.{key}" not in turned
    ]


def _shown(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)
