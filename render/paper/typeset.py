"""Typesetting of every PDF in one face, shipped with the extra ``pdf``: same lines anywhere."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import font_source_sans_pro
import typst


def typeset(source: Path, inputs: Mapping[str, str], *, machine_faces: bool = False) -> bytes:
    """Return the Typst file *source* with *inputs* as PDF; *machine_faces* for other alphabets."""
    pdf = typst.compile(
        source,
        sys_inputs=dict(inputs),
        font_paths=[font_source_sans_pro.font_directory],
        ignore_system_fonts=not machine_faces,
    )
    return bytes(pdf)
