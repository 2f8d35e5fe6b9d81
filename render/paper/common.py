"""What all rings of a sheet have in common, in one line."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from openwork.part.chain_name import chain
from openwork.part.material_name import material
from openwork.render.paper.layout import Arranged
from openwork.spec.spec import Spec

if TYPE_CHECKING:
    from openwork.explore.variants.variants import Entry


def common_line(spec: Spec, entries: Arranged[Entry]) -> str:
    """Return what all *entries*, variants of *spec*, have in common, in one line."""
    return spec_line(spec, {key for _, entry in entries for key, _ in entry.variant.changes})


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
        "web.bevel": f"bevel {web.bevel:g} mm",
    }
    return ", ".join(text for key, text in parts.items() if key not in varied)
