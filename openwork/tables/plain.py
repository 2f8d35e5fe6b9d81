"""Values as JSON takes them, all numbers rounded by one rule."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

DIGITS = 6  # of a number, and its decimals at most


def plain(value: Any) -> Any:
    """Return *value* with its numbers to six digits, none beyond the sixth decimal.

    Mappings and sequences are entered; what is no finite number becomes None.

    >>> plain({"mass": 169.947368, "rib": (2.0000004, 0.00123456), "wear": float("nan")})
    {'mass': 169.947, 'rib': [2.0, 0.001235], 'wear': None}
    """
    match value:
        case Mapping():
            return {key: plain(one) for key, one in value.items()}
        case list() | tuple():
            return [plain(one) for one in value]
        case float():
            return _rounded(value) if math.isfinite(value) else None
    return value


def in_mm(value: float, places: int = 2) -> str:
    """Return a width in words, "none" where there is nothing to measure.

    >>> in_mm(2.005), in_mm(float("nan"))
    ('2.00 mm', 'none')
    """
    return f"{value:.{places}f} mm" if math.isfinite(value) else "none"


def _rounded(value: float) -> float:
    before = math.floor(math.log10(abs(value))) + 1 if value else 0
    return round(float(value), min(max(DIGITS - before, 0), DIGITS)) + 0.0


def as_text(value: Any) -> str:
    """Return *value* as the text of a JSON file, its numbers as ``plain`` has them."""
    return json.dumps(plain(value), indent=2, ensure_ascii=False, allow_nan=False) + "\n"
