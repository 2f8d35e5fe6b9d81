"""The panel: every key of the schema has a control, and the words of the file keep their order."""

from typing import Any

import pytest

from openwork.fill.registry import patterns
from openwork.live.controls import controls
from openwork.live.offers import offers
from openwork.live.remarks import remarks
from openwork.spec.schema import schema


def named(found: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {one["key"]: one for one in found}


def test_every_table_and_key_of_the_schema_has_a_control() -> None:
    known = schema(patterns())
    found = named(controls(known))
    assert found.keys() == known["properties"].keys()
    for table, one in known["properties"].items():
        if "$ref" in one and table != "pattern":
            keys = known["$defs"][one["$ref"].rpartition("/")[2]].get("properties", {}).keys()
            assert named(found[table].get("fields", [])).keys() == keys, table


def test_every_pattern_has_controls_of_its_own() -> None:
    found = named(controls(schema(patterns())))["pattern"]["patterns"]
    assert found.keys() == patterns().keys()
    columns = named(found["honeycomb"])["columns"]
    assert (columns["kind"], columns["whole"]) == ("number", True)
    assert named(found["petals"])["shape"]["kind"] == "choice"


def test_a_table_that_a_plug_in_or_a_later_round_adds_is_there() -> None:
    """No control is made by hand: what the schema says is enough."""
    mark = {
        "type": "object",
        "properties": {
            "text": {"type": "string", "description": "letters"},
            "depth": {"anyOf": [{"type": "number", "minimum": 0}, {"type": "null"}]},
            "face": {"enum": ["front", "back"], "type": "string"},
            "at": {"type": "array", "items": {"type": "number"}},
        },
    }
    marks = {"type": "array", "items": {"$ref": "#/$defs/Mark"}}
    one = {"anyOf": [{"$ref": "#/$defs/Mark"}, {"type": "null"}]}
    own = {"type": "object", "patternProperties": {"^[a-z]+$": {"$ref": "#/$defs/Mark"}}}
    prices = {"type": "object", "properties": {}, "additionalProperties": {"type": "number"}}
    place = {"anyOf": [{"enum": ["rim", "hem"]}, {"type": "number", "minimum": 1}]}
    said = {
        "properties": {"marks": marks, "mark": one, "own": own, "prices": prices, "at": place},
        "$defs": {"Mark": mark},
    }
    found = named(controls(said))
    assert (found["marks"]["kind"], found["mark"]["kind"]) == ("tables", "table")
    assert (found["own"]["kind"], found["own"]["item"]["kind"]) == ("named", "table")
    assert (found["prices"]["kind"], found["prices"]["item"]["kind"]) == ("named", "number")
    assert (found["at"]["kind"], found["at"]["words"]) == ("number", ["rim", "hem"])
    assert found["mark"]["optional"]
    kinds = {key: part["kind"] for key, part in named(found["marks"]["fields"]).items()}
    assert kinds == {"text": "words", "depth": "number", "face": "choice", "at": "value"}


def test_comments_stand_where_the_maker_wrote_them() -> None:
    text = """# for the fleet
title = "Harbour"  # its name
[web]  # the metal
# not below 2
rib = 2.4
[[holes]]
# first
size = 1  # small
[[holes]]
size = 2
# the end
"""
    found = {".".join(map(str, one["path"])): one for one in remarks(text)}
    assert list(found) == [
        "title", "web", "web.rib", "holes.0", "holes.0.size", "holes.1", "holes.1.size", "",
    ]  # fmt: skip
    assert found["title"]["above"] == ["for the fleet"]
    assert found["title"]["beside"] == "its name"
    assert found["web"]["beside"] == "the metal"
    assert found["web.rib"]["above"] == ["not below 2"]
    assert found["holes.0.size"]["beside"] == "small"
    assert found[""]["above"] == ["the end"]


@pytest.mark.parametrize(
    ("fault", "wanted"),
    [
        ("web.rib = 0.2: must be a number from 0.5 to 30; 0.5 works", [("web.rib", 0.5)]),
        ("web.bevel 0.9 mm: bevels would meet on a rib of 1 mm; 0.4 works", [("web.bevel", 0.4)]),
        (
            "web.rim 1 mm: openings would reach into the tooth band; at least 2.3 mm",
            [("web.rim", 2.3)],
        ),
        ("look.finish = 'golde': must be a colour; nearest is gold", [("look.finish", "gold")]),
        (
            "mount.angles: 4 angles for 5 bolts; bolts = 4 works",
            [("mount.bolts", 4)],
        ),
        (
            "goal.mass: missing; goal.mass = 100.0, or the band [97.0, 103.0], works",
            [("goal.mass", 100.0), ("goal.mass", [97.0, 103.0])],
        ),
        ("no opening is left: fewer columns or rows, a thinner rib makes room", []),
        ("web.rib: the least rib measures 1.2 mm, the limit is 2 mm; a larger rib may keep it", []),
    ],
)
def test_what_would_work_is_read_from_the_words(
    fault: str, wanted: list[tuple[str, object]]
) -> None:
    assert [(one["key"], one["value"]) for one in offers([fault])] == wanted
