"""The pages of a contact sheet in the formats asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib import import_module
from typing import TYPE_CHECKING

from openwork.errors import SpecError

if TYPE_CHECKING:
    from openwork.explore.variants import Entry
    from openwork.render.sheet import Arranged, Place
    from openwork.spec import Spec

# Formats, and the packages of the extra of that name.
FORMATS: Mapping[str, tuple[str, ...]] = {
    "svg": (),
    "pdf": ("typst", "font_source_sans_pro"),
    "png": ("resvg_py", "font_source_sans_pro"),
}


def chosen(text: str) -> tuple[str, ...]:
    """Return the formats named in *text*; raises SpecError for others, or a missing extra."""
    wanted = tuple(dict.fromkeys(word.strip().lower() for word in text.split(",")))
    for name in wanted:
        if name not in FORMATS:
            raise SpecError(f'--to "{name}": is none of {", ".join(FORMATS)}; "svg" works')
        for package in FORMATS[name]:
            try:
                import_module(package)
            except ImportError as fault:
                raise SpecError(
                    f"--to {name}: {fault}; pip install 'openwork[{name}]' mends it"
                ) from fault
    return wanted


def pages(
    spec: Spec,
    entries: Arranged[Entry],
    compared: Sequence[tuple[Place, Entry]],
    paper: str,
    date: str,
) -> dict[str, str]:
    """Return the sheets, their index where there are several, and the comparison, by name."""
    from openwork.render.compare import compare_svg  # noqa: PLC0415 (the help stays fast)
    from openwork.render.index import index_svgs  # noqa: PLC0415
    from openwork.render.sheet import common_line, sheet_svgs  # noqa: PLC0415

    line = common_line(spec, entries)
    sheets = sheet_svgs(spec, entries, paper=paper, date=date)
    index: Sequence[str] = ()
    if len(sheets) > 1:
        index = index_svgs(spec, entries, line=line, paper=paper, date=date)
    side = [compare_svg(spec, compared, line=line, paper=paper, date=date)] if compared else []
    return _numbered("sheet-index", index) | _numbered("sheet", sheets) | _numbered("compare", side)


def _numbered(stem: str, found: Sequence[str]) -> dict[str, str]:
    return {f"{stem}-{k}" if k > 1 else stem: one for k, one in enumerate(found, start=1)}


def files(drawn: Mapping[str, str], formats: Sequence[str], title: str) -> dict[str, str | bytes]:
    """Return the files of the pages *drawn*; in a PDF all sheets are together, index first."""
    found: dict[str, str | bytes] = {}
    if "svg" in formats:
        found |= {f"{name}.svg": page for name, page in drawn.items()}
    if "pdf" in formats:
        from openwork.render.pdf import pages_pdf  # noqa: PLC0415 (an extra)

        sheets = [page for name, page in drawn.items() if name != "compare"]
        found["sheet.pdf"] = pages_pdf(sheets, title)
        if "compare" in drawn:
            found["compare.pdf"] = pages_pdf([drawn["compare"]], title)
    if "png" in formats:
        from openwork.render.png import page_png  # noqa: PLC0415 (an extra)

        found |= {f"{name}.png": page_png(page) for name, page in drawn.items()}
    return found
