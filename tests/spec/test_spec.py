"""The spec file: read, checked with all faults at once, changed, written again."""

from __future__ import annotations

import math
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

import openwork
from openwork.errors import SpecError
from openwork.fill.registry import patterns
from openwork.spec.schema import schema
from openwork.spec.spec import PatternTable, Spec, changed, from_toml, to_toml
from openwork.spec.starter import template
from openwork.tables.faults import replaced
from openwork.tables.table import Table, table_of

LEAST = "[ring]\nteeth = 42\n[mount]\ncircle = 110\n"
FULL = """
title = "Harbour 42"
[ring]
teeth = 42
chain = "082"
material = "7075-T6"
plate = 4.0
tooth_width = "auto"
gap = 0.0
offset = 0.0
tip = 0.5
[mount]
bolts = 4
circle = 110.0
hole = 10.1
angles = [0, 82, 180, 262]
counterbore = { diameter = 13.0, depth = 1.0 }
pad = 8.5
bore = 116.0
blend = 5.0
[web]
rim = 3.0
hem = 3.0
rib = 2.0
corner = 1.5
bevel = 0.3
[pattern]
name = "honeycomb"
seed = 1
columns = 40
[goal]
mass = 100.0
teeth = [38, 46]
[load]
force = 1500.0
crank = 170.0
"""


def faults(text: str, changes: dict[str, object] | None = None) -> tuple[str, ...]:
    with pytest.raises(SpecError) as caught:
        from_toml(text, source="ring.toml", changes=changes or {}, cause="--set")
    return caught.value.faults


def required(model: type[Table], path: tuple[str, ...] = ()) -> list[str]:
    """Return the dotted keys without a default, tables entered where they are not optional."""
    found = []
    for name, field in model.model_fields.items():
        inner = table_of(field)
        if inner is not None and not isinstance(field.default, str | None):
            found += required(inner, (*path, name))
        elif field.is_required():
            found.append(".".join((*path, name)))
    return found


def test_every_key_has_a_default_but_teeth_and_bolt_circle() -> None:
    assert required(Spec) == ["ring.teeth", "mount.circle"]
    spec = from_toml(LEAST)
    assert (spec.ring.chain, spec.web.rib, spec.pattern.name) == ("082", 2.0, "honeycomb")


def test_the_whole_file_is_read() -> None:
    spec = from_toml(FULL)
    assert spec.title == "Harbour 42"
    assert spec.mount.angles == (0, 82, 180, 262)
    assert spec.mount.counterbore is not None
    assert spec.mount.counterbore.depth == 1.0
    assert dict(spec.pattern.parameters) == {"columns": 40}
    assert (spec.goal.mass, spec.goal.teeth) == (100.0, (38, 46))
    assert (spec.load.force, spec.load.crank) == (1500.0, 170.0)


def test_a_spec_cannot_be_altered() -> None:
    spec = from_toml(FULL)
    with pytest.raises(ValueError, match="frozen"):
        spec.title = "other"  # type: ignore[misc]
    with pytest.raises(ValueError, match="frozen"):
        spec.pattern.columns = 30  # type: ignore[attr-defined]
    with pytest.raises(TypeError):
        spec.pattern.parameters["columns"] = 30  # type: ignore[index]


@dataclass(frozen=True)
class Bad:
    """A line to put into a good file, and what the message must say."""

    key: str
    value: str
    says: str


