"""The ring before it is opened: chain, teeth, mount, material, blank."""

__all__ = [
    "blank", "chain", "chain_name", "chords", "drive", "hole", "material", "material_name", "mount",
    "pads", "prices",
]  # fmt: skip
