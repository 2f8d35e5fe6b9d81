"""The formats a shop is sent, a row each, and what can be chosen about them.

The command reads names and choices here without loading what makes a file: a row fetches its
module when a file is asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal, Protocol, TypeAlias, get_args

from openwork.render.extras import PAGES
from openwork.render.paper.tiles import PaperName

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.render.accept.acceptance import Result
    from openwork.ring import Design

Version: TypeAlias = Literal["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
VERSIONS: tuple[Version, ...] = get_args(Version)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What can be chosen about the files; ``chord`` and ``clearance`` in mm."""

    dxf_version: Version = "R2000"
    paper: PaperName = "A4"
    chord: float = 0.01
    clearance: float = 0.0


class Kind(Protocol):
    """What the module of a format has."""

    def make(self, design: Design, figures: Figures, choices: Choices) -> bytes:
        """Return the file of *design*; raises RuleError where it cannot be made."""

    def judge(self, path: Path, design: Design, choices: Choices) -> Result:
        """Return how the file at *path* was judged; raises ValueError where none can read it."""


@dataclass(frozen=True, slots=True)
class Format:
    """A kind of file: its name, its module, the extra it needs and the packages of that."""

    file: str
    module: Callable[[], Kind]
    extra: str = ""
    needs: tuple[str, ...] = ()


def _svg() -> Kind:
    from openwork.render.shop import svg  # noqa: PLC0415 (fetched when asked for)

    return svg


def _dxf() -> Kind:
    from openwork.render.shop import dxf  # noqa: PLC0415 (an extra)

    return dxf


def _step() -> Kind:
    from openwork.render.shop import step  # noqa: PLC0415 (an extra)

    return step


def _3mf() -> Kind:
    from openwork.render.shop import threemf  # noqa: PLC0415 (an extra)

    return threemf


def _stl() -> Kind:
    from openwork.render.shop import stl  # noqa: PLC0415 (an extra)

    return stl


def _pdf() -> Kind:
    from openwork.render.shop import template  # noqa: PLC0415 (an extra)

    return template


MESH = ("trimesh", "manifold3d", "lib3mf")
FORMATS: dict[str, Format] = {
    "svg": Format("ring.svg", _svg),
    "dxf": Format("ring.dxf", _dxf, "dxf", ("ezdxf",)),
    "step": Format("ring.step", _step, "step", ("OCP",)),
    "3mf": Format("ring.3mf", _3mf, "print", MESH),
    "stl": Format("ring.stl", _stl, "print", MESH),
    "pdf": Format("template.pdf", _pdf, "pdf", (*PAGES, "pypdfium2")),
}
