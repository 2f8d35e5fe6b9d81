"""What there is to choose from: the patterns, their kinds and their parameters."""

from __future__ import annotations

import dataclasses
import inspect
import math
import sys
import typing
from dataclasses import dataclass
from pathlib import Path

from openwork.fill.parameters import Value
from openwork.fill.registry import Pattern, patterns

MARKS = (
    "<!-- patterns: written by python -m openwork.fill.catalogue -->",
    "<!-- end of patterns -->",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """A parameter: its range or choices, and its default or "suits the web"."""

    name: str
    help: str
    low: float | None
    high: float | None
    choices: tuple[str, ...]
    default: Value | None
    per_bolt: bool

    @property
    def range(self) -> str:
        """The values it takes, in words."""
        if self.choices:
            return " or ".join(self.choices)
        if self.low is None and isinstance(self.default, str):
            return "a drawing"
        return f"{self.low:g} to {self.high:g}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A pattern: name, kind of filling, one line, parameters."""

    name: str
    kind: str
    summary: str
    parameters: tuple[Parameter, ...]


def catalogue() -> tuple[Entry, ...]:
    """Return all patterns by name."""
    return tuple(_entry(name, patterns()[name]) for name in sorted(patterns()))


def _entry(name: str, cls: type[Pattern]) -> Entry:
    returned = typing.get_type_hints(cls.__call__).get("return")
    kind = getattr(returned, "__name__", "any").lower()
    summary = (inspect.getdoc(cls) or "").partition("\n")[0].removesuffix(".")
    return Entry(name=name, kind=kind, summary=summary, parameters=_parameters(cls))


def _parameters(cls: type[Pattern]) -> tuple[Parameter, ...]:
    return tuple(
        Parameter(
            name=field.name,
            help=field.metadata["help"],
            low=_finite(field.metadata["low"]),
            high=_finite(field.metadata["high"]),
            choices=field.metadata["choices"],
            default=_default(field),
            per_bolt=field.metadata["per_bolt"],
        )
        for field in dataclasses.fields(cls)
    )


def _default(field: dataclasses.Field[typing.Any]) -> Value | None:
    """Return the default of *field*, None where it is chosen; of a long text only that it is."""
    if field.metadata["text"]:
        return "built in"
    return None if field.metadata["suited"] else typing.cast("Value", field.default)


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def markdown() -> str:
    """Return the table of patterns for the README, with the picture of each in the gallery."""
    rows = [
        f"| ![{one.name}](gallery/{one.name}/preview.svg) | **{one.name}** | {one.summary} "
        f"| {', '.join(parameter.name for parameter in one.parameters)} |"
        for one in catalogue()
    ]
    head = ["| | pattern | what it is | parameters |", "|---|---|---|---|"]
    return "\n".join(head + rows) + "\n"


def renewed(text: str) -> str:
    """Return the README *text* with the table between its two marks written anew."""
    before, _, rest = text.partition(MARKS[0])
    _, _, after = rest.partition(MARKS[1])
    return f"{before}{MARKS[0]}\n{markdown()}{MARKS[1]}{after}"


if __name__ == "__main__":
    readme = Path(sys.argv[1])
    readme.write_text(renewed(readme.read_text(encoding="utf-8")), encoding="utf-8")
