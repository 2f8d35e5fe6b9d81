"""``openwork mount``: a bolt circle from the distances between its holes."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Any

import click

from openwork.commands._common import json_option
from openwork.errors import SpecError
from openwork.part.chords import (
    Common,
    angles_of,
    circle_of,
    common_of,
    repeated_chords,
    tolerance,
)
from openwork.part.mount import LEAST_CIRCLE, LONGEST, MOST_CIRCLE, SHORTEST
from openwork.tables.plain import as_text

NEAR = 1.0  # mm within which a circle may be a common one, more than a caliper is wrong by


class Millimetres(click.FloatRange):
    """A number in a range; one with a comma or a unit is told how to be written."""

    name = "mm"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Return the number."""
        try:
            number = float(value)
        except ValueError:
            plain = re.sub(r"\s*mm$", "", str(value).strip()).replace(",", ".")
            hint = f"; {plain} works" if re.fullmatch(r"\d+(\.\d+)?", plain) else ""
            self.fail(f'"{value}" is no number of mm{hint}', param, ctx)
        return float(super().convert(number, param, ctx))


@click.command("mount")
@click.option("--bolts", type=click.IntRange(3, 12), help="Number of bolts; as many as distances.")
@click.option(
    "--chord",
    "chords",
    type=Millimetres(SHORTEST, LONGEST),
    multiple=True,
    required=True,
    help="A distance of neighbouring holes, mm; once for even arms, else one after the other.",
)
@click.option(
    "--over",
    type=click.Choice(["centres", "outsides", "insides"]),
    default="centres",
    show_default=True,
    help="What was measured: centre to centre, or over the outsides or insides of two holes.",
)
@click.option("--hole", type=Millimetres(3, 20), help="Diameter of the holes, mm.")
@json_option
def command(
    chords: tuple[float, ...], *, bolts: int | None, over: str, hole: float | None, as_json: bool
) -> None:
    """Find circle and angles of the bolts from distances taken with a caliper.

    Even arms need one distance and the number of bolts: --bolts 4 --chord 73.5. Uneven arms need
    the distances in turn as they repeat: --bolts 4 --chord 64.7 --chord 89.0. Two holes are
    easiest to measure over their outsides: --over outsides --hole 10.1.
    """
    found = measured(chords, bolts=bolts, over=over, hole=hole)
    if as_json:
        click.echo(as_text(found), nl=False)
        return
    for line in _words(found):
        click.echo(line)


def measured(
    chords: tuple[float, ...], *, bolts: int | None, over: str, hole: float | None
) -> dict[str, Any]:
    """Return circle, angles and the nearest common circle; raises SpecError for no circle."""
    if over != "centres" and hole is None:
        raise SpecError(f"--over {over}: needs --hole, the diameter of the holes, mm")
    off = {"centres": 0.0, "outsides": -(hole or 0.0), "insides": hole or 0.0}[over]
    centres = tuple(chord + off for chord in chords)
    count = bolts or {1: 5, 2: 4}.get(len(chords), len(chords))
    try:
        if not all(map(math.isfinite, centres)):
            raise ValueError("a distance is no number; 73.5 works")
        if min(centres) <= 0:
            raise ValueError(f"a hole of {hole:g} mm is wider than a distance over it")
        round_ = repeated_chords(centres, count)
        circle = circle_of(round_)
    except ValueError as fault:
        raise SpecError(f"--chord: {fault}") from None
    even = len(set(round_)) == 1
    if not LEAST_CIRCLE <= circle <= MOST_CIRCLE:
        raise SpecError(
            f"--chord: {count} holes so far apart lie on a circle of {circle:.2f} mm; "
            f"a mount takes {LEAST_CIRCLE:g} to {MOST_CIRCLE:g} mm"
        )
    common = common_of(count, circle, even=even)
    return {
        "bolts": count,
        "circle": round(circle, 3),
        "sure_to": round(tolerance(round_), 3),
        "angles": [] if even else [round(angle, 3) for angle in angles_of(round_, circle)],
        "common": None if common is None else _plain(common, circle),
    }


def _plain(common: Common, circle: float) -> dict[str, Any]:
    return {
        "bolts": common.bolts,
        "circle": common.circle,
        "off": round(circle - common.circle, 3),
        "hole": common.hole,
        "least_teeth": common.teeth,
    }


def _words(found: dict[str, Any]) -> Iterator[str]:
    yield f"bolt circle {found['circle']:.2f} mm, to {found['sure_to']:.2f} mm for a caliper's 0.1"
    if found["angles"]:
        yield f"angles {', '.join(f'{angle:g}' for angle in found['angles'])} degrees"
    yield _beside_common(found)
    yield "common practice, no standard: measure hole, pads and arms on the crank as well"
    yield "[mount]"
    yield f"bolts = {found['bolts']}"
    common = found["common"]
    near = common and not found["angles"] and abs(common["off"]) <= found["sure_to"]
    yield f"circle = {common['circle'] if near else found['circle']:g}"
    if found["angles"]:
        yield f"angles = {found['angles']}"


def _beside_common(found: dict[str, Any]) -> str:
    """Return in words which common circle it is, or how far off the nearest one lies."""
    common, arms = found["common"], " uneven" if found["angles"] else ""
    if common is None:
        return f"no circle of {found['bolts']}{arms} bolts is in common use"
    named = f"{common['bolts']}{arms} x {common['circle']:g} mm"
    if abs(common["off"]) > max(NEAR, 2 * found["sure_to"]):
        return f"no common circle; {named} is nearest, {abs(common['off']):.2f} mm off"
    teeth = common["least_teeth"]
    least = f", least ring usually {teeth} teeth" if teeth else ""
    return f"{named} is the common circle there, holes usually {common['hole']:g} mm{least}"
