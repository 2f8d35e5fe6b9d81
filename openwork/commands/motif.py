"""``openwork motif``: what is read of a drawing, and what a cutter keeps of it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from openwork.commands._common import set_option, tell

if TYPE_CHECKING:
    from collections.abc import Mapping

    from openwork.drawing.outlines import Outlines
    from openwork.ring import Design

SAMPLE = "title = 'Motif'\n[ring]\nteeth = 42\n[mount]\ncircle = 110.0\n[pattern]\nname = 'motif'\n"
LITTLE = 0.8  # share of a drawing that is cut below which that is said


@click.command("motif")
@click.argument("drawing", type=click.Path(path_type=Path), metavar="FILE")
@set_option
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="DIR",
    help="Write motif.svg, what was read, ring.svg and preview.svg, a ring of it, to this folder.",
)  # fmt: skip
def command(drawing: Path, changes: Mapping[str, object], out: Path | None) -> None:
    """Read your own drawing and show what would be cut of it.

    FILE is an SVG of one cell, dark on its page. Told are its normal form, the columns and rows
    that suit it on a ring of 42 teeth, and how much of it the cutter keeps there; --set changes
    that ring as it would any other.
    """
    import openwork
    from openwork.drawing.outlines import outlines, parsed
    from openwork.files import write_files
    from openwork.render.ring.outline import ring_svg
    from openwork.render.ring.preview import preview_svg
    from openwork.spec.drawing import content
    from openwork.spec.spec import from_toml

    text = outlines(content(drawing, str(drawing)), str(drawing))
    spec = from_toml(SAMPLE, changes={"pattern.outlines": text, **changes}, cause="--set")
    ring = openwork.design(spec)
    told = _words(parsed(text), text, ring)
    if out is None:
        tell((), *told)
        return
    pictures: dict[str, str | bytes] = {
        "motif.svg": _picture(parsed(text)),
        "ring.svg": ring_svg(ring, openwork.figures(ring)),
        "preview.svg": preview_svg(ring),
    }
    tell(write_files(out, pictures), *told)


def _words(drawing: Outlines, text: str, ring: Design) -> list[str]:
    motif: Any = ring.pattern
    pieces = sum(len(ring) for region in drawing.regions for ring in region)
    islands = sum(len(region) - 1 for region in drawing.regions)
    kept = min(motif.kept(ring.site), 1.0)
    words = [
        f"read: {len(drawing.regions)} shapes, {islands} islands in them, {pieces} lines and arcs",
        f"columns = {motif.columns}",
        f"rows = {motif.rows}",
        f"of the drawing about {kept:.0%} is cut, pads aside",
    ]
    if kept < LITTLE:
        words.append(
            "what is narrower than 2 x web.corner went; "
            "fewer columns or a smaller cutter keeps more"
        )
    return [*words, f'outlines = "{text}"']


def _picture(drawing: Outlines) -> str:
    """Return the normal form as an SVG of its own."""
    import shapely

    def path(points: list[list[float]]) -> str:
        return "M" + "L".join(f"{x:.2f} {drawing.height - y:.2f}" for x, y in points) + "Z"

    rings = [
        path(shapely.get_coordinates(ring).tolist())
        for part in shapely.get_parts(drawing.dark)
        for ring in (part.exterior, *part.interiors)
    ]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1000 {drawing.height:g}">'
        f'<path fill-rule="evenodd" d="{"".join(rings)}"/></svg>\n'
    )
