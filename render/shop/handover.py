"""What a shop is sent: the files of a ring, each read back, and a note that goes with them.

Every file is written to a place of its own, read by an independent reader and judged by the checks
of ``acceptance`` before it counts as made.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from openwork.errors import RuleError
from openwork.files import write_files
from openwork.render.accept.acceptance import CHECKS, SHOWN, refused
from openwork.render.drawing.recipe import design_recipe
from openwork.render.extras import PAGES
from openwork.render.ring.outline import ring_svg
from openwork.tables.caution import CAUTION

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.ring import Design

NOTE = "handover.json"
GENERAL = "ISO 2768-m"
HOLES = "H11"  # of ISO 286, for the bolt holes; common practice, no source
NOMINAL = "Nominal part contours: no allowance for kerf, cutter or finish is made."


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What can be chosen about the files; ``chord`` and ``clearance`` in mm."""

    dxf_version: Any = "R2000"
    paper: Any = "A4"
    chord: float = 0.01
    clearance: float = 0.0


@dataclass(frozen=True, slots=True)
class Result:
    """How a file was judged: by what reader, by which checks, and what they refused."""

    reader: str
    checks: tuple[str, ...]
    refused: Mapping[str, tuple[str, ...]]


Make = Callable[["Design", "Figures", Choices], "bytes | str"]
Judge = Callable[[Path, "Design", Choices], Result]


@dataclass(frozen=True, slots=True)
class Format:
    """A kind of file: its name, the extra it needs, how it is made and how it is judged."""

    name: str
    extra: str
    needs: tuple[str, ...]
    make: Make
    judge: Judge


def _flat(reader: str) -> Judge:
    def judge(path: Path, design: Design, choices: Choices) -> Result:
        del choices
        reading = getattr(import_module(f"openwork.render.accept.read_{reader}"), f"read_{reader}")(
            path
        )
        return Result(reading.reader, tuple(CHECKS), refused(reading, design))

    return judge


def _judge_step(path: Path, design: Design, choices: Choices) -> Result:
    from openwork.render.accept.read_step import read_step  # noqa: PLC0415 (an extra)

    del choices
    reading = read_step(path, design)
    return Result(reading.reader, tuple(CHECKS), refused(reading, design))


def _mesh(name: str) -> tuple[Make, Judge]:
    def make(design: Design, figures: Figures, choices: Choices) -> bytes:
        from openwork.render.shop import printed  # noqa: PLC0415 (an extra)

        del figures
        mesh = printed.ring_mesh(printed.loosened(design, choices.clearance), chord=choices.chord)
        made: bytes = getattr(printed, f"ring_{name}")(mesh, design.spec.title)
        return made

    def judge(path: Path, design: Design, choices: Choices) -> Result:
        from openwork.render.accept import read_mesh  # noqa: PLC0415 (an extra)
        from openwork.render.shop import printed  # noqa: PLC0415 (an extra)

        loose = printed.loosened(design, choices.clearance)
        reading = getattr(read_mesh, f"read_{name}")(path, loose, chord=choices.chord)
        return Result(reading.reader, tuple(CHECKS), refused(reading, loose))

    return make, judge


def _make_dxf(design: Design, figures: Figures, choices: Choices) -> bytes:
    from openwork.render.shop.dxf import ring_dxf  # noqa: PLC0415 (an extra)

    del figures
    return ring_dxf(design, version=choices.dxf_version)


def _make_step(design: Design, figures: Figures, choices: Choices) -> bytes:
    from openwork.render.shop.step import ring_step  # noqa: PLC0415 (an extra)

    del figures, choices
    return ring_step(design)


def _make_pdf(design: Design, figures: Figures, choices: Choices) -> bytes:
    from openwork.render.shop.template import template_pdf  # noqa: PLC0415 (an extra)

    del figures
    return template_pdf(design, paper=choices.paper)


