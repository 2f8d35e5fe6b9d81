"""What the page is shown is the ring that the spec makes, and what it saves makes it again."""

import math
import random
import tomllib
from dataclasses import fields, replace
from typing import Any

import pytest

import openwork
from openwork.fill.registry import patterns
from openwork.live.pen import Pen, least_rib
from openwork.live.scale import Scale
from openwork.live.scribe import Scribe
from openwork.live.wish import Wish, wish_of
from openwork.measure.figures import mass
from openwork.measure.limits import limits_broken
from openwork.render.drawing.path import compact_path
from openwork.shape.gauging import gauge
from openwork.spec.spec import from_data, from_toml
from tests._sweep import SLOW, fast_patterns
from tests.live.serving import HARBOUR

TOLD: dict[str, Any] = tomllib.loads(HARBOUR)
FAMILIES = sorted(patterns())


def wished(name: str, **web: float) -> Wish:
    return Wish({**TOLD, "pattern": {"name": name}, "web": {**TOLD["web"], **web}})


@pytest.fixture(scope="module")
def scribe() -> Scribe:
    return Scribe()


@pytest.mark.parametrize("name", FAMILIES)
def test_the_picture_is_the_ring(scribe: Scribe, name: str) -> None:
    wish = wished(name)
    found = scribe.draw(wish)
    ring = openwork.design(from_data(wish.spec))
    assert found["openings"] == compact_path(ring.sector, 0.01)
    assert found["fold"] == ring.site.fold
    assert found["count"] == len(ring.openings)
    assert found["mass"] == pytest.approx(openwork.figures(ring).mass, abs=1e-3)
    assert found["share"] == pytest.approx(openwork.figures(ring).solid_share, abs=1e-4)
    gap = gauge.least_gap(ring.sector, ring.openings)
    assert least_rib(ring).width == pytest.approx(gap.width, abs=1e-9)
    assert scribe.draw(wish) is found  # remembered


@pytest.mark.parametrize("name", fast_patterns())
def test_a_saved_spec_opens_as_the_same_ring(scribe: Scribe, name: str) -> None:
    """What the pattern chose is held while the rib is turned, and must be in the file."""
    held = scribe.draw(wished(name))["chosen"]
    wide = scribe.draw(replace(wished(name, rib=2.4), held=held))
    if "faults" in wide:
        pytest.skip(wide["faults"][0])
    turned = (wished(name, rib=2.74), wished(name, hem=3.4))
    on_mass = replace(wished(name), aim=wide["mass"] + 2.0)
    for wish in (replace(one, held=held) for one in (*turned, on_mass)):
        shown = scribe.draw(wish)
        if "faults" in shown:
            continue
        text = scribe.text(wish, HARBOUR)["text"]
        again = openwork.design(from_toml(text))
        assert compact_path(again.sector, 0.01) == shown["openings"]
        assert mass(again) == pytest.approx(shown["mass"], abs=1e-3)
        assert "# The harbour courier's standard ring" in text


def test_what_is_held_gives_way_where_it_cannot_be(scribe: Scribe) -> None:
    four = Wish({**TOLD, "pattern": {"name": "honeycomb"}, "mount": {"bolts": 4, "circle": 110.0}},
                held={"columns": 45})  # fmt: skip
    found = scribe.draw(four)
    assert found["chosen"]["columns"] % 4 == 0
    assert scribe.text(four, HARBOUR)["text"].count("columns") == 0


def test_on_the_mass_the_rib_alone_is_turned(scribe: Scribe) -> None:
    found = scribe.draw(Wish(TOLD, aim=70.0))
    assert found["mass"] == pytest.approx(70.0, abs=0.05)
    assert found["turned"] > found["least"] == TOLD["web"]["rib"]
    near = scribe.draw(Wish(TOLD, aim=70.5, rib=found["turned"]))
    assert near["mass"] == pytest.approx(70.5, abs=0.05)
    low = scribe.draw(Wish(TOLD, aim=50.0))
    assert "none below 2 mm" in low["off"]
    assert low["turned"] == 2.0


def test_a_mass_is_saved_with_the_rib_asked_for(scribe: Scribe) -> None:
    spec = from_toml(scribe.text(Wish(TOLD, aim=70.0), HARBOUR)["text"])
    assert spec.goal.least_rib == 2.0
    assert spec.web.rib > 2.7
    back = scribe.draw(Wish(TOLD, aim=62.099))
    assert back["turned"] == 2.0


