"""A seventh format, as somebody might add it: the outline drawing, zipped."""

import gzip
from importlib import import_module
from pathlib import Path

from openwork.measure.figures import Figures
from openwork.render.accept.acceptance import Result, judged
from openwork.render.accept.read_svg import read_svg
from openwork.render.ring.outline import ring_svg
from openwork.render.shop.formats import FORMATS, Choices, Format, Kind
from openwork.ring import Design

UNIT = "mm"


def make(design: Design, figures: Figures, choices: Choices) -> bytes:
    drawing = ring_svg(design, figures).replace('mm"', f'{UNIT}"')
    return gzip.compress(drawing.encode(), mtime=0)


def judge(path: Path, design: Design, choices: Choices) -> Result:
    plain = path.with_suffix(".svg")
    try:
        plain.write_bytes(gzip.decompress(path.read_bytes()))
    except gzip.BadGzipFile as fault:
        raise ValueError(str(fault)) from fault
    return judged(read_svg(plain), design)


def _own() -> Kind:
    return import_module("tests.render.zipped")


ROW = {"svgz": Format("ring.svgz", _own, "zip", ("gzip",))}

if __name__ == "__main__":
    FORMATS.update(ROW)
    from openwork.cli import main

    main()
