"""``openwork draw``: one ring, its drawing, its picture and its figures."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from openwork.commands import _strength
from openwork.commands._common import (
    formats_of,
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
from openwork.render.extras import demand
from openwork.tables.plain import as_text, in_mm

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.ring import Design
    from openwork.strength.report import Reckoned
    from openwork.strength.result import Strength

TOLERANCE = 0.05  # g
LONGEST = 40  # characters of a parameter that are printed
DOTS = 2000  # across a picture for a page on which rings are sold
FORMATS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "svg": ("", ()),
    "png": ("png", ("resvg_py",)),
}
OFF = 0.05  # mm of a centre of mass that are worth a word


@click.command("draw")
@spec_argument
@set_option
@out_option
@json_option
@click.option(
    "--to",
    "formats",
    default="svg",
    show_default=True,
    metavar="FORMATS",
    help="Formats of the picture, with commas between: svg, png. A PNG has a transparent ground.",
)
@click.option(
    "--size",
    "dots",
    type=click.IntRange(16, 8000),
    metavar="N",
    help=f"Width of a PNG, dots.  [default: {DOTS}]",
)
@click.option(
    "--turn",
    type=float,
    default=0.0,
    metavar="DEG",
    help="Turn the ring in the picture, counter-clockwise; the light stays.",
)
@click.option(
    "--strength",
    "strong",
    is_flag=True,
    help="Reckon stiffness and stress too, and write stress.svg (and stress.png with resvg-py).",
)
@click.option("--modes", is_flag=True, help="With --strength: frequency and buckling as well.")
@click.option(
    "--loose", is_flag=True, help="With --strength: the bolts as loose pins without friction too."
)
def command(  # noqa: PLR0913 (one parameter for each option)
    spec: Path,
    changes: Mapping[str, object],
    *,
    out: Path | None,
    as_json: bool,
    formats: str,
    dots: int | None,
    turn: float,
    strong: bool,
    modes: bool,
    loose: bool,
) -> None:
    """Draw one ring: its outline in mm, a picture, its figures.

    SPEC is the ring's spec file. Written are ring.svg, the exact outline for the shop, 1 unit to
    the mm; preview.svg, filled, for the eye, or preview.png; figures.json, all figures of the
    ring. A ring that breaks one of its limits is not written.
    """
    for name, asked in (("modes", modes), ("loose", loose)):
        if asked and not strong:
            raise SpecError(f"--{name}: goes with --strength")
    shown = _formats(formats, dots, turn)
    import openwork
    from openwork.files import write_files
    from openwork.measure.limits import keep
    from openwork.render.ring.outline import ring_svg
    from openwork.render.ring.preview import preview_svg

    with named(spec):
        ring = openwork.design(loaded(spec, changes))
        figures = openwork.figures(ring)
        keep(ring, figures)
        found = _reckoned(ring, modes=modes, loose=loose) if strong else None
    strength = None if found is None else found.strength
    listed = _listed(figures, strength)
    contents: dict[str, str | bytes] = {
        "ring.svg": ring_svg(ring, figures),
        "figures.json": listed,
    }
    picture = preview_svg(ring, turn=math.radians(turn))
    contents |= {"preview.svg": picture} if "svg" in shown else {}
    if "png" in shown:
        from openwork.render.paper.png import picture_png

        contents["preview.png"] = picture_png(picture, dots or DOTS)
    if found is not None:
        contents |= _strength.pictures(ring, found)
    paths = write_files(out_folder(out, spec), contents)
    if as_json:
        click.echo(listed, nl=False)
    else:
        _summary(ring, figures, strength, paths)


def _formats(text: str, dots: int | None, turn: float) -> tuple[str, ...]:
    """Return the formats of the picture; raises SpecError for what does not go together."""
    wanted = formats_of(text, tuple(FORMATS))
    demand({name: FORMATS[name] for name in wanted})
    if dots is not None and "png" not in wanted:
        raise SpecError(f"--size {dots}: is the width of a PNG; add --to png")
    if not abs(turn) <= 360:
        raise SpecError(f"--turn {turn:g}: must be from -360 to 360; 18 works")
    return wanted


def _reckoned(ring: Design, *, modes: bool, loose: bool) -> Reckoned:
    from openwork.explore.strength_of import reckoned_of

    return reckoned_of(ring, modes=modes, loose=loose)


def _listed(figures: Figures, strength: Strength | None) -> str:
    plain = figures.as_dict()
    if strength is not None:
        plain["strength"] = strength.as_dict()
    return as_text(plain)


def _summary(
    ring: Design, figures: Figures, strength: Strength | None, paths: Sequence[Path]
) -> None:
    from openwork.commands._table import table
    from openwork.ring import design_cautions
    from openwork.tables.caution import CAUTION

    more = [] if strength is None else _strength.rows(strength)
    table(ring.spec.title, _rows(ring, figures), more)
    tell(paths, *design_cautions(ring), *((CAUTION,) if strength is None else strength.notes))


def _rows(ring: Design, figures: Figures) -> list[tuple[str, str]]:
    mount, site = ring.blank.mount, ring.site
    parameters = dataclasses.asdict(ring.pattern)
    chosen = ", ".join(f"{key} {_plain(value)}" for key, value in parameters.items())
    return [
        ("teeth", f"{figures.teeth}, chain {ring.blank.chain.number}, {ring.blank.material.name}"),
        ("mount", f"{mount.bolts} bolts on {mount.circle:g} mm, symmetry {site.fold}-fold"),
        ("pattern", f"{ring.spec.pattern.name}: {chosen}" if chosen else ring.spec.pattern.name),
        ("openings", _openings(ring, figures)),
        ("mass", f"{figures.mass:.1f} g{_beside_goal(ring, figures)}"),
        ("solid share", f"{100 * figures.solid_share:.1f} % of the web"),
        *_panels(ring, figures),
        *_marks(ring),
        ("least rib", f"{in_mm(figures.rib['least'], 3)}, asked {site.rib:g}"),
        ("least inside radius", f"{in_mm(figures.corner_least, 3)}, asked {site.corner:g}"),
    ]


def _beside_goal(ring: Design, figures: Figures) -> str:
    """Return in words how the mass stands to the goal of the spec; nothing without one."""
    wanted = ring.spec.goal.mass
    if wanted is None:
        return ""
    low, high = wanted if isinstance(wanted, tuple) else (wanted, wanted)
    asked = f"{low:g} g" if low == high else f"{low:g} to {high:g} g"
    if low - TOLERANCE <= figures.mass <= high + TOLERANCE:
        return f", as wanted: {asked}"
    return f", wanted {asked}: `openwork tune` brings it there"


def _openings(ring: Design, figures: Figures) -> str:
    lost = f"{ring.filled} fragments filled, {ring.dropped} slivers dropped"
    return f"{figures.openings} ({lost})"


def _panels(ring: Design, figures: Figures) -> list[tuple[str, str]]:
    """Return what panels cost, in mass and in balance."""
    from openwork.measure.panels import panel_mass

    if not ring.spec.panel:
        return []
    cost = f"{len(ring.panelled)} openings left out, {panel_mass(ring):+.1f} g"
    off = f"centre of mass {figures.balance:.2f} mm off the axis"
    once = any(one.repeat == "once" for one in ring.spec.panel.values())
    hint = '; repeat = "opposite" brings it back' if once and figures.balance > OFF else ""
    return [("panels", f"{cost}; {off}{hint}")]


def _marks(ring: Design) -> list[tuple[str, str]]:
    names = dict.fromkeys(one.name for one in ring.engravings)
    said = [next(one for one in ring.engravings if one.name == name) for name in names]
    return (
        [("marks", ", ".join(f'"{one.text}" {one.height:g} mm, {one.face}' for one in said))]
        if said
        else []
    )


def _plain(value: object) -> str:
    if isinstance(value, str) and len(value) > LONGEST:
        return f"of {len(value)} characters"
    return f"{value:g}" if isinstance(value, float) else str(value)
