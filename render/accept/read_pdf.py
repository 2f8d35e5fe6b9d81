"""The paper template as PDFium reads it: what is drawn on each page, in mm of paper."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pypdfium2
from pypdfium2 import raw

from openwork.render.accept.acceptance import Result
from openwork.render.paper.tiles import SIZES, PaperName
from openwork.shape.contour import Points, sampled

if TYPE_CHECKING:
    from openwork.ring import Design

CHECKS = ("units", "roles", "shape")
INCH = 25.4
BAR = 100.0  # mm
ACCURATE = 0.05  # mm that PDF numbers and the curves for arcs may be off
SHEET = 0.5  # mm of the size of the paper


@dataclass(frozen=True, slots=True)
class Drawn:
    """A path on a page: its corners (n, 2) in mm of paper, and of how many outlines it is."""

    corners: Points
    outlines: int


@dataclass(frozen=True, slots=True)
class Page:
    """A page as read: its size in mm, its paths and its text."""

    size: tuple[float, float]
    paths: tuple[Drawn, ...]
    text: str


def read_pdf(path: Path) -> tuple[Page, ...]:
    """Return the pages of the file at *path*; raises ValueError where it is no PDF."""
    try:
        document = pypdfium2.PdfDocument(path)
    except pypdfium2.PdfiumError as fault:
        raise ValueError(f"no PDF: {fault}") from fault
    try:
        return tuple(_page(page) for page in document)
    finally:
        document.close()


def judged_pdf(path: Path, design: Design, paper: PaperName) -> Result:
    """Return how the template at *path* was judged; raises ValueError where it is no PDF."""
    found = refused_pdf(read_pdf(path), design, paper)
    return Result(f"pypdfium2 {version('pypdfium2')}", CHECKS, found)


def refused_pdf(
    pages: tuple[Page, ...], design: Design, paper: PaperName
) -> dict[str, tuple[str, ...]]:
    """Return the checks that a template as read does not pass, by name, with what they found."""
    judged = (_sizes(pages, paper), _words(pages, design), _rings(pages, design))
    found = {name: tuple(faults) for name, faults in zip(CHECKS, judged, strict=True)}
    return {name: faults for name, faults in found.items() if faults}


def _sizes(pages: tuple[Page, ...], paper: PaperName) -> Iterator[str]:
    """Yield pages of another size, or without a bar of 100 mm in either direction."""
    for number, page in enumerate(pages, start=1):
        if np.abs(np.sort(page.size) - SIZES[paper]).max() > SHEET:
            yield "page {} measures {:.1f} x {:.1f} mm".format(number, *page.size)
        for name, along in (("across", (BAR, 0.0)), ("upright", (0.0, BAR))):
            lines = (np.ptp(one.corners, axis=0) for one in page.paths if len(one.corners) == 2)
            if not any(np.abs(line - along).max() < ACCURATE for line in lines):
                yield f"page {number} has no bar of {BAR:g} mm {name}"


def _words(pages: tuple[Page, ...], design: Design) -> Iterator[str]:
    """Yield what the pages do not say."""
    for number, page in enumerate(pages, start=1):
        if "100 %" not in page.text:
            yield f"page {number} does not say to print at 100 %"
    mount = design.spec.mount
    if not pages or f"{mount.bolt_holes[0].hole:.2f}" not in pages[0].text:
        yield f"the first page does not give the hole's {mount.bolt_holes[0].hole:.2f} mm"


def _rings(pages: tuple[Page, ...], design: Design) -> Iterator[str]:
    """Yield where the ring is not drawn, or not at its size."""
    wanted = np.ptp(sampled(design.blank.outline), axis=0)
    contours = len(design.contours)
    rings = [
        [one for one in page.paths if one.outlines == contours]
        for page in pages[len(pages) > 1 :]  # the first of several is a map
    ]
    for number, found in enumerate(rings, start=1 + (len(pages) > 1)):
        if len(found) != 1:
            yield f"page {number} shows {len(found)} rings of {contours} outlines"
        elif np.abs(np.ptp(found[0].corners, axis=0) - wanted).max() > ACCURATE:
            sizes = "{:.2f} x {:.2f} mm".format(*np.ptp(found[0].corners, axis=0))
            yield f"page {number} shows the ring {sizes} large"
        yield from _pockets(pages[number - 1], number, len(design.pockets))


def _pockets(page: Page, number: int, count: int) -> Iterator[str]:
    """Yield where a page does not show *count* pockets."""
    if count and not any(one.outlines == count for one in page.paths):
        yield f"page {number} does not show {count} pockets"


def _page(page: Any) -> Page:
    width, height = page.get_size()
    paths = tuple(
        _drawn(one) for one in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=4)
    )
    text = page.get_textpage().get_text_bounded()
    return Page((width / 72 * INCH, height / 72 * INCH), paths, text)


def _drawn(one: Any) -> Drawn:
    x, y = ctypes.c_float(), ctypes.c_float()
    corners, outlines = [], 0
    for k in range(raw.FPDFPath_CountSegments(one.raw)):
        segment = raw.FPDFPath_GetPathSegment(one.raw, k)
        outlines += raw.FPDFPathSegment_GetType(segment) == raw.FPDF_SEGMENT_MOVETO
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        corners.append((x.value, y.value))
    a, b, c, d, e, f = one.get_matrix().get()
    points = np.array(corners).reshape(-1, 2) @ np.array([[a, b], [c, d]]) + (e, f)
    return Drawn(points / 72 * INCH, outlines)
