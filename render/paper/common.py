"""What all rings of a sheet have in common, in one line."""

from __future__ import annotations

from collections.abc import Collection

from openwork.explore.mass.begun import RIB
from openwork.explore.variants.variants import Entry, Made
from openwork.part.chain_name import chain
from openwork.part.material_name import material
from openwork.render.paper.layout import Arranged
from openwork.spec.spec import Spec
from openwork.tables.goal import middle


def common_line(spec: Spec, entries: Arranged[Entry]) -> str:
    """Return what all *entries*, variants of *spec*, have in common, in one line."""
    changed = {key for _, entry in entries for key, _ in entry.variant.changes}
    made = [entry for _, entry in entries if isinstance(entry, Made)]
    turned = {change.key for one in made for change in one.changes}
    line = spec_line(spec, changed | turned - {RIB})
    goals = {one.design.spec.goal.mass for one in made}
    on_mass = {middle(goal) for goal in goals if goal is not None}
    return f"all on {on_mass.pop():g} g, {line}" if turned and len(on_mass) == 1 else line


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
