"""Files for the shop: those of all sizes of a family, and whether what was written is on disk."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from openwork.commands._progress import tracked
from openwork.errors import RuleError
from openwork.render.extras import demand
from openwork.render.shop.formats import FORMATS, Choices

if TYPE_CHECKING:
    from openwork.explore.family.family import Family
    from openwork.explore.family.size import MadeSize
    from openwork.render.shop.handover import Verdict

Contents = Mapping[str, bytes | str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Package:
    """The files of a size by name and how each was judged; ``reason`` says why there are none."""

    teeth: int
    contents: Contents = field(default_factory=dict)
    judged: Mapping[str, Verdict] = field(default_factory=dict)
    reason: str = ""


def available(names: Sequence[str]) -> None:
    """Raise SpecError where a package is missing that a format of *names* needs."""
    demand({name: (FORMATS[name].extra, FORMATS[name].needs) for name in names})


def packages(family: Family, names: Sequence[str], *, jobs: int) -> tuple[Package, ...]:
    """Return the files of the formats *names* of each size that is made, by *jobs* processes."""
    from openwork.explore.parallel import mapped

    sizes = family.made
    making = mapped(partial(_package, names), sizes, jobs=max(1, min(jobs, len(sizes))))
    return tuple(tracked(making, len(sizes), "files"))


def _package(names: Sequence[str], size: MadeSize) -> Package:
    from openwork.render.shop import handover

    try:
        contents, judged = handover.package(names, size.design, size.figures, Choices())
    except RuleError as fault:
        return Package(teeth=size.teeth, reason=str(fault))
    return Package(teeth=size.teeth, contents=contents, judged=judged)


def rows(made: Sequence[Package]) -> Iterator[tuple[str, ...]]:
    """Yield heads and rows of the table of files: what was written of each size, how judged."""
    names = dict.fromkeys(name for one in made for name in one.judged)
    yield "teeth", *(f"{name}, kB" for name in names), "checks passed"
    for one in made:
        sizes = (f"{len(one.contents[name]) / 1e3:.0f}" if name in one.judged else ""
                 for name in names)  # fmt: skip
        passed = sum(len(result.checks) for result in one.judged.values())
        yield str(one.teeth), *sizes, str(passed) if one.judged else "none"


def refused(made: Sequence[Package]) -> list[str]:
    """Return a line for each fault for which files of a size were not written."""
    return [f"{one.teeth} teeth: {line}" for one in made for line in one.reason.splitlines()]


def verified(folder: Path, contents: Contents) -> None:
    """Remove what does not stand in *folder* as it was checked, and raise RuleError with it."""
    faults = []
    for name, content in contents.items():
        path = folder / name
        if path.read_bytes() != (content.encode() if isinstance(content, str) else content):
            path.unlink()
            faults.append(f"{path}: bytes: not what was checked; the file was removed")
    if faults:
        raise RuleError("\n".join(faults))
