"""The rings of a sheet's page, to lay on the shelf."""

from __future__ import annotations

import json
import re
from pathlib import Path

from openwork.errors import SpecError
from openwork.tables.wording import shown

DATA = re.compile(r'<script id="sheet" type="application/json">(.*?)</script>', re.S)
LARGEST = 1 << 26  # bytes; a sheet of 200 rings is about 5 MB


def rings_of(path: Path) -> dict[str, str]:
    """Return the specs of the rings in the page *path*, by mark; raises SpecError for no page."""
    try:
        with path.open(encoding="utf-8") as file:
            text = file.read(LARGEST)
        found = json.loads(DATA.findall(text)[0])
        rings = {one["mark"]: one["spec"] for one in found["variants"] if "spec" in one}
    except OSError as error:
        raise SpecError(f"--sheet {shown(str(path))}: {error.strerror}") from None
    except (ValueError, LookupError, TypeError):
        raise SpecError(f"--sheet {path}: not a page of rings; openwork sheet writes one as "
                        "sheet.html") from None  # fmt: skip
    return rings
