"""Whether mount and ring go together: what cannot be made, and what would work instead."""

from __future__ import annotations

import math

from openwork.part.chain import Chain
from openwork.part.hole import Hole
from openwork.part.mount import LEAST_BLEND, Mount
from openwork.part.pads import BETWEEN, TINY, largest_blend, tab_width
from openwork.part.teeth import diameters

MOST_TEETH = 150  # of ISO 606

# All in mm; common practice, no source.
PAD_METAL = 2.0  # least metal of a pad round its hole
ROOT_METAL = 1.0  # least metal between a bolt hole and the tooth roots
STEP = 0.1  # least metal between what is sunk for a bolt and the step to the teeth
BAND = 2.0  # least metal between bore and tooth roots


def mount_faults(mount: Mount) -> list[str]:
    """Return what is impossible about the mount by itself, each with what would work."""
    found = [*_hole_faults(mount), *_pad_faults(mount)]
    return found or _blend_faults(mount)


def ring_faults(teeth: int, size: Chain, mount: Mount) -> list[str]:
    """Return what is impossible about a mount in a ring of so many teeth, each with what works."""
    sizes = diameters(teeth, size)
    root = sizes.root
    found = []
    room = max(mount.room, mount.widest_hole / 2 + ROOT_METAL)
    if mount.widest > mount.widest_hole:  # what is sunk for a head stays off the step to the teeth
        room = max(room, mount.widest / 2 + (root - sizes.shroud) / 2 + STEP)
    if root < mount.circle + 2 * room:
        found.append(
            f"ring.teeth {teeth}: bolt centres on a circle of {mount.circle:g} mm lie "
            f"{(root - mount.circle) / 2:.2f} mm inside the tooth roots, less than {_up(room)} mm; "
            f"{_roomier(least_teeth(size, mount.circle + 2 * room), root - 2 * room)} works"
        )
    if root < mount.bore_diameter + 2 * BAND:
        found.append(
            f"mount.bore {mount.bore_diameter:g}: leaves less than {BAND:g} mm to the tooth roots "
            f"of {teeth} teeth; {_down(root - 2 * BAND)} works"
        )
    return found


def least_teeth(size: Chain, root: float) -> int:
    """Return the smallest tooth count whose root circle is at least *root* (mm) across.

    >>> from openwork.part.chain import CHAINS
    >>> least_teeth(CHAINS["082"], 104 + 2 * 7.0)
    32
    """
    teeth = math.pi / math.asin(size.pitch / (root + size.roller))
    return max(9, math.ceil(teeth - 1e-9))


def _roomier(teeth: int, circle: float) -> str:
    """Return the teeth that fit the bolt circle, or the circle where no ring has as many."""
    return f"{teeth}" if teeth <= MOST_TEETH else f"mount.circle {_down(circle)}"


def _hole_faults(mount: Mount) -> list[str]:
    found = []
    least = mount.widest_hole / 2 + PAD_METAL
    if mount.pad < least:
        tap = next((one.tap for one in mount.bolt_holes if one.tap), "")
        what = f"a thread {tap}" if tap else f"a hole of {mount.widest_hole:g} mm"
        found.append(
            f"mount.pad {mount.pad:g}: leaves less than {PAD_METAL:g} mm of metal round "
            f"{what}; {_up(least)} works"
        )
    for key, hole in named_holes(mount):
        for name, sunk in (("counterbore", hole.counterbore), ("countersink", hole.countersink)):
            if sunk is not None and not hole.hole < sunk.diameter <= 2 * mount.pad:
                found.append(
                    f"{key}.{name}.diameter {sunk.diameter:g}: must be more than the hole's "
                    f"{hole.hole:g} mm and at most twice the pad's radius, {2 * mount.pad:g} mm"
                )
    return found


def named_holes(mount: Mount) -> list[tuple[str, Hole]]:
    """Return the holes to look at, each under the name by which the spec knows it."""
    if not mount.holes:
        return [("mount", mount.bolt_holes[0])]
    return [(f"mount.holes {k}", hole) for k, hole in enumerate(mount.holes, start=1)]


def _pad_faults(mount: Mount) -> list[str]:
    found = []
    points = mount.bolt_points
    if largest_blend(points, pad=mount.pad) < LEAST_BLEND:
        found.append(
            f"mount.pad {mount.pad:g}: pads overlap or leave no room for fillets between them; "
            f"{_apart(mount)}"
        )
    most = mount.circle + 2 * mount.pad
    if mount.bore_diameter >= most:
        found.append(
            f"mount.bore {mount.bore_diameter:g}: the pads hang free in it, they reach out to "
            f"{most:g} mm; {_down(mount.circle + mount.pad)} works"
        )
    return found


def _apart(mount: Mount) -> str:
    """Return what keeps the pads apart: smaller ones where the hole allows, or a larger circle."""
    room = largest_blend(mount.bolt_points, pad=0.0)
    if room - mount.blend >= mount.widest_hole / 2 + PAD_METAL:
        return f"{_down(room - mount.blend)} works"
    wider = (mount.pad + mount.blend + BETWEEN / 2) / (room + BETWEEN / 2)
    return f"mount.circle {_up(mount.circle * wider)} works"


def _blend_faults(mount: Mount) -> list[str]:
    bore, points = mount.bore_diameter / 2, mount.bolt_points
    most = largest_blend(points, pad=mount.pad)
    if mount.blend > most + TINY:
        return [
            f"mount.blend {mount.blend:g}: fillets of neighbouring pads meet; {_down(most)} works"
        ]
    width = tab_width(bore, points, pad=mount.pad, blend=mount.blend)
    least = 2 * mount.pad - mount.widest_hole
    if width < least:
        return [
            f"mount.bore {mount.bore_diameter:g}: leaves tabs {max(width, 0):.2f} mm wide, less "
            f"than the {least:.2f} mm beside a bolt hole; {_down(mount.circle + mount.pad)} works"
        ]
    return []


def _up(value: float) -> str:
    return f"{math.ceil(value * 100 - 1e-6) / 100:g}"


def _down(value: float) -> str:
    return f"{math.floor(value * 100 + 1e-6) / 100:g}"