def _judge_pdf(path: Path, design: Design, choices: Choices) -> Result:
    from openwork.render.accept.read_pdf import read_pdf, refused_pdf  # noqa: PLC0415 (an extra)

    found = refused_pdf(read_pdf(path), design, choices.paper)
    return Result(f"pypdfium2 {version('pypdfium2')}", ("units", "roles", "shape"), found)


MESH = ("trimesh", "manifold3d", "lib3mf")
FORMATS: Mapping[str, Format] = {
    "svg": Format("ring.svg", "", (), lambda d, f, _: ring_svg(d, f), _flat("svg")),
    "dxf": Format("ring.dxf", "dxf", ("ezdxf",), _make_dxf, _flat("dxf")),
    "step": Format("ring.step", "step", ("OCP",), _make_step, _judge_step),
    "3mf": Format("ring.3mf", "print", MESH, *_mesh("3mf")),
    "stl": Format("ring.stl", "print", MESH, *_mesh("stl")),
    "pdf": Format("template.pdf", "pdf", (*PAGES, "pypdfium2"), _make_pdf, _judge_pdf),
}


def made(name: str, design: Design, figures: Figures, choices: Choices) -> tuple[bytes, Result]:
    """Return the file of the format *name* and how it was judged.

    Raises RuleError, naming the checks, where what was written is not what was meant.
    """
    one = FORMATS[name]
    content = one.make(design, figures, choices)
    data = content.encode() if isinstance(content, str) else content
    with TemporaryDirectory() as folder:
        (path,) = write_files(Path(folder), {one.name: data})
        try:
            result = one.judge(path, design, choices)
        except ValueError as fault:
            raise RuleError(f"{one.name}: readable: {fault}; it was removed") from fault
    if result.refused:
        raise RuleError("\n".join(_told(one.name, check, faults)
                                  for check, faults in result.refused.items()))  # fmt: skip
    return data, result


def _told(name: str, check: str, faults: tuple[str, ...]) -> str:
    more = f", and {len(faults) - SHOWN} more" if len(faults) > SHOWN else ""
    return f"{name}: {check}: {'; '.join(faults[:SHOWN])}{more}; the file was removed"


def note(
    design: Design,
    figures: Figures,
    files: Mapping[str, tuple[bytes, Result]],
    choices: Choices,
) -> str:
    """Return what goes beside the files, as JSON; lengths in mm, mass in g."""
    ring, mount, web = design.blank, design.spec.mount, design.spec.web
    low = min(-ring.plate / 2, ring.offset - ring.tooth_width / 2)
    high = max(ring.plate / 2, ring.offset + ring.tooth_width / 2)
    bore = mount.counterbore
    plain = {
        "title": design.spec.title,
        "made_by": f"openwork {version('openwork')}",
        "units": "mm",
        "overall": {"diameter": ring.tip_diameter, "thickness": high - low},
        "material": ring.material.name,
        "thickness": {
            "plate": ring.plate,
            "tooth_band": ring.tooth_width,
            "offset": ring.offset,
        },
        "bolt_holes": {
            "count": mount.bolts,
            "diameter": mount.hole,
            "circle": mount.circle,
            "class": HOLES,
            "counterbore": bore and {"diameter": bore.diameter, "depth": bore.depth},
        },
        "least_inside_radius": figures.corner_least,
        "bevel": web.bevel,
        "tolerance": GENERAL,
        "contours": 2 + mount.bolts + figures.openings,
        "pieces": figures.segments,
        "mass": figures.mass,
        "nominal": NOMINAL,
        "prototype": {"chord": choices.chord, "hole_clearance": choices.clearance},
        "files": {
            name: {
                "bytes": len(data),
                "sha256": hashlib.sha256(data).hexdigest(),
                "read_back_with": result.reader,
                "checks": list(result.checks),
            }
            for name, (data, result) in files.items()
        },
        "caution": CAUTION,
        "spec": design_recipe(design),
    }
    return json.dumps(_rounded(plain), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _rounded(value: Any) -> Any:
    match value:
        case dict():
            return {key: _rounded(one) for key, one in value.items()}
        case float():
            return round(value, 4) + 0.0
    return value
