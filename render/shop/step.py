"""STEP of the ring as one solid, mm, AP214: arcs are cylinders, the bevels of arcs are cones.

Tooth band and plate have their thicknesses; z points to the front, 0 is the plate's mid-plane.
Needs the extra ``step``.
"""

from __future__ import annotations

import io
import re
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.collections import HArray1_TCollection_HAsciiString
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_Static
from OCP.StepBasic import StepBasic_Product
from OCP.STEPControl import (
    STEPControl_Controller,
    STEPControl_ManifoldSolidBrep,
    STEPControl_Writer,
)
from OCP.TCollection import TCollection_HAsciiString

from openwork.render.accept.acceptance import Result, judged
from openwork.render.accept.read_step import read_step
from openwork.render.solid.brep import TOLERANCE, solid
from openwork.render.solid.faces import faces
from openwork.render.solid.kernel import quiet

if TYPE_CHECKING:
    from openwork.measure.figures import Figures
    from openwork.render.shop.formats import Choices
    from openwork.ring import Design

SCHEMA = "AP214IS"
DATE = "2000-01-01T00:00:00"  # the same ring makes the same bytes


def make(design: Design, figures: Figures, choices: Choices) -> bytes:
    """Return the STEP file of *design*."""
    del figures, choices
    return ring_step(design)


def judge(path: Path, design: Design, choices: Choices) -> Result:
    """Return how the STEP file at *path* was judged."""
    del choices
    return judged(read_step(path, design), design)


def ring_step(design: Design) -> bytes:
    """Return the STEP file of *design*; raises RuleError where its bevels cannot be made."""
    whole = solid(faces(design))
    with quiet():
        STEPControl_Controller.Init_s()
        Interface_Static.SetCVal_s("write.step.schema", SCHEMA)
        Interface_Static.SetCVal_s("write.step.unit", "MM")
        # Curves in the parameters of the surfaces would double the size and say nothing new.
        Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
        writer = STEPControl_Writer()
        writer.SetTolerance(TOLERANCE)
        status = writer.Transfer(whole, STEPControl_ManifoldSolidBrep)
        assert status == IFSelect_ReturnStatus.IFSelect_RetDone, status
        _entitle(writer.Model(), design.spec.title)
        text = io.BytesIO()
        writer.WriteStream(text)
    return _ascii(text.getvalue().decode())


def _entitle(model: Any, title: str) -> None:
    """Put the title on the product and plain facts into the header, nothing of this machine."""
    name = TCollection_HAsciiString(title)
    for k in range(1, model.NbEntities() + 1):
        entity = model.Value(k)
        if isinstance(entity, StepBasic_Product):
            entity.SetId(name)
            entity.SetName(name)
    header = APIHeaderSection_MakeHeader(model)
    header.SetName(name)
    header.SetTimeStamp(TCollection_HAsciiString(DATE))
    header.SetDescription(_texts("nominal part, mm"))
    header.SetAuthor(_texts(""))
    header.SetOrganization(_texts(""))
    header.SetPreprocessorVersion(TCollection_HAsciiString(f"openwork {version('openwork')}"))
    header.SetOriginatingSystem(TCollection_HAsciiString(""))
    header.SetAuthorisation(TCollection_HAsciiString(""))


def _texts(text: str) -> Any:
    texts = HArray1_TCollection_HAsciiString(1, 1)
    texts.SetValue(1, TCollection_HAsciiString(text))
    return texts


def _ascii(text: str) -> bytes:
    """Return *text* as ISO 10303-21 wants it: what is not ASCII in hexadecimal.

    >>> _ascii("Quay \xf8")
    b'Quay \\\\X4\\\\000000F8\\\\X0\\\\'
    """
    return re.sub("[^\\x00-\\x7f]+", _hexadecimal, text).encode("ascii")


def _hexadecimal(found: re.Match[str]) -> str:
    return "\\X4\\" + "".join(f"{ord(sign):08X}" for sign in found[0]) + "\\X0\\"
