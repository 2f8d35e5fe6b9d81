"""The page: the variants of a sheet in one file for a browser, to sort, sift and compare.

The file needs nothing but itself: its style, its script and its rings are inside, and its policy
lets it load nothing else. It looks as the printed sheet does: black on white (or white on black, as
the reader's system asks), whitespace between the cells, the mark above, pattern and mass in bold
below. A favourite is circled with a red pencil; nothing else has that colour.

Words from a spec are escaped in the markup and become text nodes in the script; the data cannot
end the element that holds them. Style and scripts, one thing a file, stand beside
this module.
"""

from __future__ import annotations

import base64
import hashlib
import html
import json
from importlib.resources import files
from string import Template

from openwork.explore.variants.variants import Entry, Made
from openwork.render.browser.data import page_data
from openwork.render.browser.joined import joined
from openwork.render.drawing.canvas import clean
from openwork.render.paper.common import common_line
from openwork.render.paper.layout import Arranged
from openwork.spec.spec import Spec
from openwork.strength.quality import GRADES, off
from openwork.tables.caution import CAUTION

FOLDER = files("openwork.render.browser")
START = "start"  # the script that sets all parts in their places
KEY = "Under each ring: pattern and mass; {}solid share of the web and least rib; what differs."
STIFF = (
    "stiffness aside · in plane over that of a plain plate as heavy (×), in plane "
    f"{off(GRADES['search'].stiffness)}; "
)
STYLES = ("colours", "frame", "cells", "tools", "dialogs", "print")


def page_html(spec: Spec, entries: Arranged[Entry]) -> str:
    """Return the page of *entries*, variants of *spec*, as HTML."""
    line = common_line(spec, entries)
    strong = any(isinstance(entry, Made) and entry.strength for _, entry in entries)
    script = joined(_scripts(), START)
    style = "\n".join(_source(f"{name}.css") for name in STYLES)
    return Template(_source("page.html")).substitute(
        policy=_policy(script, style),
        title=html.escape(clean(spec.title)),
        line=html.escape(clean(line)),
        key=KEY.format(STIFF if strong else ""),
        caution=html.escape(CAUTION),
        style=style,
        script=script,
        data=_embedded(page_data(spec, entries, line)),
    )


def _scripts() -> dict[str, str]:
    """Return the modules of the script by name, in the order of their names."""
    names = sorted(one.name for one in FOLDER.iterdir() if one.name.endswith(".js"))
    return {name.removesuffix(".js"): _source(name) for name in names}


def _source(name: str) -> str:
    return (FOLDER / name).read_text("utf-8")


def _policy(script: str, style: str) -> str:
    """Return a policy that allows this script and this style, and to load nothing."""
    rules = {
        "default-src": "'none'",
        "script-src": _digest(script),
        "style-src": _digest(style),
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    return "; ".join(f"{name} {value}" for name, value in rules.items())


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _embedded(data: object) -> str:
    """Return *data* as JSON that holds no sign with a meaning in HTML.

    >>> print(_embedded("</script>"))
    "\\u003c/script\\u003e"
    """
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text