BAD = [
    Bad("load.chain", '"worn-in"', "load.chain: is called load.wear"),
    Bad("load.offset", "20.0", "load.offset: is called load.slant"),
    Bad("load.finish", '"bare"', "load.finish: is called load.surface"),
    Bad("load.phase", "3.0", "load.phase: is called load.lead"),
    Bad("ring.teeth", "5", "ring.teeth = 5: must be a whole number from 9 to 150; 9 works"),
    Bad("ring.teeth", "5000", "ring.teeth = 5000: must be a whole number from 9 to 150; 150 works"),
    Bad("ring.teeth", "42.0", "ring.teeth = 42.0: must be a whole number from 9 to 150; 42 works"),
    Bad("ring.teeth", "41.7", "ring.teeth = 41.7: must be a whole number from 9 to 150; 42 works"),
    Bad("ring.teeth", '"42"', 'ring.teeth = "42": must be a whole number from 9 to 150; 42 works'),
    Bad("ring.teeth", "true", "ring.teeth = true: must be a whole number from 9 to 150; 42 works"),
    Bad("ring.teeth", "1e400", "ring.teeth = inf: must be a whole number from 9 to 150; 150 works"),
    Bad("ring.teeth", "0x" + "f" * 5000, "ring.teeth = inf: must be a whole number"),
    Bad("ring.plate", "nan", "ring.plate = nan: must be a number from 1 to 12; 4.0 works"),
    Bad("ring.plate", "-inf", "ring.plate = -inf: must be a number from 1 to 12; 1 works"),
    Bad("ring.plate", '"thick"', 'ring.plate = "thick": must be a number from 1 to 12; 4.0 works'),
    Bad("ring.plate", "1979-05-27", "ring.plate = 1979-05-27: must be a number"),
    Bad("ring.chain", '"08"', 'ring.chain = "08": not a chain known here; "081" (1/2 x 1/8'),
    Bad("ring.material", '"7075"', '"7075-T6" is nearest'),
    Bad("ring.tooth_width", '"wide"', 'neither "auto" nor a number from 1 to 12; "auto" works'),
    Bad("ring.tooth_width", "99", 'neither "auto" nor a number from 1 to 12; "auto" works'),
    Bad("ring.colour", '"red"', "ring.colour: unknown key; [ring] takes teeth, chain"),
    Bad("ring.plat", "4", "ring.plat: unknown key; ring.plate is nearest"),
    Bad("ring.circle", "110", "ring.circle: unknown key; mount.circle is nearest"),
    Bad("rings.teeth", "42", "rings: unknown key; ring is nearest"),
    Bad("mount.circle", "-110", "mount.circle = -110: must be a number from 30 to 600; 30 works"),
    Bad("mount.angles", "[0, 0, 90, 180, 270]", "must rise from 0 and stay below 360"),
    Bad("mount.angles", '[0, "x"]', "must be a list of numbers"),
    Bad("mount.bolts", "0", "mount.bolts = 0: must be a whole number from 3 to 12"),
    Bad("mount.counterbore", "13", "mount.counterbore = 13: must be a table"),
    Bad("mount.counterbore", "{ diameter = 13 }", "mount.counterbore.depth: missing"),
    Bad("mount.counterbore", "{ diameter = 0, depth = 1 }", "more than 0 and at most 40"),
    Bad("web.rib", "-1", "web.rib = -1: must be a number from 0.5 to 30; 0.5 works"),
    Bad("web.corner", "[]", "web.corner = []: must be a number from 0.3 to 20; 1.5 works"),
    Bad("web", "3", "web = 3: must be a table"),
    Bad("title", '"a\\u0000b"', 'title = "a\\u0000b": must be one line of printable characters'),
    Bad("title", f'"{"x" * 99}"', "must be a text of at most 80 characters"),
    Bad("pattern.name", '"honycomb"', "did you mean 'honeycomb'?"),
    Bad("pattern.name", "7", 'pattern.name = 7: must be a text; "honeycomb" works'),
    Bad("pattern.seed", "-1", "pattern.seed = -1: must be a whole number"),
    Bad("pattern.columns", "40.5", "pattern.columns = 40.5: must be a whole number from 6 to 66"),
    Bad("pattern.columns", "nan", "pattern.columns = nan: must be a whole number"),
    Bad("pattern.columns", "true", "pattern.columns = true: must be a whole number"),
    Bad("pattern.columns", f'"{"x" * 5000}"', "xxx...: must be a whole number"),
    Bad("pattern.colums", "40", "did you mean 'columns'?"),
    Bad("goal.mass", "[103, 97]", "the least comes first; [97, 103] works"),
    Bad("goal.mass", '"light"', "must be a number from 1 to 5000 or a list of 2 numbers"),
    Bad("goal.teeth", "[46, 38]", "must rise; [38, 46] works"),
    Bad("goal.teeth", "[8, 9]", "must be a list of whole numbers from 9 to 150"),
    Bad("goal.hold", '"ribs"', 'must be "mass" or "share" or "rib"'),
    Bad("load.force", "0", "load.force = 0: must be a number from 1 to 20000; 1 works"),
]


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: f"{bad.key}={bad.value:.20}")
def test_one_bad_key_gives_one_message_in_file_and_on_the_command_line(bad: Bad) -> None:
    read = tomllib.loads(f"value = {bad.value}")["value"]
    data = replaced(tomllib.loads(FULL), tuple(bad.key.split(".")), read)
    for source, found in (
        ("ring.toml: ", faults(written(data))),
        ("--set ", faults(FULL, {bad.key: read})),
    ):
        assert len(found) == 1
        assert found[0].startswith(source)
        assert bad.says in found[0]
        assert len(found[0]) < 400
        assert found[0].isprintable()


