"""Sheets as they were when they were last looked at and found good.

Where a drawing has changed, the test shows which of its lines; `python -m tests.render.test_golden`
draws them anew, to be looked at and committed. A machine whose last digits differ is judged by
geometry: the same elements and words, and no number off by more than the drawing's own rounding.
"""

import difflib
import re
from pathlib import Path
from typing import Any

import pytest

from openwork.explore.variants.variants import Variant, made
from openwork.render.sheet.compare import compare_svg
from openwork.render.sheet.index import index_svgs
from openwork.render.sheet.sheet import arranged, sheet_svgs
from openwork.spec.spec import from_toml
from tests._sure import sure

GOLDEN = Path(__file__).with_name("golden")
SPEC = from_toml(
    'title = "Harbour 42"\n[ring]\nteeth = 42\n[mount]\ncircle = 110.0\n[web]\nbevel = 0.0\n'
)
ROUNDING = 1.5  # units of the last digit: 0.001 mm on the page, 0.01 mm of the ring in a path
NUMBER = re.compile(r"-?\d+\.\d+|-?\d+")


def variants() -> Any:
    rows = [
        [Variant(pattern="spokes", changes=(("pattern.count", count),)) for count in (15, 20, 40)],
        [Variant(pattern="circles"), Variant(pattern="kagome", changes=(("pattern.columns", 11),))],
    ]
    return arranged([[made(SPEC, one) for one in row] for row in rows])


def drawings() -> Any:
    entries = variants()
    (sheet,) = sheet_svgs(SPEC, entries)
    (index,) = index_svgs(SPEC, entries, line="42 teeth")
    compared = compare_svg(SPEC, [entries.at(mark) for mark in ("A2", "B1")], line="42 teeth")
    return {"sheet.svg": sheet, "index.svg": index, "compare.svg": compared}


@pytest.fixture(scope="module")
def drawn() -> Any:
    return drawings()


def lines(drawing: str) -> Any:
    """Return the elements of a drawing, whichever version drew it."""
    drawing = re.sub(r'(<recipe [^>]*version)="[^"]*"', r"\1", drawing)
    return drawing.replace("><", ">\n<").splitlines()


def differences(golden: str, found: str) -> Any:
    """Return a readable diff of two drawings, empty where they show the same."""
    old, new = lines(golden), lines(found)
    if len(old) == len(new) and all(map(same, old, new)):
        return ""
    diff = difflib.unified_diff(old, new, "golden", "drawn", n=0, lineterm="")
    return "\n".join(line if len(line) < 160 else f"{line[:160]}..." for line in diff)


def same(one: Any, other: str) -> Any:
    """Tell whether two lines differ in nothing but the last digit of their numbers."""
    if one == other:
        return True
    if NUMBER.sub("#", one) != NUMBER.sub("#", other) or "<text" in one:
        return False
    unit = 1.0 if "<path" in one else 1e-3
    pairs = zip(NUMBER.findall(one), NUMBER.findall(other), strict=True)
    return all(abs(float(a) - float(b)) <= ROUNDING * unit for a, b in pairs)


@pytest.mark.parametrize("name", ["sheet.svg", "index.svg", "compare.svg"])
def test_a_drawing_is_as_it_was_found_good(name: str, drawn: dict[str, str]) -> None:
    golden = (GOLDEN / name).read_text(encoding="utf-8")
    assert not (diff := differences(golden, drawn[name])), diff


def test_another_word_a_line_more_or_a_moved_line_is_told(drawn: dict[str, str]) -> None:
    sheet = drawn["sheet.svg"]
    assert differences(sheet, sheet) == ""
    for changed in (
        sheet.replace("spokes", "spikes", 1),
        sheet.replace("<text", "<line/><text", 1),
        sheet.replace('y="10.8"', 'y="10.9"', 1),
        sheet.replace('x1="7"', 'x1="7.01"', 1),
        re.sub(r"(\d+) g</text>", r"\g<1>1 g</text>", sheet, count=1),
    ):
        assert changed != sheet
        assert differences(sheet, changed).startswith("--- golden\n+++ drawn\n@@")


def test_a_last_digit_is_no_difference(drawn: dict[str, str]) -> None:
    sheet = drawn["sheet.svg"]
    path = sure(re.search(r' d="M(\d+)', sheet))
    moved = sheet.replace(path[0], f' d="M{int(path[1]) + 1}', 1)
    assert moved != sheet
    assert differences(sheet, moved) == ""


if __name__ == "__main__":
    for name, drawing in drawings().items():
        (GOLDEN / name).write_text(drawing, encoding="utf-8")
        print(f"wrote {GOLDEN / name}: look at it")
