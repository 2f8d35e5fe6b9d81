"""The text of a mark: its fields filled in, and whether every sign of it can be drawn."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterator, Mapping

from openwork.errors import SpecError
from openwork.lettering.signs import sign

FIELDS = ("teeth", "title", "chain", "bolts", "circle", "mass", "serial", "year")
FIELD = re.compile(r"\{([^{}]*)\}")
LONGEST = 60  # signs, once its fields are filled in


def text_faults(text: str) -> str:
    """Return why *text*, its fields not yet filled in, cannot be drawn; nothing where it can."""
    for name in FIELD.findall(text):
        if name not in FIELDS:
            near = difflib.get_close_matches(name, FIELDS, n=1) or FIELDS[:1]
            return f'"{{{name[:20]}}}" is no field; {{{near[0]}}} works'
    if not text.strip():
        return 'says nothing; "{teeth}" works'
    rest = FIELD.sub("", text)
    if "{" in rest or "}" in rest:
        return 'a brace without its fellow; "{teeth}" works'
    return next(_undrawn(rest), "")


def filled(text: str, values: Mapping[str, str], key: str) -> tuple[str, ...]:
    """Return the signs of *text*, each a letter with its accents, its fields filled with *values*.

    Raises SpecError under the name *key* for a field without a value, a sign that is not drawn, no
    sign at all, or too many.

    >>> filled("No. {teeth}", {"teeth": "42"}, "mark.count.text")
    ('N', 'o', '.', ' ', '4', '2')
    """
    for name in FIELD.findall(text):
        if not values[name]:
            raise SpecError(f"{key}: {{{name}}} is not given; {_gives(name, key)}")
    whole = FIELD.sub(lambda found: values[found[1]], text)
    if fault := next(_undrawn(whole), ""):
        raise SpecError(f"{key}: {fault}")
    signs = tuple(_clusters(whole.strip()))
    if not signs:
        raise SpecError(f'{key}: says nothing; "{{teeth}}" works')
    if len(signs) > LONGEST:
        raise SpecError(f"{key}: {len(signs)} signs, at most {LONGEST} are engraved")
    return signs


def _gives(name: str, key: str) -> str:
    if name == "mass":
        return "goal.mass = 75.0 gives it"
    return f"{key.rpartition('.')[0]}.{name} gives it"


def _clusters(text: str) -> Iterator[str]:
    """Yield the signs of *text*, combining marks with the letter before them."""
    found = ""
    for one in unicodedata.normalize("NFC", text):
        if found and not unicodedata.combining(one):
            yield found
            found = ""
        found += one
    if found:
        yield found


def _undrawn(text: str) -> Iterator[str]:
    """Yield what of *text* the alphabet has not, by name."""
    for one in _clusters(text):
        if one != " " and sign(one) is None:
            names = " with ".join(unicodedata.name(part, f"U+{ord(part):04X}") for part in one)
            yield (
                f"{names} is not in the alphabet; what the languages of Western Europe are written "
                "with works"
            )
