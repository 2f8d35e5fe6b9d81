"""What all rings of a sheet have in common, in one line."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING

from openwork.explore.mass.begun import RIB
from openwork.part.chain_name import chain
from openwork.part.material_name import material
from openwork.render.paper.layout import Arranged
from openwork.spec.spec import Spec
from openwork.tables.goal import middle

if TYPE_CHECKING:
    from openwork.explore.variants.variants import Entry
    from openwork.ring import Design


def common_line(spec: Spec, entries: Arranged[Entry]) -> str:
    """Return what all *entries*, variants of *spec*, have in common, in one line."""
    changed = {key for _, entry in entries for key, _ in entry.variant.changes}
    turned = {one.key for _, entry in entries for one in entry.changes}
    line = spec_line(spec, changed | turned - {RIB})
    on_mass = {one.spec.goal.mass for one in _rings(entries) if one.spec.goal.mass is not None}
    if not turned or len(on_mass) != 1:
        return line
    return f"all on {middle(on_mass.pop()):g} g, {line}"


def _rings(entries: Arranged[Entry]) -> Iterator[Design]:
    return (entry.design for _, entry in entries if entry.design is not None)


def spec_line(spec: Spec, varied: Collection[str] = ()) -> str:
    """Return what every ring of a sheet has in common, in one line; *varied* keys are left out."""
    ring, mount, web = spec.ring, spec.mount, spec.web
    parts = {
        "ring.teeth": f"{ring.teeth} teeth",
        "ring.chain": f"chain {chain(ring.chain).number}",
        "ring.material": material(ring.material).name,
        "ring.plate": f"plate {ring.plate:g} mm",
        "mount.circle": f"{mount.bolts} bolts on {mount.circle:g} mm",
        "web.rim": f"rim {web.rim:g} mm",
        "web.hem": f"hem {web.hem:g} mm",
        "web.rib": f"rib from {web.rib:g} mm",
        "web.corner": f"corner {web.corner:g} mm",
        "web.bevel": f"bevel {web.bevel_words or 0} mm",
    }
    return ", ".join(text for key, text in parts.items() if key not in varied)
