"""The ring before it is opened: chain, teeth, mount, material, blank."""

__all__ = [
    "alternate",
    "blank",
    "broken",
    "chain_name",
    "chords",
    "clearance",
    "drive",
    "edges",
    "hole",
    "marks",
    "material",
    "material_name",
    "mount",
    "pads",
    "prices",
    "sides",
    "zones",
]
