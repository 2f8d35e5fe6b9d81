"""Which variants go on a sheet, and that they are made the same however they are made."""

import math
from collections import Counter
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from openwork.errors import RuleError, SpecError
from openwork.explore.variants.axes import axes, crossed
from openwork.explore.variants.balanced import balanced
from openwork.explore.variants.figure_rows import by_figure, known
from openwork.explore.variants.variants import Made, Refused, Variant, all_made, made
from openwork.fill.registry import patterns
from openwork.spec.spec import Spec, changed, from_toml
from tests._sure import one_of, sure

FIVE = '[ring]\nteeth = 42\n[mount]\ncircle = 110.0\n[pattern]\nname = "honeycomb"\n'
FOUR = "[ring]\nteeth = 48\n[mount]\nbolts = 4\ncircle = 104.0\n"
NARROW = "[ring]\nteeth = 24\n[mount]\nbolts = 4\ncircle = 64.0\n"
SMALL = "[ring]\nteeth = 40\n[mount]\nbolts = 3\ncircle = 86.0\n"


def varied(spec: Spec, name: str, wishes: Any) -> Any:
    return crossed(spec, name, axes(spec, name, wishes))


def values(rows: Any, key: str) -> Any:
    return [[dict(one.changes)[key] for one in row] for row in rows]


def test_whole_numbers_run_in_steps_and_others_in_equal_parts() -> None:
    spec = from_toml(FOUR)
    rows = varied(spec, "honeycomb", ["columns=24:60:4", "web.rib=1.6:3.0:4"])
    assert values(rows, "pattern.columns") == [list(range(24, 61, 4))] * 4
    ribs = [row[0] for row in values(rows, "web.rib")]
    assert ribs == pytest.approx([1.6, 1.6 + 1.4 / 3, 1.6 + 2.8 / 3, 3.0], abs=1e-6)
    assert all(len(set(row)) == 1 for row in values(rows, "web.rib"))


def test_one_key_makes_one_row_and_three_keys_make_the_product() -> None:
    spec = from_toml(FOUR)
    assert [len(row) for row in varied(spec, "spokes", ["count=12,24,48"])] == [3]
    rows = varied(spec, "spokes", ["count=12,24", "sweep=-30:30:3", "web.rib=2,3"])
    assert [len(row) for row in rows] == [2] * 6
    assert len({one.changes for row in rows for one in row}) == 12


def test_lists_keep_text_that_looks_like_a_number() -> None:
    rows = varied(from_toml(FOUR), "spokes", ["ring.chain=082,081"])
    assert values(rows, "ring.chain") == [["082", "081"]]


def test_patterns_can_be_varied() -> None:
    rows = varied(from_toml(FIVE), "honeycomb", ["pattern.name=spokes,michell", "web.rib=2,3"])
    assert [[one.pattern for one in row] for row in rows] == [["spokes", "michell"]] * 2


@pytest.mark.parametrize(
    ("wish", "message"),
    [
        ("columns", "no KEY=VALUES"),
        ("columns=", "no KEY=VALUES"),
        ("=3", "no KEY=VALUES"),
        ("colums=20,25", "columns"),
        ("web.ribb=2", "web.rib"),
        ("wb.rib=2", "wb"),
        ("columns=10:20", "start:stop"),
        ("columns=a:b:c", "in numbers"),
        ("columns=20:10:2", "upwards"),
        ("columns=nan:10:2", "upwards"),
        ("columns=1:1e300:1", "values"),
        ("columns=20:30:2.5", "whole"),
        ("web.rib=1:2:2.5", "whole count"),
        ("web.rib=1:2:99999", "at most"),
        ("web.rib=-3,-2", "from 0.5"),
        ("web.rib=thick", "number"),
        ("pattern.name=honycomb", "honeycomb"),
    ],
)
def test_wishes_that_cannot_be_read_are_refused(wish: str, message: str) -> None:
    with pytest.raises(SpecError, match=message) as caught:
        varied(from_toml(FIVE), "honeycomb", [wish])
    assert all(fault.startswith("--vary ") for fault in caught.value.faults)


def test_all_faults_are_told_at_once() -> None:
    with pytest.raises(SpecError) as caught:
        varied(from_toml(FIVE), "honeycomb", ["colums=3", "web.rib=1:2", "columns=5", "columns=10"])
    assert len(caught.value.faults) == 3


def test_too_many_variants_are_refused() -> None:
    with pytest.raises(SpecError, match="at most"):
        varied(from_toml(FIVE), "honeycomb", ["columns=6:120:1", "web.rib=1:3:20"])


@pytest.mark.parametrize("text", [FIVE, FOUR, SMALL])
@pytest.mark.parametrize("count", [7, 24, 48])
def test_a_balanced_set_is_even_over_the_patterns(text: str, count: int) -> None:
    variants = balanced(from_toml(text), count)
    assert len(variants) == len(set(variants)) == count
    each = Counter(one.pattern for one in variants)
    assert len(each) == min(count, len(patterns()))
    if count <= 24:  # more than that, and a pattern may run out of looks
        assert max(each.values()) - min(each.values()) <= 1


