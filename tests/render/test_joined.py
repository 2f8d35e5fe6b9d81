"""The scripts of the page as one: what may be joined, and in which order it runs."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from openwork.render.browser.joined import joined

FOLDER = Path(__file__).parents[2] / "render" / "browser"
PARTS = {
    "a": 'import { b } from "./b.js";\nimport "./c.js";\n\nb(1);\n',
    "b": 'import {\n  c,\n  d,\n} from "./c.js";\nexport function b(x) { return c(d, x); }\n',
    "c": "export const c = Math.max;\nexport const d = 2;\nlet own = 3;\n",
}


def test_each_module_stands_once_after_those_it_imports() -> None:
    text = joined(PARTS, "a")
    assert text.splitlines() == [
        "const c = Math.max;", "const d = 2;", "let own = 3;", "",
        "function b(x) { return c(d, x); }", "", "b(1);",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"c": "export const c = 1;\n"}, "b: c exports no d"),
        ({"c": PARTS["c"].replace("export const d", "const d")}, "b: c exports no d"),
        ({"b": PARTS["b"] + "const own = 1;\n"}, "own: at the top level of b and of c"),
        ({"c": 'import { b } from "./b.js";\n' + PARTS["c"]}, "a circle of imports: a, b, c, b"),
        ({"d": "f();\n"}, "d: imported by none"),
        ({"b": 'import { x } from "./x.js";\n' + PARTS["b"]}, "b: imports x, which is not there"),
        ({"c": PARTS["c"] + "export default c;\n"}, "cannot be joined: export default c;"),
        ({"a": 'import * as b from "./b.js";\n'}, "cannot be joined: import * as b"),
        ({"a": 'import { b as e } from "./b.js";\n'}, "a: b exports no as"),
        ({"a": 'import { b } from "https://localhost/b.js";\n'}, "cannot be joined: import { b }"),
    ],
)
def test_what_cannot_be_joined_is_named(change: Mapping[str, str], says: str) -> None:
    with pytest.raises(ValueError, match=re.escape(says)):
        joined({**PARTS, **change}, "a")


def test_what_a_script_shows_another_takes() -> None:
    """Nothing is shown that nobody takes; eslint sees that nothing is taken unnamed."""
    texts = {path.stem: path.read_text("utf-8") for path in FOLDER.glob("*.js")}
    assert len(texts) > 12
    exported = {
        name: module
        for module, text in texts.items()
        for name in re.findall(r"^export (?:const|let|function) (\w+)", text, re.M)
    }
    used = {name for text in texts.values() for name in imported(text)}
    assert used == set(exported)


def imported(text: str) -> set[str]:
    found = re.findall(r"^import \{([^}]*)\}", text, re.M)
    return {name.strip() for names in found for name in names.split(",") if name.strip()}