def written(data: dict[str, Any]) -> str:
    """Return *data* as TOML on one line a key, by a writer of the tests' own."""
    return "\n".join(f"{name} = {literal(value)}" for name, value in data.items())


def literal(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {literal(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(literal, value)) + "]"
    if isinstance(value, str):
        return '"' + "".join(f"\\u{ord(c):04x}" if c < " " else c for c in value) + '"'
    if isinstance(value, bool):
        return str(value).lower()
    return hex(value) if isinstance(value, int) and value > 1 << 64 else str(value)


def test_all_faults_are_reported_at_once_each_with_its_source() -> None:
    text = '[ring]\nteeth = 5\nchain = "9"\n[web]\nrib = -1\nribs = 2\n[pattern]\ncolumns = 0.5\n'
    found = faults(text, {"web.bevel": 99, "pattern.turns": 3})
    assert [re.match(r"(ring.toml:|--set) ([\w.]+)", line).groups() for line in found] == [  # type: ignore[union-attr]
        ("ring.toml:", "ring.teeth"),
        ("ring.toml:", "ring.chain"),
        ("ring.toml:", "mount.circle"),
        ("ring.toml:", "web.rib"),
        ("--set", "web.bevel"),
        ("ring.toml:", "web.ribs"),
        ("ring.toml:", "pattern.columns"),
        ("--set", "pattern.turns"),
    ]


def test_missing_keys_come_with_an_example() -> None:
    assert faults("") == (
        "ring.toml: ring.teeth: missing: must be a whole number from 9 to 150; 42 works",
        "ring.toml: mount.circle: missing: must be a number from 30 to 600; 110.0 works",
    )


def test_a_message_does_nothing_to_a_terminal() -> None:
    assert faults(LEAST + '[web]\n"\\u001b[2J\\nrib" = 2\n')[0].isprintable()


KEYS = [
    f"{name}.{key}"
    for name, field in Spec.model_fields.items()
    for key in getattr(table_of(field), "model_fields", ())
]
JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=4), inner),
    max_leaves=6,
)


@given(st.sampled_from(["title", "ring", "pattern.columns", "x", *KEYS]), JUNK)
def test_junk_is_refused_with_a_message_whose_remedy_works(key: str, junk: object) -> None:
    try:
        from_toml(FULL, changes={key: junk})
        return
    except SpecError as error:
        found = error.faults
    assert all(line.isprintable() for line in found)
    remedy = re.search(rf"{key} = .*; (\S+) works$", found[0])
    if remedy:
        from_toml(FULL, changes={key: tomllib.loads(f"v = {remedy[1]}")["v"]})


