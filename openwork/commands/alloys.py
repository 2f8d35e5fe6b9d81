"""``openwork alloys``: one ring in every material, side by side."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from openwork.commands._common import (
    jobs_option,
    json_option,
    loaded,
    named,
    out_folder,
    out_option,
    paper_option,
    set_option,
    spec_argument,
    tell,
)
from openwork.commands._progress import tracked
from openwork.tables.plain import as_text

if TYPE_CHECKING:
    from openwork.explore.alloys import Alloy
    from openwork.spec.spec import Spec

UNKNOWN = "–"
HEADS = ("material", "mass", "yield", "ultimate", "fatigue", "static safety", "fatigue safety")


@click.command("alloys")
@spec_argument
@set_option
@paper_option
@jobs_option
@out_option
@json_option
def command(
    spec: Path,
    changes: Mapping[str, object],
    *,
    paper: str,
    jobs: int | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Compare one ring in every material: mass, strength, fatigue, safety.

    SPEC is the ring's spec file. The openings stay as they are. Written are alloys.svg, bars on
    one page, and alloys.json. Every value names its source; a dash stands where none is published.
    Safety is what the metal takes over the stress of the spec's load. With prices per kg in the
    spec, [prices] "7075-T6" = 9.0, the metal of the rings is compared in cost as well.
    """
    import openwork
    from openwork.explore.alloys import alloys, cost_indices
    from openwork.files import write_files
    from openwork.measure.limits import keep
    from openwork.part.material import MATERIALS
    from openwork.render.family.alloys import alloys_svg

    base = loaded(spec, changes)
    with named(spec):
        ring = openwork.design(base)
        keep(ring, openwork.figures(ring))
    making = alloys(ring, jobs=min(jobs or os.cpu_count() or 1, len(MATERIALS)))
    own = not isinstance(base.ring.material, str)
    found = [*tracked(making, len(MATERIALS) + own, "materials")]
    costs = cost_indices(found)
    listed = as_text(_plain(base, found, costs))
    contents = {"alloys.svg": alloys_svg(base, found, paper=paper), "alloys.json": listed}
    paths = write_files(out_folder(out, spec), contents)
    if as_json:
        click.echo(listed, nl=False)
    else:
        _summary(base, found, costs, paths)


def _plain(spec: Spec, found: Sequence[Alloy], costs: Mapping[str, float]) -> dict[str, Any]:
    """Return everything by name of material, the cost index where there are prices."""
    index = {name: {"cost_index": round(cost, 1)} for name, cost in costs.items()}
    return {
        "title": spec.title,
        "load": spec.load.model_dump(),
        "materials": [one.as_dict() | index.get(one.material.name, {}) for one in found],
    }


def _summary(
    spec: Spec, found: Sequence[Alloy], costs: Mapping[str, float], paths: Sequence[Path]
) -> None:
    from openwork.commands._table import table

    heads = [head.replace(" ", "\n") for head in (*HEADS, *(["cost index"] if costs else []))]
    rows = [
        [*_row(one), *([_number(costs.get(one.material.name), ".0f")] if costs else [])]
        for one in found
    ]
    title = f"{spec.title}: mass in g, strength in MPa"
    table(
        title, rows, heads=heads, left=1, bold=next(one.material.name for one in found if one.own)
    )
    for line in _words(spec, found):
        click.echo(line)
    tell(paths, *_cautions(spec, found))


def _row(one: Alloy) -> Iterator[str]:
    material = one.material
    yield material.name
    yield f"{one.mass:.1f}"
    for value in (material.yield_strength, material.ultimate, material.fatigue):
        yield _number(value or None, "g")
    for safety in (one.static_safety, one.fatigue_safety):
        yield _number(safety, ".2f")


def _number(value: float | None, form: str) -> str:
    return UNKNOWN if value is None else f"{value:{form}}"


def _words(spec: Spec, found: Sequence[Alloy]) -> Iterator[str]:
    """Yield the sources, why a safety is missing, and what the safeties mean."""
    for one in found:
        yield f"{one.material.name}: {one.material.source}"
    for reason in dict.fromkeys(one.reason for one in found if one.reason):
        yield f"no safety: {reason}"
    from openwork.strength.endurance import RIGS

    load = spec.load
    yield (
        f"safety: what the metal takes over the stress at {load.force:g} N once, and at "
        f"{RIGS[load.rig].force:g} N on the rig for {load.rig} cranks, {load.surface}, likely, "
        f"{load.survival:g} % surviving; a dash where nothing is published"
    )
    if not spec.prices.by_name:
        yield 'no cost index: [prices] in the spec, "7075-T6" = 9.0 per kg, adds it'


def _cautions(spec: Spec, found: Sequence[Alloy]) -> Iterator[str]:
    from openwork.tables.caution import CAUTION

    yield (
        f"Fatigue strengths are of unlike numbers of cycles, and what {spec.load.surface} takes "
        "off them was measured on aluminium: compare them across metals with care."
    )
    own = next((one.strength for one in found if one.own and one.strength is not None), None)
    yield from (CAUTION,) if own is None else (own.bands, *own.notes)
