"""What is made of a design: drawings, sheets, files for the shop."""

__all__ = [
    "browser",
    "choice",
    "drawing",
    "extras",
    "family",
    "notebook",
    "paper",
    "ring",
    "sheet",
    "shop",
]
