"""The spec file: its tables gathered, read, checked, changed and written again.

Every fault is reported at once, each with its source, key, value, limit and what would work.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from pydantic import ConfigDict, Field, ValidationError, field_validator

from openwork.errors import SpecError
from openwork.fill.parameters import parameter_faults
from openwork.fill.pocket import Pocket
from openwork.fill.registry import known
from openwork.fill.site import Web
from openwork.lettering.table import MOST_MARKS, MOST_PANELS, Mark, Name, Panel
from openwork.part.blank import Ring
from openwork.part.clearance import Clearance
from openwork.part.drive import Drive
from openwork.part.edges import Edges
from openwork.part.mount import Mount
from openwork.part.prices import Prices
from openwork.spec.drawing import outlines_of, with_outlines
from openwork.tables.faults import Keys, faults, replaced
from openwork.tables.finish import Look
from openwork.tables.goal import Goal
from openwork.tables.load import Load
from openwork.tables.support import Bolts, Spider
from openwork.tables.table import Table, named_tables_of, table_of
from openwork.tables.toml import content, frozen, parsed, written
from openwork.tables.wording import printable, shown

NOTHING: Mapping[str, object] = MappingProxyType({})


class PatternTable(Table):
    """The pattern and its own parameters; what is left out is chosen to suit the web."""

    model_config = ConfigDict(extra="allow")

    name: str = Field("honeycomb", description="its name")
    seed: int = Field(
        1, ge=0, le=2**32 - 1, description="start of the random numbers of a random pattern"
    )

    @property
    def parameters(self) -> Mapping[str, Any]:
        """The pattern's own parameters, as far as they are given."""
        return MappingProxyType(self.model_extra or {})


class Spec(Table):
    """All that says how a ring is made: one table for each of its sides."""

    title: str = Field("Untitled", max_length=80, description="name of the ring")
    ring: Ring
    mount: Mount
    web: Web = Web()
    pocket: Pocket = Pocket()
    edges: Edges = Edges()
    clearance: Clearance = Clearance()
    pattern: PatternTable = PatternTable()
    mark: dict[Name, Mark] = Field(
        {}, max_length=MOST_MARKS, description="texts that are engraved, by names of your own"
    )
    panel: dict[Name, Panel] = Field(
        {}, max_length=MOST_PANELS, description="parts of the web that stay solid, by name"
    )
    goal: Goal = Goal()
    load: Load = Load()
    spider: Spider = Spider()
    bolts: Bolts = Bolts()
    look: Look = Look()
    drive: Drive = Drive()
    prices: Prices = Prices()

    @field_validator("title")
    @classmethod
    def _printable(cls, title: str) -> str:
        if not title.isprintable():
            raise ValueError("must be one line of printable characters")
        return title


def load(path: str | Path, changes: Mapping[str, object] = NOTHING, *, cause: str = "") -> Spec:
    """Return the spec in the file *path*, *changes* ("table.key": value) taking precedence.

    Raises SpecError with every fault of file and changes; those of the changes begin with *cause*,
    the option that asked for them.
    """
    path = Path(path)
    data = with_outlines(parsed(content(path), str(path)), path.parent, str(path))
    return _checked(data, str(path), changes, cause)


def from_toml(
    text: str,
    *,
    source: str = "spec",
    changes: Mapping[str, object] = NOTHING,
    cause: str = "",
) -> Spec:
    """Return the spec that *text* holds; raises SpecError, faults under the name *source*."""
    return _checked(parsed(text, source), source, changes, cause)


def from_data(data: Mapping[str, Any]) -> Spec:
    """Return the spec of nested plain values, as JSON has them; raises SpecError, faults bare."""
    try:
        return _checked({key: frozen(value) for key, value in data.items()}, "", NOTHING, "")
    except RecursionError:
        raise SpecError("nested too deeply for a spec") from None


def changed(spec: Spec, changes: Mapping[str, object], *, cause: str = "") -> Spec:
    """Return *spec* with *changes* ("table.key": value); raises SpecError, faults after *cause*.

    With a new ``pattern.name`` the parameters of the old pattern go.
    """
    return _checked(as_data(spec), "spec", changes, cause)


