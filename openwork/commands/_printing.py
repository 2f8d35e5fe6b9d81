"""The pages of a contact sheet in the formats asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from openwork.commands._common import formats_of, numbered
from openwork.render.extras import PAGES, demand

if TYPE_CHECKING:
    from openwork.explore.variants.variants import Entry, Made
    from openwork.render.sheet.sheet import Arranged, Place
    from openwork.spec.spec import Spec

# Formats, each with the extra it needs and the packages of that.
FORMATS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "svg": ("", ()),
    "pdf": ("pdf", PAGES),
    "png": ("png", ("resvg_py", "font_source_sans_pro")),
}


def chosen(text: str) -> tuple[str, ...]:
    """Return the formats named in *text*; raises SpecError for others, or a missing extra."""
    wanted = formats_of(text, tuple(FORMATS))
    demand({name: FORMATS[name] for name in wanted})
    return wanted


def pages(
    spec: Spec,
    entries: Arranged[Entry],
    compared: Sequence[tuple[Place, Made]],
    paper: str,
    date: str,
) -> dict[str, str]:
    """Return the sheets, their index where there are several, and the comparison, by name."""
    from openwork.render.paper.common import common_line
    from openwork.render.sheet.compare import compare_svg
    from openwork.render.sheet.index import index_svgs
    from openwork.render.sheet.sheet import sheet_svgs

    line = common_line(spec, entries)
    sheets = sheet_svgs(spec, entries, paper=paper, date=date)
    index: Sequence[str] = ()
    if len(sheets) > 1:
        index = index_svgs(spec, entries, line=line, paper=paper, date=date)
    side = [compare_svg(spec, compared, line=line, paper=paper, date=date)] if compared else []
    return numbered("sheet-index", index) | numbered("sheet", sheets) | numbered("compare", side)


def files(drawn: Mapping[str, str], formats: Sequence[str], title: str) -> dict[str, str | bytes]:
    """Return the files of the pages *drawn*; in a PDF all sheets are together, index first."""
    found: dict[str, str | bytes] = {}
    if "svg" in formats:
        found |= {f"{name}.svg": page for name, page in drawn.items()}
    if "pdf" in formats:
        from openwork.render.paper.pdf import pages_pdf

        sheets = [page for name, page in drawn.items() if name != "compare"]
        found["sheet.pdf"] = pages_pdf(sheets, title)
        if "compare" in drawn:
            found["compare.pdf"] = pages_pdf([drawn["compare"]], title)
    if "png" in formats:
        from openwork.render.paper.png import page_png

        found |= {f"{name}.png": page_png(page) for name, page in drawn.items()}
    return found
