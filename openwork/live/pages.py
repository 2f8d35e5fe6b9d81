"""The files of the page, by name; nothing else can be fetched."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

KINDS = {"html": "text/html", "js": "text/javascript", "css": "text/css"}
SHARED = ("nodes.js", "colours.css")  # of the page of a sheet
INDEX = "hone.html"


@cache
def _names() -> dict[str, str]:
    """Return the folder of each file by its name."""
    own = [one.name for one in files("openwork.live.page").iterdir()]
    shown = {name: "openwork.live.page" for name in own if name.rpartition(".")[2] in KINDS}
    return {**shown, **dict.fromkeys(SHARED, "openwork.render.browser")}


def page(name: str) -> tuple[bytes, str] | None:
    """Return the file *name* and its kind; the page itself without a name, None for no file.

    >>> page("../server.py") is None
    True
    """
    name = name or INDEX
    if name not in _names():
        return None
    return files(_names()[name]).joinpath(name).read_bytes(), KINDS[name.rpartition(".")[2]]
