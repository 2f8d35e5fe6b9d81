"""Lettering: an alphabet of lines and arcs, texts engraved along arcs, panels kept solid."""

__all__ = ["engraving", "lettered", "room", "table"]
