"""What a shop is sent: the files of a ring, each read back, and a note that goes with them.

Every file is written to a place of its own, read by an independent reader and judged by the checks
of ``acceptance`` before it counts as made.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from importlib.metadata import version
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, TypeAlias

from openwork.errors import RuleError
from openwork.files import write_files
from openwork.render.accept.acceptance import SHOWN, Result
from openwork.render.drawing.recipe import design_recipe
from openwork.render.shop.facts import cautions, facts
from openwork.render.shop.formats import FORMATS, Choices
from openwork.tables.caution import CAUTION
from openwork.tables.plain import as_text

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.ring import Design

Verdict: TypeAlias = Result
File: TypeAlias = tuple[bytes, Result]  # a file, and how it was judged

NOTE = "handover.json"
DOSSIER = "handover.pdf"
NOMINAL = "Nominal part contours: no allowance for kerf, cutter or finish is made."


def made(name: str, design: Design, figures: Figures, choices: Choices) -> File:
    """Return the file of the format *name* and how it was judged.

    Raises RuleError, naming the checks, where what was written is not what was meant.
    """
    one = FORMATS[name]
    kind = one.module()
    data = kind.make(design, figures, choices)
    with TemporaryDirectory() as folder:
        (path,) = write_files(Path(folder), {one.file: data})
        try:
            result = kind.judge(path, design, choices)
        except ValueError as fault:
            raise RuleError(f"{one.file}: readable: {fault}; it was removed") from fault
    if result.refused:
        raise RuleError("\n".join(_told(one.file, check, faults)
                                  for check, faults in result.refused.items()))  # fmt: skip
    return data, result


def _told(name: str, check: str, faults: tuple[str, ...]) -> str:
    more = f", and {len(faults) - SHOWN} more" if len(faults) > SHOWN else ""
    return f"{name}: {check}: {'; '.join(faults[:SHOWN])}{more}; the file was removed"


def package(
    names: Iterable[str], design: Design, figures: Figures, choices: Choices
) -> tuple[dict[str, bytes | str], dict[str, Result]]:
    """Return the files of the formats *names* with their note, by name, and how each was judged.

    Raises RuleError as ``made`` does.
    """
    files = {FORMATS[name].file: made(name, design, figures, choices) for name in names}
    contents: dict[str, bytes | str] = {name: data for name, (data, _) in files.items()}
    if FORMATS["pdf"].file in files:
        contents[DOSSIER] = dossier(design, figures, files)
    contents[NOTE] = note(design, figures, files, choices)
    return contents, {name: result for name, (_, result) in files.items()}


def dossier(design: Design, figures: Figures, files: Mapping[str, tuple[bytes, Result]]) -> bytes:
    """Return the one page that goes with *files*, as PDF."""
    from openwork.render.shop.dossier import dossier_pdf  # noqa: PLC0415 (an extra)

    return dossier_pdf(design, figures, {name: data for name, (data, _) in files.items()})


def note(
    design: Design,
    figures: Figures,
    files: Mapping[str, File],
    choices: Choices,
) -> str:
    """Return what goes beside the files, as JSON; lengths in mm, mass in g."""
    plain = {
        "made_by": f"openwork {version('openwork')}",
        **facts(design, figures),
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
        "caution": " ".join([CAUTION, *cautions(design)]),
        "spec": design_recipe(design),
    }
    return as_text(plain)