def as_data(spec: Spec) -> dict[str, Any]:
    """Return *spec* as nested plain values, what is None left out."""
    return spec.model_dump(exclude_none=True)


def to_toml(spec: Spec) -> str:
    """Return *spec* as TOML with every key; ``from_toml`` gives an equal spec."""
    lines = []
    for name, value in as_data(spec).items():
        if value == {}:
            continue
        if named_tables_of(Spec.model_fields[name]):
            for own, table in value.items():
                lines += ["", f"[{name}.{own}]", *(written(key, one) for key, one in table.items())]
        elif isinstance(value, dict):
            lines += ["", f"[{name}]", *(written(key, item) for key, item in value.items())]
        else:
            lines.append(written(name, value))
    return "\n".join(lines) + "\n"


def _checked(data: dict[str, Any], source: str, changes: Mapping[str, object], cause: str) -> Spec:
    """Return the spec of *data* and *changes*; raises SpecError with all faults of both."""
    paths = {tuple(key.split(".")): frozen(value) for key, value in changes.items()}
    paths = _read_drawing(paths, cause or source)
    data = _suited(data, paths.get(("pattern", "name")))
    for name, field in Spec.model_fields.items():
        if table_of(field):
            data.setdefault(name, {})
    data = {**data, **_retitled(data, paths)}
    for keys, value in paths.items():
        data = replaced(data, keys, value)
    found: dict[Keys, str] = {}
    spec = None
    try:
        spec = Spec.model_validate(data)
    except ValidationError as error:
        found = faults(error, Spec, data)
    found |= {keys: text for keys, text in _pattern_faults(data["pattern"]) if keys not in found}
    if found or spec is None:
        before = f"{cause} " if cause else ""
        named = f"{source}: " if source else ""
        names = {keys: before if _touched(keys, paths) else named for keys in found}
        raise SpecError(*(printable(names[keys] + text) for keys, text in found.items()))
    return spec


def _read_drawing(paths: dict[Keys, object], source: str) -> dict[Keys, object]:
    """Return *paths* with the outlines of the file that they name, in the working folder."""
    if ("pattern", "drawing") not in paths:
        return paths
    text = outlines_of(paths["pattern", "drawing"], Path(), source)
    rest = {keys: value for keys, value in paths.items() if keys != ("pattern", "drawing")}
    return {**rest, ("pattern", "outlines"): text}


def _retitled(data: dict[str, Any], paths: Mapping[Keys, object]) -> dict[str, Any]:
    """Return the title with the new tooth count where it names the old one; nothing otherwise."""
    ring, title, teeth = data.get("ring"), data.get("title"), paths.get(("ring", "teeth"))
    if not isinstance(ring, dict) or not isinstance(title, str) or not isinstance(teeth, int):
        return {}
    return {"title": re.sub(rf"\b{re.escape(str(ring.get('teeth')))}\b", str(teeth), title)}


def _suited(data: dict[str, Any], name: object) -> dict[str, Any]:
    """Return *data* without the parameters of another pattern than the new one, *name*."""
    table = data.get("pattern")
    if not isinstance(table, dict) or table.get("name", PatternTable().name) == name:
        return data
    if not isinstance(name, str) or known(name) is None:
        return data
    own = PatternTable.model_fields
    kept = {key: value for key, value in table.items() if key in own}
    return {**data, "pattern": kept}


def _pattern_faults(table: Any) -> Iterator[tuple[Keys, str]]:
    """Yield the faults that only the pattern's own parameters tell."""
    if not isinstance(table, dict):
        return
    own = PatternTable.model_fields
    name = table.get("name", own["name"].default)
    if not isinstance(name, str):
        return
    try:
        parameter_faults(name, {})
    except SpecError as error:
        yield ("pattern", "name"), str(error)
        return
    for key in (key for key in table if key not in own):
        for text in parameter_faults(name, {key: table[key]}):
            yield ("pattern", key), text.replace(repr(table[key]), shown(table[key]))


def _touched(keys: Keys, paths: Mapping[Keys, object]) -> bool:
    """Return whether the fault at *keys* comes from a change: of it, above it or below it."""
    return any(keys[: len(path)] == path[: len(keys)] for path in paths)
