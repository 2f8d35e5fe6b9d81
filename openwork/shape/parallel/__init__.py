"""Parallel outlines, and the loops they would make cut away."""

__all__ = ["offset"]