@pytest.mark.parametrize(
    ("change", "words", "offer"),
    [
        ({"web": {"rib": 0.2}}, "web.rib = 0.2", {"key": "web.rib", "value": 0.5}),
        ({"web": {"rib": "thin"}}, 'web.rib = "thin"', {"key": "web.rib", "value": 2.0}),
        ({"pattern": {"columns": 41}}, "a multiple of 5", {"key": "pattern.columns", "value": 40}),
        ({"web": {"bevel": 1.5}}, "bevels would meet", {"key": "web.bevel", "value": 0.95}),
        ({"web": {"rip": 2}}, "web.rip: unknown key", None),
        ({"ring": {}}, "ring.teeth: missing", {"key": "ring.teeth", "value": 42}),
        ({"mount": {"circle": 110.0, "counterbore": {}}}, "counterbore.diameter: missing",
         {"key": "mount.counterbore.diameter", "value": 14.5}),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_with_what_would_work(
    scribe: Scribe, change: dict[str, Any], words: str, offer: object
) -> None:
    found = scribe.draw(Wish({**TOLD, **change}))
    assert any(words in fault for fault in found["faults"])
    assert offer is None or offer in found["offers"]


def test_a_spec_whose_ring_cannot_be_made_is_saved_all_the_same(scribe: Scribe) -> None:
    wish = Wish({**TOLD, "pattern": {"name": "honeycomb", "columns": 41}})
    assert "columns = 41" in scribe.text(wish, HARBOUR)["text"]


def test_deep_and_strange_specs_are_faults() -> None:
    deep: dict[str, Any] = {}
    for _ in range(5000):
        deep = {"a": deep}
    strange: list[dict[str, Any]] = [{"ring": 7}, {"": {}}, {"pattern": {"name": 3}}, {"web": [1]}]
    for spec in strange:
        assert "faults" in Pen().draw(Wish(spec))
    with pytest.raises(openwork.SpecError, match="nested too deeply"):
        from_data(deep)


def test_a_wish_needs_a_spec_and_numbers() -> None:
    assert wish_of({"spec": {}, "aim": 70}).aim == 70
    spec: dict[str, Any] = {"spec": {}}
    wrong = [{}, {"spec": 1}, spec | {"held": []}, spec | {"aim": True}, spec | {"rib": "2"},
             spec | {"aim": -1}]  # fmt: skip
    for said in wrong:
        with pytest.raises(ValueError, match="no wish"):
            wish_of(said)


def test_only_so_many_rings_are_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("openwork.live.pen.KEPT", 3)
    pen = Pen()
    for step in range(5):
        pen.draw(Wish({**TOLD, "pattern": {"name": "arcs"}, "title": f"Harbour {step}"}))
    assert len(pen._rings) == 3


@pytest.mark.sweep
@pytest.mark.parametrize("name", FAMILIES)
def test_a_pattern_is_dragged_through_its_ranges(name: str) -> None:
    """Many steps of its own and the web's sliders: a ring within its limits, or words."""
    pen, chance, drawn = Pen(), random.Random(name), 0
    own = {field.name: field for field in fields(patterns()[name])}
    spec: dict[str, Any] = wished(name).spec
    held: dict[str, Any] = {}
    for step in range(30 if name in SLOW else 200):
        key = chance.choice([*own, "rib", "rim", "hem"])
        if key in own:
            value = _any_of(own[key], chance)
            spec = {**spec, "pattern": {**spec["pattern"], key: value}}
        else:
            spec = {**spec, "web": {**spec["web"], key: round(chance.uniform(1.2, 4.0), 2)}}
        wish = Wish(spec, held)
        found = pen.draw(wish)
        if "faults" in found:
            assert all(found["faults"])
            spec = wished(name).spec
            continue
        held, drawn = found["chosen"], drawn + 1
        if step % 25 == 0:
            ring = pen.ring(wish)
            assert limits_broken(ring, openwork.figures(ring)) == ()
    assert drawn > 20


def _any_of(field: Any, chance: random.Random) -> Any:
    meta = field.metadata
    if meta["choices"]:
        return chance.choice(meta["choices"])
    low, high = meta["low"], min(meta["high"], meta["low"] + 60)
    if isinstance(field.default, int):
        step = 5 if meta["per_bolt"] else 1
        return chance.randrange(math.ceil(low / step) * step, int(high) + 1, step)
    return round(chance.uniform(low, high), 2)


@pytest.mark.parametrize("name", ["michell", "gyroid", "spokes", "stars"])
def test_a_thumbnail_taken_is_the_ring_that_it_shows(scribe: Scribe, name: str) -> None:
    """The page puts its changes, holds what the pattern chose, and wishes for that."""
    goal = {**TOLD["goal"], "mass": 74.0}
    wish = Wish({**TOLD, "pattern": {"name": "honeycomb"}, "goal": goal}, aim=74.0)
    shown = Scale().thumb(wish, name)
    assert shown["mass"] == pytest.approx(74.0, abs=0.05)
    spec: dict[str, Any] = {**wish.spec, "pattern": {"name": name}}
    for one in shown.get("changes", ()):
        table, _, key = one["key"].partition(".")
        spec[table] = {**spec.get(table, {}), key: one["value"]}
    spec["web"] = {**spec["web"], "rib": shown["turned"]}
    taken = scribe.draw(Wish(spec, held=shown["chosen"]))
    assert taken["openings"] == shown["openings"]


def test_what_is_sunk_into_the_front_is_on_the_picture(scribe: Scribe) -> None:
    tables = {"pocket": {"which": "every second"}, "mark": {"front": {"text": "7"}},
              "panel": {"front": {}}}  # fmt: skip
    wish = Wish({**TOLD, **tables})
    found, ring = scribe.draw(wish), scribe.ring(wish)
    assert "faults" not in found
    assert found["fold"] == ring.fold
    assert found["count"] == len(ring.through)
    assert found["deep"] == len(ring.pockets) > 0
    assert found["pockets"].count("M") * ring.fold == len(ring.pockets)
    assert [one[0] for one in found["marks"]] == [0.4]
    figures = openwork.figures(ring)
    assert found["mass"] == pytest.approx(figures.mass, abs=1e-3)
    assert found["share"] == pytest.approx(figures.solid_share, abs=1e-4)
    again = from_toml(scribe.text(wish, HARBOUR)["text"])
    assert openwork.design(again).openings == ring.openings