def test_a_file_that_is_not_toml_is_told_by_line_and_column() -> None:
    assert re.search(r"^ring.toml: not TOML: .* line 2, column 9", faults("[ring]\nteeth = = 3")[0])
    assert "too deeply" in faults("x = " + "[" * 9999)[0]
    assert "too deeply" in faults(".".join("a" * 5000) + " = 1")[0]


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("missing.toml", None, "no such file; `openwork new"),
        ("latin.toml", b'[ring]\ntitle = "\xe9"\n', "line 2 is not UTF-8"),
        ("large.toml", b"#" * (2 << 20), "not a spec file"),
        ("binary.toml", b"\x00\x01\x02", "not TOML"),
        ("nul\0.toml", None, "cannot be read"),
    ],
)
def test_files_that_cannot_be_read(
    tmp_path: Path, name: str, content: bytes | None, says: str
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    with pytest.raises(SpecError, match=re.escape(says)):
        openwork.load(tmp_path / name)


def test_a_folder_is_no_spec_file(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="is a folder"):
        openwork.load(tmp_path)


def test_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    (tmp_path / "marked.toml").write_bytes(b"\xef\xbb\xbf" + FULL.encode())
    assert openwork.load(tmp_path / "marked.toml") == from_toml(FULL)


def test_changes_take_precedence_and_make_missing_tables() -> None:
    spec = from_toml(
        LEAST, changes={"title": "New", "mount.counterbore": {"diameter": 13, "depth": 1}}
    )
    assert spec.title == "New"
    spec = changed(spec, {"mount.counterbore.depth": 2, "web.rib": 1.75})
    assert spec.mount.counterbore is not None
    assert (spec.mount.counterbore.depth, spec.web.rib) == (2, 1.75)
    with pytest.raises(SpecError, match=r"^--vary web.rib = 99: "):
        changed(spec, {"web.rib": 99}, cause="--vary")


def test_a_new_family_starts_from_its_own_defaults() -> None:
    given_ones = changed(from_toml(FULL), {"pattern.columns": 50, "pattern.frame": "flat"})
    assert dict(given_ones.pattern.parameters) == {"columns": 50, "frame": "flat"}
    for name in ("spokes", "bricks"):  # bricks have columns too, but others suit them
        assert dict(changed(given_ones, {"pattern.name": name}).pattern.parameters) == {}
    both = {"pattern.name": "bricks", "pattern.columns": 20}
    assert dict(changed(given_ones, both).pattern.parameters) == {"columns": 20}
    same = changed(given_ones, {"pattern.name": "honeycomb"})
    assert dict(same.pattern.parameters) == {"columns": 50, "frame": "flat"}
    with pytest.raises(SpecError, match=r"^pattern.frame: spokes has no such parameter"):
        changed(given_ones, {"pattern.name": "spokes", "pattern.frame": "flat"})


def within(model: type[Table]) -> st.SearchStrategy[dict[str, Any]]:
    """Return tables of *model* with random values inside the ranges that its fields declare."""
    known = {name: value for name, field in model.model_fields.items()
             if (value := one(field.annotation, field.metadata)) is not None}  # fmt: skip
    return st.fixed_dictionaries({}, optional=known)


def one(kind: Any, metadata: list[Any]) -> st.SearchStrategy[Any] | None:
    bounds = {key: getattr(item, key) for item in metadata for key in ("ge", "le")
              if hasattr(item, key)}  # fmt: skip
    if not bounds:
        return None
    if kind is int:
        return st.integers(bounds["ge"], bounds["le"])
    return st.floats(bounds["ge"], bounds["le"])


PRINTABLE = st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" "), max_size=80)
SPECS = st.fixed_dictionaries(
    {
        "title": PRINTABLE,
        "ring": within(table_of(Spec.model_fields["ring"]) or Table).map(
            lambda t: {"teeth": 42} | t
        ),
        "mount": within(table_of(Spec.model_fields["mount"]) or Table).map(
            lambda t: {"circle": 9e1} | t
        ),
        "web": within(table_of(Spec.model_fields["web"]) or Table),
        "pattern": st.fixed_dictionaries(
            {},
            optional={"columns": st.integers(6, 66), "phase": st.sampled_from(["cell", "node"])},
        ),
        "goal": st.fixed_dictionaries(
            {},
            optional={
                "mass": st.floats(1, 5000) | st.tuples(st.floats(1, 90), st.floats(90, 5000)),
                "teeth": st.lists(st.integers(9, 150), unique=True).map(sorted).map(tuple),
            },
        ),
    }
)


