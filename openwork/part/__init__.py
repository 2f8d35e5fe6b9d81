"""The ring before it is opened: chain, teeth, mount, material, blank."""

__all__ = ["blank", "chain", "drive", "material", "mount", "pads", "prices"]
