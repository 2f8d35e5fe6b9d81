"""Many variants of one ring: what is varied, and their figures side by side."""

__all__ = ["axes", "balanced", "figure_rows", "relief", "variants"]