@pytest.mark.parametrize("text", [FIVE, FOUR, SMALL])
def test_most_of_a_balanced_set_can_be_made(text: str) -> None:
    spec = from_toml(text)
    entries = [*all_made(spec, balanced(spec, 24), jobs=2)]
    failed = [entry.reason for entry in entries if isinstance(entry, Refused)]
    assert len(failed) <= 2, failed


def test_counts_rise_within_a_pattern() -> None:
    variants = balanced(from_toml(FIVE), 24, ["honeycomb"])
    counts: list[Any] = [
        dict(one.changes)["pattern.columns"] for one in variants if len(one.changes) == 1
    ]
    assert len(counts) >= 5
    assert all(a < b for a, b in pairwise(counts))
    assert all(count % 5 == 0 for count in counts)


def test_the_specs_own_pattern_keeps_its_parameters_and_others_do_not() -> None:
    spec = changed(from_toml(FIVE), {"pattern.phase": "node", "pattern.rows": 3})
    own = Variant(pattern="honeycomb", changes=(("pattern.columns", 30),)).applied(spec)
    assert own.pattern.parameters == {"phase": "node", "rows": 3, "columns": 30}
    other = Variant(pattern="circles", changes=(("pattern.columns", 30),)).applied(spec)
    assert other.pattern.parameters == {"columns": 30}
    assert other.pattern.name == "circles"
    assert other.pattern.seed == spec.pattern.seed


def test_a_blank_that_cannot_be_made_stops_the_balanced_set() -> None:
    with pytest.raises(RuleError):
        balanced(from_toml("[ring]\nteeth = 20\n[mount]\ncircle = 110.0\n"), 6)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (("pattern.columns", 41), "multiple of 5"),
        (("web.corner", 8.0), "web.corner"),
        (("web.rib", -1.0), "web.rib"),
        (("ring.teeth", 20), "ring.teeth"),
        (("pattern.columns", 4000), "66"),
    ],
)
def test_what_cannot_be_made_gives_its_reason(change: tuple[str, Any], reason: str) -> None:
    entry = made(from_toml(FIVE), Variant(pattern="honeycomb", changes=(change,)))
    reasons = one_of(Refused, entry).reason
    assert reason in reasons
    assert not reasons.startswith(" ")


def test_any_number_of_processes_makes_the_same(tmp_path: Path) -> None:
    spec = from_toml(NARROW)
    quick = ("arcs", "bricks", "circles", "honeycomb", "noise", "spokes")
    variants = [
        *balanced(spec, 6, quick),
        Variant(pattern="honeycomb", changes=(("pattern.columns", 41),)),
    ]
    one = [*all_made(spec, variants)]
    two = [*all_made(spec, variants, jobs=2)]
    assert [entry.variant for entry in two] == variants
    for a, b in zip(one, two, strict=True):
        if isinstance(a, Refused):
            assert a == b
        else:
            other = one_of(Made, b)
            assert a.design.openings == other.design.openings
            assert a.figures.as_dict() == other.figures.as_dict()
            assert math.isfinite(a.figures.mass)


def test_labels_say_what_differs() -> None:
    one = Variant(pattern="spokes", changes=(("pattern.sweep", -32.5), ("web.rib", 2.066667)))
    assert one.label == ("sweep -32.5", "rib 2.067")


def test_the_stiffest_come_first_and_the_lightest() -> None:
    spec = from_toml("[ring]\nteeth = 42\n[mount]\ncircle = 110.0\n")
    wanted = [Variant(pattern=name) for name in ("spokes", "michell", "honeycomb")]
    wanted.append(Variant(pattern="spokes", changes=(("web.rib", 29.0),)))
    entries = [made(spec, one, strong=True) for one in wanted]
    assert isinstance(entries[3], Refused)
    stiff = [entry.variant.pattern for entry in by_figure(entries, sure(known("stiffness")))]
    assert stiff == ["michell", "honeycomb", "spokes", "spokes"]
    masses = [one_of(Made, entry).figures.mass for entry in by_figure(entries, "mass")[:3]]
    assert masses == sorted(masses)
    assert all(one_of(Made, entry).strength is not None for entry in entries[:3])
    best = by_figure(entries[:3], "corner_least")
    radii = [one_of(Made, entry).figures.corner_least for entry in best]
    assert radii == sorted(radii, reverse=True)
    lengths = [
        one_of(Made, one).figures.machining["cut_length"]
        for one in by_figure(entries[:3], "machining.cut_length")
    ]
    assert lengths == sorted(lengths)
    with pytest.raises(SpecError, match="none of the rings has this figure"):
        by_figure(entries, "mass.x")
