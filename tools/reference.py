"""The API reference: one page made from the docstrings of the public names.

``python -m tools.reference FOLDER`` writes ``index.html``: what ``openwork`` shows, what its
functions return, and what a family of patterns is made of.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pdoc.doc
import pdoc.render

import openwork

# By module, in the order of the page, after what openwork itself shows.
SHOWN = {
    "openwork.spec.spec": ("Spec",),
    "openwork.ring": ("Design",),
    "openwork.measure.figures": ("Figures",),
    "openwork.render.choice": ("Sheet",),
    "openwork.explore.mass.tune": ("Tuned",),
    "openwork.explore.family.family": ("Family",),
    "openwork.fill.registry": ("pattern",),
    "openwork.fill.parameters": ("param",),
    "openwork.fill.fillings": ("Cells", "Net", "Shapes", "Field"),
    "openwork.fill.lattice": ("Lattice",),
    "openwork.fill.fit": ("Fit",),
    "openwork.fill.site": ("Site",),
    "openwork.fill.polar": ("mapped", "curve", "extent"),
    "openwork.testing": ("PatternContract",),
}


def public() -> Iterator[tuple[str, object]]:
    """Yield every public name with what it means, in the order of the page."""
    functions = sorted(openwork.__all__, key=lambda name: (name.endswith("Error"), name))
    yield from ((name, getattr(openwork, name)) for name in functions)
    for module, names in SHOWN.items():
        yield from ((name, getattr(import_module(module), name)) for name in names)


def page() -> str:
    """Return the reference as HTML; the package is changed by it, so a process makes one."""
    found = dict(public())
    vars(openwork).update(found, __all__=[*found])
    pdoc.render.configure(docformat="restructuredtext", show_source=False)
    module = pdoc.doc.Module(openwork)
    return pdoc.render.html_module(module, all_modules={module.modulename: module})


def main(folder: str) -> None:
    """Write the reference into *folder*."""
    target = Path(folder)
    target.mkdir(parents=True, exist_ok=True)
    (target / "index.html").write_text(page(), encoding="utf-8")
    print(f"wrote {target / 'index.html'}")


if __name__ == "__main__":
    main(*sys.argv[1:])
