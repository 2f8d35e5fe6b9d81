"""What would work, read from the words of a fault, so that a button can do it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from typing import Any, TypeAlias

Offer: TypeAlias = dict[str, Any]

KEY = r"[a-z_]+(?:\.[\w-]+)+"
SUBJECT = re.compile(rf"^(?:\w[^:=]*: )?({KEY})")
WORKS = re.compile(r"(?:^|[;,] )(?:nearest is )?([^;]+?),? (?:works|allows it)\b")
LEAST = re.compile(r"\bat least ([\d.]+)")
NEAREST = re.compile(r"; nearest is ([\w-]+)")


def offers(faults: Iterable[str]) -> list[Offer]:
    """Return the keys and values that *faults* say would work, each once, in their order.

    >>> offers(["pattern.columns = 41: must be a multiple of 5; 40 or 45 works"])
    [{'key': 'pattern.columns', 'value': 40}, {'key': 'pattern.columns', 'value': 45}]
    >>> offers(["a plate of 4.5 mm reaches it: goal.plate = [4, 4.5] allows it"])
    [{'key': 'goal.plate', 'value': [4, 4.5]}]
    """
    found = [offer for fault in faults for offer in _of(fault)]
    return [one for at, one in enumerate(found) if one not in found[:at]]


def _of(fault: str) -> Iterator[Offer]:
    about = SUBJECT.match(fault)
    subject = about[1] if about else ""
    for words in _words(fault):
        for part in re.split(r",? or (?:the band )?", words):
            key, _, text = part.rpartition(" = ")
            name = key.rpartition(" ")[2] or subject
            if "." not in name and subject:
                name = f"{subject.partition('.')[0]}.{name}"
            value = _value(text)
            if name and value is not None:
                yield {"key": name, "value": value}


def _words(fault: str) -> Iterator[str]:
    yield from WORKS.findall(fault)
    if not WORKS.search(fault):
        yield from LEAST.findall(fault)
        yield from (f'"{word}"' for word in NEAREST.findall(fault))


def _value(text: str) -> object:
    """Return the value that *text* is in TOML, None where it is none."""
    try:
        return tomllib.loads(f"value = {text.strip()}")["value"]
    except ValueError:
        return None
