"""Files for the shop and the printer, and the note that goes with them."""

__all__ = ["formats", "handover"]
