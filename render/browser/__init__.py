"""The page for a browser: its data, and the scripts and styles set into it."""

__all__ = ["page"]
