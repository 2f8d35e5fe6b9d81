"""The sheets of a family: sizes, overlay, charts, table, and of one ring in every alloy."""

__all__ = ["alloys", "sheet", "table"]