@cache
def validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(schema(patterns()))


@given(SPECS)
def test_a_written_spec_reads_back_equal_and_passes_the_schema(data: dict[str, Any]) -> None:
    spec = Spec.model_validate(data)
    text = to_toml(spec)
    assert from_toml(text) == spec
    assert to_toml(from_toml(text)) == text
    validator().validate(tomllib.loads(text))


@pytest.mark.parametrize(
    ("key", "value"),
    [("ring.teeth", 5), ("ring.plat", 4), ("web.rib", "x"), ("pattern.columns", 500),
     ("pattern.colums", 40), ("pattern.name", "honycomb"), ("goal.hold", "ribs")],
)  # fmt: skip
def test_the_schema_refuses_what_the_tables_refuse(key: str, value: object) -> None:
    data = tomllib.loads(FULL)
    validator().validate(data)
    with pytest.raises(jsonschema.ValidationError):
        validator().validate(replaced(data, tuple(key.split(".")), value))


def test_the_schema_checks_the_default_family_where_no_name_is_given() -> None:
    data = tomllib.loads(LEAST) | {"pattern": {"columns": 500}}
    with pytest.raises(jsonschema.ValidationError, match="500 is greater"):
        validator().validate(data)


def test_the_commented_spec_loads_and_names_every_key() -> None:
    text = template()
    spec = from_toml(text)
    assert (spec.title, spec.ring.teeth, spec.mount.bolts, spec.mount.circle) == (
        "Harbour 42", 42, 5, 110.0,
    )  # fmt: skip
    assert dict(spec.pattern.parameters) == {}
    for key in (key.partition(".")[2] for key in KEYS):
        assert re.search(rf"^(# )?{key} = .+ # \w", text, re.MULTILINE), key
    assert spec.model_dump(exclude={"title", "goal", "drive"}) == from_toml(LEAST).model_dump(
        exclude={"title", "goal", "drive"}
    )


def test_optional_lines_of_the_commented_spec_load_too() -> None:
    live = re.sub(r"^# (?=\w+ = )", "", template(), flags=re.MULTILINE)
    spec = from_toml(live)
    assert spec.mount.counterbore is not None
    assert set(spec.pattern.parameters) > {"columns"}


def test_whole_numbers_beyond_64_bits_are_refused_as_toml_asks() -> None:
    """TOML 1.0.0, section Integer: 64 bits; what cannot be represented must be an error."""
    assert "inf" in faults(LEAST + f"[pattern]\nseed = {2**63}\n")[0]
    assert "4294967295 works" in faults(LEAST + f"[pattern]\nseed = {2**63 - 1}\n")[0]


def test_numbers_are_written_without_loss() -> None:
    spec = from_toml(LEAST, changes={"web.rib": math.nextafter(2, 3), "web.bevel": 1e-7})
    assert from_toml(to_toml(spec)) == spec


def test_the_pattern_table_holds_its_parameters_by_themselves() -> None:
    table = PatternTable(name="spokes", seed=3, count=5)
    assert dict(table.parameters) == {"count": 5}
