"""One rule for the numbers of every JSON file, and one place that writes them."""

import ast
import json
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openwork.tables.plain import as_text, plain

ROOT = Path(__file__).parents[2]


@given(st.floats(1e-6, 1e6))
def test_six_digits_are_kept_and_none_beyond_the_sixth_decimal(value: float) -> None:
    found = plain(value)
    assert abs(found - value) <= max(0.5e-6, 0.5e-5 * value) * (1 + 1e-9)
    assert found == plain(found) == -plain(-value)
    digits = f"{found:.6f}".replace(".", "").strip("0")
    assert len(digits) <= max(6, len(f"{found:.0f}"))


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (169.947368, 169.947), (1234567.89, 1234568.0), (0.00123456, 0.001235), (4e-7, 0.0),
        (-0.0, 0.0), (9.999999, 10.0), (3, 3), (True, True), (math.nan, None), (math.inf, None),
        ("rib", "rib"), (None, None), ((1.23456789, [2.5]), [1.23457, [2.5]]),
    ],
)  # fmt: skip
def test_what_stands_for_what(value: object, told: object) -> None:
    assert plain(value) == told
    assert type(plain(value)) is type(told)


def test_no_sign_before_zero() -> None:
    assert math.copysign(1, plain(-1e-9)) == 1


def test_a_text_is_read_back_as_it_was_plain() -> None:
    value = {"title": "Fähre", "rib": {"least": 2.0000001}, "sizes": (41, 42.123456789)}
    assert json.loads(as_text(value)) == plain(value)
    assert "Fähre" in as_text(value)
    assert as_text(value).endswith("}\n")


def writers(tree: ast.AST) -> list[str]:
    """Return the calls in *tree* that write JSON for people, with an indent."""
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return [ast.unparse(one) for one in calls if ast.unparse(one.func) == "json.dumps"
            and any(word.arg == "indent" for word in one.keywords)]  # fmt: skip


def test_one_place_writes_json_for_people() -> None:
    found = {
        path.relative_to(ROOT).as_posix()
        for room in ("openwork", "patterns", "render")
        for path in (ROOT / room).rglob("*.py")
        if writers(ast.parse(path.read_text("utf-8")))
    }
    # The schema is written by its own rule: it holds limits, which are never rounded.
    assert found == {"openwork/tables/plain.py", "openwork/spec/schema.py"}
    assert writers(ast.parse("json.dumps(found, indent=2)"))
