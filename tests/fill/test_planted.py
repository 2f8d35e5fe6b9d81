"""The contract can fail: planted bad patterns are caught, each by the test meant for it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from openwork.errors import RuleError
from openwork.fill.fillings import Cells
from openwork.fill.polar import curve, mapped
from openwork.fill.registry import PATTERNS
from openwork.fill.site import Site
from openwork.testing import PatternContract, made

SITE = "42 teeth, 5 on 110"


def box(site: Site, start: float, width: float) -> Any:
    low, high = np.log(site.inner), np.log(site.outer)
    corners = [(low, start), (high, start), (high, start + width), (low, start + width)]
    return mapped(*curve(corners))


@dataclass(frozen=True, kw_only=True)
class Overlapping:
    """Boxes that cover each other's sides."""

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        return Cells([box(site, site.sector * k / 4, site.sector / 3) for k in range(4)])


@dataclass(frozen=True, kw_only=True)
class Everywhere:
    """All boxes of the ring, where those of one sector are asked for."""

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        return Cells([box(site, 2 * np.pi * k / 20, 2 * np.pi / 20) for k in range(20)])


@dataclass(frozen=True, kw_only=True)
class Moody:
    """Boxes that start where a generator of its own says, not the one it is given."""

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        start = np.random.default_rng().random()
        return Cells([box(site, start + site.sector * k / 4, site.sector / 4) for k in range(4)])


@dataclass(frozen=True, kw_only=True)
class RingSlot:
    """A slot all round the web."""

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        angle = np.linspace(0, 2 * np.pi, 400, endpoint=False)
        return Cells([mapped(np.full(400, np.log(site.outer)), angle)])


@dataclass(frozen=True, kw_only=True)
class Idle:
    """Cells so small that nothing of them is left."""

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        return Cells([box(site, 0.0, 1e-3)])


@dataclass(frozen=True, kw_only=True)
class Wrong:
    """A pattern that does not take a generator."""

    def __call__(self, site: Site) -> Cells:
        return Cells([box(site, 0.0, site.sector / 4)])


@pytest.mark.parametrize(
    ("bad", "test", "error"),
    [
        (Overlapping, PatternContract.test_ribs_are_kept, AssertionError),
        (Everywhere, PatternContract.test_ribs_are_kept, AssertionError),
        (Moody, PatternContract.test_the_seed_decides, AssertionError),
        (RingSlot, PatternContract.test_metal_stays_in_one_piece, RuleError),
        (Idle, PatternContract.test_cuts_something, RuleError),
        (Wrong, PatternContract.test_cuts_something, TypeError),
    ],
)
def test_is_caught(
    bad: type, test: Callable[..., None], error: type[Exception], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(PATTERNS, "planted", bad)
    made.cache_clear()

    class Contract(PatternContract):
        pattern = "planted"

    with pytest.raises(error):
        test(Contract(), SITE)
    made.cache_clear()
