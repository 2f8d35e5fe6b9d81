"""The scripts of the page joined into one, so that the page is one file and opens from a disk.

They are ES modules, which a browser loads from a server alone. Joined they run in the order in
which it would run them, in one scope, which asks for a little more than the language does: every
import by its own name and from a sibling; ``export`` only before a declaration; no name at the top
level of two modules; no circle.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

IMPORT = re.compile(r'^import (?:\{([\w\s,]+)\} from )?"\./([\w-]+)\.js";\n', re.M)
DECLARED = re.compile(r"^(export )?(?:const|let|function|class) (\w+)", re.M)
EXPORT = re.compile(r"^export (?=(?:const|let|function|class) )", re.M)
LEFT = re.compile(r"^(?:import|export)\b.*", re.M)


def joined(modules: Mapping[str, str], start: str) -> str:
    """Return *modules*, texts by name, as one script: each after those it imports, *start* last.

    Raises ValueError where they cannot be joined.

    >>> print(joined({"b": 'import { x } from "./a.js";\\nf(x);', "a": "export const x = 1;"}, "b"))
    const x = 1;
    f(x);
    """
    imports = {name: IMPORT.findall(text) for name, text in modules.items()}
    faults = [*_unknown(modules, imports), *_twice(modules)]
    order = _order(imports, start, ())
    faults += [f"{name}: imported by none" for name in modules if name not in order]
    bare = [EXPORT.sub("", IMPORT.sub("", modules[name])).lstrip("\n") for name in order]
    faults += [f"cannot be joined: {line}" for text in bare for line in LEFT.findall(text)]
    if faults:
        raise ValueError("\n".join(faults))
    return "\n".join(bare)


Imports = Mapping[str, list[tuple[str, str]]]


def _order(imports: Imports, name: str, way: tuple[str, ...]) -> dict[str, None]:
    """Return, as keys, what *name* needs and itself, in the order a browser would run them."""
    if name in way:
        raise ValueError(f"a circle of imports: {', '.join((*way, name))}")
    done: dict[str, None] = {}
    for _, source in imports.get(name, ()):
        done |= _order(imports, source, (*way, name))
    return done | {name: None}


def _unknown(modules: Mapping[str, str], imports: Imports) -> Iterator[str]:
    """Yield a fault for each name that is imported and not exported."""
    shown = {
        module: {name for exported, name in DECLARED.findall(text) if exported}
        for module, text in modules.items()
    }
    for module, wanted in imports.items():
        for names, source in wanted:
            if source not in modules:
                raise ValueError(f"{module}: imports {source}, which is not there")
            missing = {*names.replace(",", " ").split()} - shown[source]
            yield from (f"{module}: {source} exports no {name}" for name in sorted(missing))


def _twice(modules: Mapping[str, str]) -> Iterator[str]:
    """Yield a fault for each name at the top level of two modules."""
    owners: dict[str, str] = {}
    for module, text in modules.items():
        for _, name in DECLARED.findall(text):
            if name in owners:
                yield f"{name}: at the top level of {owners[name]} and of {module}"
            owners[name] = module
